"""Angles folded, turned and taken apart without losing digits."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.earth.angles import (
    course_360,
    half_turn,
    longitude_change,
    magnetic_from_true,
    sine_cosine,
    true_from_magnetic,
    upright_angle,
)

ANGLES = st.floats(min_value=-1e6, max_value=1e6)
COURSES = st.floats(min_value=0.0, max_value=360.0, exclude_max=True)
LONGITUDES = st.floats(min_value=-180.0, max_value=180.0)
ONE_ULP_OF_A_TURN_DEG = 1e-9
"""Folding a million degrees cannot keep more digits than the million has."""


@given(ANGLES)
def test_a_course_is_from_0_to_under_360(angle: float) -> None:
    folded = course_360(angle)
    assert 0.0 <= folded < 360.0
    assert math.copysign(1.0, folded) == 1.0
    turns = (folded - angle) / 360.0
    assert turns == pytest.approx(round(turns), abs=ONE_ULP_OF_A_TURN_DEG)


@pytest.mark.parametrize(
    ("angle", "course"), [(-1e-20, 0.0), (360.0, 0.0), (-0.0, 0.0), (-90.0, 270.0), (719.5, 359.5)]
)
def test_courses_at_the_seam(angle: float, course: float) -> None:
    assert course_360(angle) == course


@given(ANGLES)
def test_a_half_turn_is_exact(angle: float) -> None:
    folded = half_turn(angle)
    assert -180.0 <= folded < 180.0
    assert (Fraction(folded) - Fraction(angle)) % 360 == 0


@given(LONGITUDES, LONGITUDES)
def test_longitude_change_is_the_shorter_way_to_the_last_digit(start: float, end: float) -> None:
    change = longitude_change(start, end)
    assert -180.0 < change <= 180.0
    exact = (Fraction(end) - Fraction(start) + 180) % 360 - 180
    off = min(abs(exact - Fraction(change)), abs(exact + 360 - Fraction(change)))
    assert off <= Fraction(1, 2**45)


def test_longitude_change_keeps_the_digits_of_a_metre_at_the_antimeridian() -> None:
    """Subtracted first, the change loses 3e-14°: 2e-7° in the course of a leg of a metre."""
    west, east = 179.99999779, -179.99999137
    exact = (180 - Fraction(west)) + (180 + Fraction(east))
    assert longitude_change(west, east) == float(exact)
    assert longitude_change(east, west) == -float(exact)


@given(ANGLES)
def test_sine_and_cosine_agree_with_the_library(angle: float) -> None:
    sine, cosine = sine_cosine(angle)
    turn = math.radians(math.remainder(angle, 360.0))
    assert sine == pytest.approx(math.sin(turn), abs=1e-15)
    assert cosine == pytest.approx(math.cos(turn), abs=1e-15)


def test_sine_and_cosine_are_exact_at_quarters() -> None:
    quarters = [sine_cosine(90.0 * k) for k in range(-4, 5)]
    assert quarters == [(0, 1), (1, 0), (0, -1), (-1, 0), (0, 1), (1, 0), (0, -1), (-1, 0), (0, 1)]


def test_cosine_beside_the_pole_keeps_its_digits() -> None:
    colatitude = Fraction(90) - Fraction(89.999999999)
    assert sine_cosine(89.999999999)[1] == pytest.approx(math.radians(colatitude), rel=1e-15)


def test_east_is_least_west_is_best() -> None:
    """FAA-H-8083-25, chapter Navigation: subtract easterly variation, add westerly."""
    assert magnetic_from_true(100.0, 10.0) == 90.0
    assert magnetic_from_true(100.0, -10.0) == 110.0


@given(COURSES, st.floats(min_value=-180.0, max_value=180.0))
def test_magnetic_there_and_back(true: float, variation: float) -> None:
    back = true_from_magnetic(magnetic_from_true(true, variation), variation)
    assert half_turn(back - true) == pytest.approx(0.0, abs=1e-12)


@given(COURSES)
def test_text_along_a_course_is_parallel_and_upright(course: float) -> None:
    angle = upright_angle(course)
    assert -90.0 <= angle < 90.0
    assert abs(math.remainder(angle - (course - 90.0), 180.0)) < 1e-12
