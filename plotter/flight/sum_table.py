"""Every single sum in one table: what is put in, the formula of each step, the source.

The command line and the working are made from :data:`SUMS`; a test works every formula again.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import NamedTuple

from plotter import wording
from plotter.earth.angles import half_turn
from plotter.earth.atmosphere import (
    altimeter_correction_ft,
    density_altitude_ft,
    density_ratio,
    pressure_altitude_ft,
    pressure_ratio,
)
from plotter.errors import InputError
from plotter.flight import sums
from plotter.flight.sums import QUANTITIES
from plotter.flight.time_fuel import endurance_min
from plotter.flight.wind import Wind, crosswind_kt, headwind_kt
from plotter.flight.working.values import PILOTS_HANDBOOK, figure

FORMULARY = "Ed Williams, Aviation Formulary V1.47"
TRIANGLES = f"{FORMULARY}, “Wind triangles”"
_SYMBOL = re.compile("[A-Za-zδσ][A-Za-z0-9]*")
Put = Mapping[str, float]


class Step(NamedTuple):
    """One line of a sum: its key in documents, symbol, words, unit, decimals, formula, value.

    ``formula`` is in the symbols of what is put in and of the steps before; ``value`` computes it
    from the figures by key. ``is_answer`` marks what was asked for; ``shown`` prints it otherwise
    than as a number with its unit.
    """

    key: str
    symbol: str
    words: str
    unit: str
    digits: int
    formula: str
    value: Callable[[Put], float]
    is_answer: bool = True
    shown: Callable[[float], str] | None = None


class Sum(NamedTuple):
    """One sum: the keys of what is put in, its steps, its source, what to know."""

    title: str
    put_in: tuple[str, ...]
    steps: tuple[Step, ...]
    source: str
    note: str = ""


class Line(NamedTuple):
    """A step that was worked: the formula with the numbers in it, and the unrounded value."""

    step: Step
    arithmetic: str
    value: float

    @property
    def result(self) -> str:
        """The value as it is printed.

        >>> solve("fuel-flow", {"fuel": 20.0, "minutes": 240.0}).lines[0].result
        '5.0 an hour'
        """
        if self.step.shown:
            return self.step.shown(self.value)
        joint = "" if self.step.unit == "°" else " "
        return f"{figure(self.value, self.step.digits)}{joint}{self.step.unit}".rstrip()


class Solved(NamedTuple):
    """A sum with the figures that were put in, by their keys, and its lines."""

    name: str
    sum: Sum
    put_in: Mapping[str, float]
    lines: tuple[Line, ...]

    @property
    def results(self) -> dict[str, float]:
        """The answers, unrounded, by their keys."""
        return {line.step.key: line.value for line in self.lines if line.step.is_answer}


def solve(name: str, put_in: Mapping[str, float]) -> Solved:
    """Return the sum of a name, worked with these figures.

    Raises InputError, code ``sum``, for a name or a key that is not there, and with the key as
    its code for a figure out of range.

    >>> solve("top-of-descent", dict(from_ft=7500, to_ft=2500, descent_ft_min=500,
    ...                              groundspeed_kt=120)).results
    {'minutes': 10.0, 'distance_nm': 20.0}
    """
    if name not in SUMS:
        raise InputError(f"no sum '{name[:40]}'; available: {', '.join(SUMS)}", code="sum")
    asked = SUMS[name]
    if set(put_in) != set(asked.put_in):
        raise InputError(f"{name} needs {', '.join(asked.put_in)}, no more and no less", code="sum")
    sums.check_figures(**put_in)
    symbols = {QUANTITIES[key].symbol: written(put_in[key]) for key in asked.put_in}
    lines = []
    for step in asked.steps:
        value = step.value(put_in)
        lines.append(Line(step, _with_numbers(step.formula, symbols), value))
        symbols[step.symbol] = _in_a_sum(value, step.digits)
    return Solved(name, asked, {key: put_in[key] for key in asked.put_in}, tuple(lines))


def written(value: float) -> str:
    """Return a figure that was put in as it stands in the arithmetic, negative in brackets.

    >>> written(76.0), written(-5.5)
    ('76', '(−5.5)')
    """
    text = f"{value:,.3f}".rstrip("0").rstrip(".").replace("-", "−")
    return f"({text})" if value < 0.0 else text


def _in_a_sum(value: float, digits: int) -> str:
    text = figure(value, digits)
    return f"({text})" if value < 0.0 else text


def _with_numbers(formula: str, symbols: Mapping[str, str]) -> str:
    text = _SYMBOL.sub(lambda found: symbols.get(found[0], found[0]), formula)
    return re.sub(r"\((\(−[\d.,]+\))\)", r"\1", text)  # no brackets within brackets


def _wind(put: Put) -> Wind:
    return Wind(put["wind_from_true_deg"], put["wind_speed_kt"])


def _found(put: Put) -> Wind:
    return sums.wind_found(**put)


def _made(put: Put) -> sums.TrackMade:
    return sums.track_made(put["true_heading_deg"], put["true_airspeed_kt"], _wind(put))


def _pressure_altitude(put: Put) -> float:
    return pressure_altitude_ft(put["altitude_ft"], put["altimeter_hpa"])


def _density_ratio(put: Put) -> float:
    return density_ratio(_pressure_altitude(put), put["temperature_c"])


def _correction(put: Put) -> sums.CourseCorrection:
    return sums.off_course_correction(**put)


def _turn(value: float) -> str:
    side = "right" if value > 0.0 else "left"
    return f"{figure(abs(value))}° {side}" if round(value, 1) else "no turn"


_ALTIMETER = Step(
    "altimeter_correction_ft",
    "C",
    "correction for the altimeter setting",
    "ft",
    0,
    "145,442.2 × (1 − (P / 1,013.25) ^ 0.190263)",
    lambda put: altimeter_correction_ft(put["altimeter_hpa"]),
    is_answer=False,
)
_PRESSURE_ALTITUDE = Step(
    "pressure_altitude_ft", "PA", "pressure altitude", "ft", 0, "H + C", _pressure_altitude
)

SUMS: Mapping[str, Sum] = {
    "wind": Sum(
        "Wind from heading, track and two speeds",
        ("true_heading_deg", "true_track_deg", "true_airspeed_kt", "groundspeed_kt"),
        (
            Step(
                *("crab_deg", "A", "heading less track, within ±180°", "°", 1, "TH − TR"),
                lambda put: half_turn(put["true_heading_deg"] - put["true_track_deg"]),
                is_answer=False,
            ),
            Step(
                *("headwind_kt", "HW", "headwind along the track", "kt", 1),
                "TAS × cos(A) − GS",
                lambda put: headwind_kt(put["true_track_deg"], _found(put)),
                is_answer=False,
            ),
            Step(
                *("crosswind_kt", "XW", "crosswind, from the right positive", "kt", 1),
                "TAS × sin(A)",
                lambda put: crosswind_kt(put["true_track_deg"], _found(put)),
                is_answer=False,
            ),
            Step(
                *("wind_from_true_deg", "WD", "wind from", "°T", 0, "TR + atan2(XW, HW)"),
                lambda put: _found(put).from_true_deg,
                shown=lambda value: wording.course(value, "T"),
            ),
            Step(
                *("wind_speed_kt", "W", "wind speed", "kt", 0, "sqrt(HW² + XW²)"),
                lambda put: _found(put).speed_kt,
            ),
        ),
        TRIANGLES,
        "Heading and track by the same north; both magnetic give a magnetic wind.",
    ),
    "track": Sum(
        "Track and groundspeed from a heading",
        ("true_heading_deg", "true_airspeed_kt", "wind_from_true_deg", "wind_speed_kt"),
        (
            Step(
                *("headwind_kt", "HW", "headwind along the heading", "kt", 1),
                "W × cos(WD − TH)",
                lambda put: headwind_kt(put["true_heading_deg"], _wind(put)),
                is_answer=False,
            ),
            Step(
                *("crosswind_kt", "XW", "crosswind, from the right positive", "kt", 1),
                "W × sin(WD − TH)",
                lambda put: crosswind_kt(put["true_heading_deg"], _wind(put)),
                is_answer=False,
            ),
            Step(
                *("drift_deg", "DR", "drift, to the right positive", "°", 1),
                "−atan2(XW, TAS − HW)",
                lambda put: _made(put).drift_deg,
            ),
            Step(
                *("true_track_deg", "TR", "track", "°T", 0, "TH + DR"),
                lambda put: _made(put).true_track_deg,
                shown=lambda value: wording.course(value, "T"),
            ),
            Step(
                *("groundspeed_kt", "GS", "groundspeed", "kt", 0, "sqrt((TAS − HW)² + XW²)"),
                lambda put: _made(put).groundspeed_kt,
            ),
        ),
        TRIANGLES,
    ),
    "fuel-flow": Sum(
        "Fuel flow from fuel used and time",
        ("fuel", "minutes"),
        (
            Step(
                *("fuel_per_hour", "FF", "fuel flow", "an hour", 1, "F / M × 60"),
                lambda put: sums.fuel_flow_per_hour(**put),
            ),
        ),
        f"{PILOTS_HANDBOOK}, “Fuel Consumption”",
        "Fuel in any unit; the flow is in the same.",
    ),
    "endurance": Sum(
        "Endurance from fuel and fuel flow",
        ("fuel", "fuel_per_hour"),
        (
            Step(
                *("minutes", "M", "time until the fuel is used", "min", 0, "F / FF × 60"),
                lambda put: endurance_min(**put),
                shown=wording.time_left,
            ),
        ),
        f"{PILOTS_HANDBOOK}, “Fuel Consumption”",
        "No reserve is deducted. Fuel and flow in the same unit.",
    ),
    "temperature": Sum(
        "Outside temperature from the indicated one",
        ("indicated_temperature_c", "true_airspeed_kt", "recovery_factor"),
        (
            Step(
                *("outside_temperature_c", "OAT", "outside air temperature", "°C", 1),
                "IAT − K × TAS² / 7,592.6",
                lambda put: sums.outside_temperature_c(**put),
            ),
        ),
        "energy of the air brought to rest, TAS² / 2cp, with cp of dry air",
        "Recovery factor: usually 0.95 to 1, at times 0.7 (from memory); the probe's maker has it.",
    ),
    "pressure-altitude": Sum(
        "Pressure altitude from altitude and altimeter setting",
        ("altitude_ft", "altimeter_hpa"),
        (_ALTIMETER, _PRESSURE_ALTITUDE),
        f"{FORMULARY}, “Standard Atmosphere”",
    ),
    "density-altitude": Sum(
        "Density altitude from altitude, altimeter setting and temperature",
        ("altitude_ft", "altimeter_hpa", "temperature_c"),
        (
            _ALTIMETER,
            _PRESSURE_ALTITUDE,
            Step(
                *("pressure_ratio", "δ", "pressure over that of standard sea level", "", 4),
                "(1 − PA / 145,442.2) ^ 5.25588",
                lambda put: pressure_ratio(_pressure_altitude(put)),
                is_answer=False,
            ),
            Step(
                *("density_ratio", "σ", "density over that of standard sea level", "", 4),
                "δ / ((T + 273.15) / 288.15)",
                _density_ratio,
                is_answer=False,
            ),
            Step(
                *("density_altitude_ft", "DA", "density altitude", "ft", 0),
                "145,442.2 × (1 − σ ^ 0.234969)",
                lambda put: density_altitude_ft(_pressure_altitude(put), put["temperature_c"]),
            ),
        ),
        f"{FORMULARY}, “Standard Atmosphere”",
        "The air is taken as dry; moist air is a little thinner.",
    ),
    "off-course": Sum(
        "Turn to the destination from beside the course",
        ("off_course_nm", "gone_nm", "to_go_nm"),
        (
            Step(
                *("parallel_deg", "T1", "turn to parallel the course", "°", 1, "−atan(X / D1)"),
                lambda put: _correction(put).parallel_deg,
                shown=_turn,
            ),
            Step(
                *("intercept_deg", "T2", "from there to the destination", "°", 1, "−atan(X / D2)"),
                lambda put: _correction(put).intercept_deg,
                shown=_turn,
            ),
            Step(
                *("turn_deg", "T", "turn to the destination, by the triangle", "°", 1, "T1 + T2"),
                lambda put: _correction(put).turn_deg,
                shown=_turn,
            ),
            Step(
                *("turn_one_in_60_deg", "T60", "the same by the rule of 1 in 60", "°", 1),
                "−(60 × X / D1 + 60 × X / D2)",
                lambda put: _correction(put).turn_one_in_60_deg,
                shown=_turn,
            ),
        ),
        "plane triangle; the rule of 1 in 60 is common practice",
        "Off course is positive to the right, negative to the left; distances run along the "
        "course. The wind that drifted you stays: the turn is from the track you have made good.",
    ),
    "top-of-descent": Sum(
        "Top of descent at a steady rate",
        ("from_ft", "to_ft", "descent_ft_min", "groundspeed_kt"),
        (
            Step(
                *("minutes", "M", "time to descend", "min", 1, "(H1 − H2) / R"),
                lambda put: sums.top_of_descent(**put).minutes,
            ),
            Step(
                *("distance_nm", "D", "begin before the point", "NM", 1, "GS × M / 60"),
                lambda put: sums.top_of_descent(**put).distance_nm,
            ),
        ),
        "arithmetic",
        "Enter the groundspeed of the descent, not of the cruise.",
    ),
}
"""The sums by the name that is typed for each."""
