"""The aircraft: its speeds, its fuel, how it climbs and comes down."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, get_args

from plotter.earth.atmosphere import true_airspeed_kt
from plotter.errors import InputError
from plotter.flight.checks import (
    check_above_zero,
    check_airspeed,
    check_not_above,
    check_not_negative,
)
from plotter.flight.compass import CompassCard
from plotter.flight.performance import ClimbTable, CruiseFigures, CruiseTable

FuelUnit = Literal["US gal", "L", "lb", "kg"]
FUEL_UNITS: tuple[FuelUnit, ...] = get_args(FuelUnit)
LEAST_ENDURANCE_MIN = 20.0
"""Full tanks that last no longer do not even hold the reserve, of which the least is the 20 min of
a rotorcraft (14 CFR 91.151(b)): nothing can be flown with them."""
PATTERN_HEIGHT_FT = 1000.0
"""Height of a traffic pattern above the field unless another is published (AIM 4-3-3, from
memory)."""


_COUNTRY = re.compile("[A-Za-z]{2}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Airspeed:
    """An airspeed [kt], true or calibrated.

    >>> round(Airspeed(110.0, "calibrated").true_kt(6500.0, 2.0), 1)
    121.1
    """

    knots: float
    kind: Literal["true", "calibrated"] = "true"

    def __post_init__(self) -> None:
        check_airspeed(f"{self.kind}_airspeed_kt", self.knots)

    def true_kt(self, pressure_altitude_ft: float, temperature_c: float) -> float:
        """True airspeed [kt] at a pressure altitude [ft] and an air temperature [°C]."""
        if self.kind == "true":
            return self.knots
        return true_airspeed_kt(self.knots, pressure_altitude_ft, temperature_c)


@dataclass(frozen=True, slots=True)
class Cruise:
    """Cruise by one airspeed and one fuel flow an hour, whatever the altitude."""

    airspeed: Airspeed
    fuel_per_hour: float

    def __post_init__(self) -> None:
        check_above_zero("cruise_fuel_per_hour", self.fuel_per_hour)


@dataclass(frozen=True, slots=True)
class VerticalRate:
    """Climb or descent by a steady rate [ft/min], airspeed and fuel flow an hour."""

    rate_fpm: float
    airspeed: Airspeed
    fuel_per_hour: float

    def __post_init__(self) -> None:
        check_above_zero("rate_fpm", self.rate_fpm)
        check_not_negative("fuel_per_hour", self.fuel_per_hour)


@dataclass(frozen=True, slots=True)
class Aircraft:
    """An aircraft; every amount of fuel is in its ``fuel_unit``.

    ``registered_in`` is the country of registration (ISO 3166, two letters), empty where it is not
    given. ``climb`` or ``descent`` of ``None`` is a flight that is all cruise. Raises InputError,
    its code the key that is wrong, where an amount is negative, more is on board than is usable,
    more is taxied away than is on board, or the country is not two letters.

    >>> cruise = Cruise(Airspeed(110.0), 8.5)
    >>> aircraft = Aircraft("Blue Wren, invented", "US gal", 53.0, 40.0, cruise, taxi_fuel=1.1)
    >>> aircraft.cruise_at(6500.0, 2.0)
    CruiseFigures(true_airspeed_kt=110.0, fuel_per_hour=8.5, beyond='')
    """

    name: str
    fuel_unit: FuelUnit
    usable_fuel: float
    fuel_on_board: float
    cruise: Cruise | CruiseTable
    taxi_fuel: float = 0.0
    climb: VerticalRate | ClimbTable | None = None
    descent: VerticalRate | None = None
    pattern_height_ft: float = PATTERN_HEIGHT_FT
    compass_card: CompassCard | None = None
    registered_in: str = ""

    def __post_init__(self) -> None:
        if self.registered_in and not _COUNTRY.fullmatch(self.registered_in):
            raise InputError("registered_in", name="registered_in", value=self.registered_in)
        if self.fuel_unit not in FUEL_UNITS:
            raise InputError(
                "fuel_unit",
                candidates=FUEL_UNITS,
                name="fuel_unit",
                value=self.fuel_unit,
                units=tuple(FUEL_UNITS),
            )
        check_above_zero("usable_fuel", self.usable_fuel)
        for key in ("fuel_on_board", "taxi_fuel", "pattern_height_ft"):
            check_not_negative(key, getattr(self, key))
        check_not_above("fuel_on_board", self.fuel_on_board, "usable_fuel", self.usable_fuel)
        check_not_above("taxi_fuel", self.taxi_fuel, "fuel_on_board", self.fuel_on_board)
        for key, flow in self._flows():
            _check_flow(key, flow, self.usable_fuel)

    def _flows(self) -> Iterator[tuple[str, float]]:
        """Every fuel flow an hour, by the key it is given with."""
        if isinstance(self.cruise, Cruise):
            yield "cruise_fuel_per_hour", self.cruise.fuel_per_hour
        else:
            yield "cruise_table", max(row.fuel_per_hour for row in self.cruise.rows)
        for phase, rate in (("climb", self.climb), ("descent", self.descent)):
            if isinstance(rate, VerticalRate):
                yield f"{phase}_fuel_per_hour", rate.fuel_per_hour

    def cruise_at(self, pressure_altitude_ft: float, temperature_c: float) -> CruiseFigures:
        """True airspeed [kt], fuel flow an hour, and whether from beyond the cruise table."""
        if isinstance(self.cruise, CruiseTable):
            return self.cruise.at(pressure_altitude_ft)
        speed = self.cruise.airspeed.true_kt(pressure_altitude_ft, temperature_c)
        return CruiseFigures(speed, self.cruise.fuel_per_hour, "")


def _check_flow(key: str, per_hour: float, usable_fuel: float) -> None:
    """Raise InputError, its code the key, for a flow that empties full tanks before a reserve."""
    if per_hour * LEAST_ENDURANCE_MIN > usable_fuel * 60.0:
        raise InputError(
            "endurance",
            code=key,
            name=key,
            per_hour=per_hour,
            usable=usable_fuel,
            least_min=LEAST_ENDURANCE_MIN,
        )
