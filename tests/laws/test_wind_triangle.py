"""Laws of the wind triangle: it closes, and turning the whole sky turns the answer with it."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.earth.angles import course_360, half_turn
from plotter.flight.wind import (
    CALM,
    Triangle,
    Wind,
    components_kt,
    crosswind_kt,
    headwind_kt,
    wind_from_components,
    wind_triangle,
)

COURSES = st.floats(min_value=0.0, max_value=360.0)
AIRSPEEDS = st.floats(min_value=60.0, max_value=250.0)
WINDS = st.builds(Wind, COURSES, st.floats(min_value=0.0, max_value=55.0))
TURNS = st.floats(min_value=-360.0, max_value=360.0)


def vector(direction_deg: float, length: float) -> complex:
    """North as the real part, east as the imaginary one."""
    angle = math.radians(direction_deg)
    return complex(length * math.cos(angle), length * math.sin(angle))


@given(COURSES, AIRSPEEDS, WINDS)
def test_the_triangle_closes(course: float, airspeed: float, wind: Wind) -> None:
    """Flown through the air and blown with it is made good over the ground."""
    solved = wind_triangle(course, airspeed, wind)
    air = vector(solved.true_heading_deg, airspeed)
    blown = vector(wind.from_true_deg + 180.0, wind.speed_kt)
    ground = vector(course, solved.groundspeed_kt)
    assert abs(air + blown - ground) < 1e-9


@given(COURSES, AIRSPEEDS, COURSES)
def test_no_wind_no_correction(course: float, airspeed: float, direction: float) -> None:
    solved = wind_triangle(course, airspeed, Wind(direction, 0.0))
    assert solved.wind_correction_angle_deg == 0.0
    assert solved.groundspeed_kt == airspeed
    assert solved.true_heading_deg == course_360(course)


@given(COURSES, AIRSPEEDS, WINDS, TURNS)
def test_a_turned_sky_turns_the_heading(
    course: float, airspeed: float, wind: Wind, turn: float
) -> None:
    one = wind_triangle(course, airspeed, wind)
    turned = Wind(course_360(wind.from_true_deg + turn), wind.speed_kt)
    other = wind_triangle(course_360(course + turn), airspeed, turned)
    assert other.groundspeed_kt == pytest.approx(one.groundspeed_kt, abs=1e-9)
    assert half_turn(other.true_heading_deg - one.true_heading_deg - turn) == pytest.approx(
        0.0, abs=1e-9
    )


@given(COURSES, AIRSPEEDS, WINDS)
def test_the_mirrored_wind_asks_for_the_mirrored_correction(
    course: float, airspeed: float, wind: Wind
) -> None:
    one = wind_triangle(course, airspeed, wind)
    mirrored = Wind(course_360(2.0 * course - wind.from_true_deg), wind.speed_kt)
    other = wind_triangle(course, airspeed, mirrored)
    assert other.groundspeed_kt == pytest.approx(one.groundspeed_kt, abs=1e-9)
    assert other.wind_correction_angle_deg == pytest.approx(
        -one.wind_correction_angle_deg, abs=1e-9
    )


@given(COURSES, AIRSPEEDS, WINDS)
def test_the_nose_goes_into_the_wind(course: float, airspeed: float, wind: Wind) -> None:
    solved = wind_triangle(course, airspeed, wind)
    assert solved.wind_correction_angle_deg * solved.crosswind_kt >= 0.0
    assert abs(solved.wind_correction_angle_deg) < 90.0


@given(COURSES, AIRSPEEDS, WINDS)
def test_there_and_back_is_never_quicker_than_in_calm(
    course: float, airspeed: float, wind: Wind
) -> None:
    def hours(way: Triangle) -> float:
        return 100.0 / way.groundspeed_kt

    out = wind_triangle(course, airspeed, wind)
    home = wind_triangle(course_360(course + 180.0), airspeed, wind)
    calm = wind_triangle(course, airspeed, CALM)
    assert hours(out) + hours(home) >= 2.0 * hours(calm) - 1e-12


@given(COURSES, WINDS)
def test_along_and_across_make_the_whole(direction: float, wind: Wind) -> None:
    along, across = headwind_kt(direction, wind), crosswind_kt(direction, wind)
    assert math.hypot(along, across) == pytest.approx(wind.speed_kt, abs=1e-9)
    assert headwind_kt(direction + 90.0, wind) == pytest.approx(across, abs=1e-9)
    assert headwind_kt(direction + 180.0, wind) == pytest.approx(-along, abs=1e-9)


@given(COURSES, st.floats(min_value=0.01, max_value=300.0))
def test_components_there_and_back(direction: float, speed: float) -> None:
    again = wind_from_components(*components_kt(Wind(direction, speed)))
    assert again.speed_kt == pytest.approx(speed)
    assert half_turn(again.from_true_deg - direction) == pytest.approx(0.0, abs=1e-9)
