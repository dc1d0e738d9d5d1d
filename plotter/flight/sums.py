"""Single sums of a flight that no log is needed for: wind, track, fuel, temperature, descent.

Triangle, atmosphere, time and fuel have their own modules; here is what a pilot works back from
what was read in flight. Each function checks its figures against :data:`QUANTITIES`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

from plotter.earth.angles import course_360, half_turn
from plotter.earth.atmosphere import (
    GAS_CONSTANT_J_KG_K,
    HEAT_RATIO,
    HIGHEST_ALTIMETER_HPA,
    LOWEST_ALTIMETER_HPA,
)
from plotter.earth.units import METRES_PER_NM
from plotter.errors import InputError
from plotter.flight.time_fuel import MINUTES_PER_HOUR, distance_flown_nm
from plotter.flight.wind import (
    STRONGEST_KT,
    Wind,
    crosswind_kt,
    headwind_kt,
    wind_from_components,
)

HEAT_J_KG_K = HEAT_RATIO / (HEAT_RATIO - 1.0) * GAS_CONSTANT_J_KG_K
"""Specific heat of air at constant pressure, from the constants of the standard atmosphere."""
RISE_KT2_PER_K = 2.0 * HEAT_J_KG_K * (3600.0 / METRES_PER_NM) ** 2
"""A probe that takes the whole heat of the ram air reads TAS² / this too warm [kt², K]: 7,593."""


class Quantity(NamedTuple):
    """A figure that is put into a sum: its name, symbol and unit, what is accepted, an example."""

    name: str
    symbol: str
    unit: str
    least: float
    most: float
    example: float


# Wide enough for any light aircraft; beyond them a figure is a slip of the hand (our choice).
QUANTITIES: Mapping[str, Quantity] = {
    "true_heading_deg": Quantity("true heading", "TH", "°T", 0.0, 360.0, 76.0),
    "true_track_deg": Quantity("true track", "TR", "°T", 0.0, 360.0, 90.0),
    "true_airspeed_kt": Quantity("true airspeed", "TAS", "kt", 10.0, 600.0, 120.0),
    "groundspeed_kt": Quantity("groundspeed", "GS", "kt", 5.0, 900.0, 88.0),
    "wind_from_true_deg": Quantity("wind from", "WD", "°T", 0.0, 360.0, 45.0),
    "wind_speed_kt": Quantity("wind speed", "W", "kt", 0.0, STRONGEST_KT, 40.0),
    "fuel": Quantity("fuel", "F", "", 0.01, 100_000.0, 20.0),
    "fuel_per_hour": Quantity("fuel flow", "FF", "an hour", 0.01, 100_000.0, 8.0),
    "minutes": Quantity("minutes", "M", "min", 0.1, 6_000.0, 240.0),
    "indicated_temperature_c": Quantity("indicated temperature", "IAT", "°C", -100.0, 80.0, 5.0),
    "recovery_factor": Quantity("recovery factor", "K", "", 0.5, 1.0, 0.95),
    "altitude_ft": Quantity("altitude", "H", "ft MSL", -2_000.0, 20_000.0, 5_500.0),
    "altimeter_hpa": Quantity(
        "altimeter", "P", "hPa", LOWEST_ALTIMETER_HPA, HIGHEST_ALTIMETER_HPA, 1016.0
    ),
    "temperature_c": Quantity("temperature", "T", "°C", -60.0, 60.0, 30.0),
    "off_course_nm": Quantity("off course", "X", "NM", -100.0, 100.0, 3.0),
    "gone_nm": Quantity("gone", "D1", "NM", 0.1, 1_000.0, 30.0),
    "to_go_nm": Quantity("to go", "D2", "NM", 0.1, 1_000.0, 45.0),
    "from_ft": Quantity("from", "H1", "ft", -2_000.0, 60_000.0, 7_500.0),
    "to_ft": Quantity("to", "H2", "ft", -2_000.0, 60_000.0, 2_500.0),
    "descent_ft_min": Quantity("descent rate", "R", "ft/min", 50.0, 6_000.0, 500.0),
}


def check_figures(**given: float) -> None:
    """Raise InputError with the figure's key as its code for one that is out of range."""
    for key, value in given.items():
        what = QUANTITIES[key]
        if not what.least <= value <= what.most:
            unit = f" {what.unit}".rstrip()
            raise InputError(
                f"{what.name} {value:,g}{unit} is out of range; "
                f"enter {what.least:,g} to {what.most:,g}{unit}",
                code=key,
            )


def wind_found(
    true_heading_deg: float, true_track_deg: float, true_airspeed_kt: float, groundspeed_kt: float
) -> Wind:
    """Return the wind [°T, kt] from heading [°T], track [°T], TAS and GS [kt].

    Raises InputError for a figure out of range. The trap: heading and track by the same north.
    Source: Aviation Formulary V1.47, "Wind triangles".

    >>> wind = wind_found(76.0, 90.0, 120.0, 88.0)
    >>> round(wind.from_true_deg), round(wind.speed_kt)
    (44, 41)
    """
    check_figures(
        true_heading_deg=true_heading_deg,
        true_track_deg=true_track_deg,
        true_airspeed_kt=true_airspeed_kt,
        groundspeed_kt=groundspeed_kt,
    )
    angle = math.radians(half_turn(true_heading_deg - true_track_deg))
    ahead_kt = true_airspeed_kt * math.cos(angle) - groundspeed_kt
    beside_track = wind_from_components(ahead_kt, true_airspeed_kt * math.sin(angle))
    if beside_track.speed_kt == 0.0:
        return beside_track
    return Wind(course_360(true_track_deg + beside_track.from_true_deg), beside_track.speed_kt)


class TrackMade(NamedTuple):
    """Track [°T], groundspeed [kt] and drift [°, right positive]: heading + drift = track."""

    true_track_deg: float
    groundspeed_kt: float
    drift_deg: float


def track_made(true_heading_deg: float, true_airspeed_kt: float, wind: Wind) -> TrackMade:
    """Return track [°T] and groundspeed [kt] of a heading [°T] at a TAS [kt] in a wind.

    Raises InputError for a figure out of range, code ``no-groundspeed`` where the wind takes all
    but 5 kt. Source: Aviation Formulary V1.47, "Wind triangles".

    >>> made = track_made(76.0, 120.0, Wind(45.0, 40.0))
    >>> round(made.true_track_deg), round(made.groundspeed_kt), round(made.drift_deg)
    (90, 88, 14)
    """
    check_figures(true_heading_deg=true_heading_deg, true_airspeed_kt=true_airspeed_kt)
    ahead = true_airspeed_kt - headwind_kt(true_heading_deg, wind)
    across = crosswind_kt(true_heading_deg, wind)
    groundspeed = math.hypot(ahead, across)
    if groundspeed < QUANTITIES["groundspeed_kt"].least:
        raise InputError(
            f"a wind of {wind.speed_kt:.0f} kt leaves {groundspeed:.1f} kt of groundspeed at a "
            f"true airspeed of {true_airspeed_kt:.0f} kt; enter a weaker wind or a higher airspeed",
            code="no-groundspeed",
        )
    drift = math.degrees(math.atan2(-across, ahead)) + 0.0
    return TrackMade(course_360(true_heading_deg + drift), groundspeed, drift)


def fuel_flow_per_hour(fuel: float, minutes: float) -> float:
    """Return the fuel flow per hour, in the unit of the fuel, from fuel used and time [min].

    Raises InputError for a figure out of range. Source: FAA-H-8083-25, "Fuel Consumption".

    >>> fuel_flow_per_hour(20.0, 240.0)
    5.0
    """
    check_figures(fuel=fuel, minutes=minutes)
    return fuel / minutes * MINUTES_PER_HOUR


def outside_temperature_c(
    indicated_temperature_c: float, true_airspeed_kt: float, recovery_factor: float
) -> float:
    """Return the outside air temperature [°C] from the indicated one [°C] at a TAS [kt].

    ``recovery_factor`` is the share of the ram rise that the probe feels, usually 0.95 to 1 and
    as low as 0.7 (Aviation Formulary V1.47, from memory). Raises InputError for a figure out of
    range. Source: the energy of the air that is brought to rest, TAS² / 2cp.

    >>> round(outside_temperature_c(5.0, 120.0, 0.95), 1)
    3.2
    """
    check_figures(
        indicated_temperature_c=indicated_temperature_c,
        true_airspeed_kt=true_airspeed_kt,
        recovery_factor=recovery_factor,
    )
    return indicated_temperature_c - recovery_factor * true_airspeed_kt**2 / RISE_KT2_PER_K


class CourseCorrection(NamedTuple):
    """Turns [°, right positive]: to parallel the course, then from there to the destination.

    ``turn_deg`` is both together, by the triangle; ``turn_one_in_60_deg`` the same by the rule of
    1 in 60.
    """

    parallel_deg: float
    intercept_deg: float
    turn_deg: float
    turn_one_in_60_deg: float


def off_course_correction(
    off_course_nm: float, gone_nm: float, to_go_nm: float
) -> CourseCorrection:
    """Return the turn [°] to the destination for a position beside the course.

    ``off_course_nm`` [NM] is right positive; ``gone_nm`` and ``to_go_nm`` [NM] run along the
    course. Raises InputError for a figure out of range. The rule of 1 in 60 is common practice.

    >>> fix = off_course_correction(3.0, 30.0, 45.0)
    >>> round(fix.parallel_deg, 1), round(fix.turn_deg, 1), round(fix.turn_one_in_60_deg, 1)
    (-5.7, -9.5, -10.0)
    """
    check_figures(off_course_nm=off_course_nm, gone_nm=gone_nm, to_go_nm=to_go_nm)
    parallel = -math.degrees(math.atan2(off_course_nm, gone_nm)) + 0.0
    intercept = -math.degrees(math.atan2(off_course_nm, to_go_nm)) + 0.0
    by_rule = -60.0 * off_course_nm * (1.0 / gone_nm + 1.0 / to_go_nm) + 0.0
    return CourseCorrection(parallel, intercept, parallel + intercept, by_rule)


class Descent(NamedTuple):
    """How long a descent takes [min] and how far before the point it begins [NM]."""

    minutes: float
    distance_nm: float


def top_of_descent(
    from_ft: float, to_ft: float, descent_ft_min: float, groundspeed_kt: float
) -> Descent:
    """Return time [min] and distance [NM] of a descent at a steady rate [ft/min].

    Raises InputError for a figure out of range, code ``altitude`` for a descent that goes up. The
    trap: the groundspeed [kt] is that of the descent, not of the cruise. Arithmetic alone.

    >>> top_of_descent(7500.0, 2500.0, 500.0, 120.0)
    Descent(minutes=10.0, distance_nm=20.0)
    """
    check_figures(
        from_ft=from_ft, to_ft=to_ft, descent_ft_min=descent_ft_min, groundspeed_kt=groundspeed_kt
    )
    if to_ft > from_ft:
        raise InputError(
            f"{to_ft:,.0f} ft is above {from_ft:,.0f} ft; enter the higher altitude first",
            code="altitude",
        )
    minutes = (from_ft - to_ft) / descent_ft_min
    return Descent(minutes, distance_flown_nm(groundspeed_kt, minutes))
