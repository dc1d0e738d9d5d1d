"""Laws of the test of a plotter: exact lines are found, errors are as large as they are said."""

from __future__ import annotations

import random

from hypothesis import given
from hypothesis import strategies as st

from plotter.chart.own_plotter import (
    PAGE_ERROR,
    READING_ERROR_MM,
    SURE,
    Fit,
    OwnPlotter,
    Pair,
    read_pairs,
)
from plotter.chart.own_plotter_verdict import verdict_of
from plotter.chart.scales import SCALES, SECTIONAL, ChartScale

TRIALS = 4000
MARKS = (10, 20, 30, 40, 50, 60, 70)


@given(
    st.sampled_from(list(SCALES.values())),
    st.floats(-5.0, 5.0),
    st.floats(0.85, 1.15),
    st.lists(st.integers(6, 30), min_size=2, max_size=12, unique=True),
)
def test_an_exact_line_is_found(
    scale: ChartScale, offset_mm: float, factor: float, marks: list[int]
) -> None:
    pairs = [Pair(m, offset_mm / scale.mm_per_nm + factor * m, 6) for m in marks]
    fit = OwnPlotter(scale, "nm", tuple(pairs)).fit
    assert fit is not None
    assert abs(fit.factor - factor) < 1e-9
    assert abs(fit.offset_mm - offset_mm) < 1e-7
    assert max(map(abs, fit.left_over_mm)) < 1e-7


@given(st.permutations([(10, 10.2), (30, 30.1), (50, 50.4), (65, 65.9)]))
def test_the_order_of_the_pairs_does_not_matter(pairs: list[tuple[float, float]]) -> None:
    text = ", ".join(f"ruler {a} = plotter {b}" for a, b in pairs)
    again = ", ".join(f"plotter {b} = ruler {a}" for a, b in sorted(pairs))
    first, second = (OwnPlotter(SECTIONAL, "nm", read_pairs(each)).fit for each in (text, again))
    assert first is not None
    assert second is not None
    assert abs(first.factor - second.factor) < 1e-12
    assert abs(first.offset_mm - second.offset_mm) < 1e-9


def trial(draw: random.Random, offset_mm: float, factor: float) -> OwnPlotter:
    """A plotter read at seven marks of a page that is itself a little off, to a tenth."""
    page = draw.gauss(1.0, PAGE_ERROR)
    pairs = []
    for mark in MARKS:
        length_mm = offset_mm + factor * page * mark * SECTIONAL.mm_per_nm
        read = (length_mm + draw.gauss(0.0, READING_ERROR_MM)) / SECTIONAL.mm_per_nm
        pairs.append(Pair(mark, max(0.0, round(read, 1)), 1))
    return OwnPlotter(SECTIONAL, "nm", tuple(pairs))


def fit_of(tested: OwnPlotter) -> Fit:
    assert tested.fit is not None
    return tested.fit


def test_the_interval_holds_the_truth_as_often_as_it_says() -> None:
    """95 of 100; four standard deviations of so many trials are 1.4 of 100."""
    draw = random.Random(7)
    fits = [fit_of(trial(draw, -3.0, 1.02)) for _ in range(TRIALS)]
    factor = sum(abs(fit.factor - 1.02) <= SURE * fit.factor_sd for fit in fits) / TRIALS
    offset = sum(abs(fit.offset_mm + 3.0) <= SURE * fit.offset_sd_mm for fit in fits) / TRIALS
    assert abs(factor - 0.95) < 0.014
    assert abs(offset - 0.95) < 0.014


def verdicts(seed: int, offset_mm: float, factor: float) -> dict[str, float]:
    draw = random.Random(seed)
    codes = [verdict_of(trial(draw, offset_mm, factor)).code for _ in range(TRIALS)]
    return {code: codes.count(code) / TRIALS for code in set(codes)}


def test_a_good_plotter_is_hardly_ever_accused() -> None:
    found = verdicts(11, 0.0, 1.0)
    assert found.get("replace", 0.0) + found.get("zero", 0.0) < 0.01


def test_a_bad_plotter_is_never_trusted() -> None:
    shrunk = verdicts(12, 0.0, 1.03)
    assert shrunk["replace"] > 0.98
    assert "trust" not in shrunk
    from_the_end = verdicts(13, -6.0, 1.0)
    assert from_the_end["zero"] > 0.97
    assert "trust" not in from_the_end
