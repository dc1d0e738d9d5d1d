"""Angles brought into the range they are spoken in."""

from __future__ import annotations

import math


def course_360(angle_deg: float) -> float:
    """A direction [°] in 0 ≤ x < 360; the reference (true, magnetic) stays the caller's.

    >>> course_360(-90.0), course_360(720.0)
    (270.0, 0.0)
    """
    folded = math.fmod(angle_deg, 360.0)
    if folded < 0.0:
        folded += 360.0
    return 0.0 if folded == 360.0 else folded + 0.0


def half_turn(angle_deg: float) -> float:
    """An angle [°] in −180 ≤ x < 180, for differences and longitudes; exact, no digit is lost.

    >>> half_turn(190.0), half_turn(180.0), half_turn(-10.0)
    (-170.0, -180.0, -10.0)
    """
    folded = math.remainder(angle_deg, 360.0)
    return -180.0 if folded == 180.0 else folded + 0.0


def longitude_change(from_deg: float, to_deg: float) -> float:
    """The shorter way [°, east positive] from one longitude to another; half-way round is +180.

    The trap: 179.9 to −179.9 subtracts to −359.8, which has lost digits before it is folded.

    >>> longitude_change(179.75, -179.75), longitude_change(0.0, -180.0)
    (0.5, 180.0)
    """
    change = to_deg - from_deg
    if abs(change) > 180.0:
        half = math.copysign(180.0, from_deg)
        change = half_turn((half - from_deg) + (half + to_deg))
    return 180.0 if change == -180.0 else change


def sine_cosine(angle_deg: float) -> tuple[float, float]:
    """Sine and cosine of an angle [°], exact at every quarter turn and full of digits beside it.

    >>> sine_cosine(90.0), sine_cosine(-180.0)
    ((1.0, 0.0), (0.0, -1.0))
    """
    rest = math.remainder(angle_deg, 90.0)
    quarter = round(math.remainder(angle_deg, 360.0) / 90.0 - rest / 90.0) % 4
    sine, cosine = math.sin(math.radians(rest)), math.cos(math.radians(rest))
    turned = ((sine, cosine), (cosine, -sine), (-sine, -cosine), (-cosine, sine))[quarter]
    return turned[0] + 0.0, turned[1] + 0.0


def magnetic_from_true(true_deg: float, variation_deg_east: float) -> float:
    """Magnetic direction [°M] of a true one [°T]: east is least, west is best.

    Source: FAA-H-8083-25, chapter "Navigation", true → magnetic: subtract east, add west.

    >>> magnetic_from_true(64.0, 8.0), magnetic_from_true(2.0, 8.0)
    (56.0, 354.0)
    """
    return course_360(true_deg - variation_deg_east)


def true_from_magnetic(magnetic_deg: float, variation_deg_east: float) -> float:
    """True direction [°T] of a magnetic one [°M].

    >>> true_from_magnetic(354.0, 8.0)
    2.0
    """
    return course_360(magnetic_deg + variation_deg_east)


def upright_angle(true_course_deg: float) -> float:
    """Screen rotation [°, clockwise] of text laid along a course [°T], folded to stay upright.

    On a conformal north-up map the screen angle of a line is its true course at that point.

    >>> upright_angle(90.0), upright_angle(45.0), upright_angle(225.0), upright_angle(360.0)
    (0.0, -45.0, -45.0, -90.0)
    """
    turned = half_turn(true_course_deg - 90.0)
    if turned >= 90.0:
        turned -= 180.0
    elif turned < -90.0:
        turned += 180.0
    return turned
