"""Going up and coming down in steps of altitude, each with its time, fuel and true airspeed.

The steps are laid where the caller can put a wind to each: cut at every 500 ft, figures taken in
the middle of the step. What the aircraft covers over the ground in a step is its true airspeed
through a wind triangle, on whatever leg it is by then.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from plotter.errors import InputError
from plotter.flight.aircraft import VerticalRate
from plotter.flight.performance import ClimbTable
from plotter.flight.time_fuel import fuel_used, groundspeed_made_kt

STEP_FT = 500.0


class Conditions(NamedTuple):
    """Pressure altitude [ft] and air temperature [°C] at an altitude."""

    pressure_altitude_ft: float
    temperature_c: float


ConditionsAt = Callable[[float], Conditions]


@dataclass(frozen=True, slots=True)
class VerticalStep:
    """From one altitude [ft] to another: time [min], fuel, true airspeed [kt]."""

    from_ft: float
    to_ft: float
    minutes: float
    fuel: float
    true_airspeed_kt: float

    @property
    def middle_ft(self) -> float:
        """The altitude half-way [ft], where its wind is taken."""
        return (self.from_ft + self.to_ft) / 2.0


def climb_steps(
    climb: VerticalRate | ClimbTable, from_ft: float, to_ft: float, at: ConditionsAt
) -> tuple[VerticalStep, ...]:
    """The steps of a climb between two altitudes [ft], none where they are equal.

    Raises InputError, code ``altitude``, for a climb that goes down, ``climb_table`` above the
    table.

    >>> from plotter.flight.aircraft import Airspeed
    >>> steps = climb_steps(
    ...     VerticalRate(500.0, Airspeed(80.0), 12.0),
    ...     900.0, 2000.0, lambda altitude_ft: Conditions(altitude_ft, 15.0),
    ... )
    >>> [(step.from_ft, step.to_ft, step.minutes) for step in steps]
    [(900.0, 1000.0, 0.2), (1000.0, 1500.0, 1.0), (1500.0, 2000.0, 1.0)]
    """
    if to_ft < from_ft:
        raise InputError(
            f"a climb from {from_ft:,.0f} ft cannot end at {to_ft:,.0f} ft", code="altitude"
        )
    if isinstance(climb, ClimbTable):
        return _table_steps(climb, from_ft, to_ft, at)
    return _rate_steps(climb, _edges(from_ft, to_ft), at)


def descent_steps(
    descent: VerticalRate, from_ft: float, to_ft: float, at: ConditionsAt
) -> tuple[VerticalStep, ...]:
    """The steps of a descent between two altitudes [ft], highest first, none where equal.

    Raises InputError, code ``altitude``, for a descent that goes up.
    """
    if to_ft > from_ft:
        raise InputError(
            f"a descent from {from_ft:,.0f} ft cannot end at {to_ft:,.0f} ft", code="altitude"
        )
    return _rate_steps(descent, _edges(to_ft, from_ft)[::-1], at)


def _edges(low_ft: float, high_ft: float) -> list[float]:
    """Both ends and every multiple of the step between them, rising."""
    first = math.floor(low_ft / STEP_FT) + 1
    last = math.ceil(high_ft / STEP_FT)
    between = [k * STEP_FT for k in range(first, last)]
    return [low_ft, *between, high_ft] if high_ft > low_ft else []


def _rate_steps(
    rate: VerticalRate, edges: list[float], at: ConditionsAt
) -> tuple[VerticalStep, ...]:
    steps = []
    for start, end in itertools.pairwise(edges):
        minutes = abs(end - start) / rate.rate_fpm
        speed = rate.airspeed.true_kt(*at((start + end) / 2.0))
        fuel = fuel_used(rate.fuel_per_hour, minutes)
        steps.append(VerticalStep(start, end, minutes, fuel, speed))
    return tuple(steps)


def _table_steps(
    table: ClimbTable, from_ft: float, to_ft: float, at: ConditionsAt
) -> tuple[VerticalStep, ...]:
    """Time and fuel from the table; its true airspeed is the mean over the whole climb.

    A table's distances are printed in whole miles, so that of one step alone would make the
    airspeed jump from step to step.
    """
    edges = _edges(from_ft, to_ft)
    heights = [at(edge).pressure_altitude_ft for edge in edges]
    if not edges:
        return ()
    whole = table.between(heights[0], heights[-1])
    speed = groundspeed_made_kt(whole.distance_nm, whole.minutes)
    parts = [table.between(low, high) for low, high in itertools.pairwise(heights)]
    return tuple(
        VerticalStep(low, high, part.minutes, part.fuel, speed)
        for (low, high), part in zip(itertools.pairwise(edges), parts, strict=True)
    )
