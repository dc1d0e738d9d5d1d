"""One wind and what it does: the wind triangle, and the wind along and across a runway.

Source: Ed Williams, Aviation Formulary V1.47, "Wind triangles", the arithmetic of the drawing in
FAA-H-8083-25, chapter "Navigation". A wind is named by where it comes FROM, and here by true north.

The trap: reports and forecasts in writing are true; a wind spoken by a tower or a broadcast at a
US airport is magnetic. :func:`wind_from_magnetic` turns that one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from plotter.earth.angles import course_360, half_turn, sine_cosine, true_from_magnetic
from plotter.errors import InputError

STRONGEST_KT = 300.0
"""Above every wind measured below 20 km; more is a slip of the hand."""
CALM_KT = 1e-9
"""Less than this has no direction left, only rounding."""
LEAST_GROUNDSPEED_KT = 5.0
"""With less, a change of 5 kt in the wind stops the flight over the ground (our choice)."""
LEAST_COST_KT = 1.0
"""A component that costs less groundspeed than this is not to blame (our choice)."""

Side = Literal["left", "right", ""]


@dataclass(frozen=True, slots=True)
class Wind:
    """Where the wind comes from [°T] and its speed [kt]; calm is a speed of nothing.

    Raises InputError, code ``wind``, for a direction outside 0…360 or a speed outside 0…300.

    >>> Wind(240.0, 35.0)
    Wind(from_true_deg=240.0, speed_kt=35.0)
    >>> Wind(240.0, 400.0)
    Traceback (most recent call last):
    plotter.errors.InputError: wind speed 400 kt is out of range; enter 0 to 300 kt
    """

    from_true_deg: float
    speed_kt: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.from_true_deg <= 360.0:
            raise InputError("wind.direction", direction_deg=self.from_true_deg)
        if not 0.0 <= self.speed_kt <= STRONGEST_KT + CALM_KT:
            raise InputError("wind.speed", speed_kt=self.speed_kt, most_kt=STRONGEST_KT)


CALM = Wind(0.0, 0.0)


def wind_from_magnetic(
    from_magnetic_deg: float, variation_deg_east: float, speed_kt: float
) -> Wind:
    """A wind told from magnetic north [°M], as a tower speaks it, with the variation there.

    >>> wind_from_magnetic(240.0, 10.0, 12.0)
    Wind(from_true_deg=250.0, speed_kt=12.0)
    """
    Wind(from_magnetic_deg, speed_kt)
    return Wind(true_from_magnetic(from_magnetic_deg, variation_deg_east), speed_kt)


def headwind_kt(direction_true_deg: float, wind: Wind) -> float:
    """The wind against a direction [°T], in knots; a tailwind is negative.

    >>> round(headwind_kt(85.0, Wind(220.0, 35.0)), 1)
    -24.7
    """
    return wind.speed_kt * sine_cosine(half_turn(wind.from_true_deg - direction_true_deg))[1]


def crosswind_kt(direction_true_deg: float, wind: Wind) -> float:
    """The wind across a direction [°T], in knots; positive from the right, negative from the left.

    >>> round(crosswind_kt(30.0, Wind(60.0, 20.0)), 1)
    10.0
    """
    return wind.speed_kt * sine_cosine(half_turn(wind.from_true_deg - direction_true_deg))[0]


def components_kt(wind: Wind) -> tuple[float, float]:
    """How much of a wind comes from the north and how much from the east [kt].

    >>> components_kt(Wind(270.0, 20.0))
    (0.0, -20.0)
    """
    return headwind_kt(0.0, wind) + 0.0, crosswind_kt(0.0, wind) + 0.0


def wind_from_components(from_north_kt: float, from_east_kt: float) -> Wind:
    """The wind of two components [kt]; where they cancel it is calm.

    >>> wind_from_components(0.0, -20.0)
    Wind(from_true_deg=270.0, speed_kt=20.0)
    """
    speed = math.hypot(from_north_kt, from_east_kt)
    if speed < CALM_KT:
        return CALM
    return Wind(course_360(math.degrees(math.atan2(from_east_kt, from_north_kt))), speed)


@dataclass(frozen=True, slots=True)
class Triangle:
    """A solved wind triangle: what was put in, and heading [°T] and groundspeed [kt] that follow.

    ``wind_correction_angle_deg`` is right positive: true course + it = true heading.
    ``headwind_kt`` and ``crosswind_kt`` (from the right positive) are the wind along and across
    the course.
    """

    true_course_deg: float
    true_airspeed_kt: float
    wind: Wind
    headwind_kt: float
    crosswind_kt: float
    wind_correction_angle_deg: float
    true_heading_deg: float
    groundspeed_kt: float


def wind_triangle(true_course_deg: float, true_airspeed_kt: float, wind: Wind) -> Triangle:
    """Heading and groundspeed for a course [°T] at a true airspeed [kt] in a wind.

    Raises InputError, code ``crosswind-exceeds-airspeed`` where no heading holds the course,
    ``no-groundspeed`` where less than 5 kt is left along it, ``true_airspeed_kt`` for a true
    airspeed that is not above zero.

    >>> solved = wind_triangle(90.0, 120.0, Wind(45.0, 40.0))
    >>> round(solved.true_heading_deg), round(solved.groundspeed_kt)
    (76, 88)
    >>> wind_triangle(90.0, 30.0, Wind(0.0, 40.0))
    Traceback (most recent call last):
    plotter.errors.InputError: the crosswind of 40 kt is more than the true airspeed of 30 kt, so \
no heading holds the course; choose another altitude, route or day
    """
    _check_airspeed(true_airspeed_kt)
    across, against = crosswind_kt(true_course_deg, wind), headwind_kt(true_course_deg, wind)
    correction = wind_correction_angle_deg(true_airspeed_kt, across)
    groundspeed = groundspeed_kt(true_airspeed_kt, correction, against)
    return Triangle(
        true_course_deg=course_360(true_course_deg),
        true_airspeed_kt=true_airspeed_kt,
        wind=wind,
        headwind_kt=against,
        crosswind_kt=across,
        wind_correction_angle_deg=correction,
        true_heading_deg=course_360(true_course_deg + correction),
        groundspeed_kt=groundspeed,
    )


def wind_correction_angle_deg(true_airspeed_kt: float, crosswind_kt: float) -> float:
    """WCA [°, right positive] = asin(crosswind / TAS), into the wind."""
    share = crosswind_kt / true_airspeed_kt
    if abs(share) > 1.0:
        raise InputError(
            "crosswind-exceeds-airspeed",
            crosswind_kt=abs(crosswind_kt),
            airspeed_kt=true_airspeed_kt,
        )
    return math.degrees(math.asin(share))


def groundspeed_kt(
    true_airspeed_kt: float, wind_correction_angle_deg: float, headwind_kt: float
) -> float:
    """Return GS [kt] = TAS × cos WCA − headwind; raise InputError, code ``no-groundspeed``, below
    5 kt.
    """
    sine, cosine = sine_cosine(wind_correction_angle_deg)
    groundspeed = true_airspeed_kt * cosine - headwind_kt
    if groundspeed < LEAST_GROUNDSPEED_KT:
        raise _no_groundspeed(true_airspeed_kt, true_airspeed_kt * sine, headwind_kt, groundspeed)
    return groundspeed


def _no_groundspeed(
    true_airspeed_kt: float, crosswind_kt: float, headwind_kt: float, groundspeed_kt: float
) -> InputError:
    """The refusal, with the components that take the airspeed, the one that takes most first."""
    crabbed_kt = true_airspeed_kt - groundspeed_kt - headwind_kt
    costs = ((headwind_kt, "headwind", headwind_kt), (crabbed_kt, "crosswind", abs(crosswind_kt)))
    winds = [
        f"a {name} of {speed_kt:.0f} kt"
        for cost_kt, name, speed_kt in sorted(costs, reverse=True)
        if cost_kt >= LEAST_COST_KT
    ] or ["calm air"]
    # Rounded down, because 4.99 kt must not be printed as the 5 kt that would be enough.
    rounded_kt = math.floor(groundspeed_kt * 10.0) / 10.0
    return InputError(
        "no-groundspeed" if groundspeed_kt >= 0.1 else "no-groundspeed.none",
        winds=tuple(winds),
        count=len(winds),
        groundspeed_kt=rounded_kt,
        airspeed_kt=true_airspeed_kt,
        least_kt=LEAST_GROUNDSPEED_KT,
    )


def _check_airspeed(true_airspeed_kt: float) -> None:
    if not (math.isfinite(true_airspeed_kt) and true_airspeed_kt > 0.0):
        raise InputError("true_airspeed_kt", airspeed_kt=true_airspeed_kt)


@dataclass(frozen=True, slots=True)
class RunwayWind:
    """The wind on a runway [kt]: ahead (a tailwind is negative), across, and from which side."""

    headwind_kt: float
    crosswind_kt: float
    crosswind_from: Side


def runway_wind(runway_true_heading_deg: float, wind: Wind) -> RunwayWind:
    """Headwind and crosswind on a runway. The trap: its heading must be true, as the data has it;
    the number painted on it is magnetic.

    >>> on_it = runway_wind(30.0, Wind(60.0, 20.0))
    >>> round(on_it.headwind_kt, 2), round(on_it.crosswind_kt, 2), on_it.crosswind_from
    (17.32, 10.0, 'right')
    """
    across = crosswind_kt(runway_true_heading_deg, wind)
    side: Side = "" if across == 0.0 else "right" if across > 0.0 else "left"
    return RunwayWind(headwind_kt(runway_true_heading_deg, wind), abs(across), side)
