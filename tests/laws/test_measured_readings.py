"""Laws of judging readings: what must hold whatever was read."""

from __future__ import annotations

import itertools
import math

import pytest
from examples import TIMES
from hypothesis import given, settings
from hypothesis import strategies as st
from judged import codes, course_of, distance_of, heading_for, leg

from plotter.chart.priors import COURSE, DISTANCE
from plotter.chart.weighing import COULD_BE, FITS, NOTHING_FITS

lengths = st.floats(5.0, 200.0)
ratios = st.floats(0.05, 20.0)


def text(value: float) -> str:
    return f"{max(value, 0.1):.1f}"


@settings(max_examples=60 * TIMES)
@given(lengths, ratios, st.floats(-70.0, 70.0))
def test_every_reading_gets_an_answer(length: float, ratio: float, latitude: float) -> None:
    answer = distance_of(leg(length, text(length * ratio), latitude_deg=latitude))
    assert set(codes(answer)) <= set(DISTANCE)
    assert codes(answer).count("none") == 1
    assert answer.verdict in (FITS, COULD_BE, NOTHING_FITS)
    assert all(0.0 <= e.probability <= 1.0 and e.text for e in answer.explanations)
    assert math.fsum(e.probability for e in answer.explanations) <= 1.0 + 1e-9


@settings(max_examples=60 * TIMES)
@given(st.floats(0.0, 359.9), st.floats(-30.0, 30.0), st.integers(0, 360), st.sampled_from("TM"))
def test_every_course_gets_an_answer(true: float, east: float, read: int, north: str) -> None:
    answer = course_of(heading_for(true, east, f"{read:03d}{north}"))
    assert set(codes(answer)) <= set(COURSE)
    assert codes(answer).count("none") == 1
    assert all(e.text for e in answer.explanations)


@settings(max_examples=40 * TIMES)
@given(st.lists(lengths, min_size=1, max_size=5))
def test_exact_readings_are_right_with_any_number_of_legs(given_lengths: list[float]) -> None:
    answer = distance_of(*(leg(each, f"{each:.2f}") for each in given_lengths))
    assert answer.best == "read_right"


@settings(max_examples=40 * TIMES)
@given(st.lists(st.tuples(lengths, st.floats(0.9, 1.2)), min_size=2, max_size=4))
def test_the_order_of_legs_that_do_not_join_changes_nothing(
    given_readings: list[tuple[float, float]],
) -> None:
    legs = [leg(length, text(length * ratio)) for length, ratio in given_readings]
    forth, back = distance_of(*legs), distance_of(*reversed(legs))
    assert codes(forth) == codes(back) or math.isclose(
        forth.explanations[0].probability, back.explanations[0].probability, rel_tol=1e-6
    )
    chances = {e.code: e.probability for e in back.explanations}
    for each in forth.explanations:
        if each.code in chances:
            assert each.probability == pytest.approx(chances[each.code], abs=1e-9)


@settings(max_examples=40 * TIMES)
@given(st.floats(0.0, 359.9), st.floats(-20.0, 20.0))
def test_an_exact_course_is_right_from_either_north(true: float, east: float) -> None:
    for north, exact in (("T", true), ("M", true - east)):
        answer = course_of(heading_for(true, east, f"{exact % 360:.2f}{north}"))
        assert answer.best == "read_right"


@settings(max_examples=40 * TIMES)
@given(lengths, st.sampled_from([0.5, 1.0, 1.5]))
def test_the_further_off_the_less_it_is_right(length: float, step: float) -> None:
    chances = []
    for times in range(4):
        answer = distance_of(leg(length, f"{length + times * step:.2f}"))
        chances.append(
            next((e.probability for e in answer.explanations if e.code == "read_right"), 0.0)
        )
    # Rivals are not alike on both sides of exact, so that the very top is not sharp.
    assert all(later <= before + 0.01 for before, later in itertools.pairwise(chances))
