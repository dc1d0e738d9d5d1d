"""Readings as they are typed: taken with their digits, or refused with what to type."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.chart.readings import CourseReading, MeasuredLeg, Reading, unswapped
from plotter.chart.scales import SECTIONAL, TERMINAL
from plotter.errors import InputError


@pytest.mark.parametrize(
    ("text", "unit", "value", "step"),
    [("26", "nm", 26.0, 1.0), ("26.4", "nm", 26.4, 0.1), ("97.80", "mm", 97.8, 0.01)],
)
def test_the_digits_say_how_finely_it_was_read(
    text: str, unit: str, value: float, step: float
) -> None:
    reading = Reading(text, unit)  # type: ignore[arg-type]
    assert (reading.value, reading.step) == pytest.approx((value, step))


@pytest.mark.parametrize(
    "text",
    ["0", "0.0", "-3", "nan", "inf", "1e3", "", " ", "26,4", "26.4 NM", "٣", "30000", "x" * 99],
)
def test_what_is_no_reading_is_refused(text: str) -> None:
    with pytest.raises(InputError) as caught:
        Reading(text)
    assert caught.value.code == "reading"
    assert "26.4" in caught.value.message


def test_an_unknown_unit_is_answered_with_those_there_are() -> None:
    with pytest.raises(InputError, match="nm, sm, km, mm, in") as caught:
        Reading("26.4", "furlong")  # type: ignore[arg-type]
    assert caught.value.candidates == ("nm", "sm", "km", "mm", "in")


def test_a_unit_is_a_length_of_paper() -> None:
    # 1,852 m, 1,609.344 m and 1,000 m at 1:500,000; 25.4 mm to the inch.
    at = {
        unit: Reading("1", unit).mm_per_unit(SECTIONAL) for unit in ("nm", "sm", "km", "mm", "in")
    }
    wanted = {"nm": 3.704, "sm": 3.218688, "km": 2.0, "mm": 1.0, "in": 25.4}
    assert at == pytest.approx(wanted)
    assert Reading("1", "in").mm_per_unit(TERMINAL) == 25.4


@pytest.mark.parametrize(
    ("typed", "text", "reference"),
    [
        ("247T", "247", "T"),
        ("256m", "256", "M"),
        ("7T", "007", "T"),
        ("247°T", "247", "T"),
        ("246.5 M", "246.5", "M"),
        ("360T", "360", "T"),
    ],
)
def test_courses_as_they_are_typed(typed: str, text: str, reference: str) -> None:
    assert CourseReading.typed(typed) == CourseReading(text, reference)  # type: ignore[arg-type]


@pytest.mark.parametrize("typed", ["247", "247°", "12.5"])
def test_a_course_without_its_north_is_asked_for_it(typed: str) -> None:
    with pytest.raises(InputError, match="' has no reference; enter") as caught:
        CourseReading.typed(typed)
    assert [each[-1] for each in caught.value.candidates] == ["T", "M"]


@pytest.mark.parametrize("typed", ["", "T", "361T", "-5T", "247X", "2470T", "north", "nanT"])
def test_what_is_no_course_is_refused(typed: str) -> None:
    with pytest.raises(InputError) as caught:
        CourseReading.typed(typed)
    assert caught.value.code == "course"


@pytest.mark.parametrize("text", ["1_0", "1e2", "٢٤٧", "247.", " 247", "-0", "inf", "247\n"])
def test_the_figure_of_a_course_is_digits_alone(text: str) -> None:
    with pytest.raises(InputError, match="out of range; enter 000 to 360") as caught:
        CourseReading(text, "T")
    assert caught.value.code == "course"


def test_a_course_is_counted_from_one_of_two_norths() -> None:
    with pytest.raises(InputError, match="true"):
        CourseReading("247", "G")  # type: ignore[arg-type]


def test_a_leg_without_any_reading_is_refused() -> None:
    with pytest.raises(InputError, match="neither"):
        MeasuredLeg(40.0, 90.0, 0.0)


@pytest.mark.parametrize("distance_nm", [0.0, -1.0, math.nan, math.inf])
def test_a_leg_that_cannot_be_is_refused(distance_nm: float) -> None:
    with pytest.raises(InputError):
        MeasuredLeg(distance_nm, 90.0, 0.0, Reading("3"))


def test_a_leg_goes_by_its_ends_only_if_both_have_names() -> None:
    assert MeasuredLeg(4.0, 9.0, 0.0, Reading("3"), start="KRST", end="KLSE").name == "KRST to KLSE"
    assert MeasuredLeg(4.0, 9.0, 0.0, Reading("3"), start="KRST").name == ""


@given(st.from_regex(r"[1-9][0-9]{0,3}(\.[0-9])?", fullmatch=True))
def test_swapping_back_gives_the_figure_again(text: str) -> None:
    for other in unswapped(text):
        assert other != text
        assert sorted(other) == sorted(text)
        assert text in set(unswapped(other))
