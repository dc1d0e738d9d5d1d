"""Sets of readings simulated with a fixed seed: right ones are left alone, small faults are found.

Every reading has an error of 1 mm on the chart (normal distribution) and is then rounded. Right
sets and wrong ones are drawn from the same seeds, so that neither is bought with the other.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from judged import codes, distance_of, leg

from plotter.chart.measurement import Answer
from plotter.chart.readings import Reading
from plotter.chart.rounding import rounding_steps

MM_PER_NM = 3.704  # 1,852 m at 1:500,000
SEEDS = (11, 12)
SETS = 150


def read(length_mm: float, step: float) -> str:
    rounded = round(length_mm / MM_PER_NM / step) * step
    return f"{rounded:.0f}" if step >= 1.0 or rounded % 1.0 == 0.0 else f"{rounded:.1f}"


def answers(
    seed: int,
    step: float,
    *,
    offset_mm: float = 0.0,
    factor: float = 1.0,
    lengths_nm: tuple[float, ...] | None = None,
    fewest: int = 1,
) -> Iterator[Answer]:
    random = np.random.default_rng(seed)
    for _ in range(SETS):
        legs = random.uniform(15.0, 75.0, random.integers(fewest, 7))
        errors = random.normal(0.0, 1.0, 8)
        if lengths_nm:
            legs = np.array(lengths_nm)
        if fewest > 1 and not lengths_nm and np.ptp(legs) < 20.0:
            continue
        paper = factor * legs * MM_PER_NM + offset_mm
        yield distance_of(
            *(
                leg(float(nm), read(float(mm + error), step))
                for nm, mm, error in zip(legs, paper, errors, strict=False)
            )
        )


def share(found: Iterator[bool]) -> float:
    return float(np.mean(list(found)))


def told(answer: Answer, code: str) -> bool:
    """Whether an explanation is first, or declared not to be told from the first."""
    return answer.best == code or any({answer.best, code} == set(p) for p in answer.inseparable)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("step", [0.1, 0.5, 1.0])
def test_of_a_hundred_right_sets_five_are_doubted_at_the_most(seed: int, step: float) -> None:
    assert share(answer.agrees for answer in answers(seed, step)) >= 0.95


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("step", [0.1, 0.5])
@pytest.mark.parametrize("offset_mm", [-3.0, 3.0])
def test_a_zero_three_millimetres_off_is_found_or_declared(
    seed: int, step: float, offset_mm: float
) -> None:
    found = list(answers(seed, step, offset_mm=offset_mm, fewest=4))
    assert share(answer.best != "read_right" for answer in found) >= 0.95
    assert share(told(answer, "physical_end") for answer in found) >= 0.95


def test_where_offset_and_factor_part_the_offset_is_said_with_its_sign() -> None:
    for offset_nm, words in ((0.8, "short of the departure"), (-0.8, "end of the plotter")):
        answer = distance_of(*(leg(nm, f"{nm + offset_nm:.1f}") for nm in (10.0, 12.0, 60.0, 70.0)))
        assert answer.best == "physical_end"
        assert words in answer.explanations[0].text
        assert "by about 3 mm" in answer.explanations[0].text


@pytest.mark.parametrize("seed", SEEDS)
def test_a_plotter_one_hundredth_shrunk_is_found_or_the_answer_says_how(seed: int) -> None:
    """36, 54 and 60 NM read to the half mile give 2.9 standard errors."""
    found = list(answers(seed, 0.5, factor=1 / 0.99, lengths_nm=(36.0, 54.0, 60.0)))
    assert share("shrunk" in codes(answer) for answer in found) >= 0.9
    assert share(not answer.agrees for answer in found) >= 0.7
    for answer in found:
        if answer.agrees:
            assert "steel rule it is 2.5 mm long over 250 mm" in answer.explanations[0].text


def test_one_hundredth_without_any_reading_error_is_found() -> None:
    # 36, 54 and 60 NM less a hundredth read 36.36, 54.55 and 60.61.
    assert distance_of(leg(36.0, "36.5"), leg(54.0, "54.5"), leg(60.0, "60.5")).best == "shrunk"


def test_where_one_hundredth_would_show_nothing_is_said_of_it() -> None:
    legs = [leg(75.0, f"{75.0 + by:.1f}") for by in (0.1, -0.1, 0.0, 0.1, -0.1)]
    answer = distance_of(*legs)
    assert answer.agrees
    assert answer.explanations[0].question.key == "read_right.distances"


@pytest.mark.parametrize(
    ("typed", "step"),
    [
        (["54.5"], 0.46),  # half miles are five times likelier than tenths
        (["54.5", "36", "60.5"], 0.5),
        (["54", "36", "61", "72"], 1.0),
        (["54.0", "36.2"], 0.1),
        (["54.25", "36.0"], 0.01),
    ],
)
def test_the_digits_of_a_set_tell_how_finely_it_was_read(typed: list[str], step: float) -> None:
    assert rounding_steps([Reading(text) for text in typed])[0] == pytest.approx(step, abs=0.01)


def test_each_unit_is_rounded_in_its_own_way() -> None:
    steps = rounding_steps([Reading("54.3"), Reading("199", "mm"), Reading("7.5", "in")])
    assert steps == pytest.approx([0.1, 0.9, 0.1], abs=0.03)
