"""The [aircraft] of a plan file made into an :class:`~plotter.flight.aircraft.Aircraft`."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, Literal, TypeVar

from plotter.flight.aircraft import PATTERN_HEIGHT_FT, Aircraft, Airspeed, Cruise, VerticalRate
from plotter.flight.checks import check_not_above
from plotter.flight.compass import CardPair, CompassCard
from plotter.flight.performance import ClimbRow, ClimbTable, CruiseRow, CruiseTable
from plotter.flight.plan_faults import Faults
from plotter.flight.plan_rules import Path, broken

if TYPE_CHECKING:
    from plotter.flight.plan_file_keys import AircraftKeys

Row = TypeVar("Row")
Made = TypeVar("Made")
_AT: Path = ("aircraft",)
_KINDS: tuple[Literal["true"], Literal["calibrated"]] = ("true", "calibrated")


def aircraft_of(keys: AircraftKeys, faults: Faults) -> Aircraft | None:
    """The aircraft, or ``None`` where too little of it is well; faults are kept."""
    _check_amounts(keys, faults)
    cruise = _cruise(keys, faults)
    climb = _table(keys, "climb_table", ClimbRow, ClimbTable, faults) or _rate(keys, "climb")
    card = _table(keys, "compass_card", CardPair, CompassCard, faults)
    if cruise is None or not {"fuel_unit", "usable_fuel", "fuel_on_board"} <= keys.keys():
        return None
    make = partial(
        Aircraft,
        name=keys.get("name", ""),
        fuel_unit=keys["fuel_unit"],
        usable_fuel=keys["usable_fuel"],
        fuel_on_board=keys["fuel_on_board"],
        cruise=cruise,
        taxi_fuel=keys.get("taxi_fuel", 0.0),
        climb=climb,
        descent=_rate(keys, "descent"),
        pattern_height_ft=keys.get("pattern_height_ft", PATTERN_HEIGHT_FT),
        compass_card=card,
    )
    return faults.attempt(_AT, make, keys)


def _check_amounts(keys: AircraftKeys, faults: Faults) -> None:
    """More on board than is usable, more taxied away than is on board: each is told."""
    amounts: Mapping[str, Any] = keys
    for key, limit in (("fuel_on_board", "usable_fuel"), ("taxi_fuel", "fuel_on_board")):
        if {key, limit} <= keys.keys():
            check = partial(check_not_above, key, amounts[key], limit, amounts[limit])
            faults.attempt(_AT, check, keys)


def _cruise(keys: AircraftKeys, faults: Faults) -> Cruise | CruiseTable | None:
    if "cruise_table" in keys:
        return _table(keys, "cruise_table", CruiseRow, CruiseTable, faults)
    speed, fuel = _airspeed(keys, ""), keys.get("cruise_fuel_per_hour")
    return None if speed is None or fuel is None else Cruise(speed, fuel)


def _rate(keys: AircraftKeys, phase: Literal["climb", "descent"]) -> VerticalRate | None:
    """Climb or descent by rate, where all of it is given."""
    figures: Mapping[str, Any] = keys
    rate, fuel = figures.get(f"{phase}_rate_fpm"), figures.get(f"{phase}_fuel_per_hour")
    speed = _airspeed(keys, f"{phase}_")
    if rate is None or speed is None or fuel is None:
        return None
    return VerticalRate(rate, speed, fuel)


def _airspeed(keys: AircraftKeys, phase: str) -> Airspeed | None:
    """The airspeed of a phase, true or calibrated, whichever is given."""
    speeds: Mapping[str, Any] = keys
    for kind in _KINDS:
        if (knots := speeds.get(f"{phase}{kind}_airspeed_kt")) is not None:
            return Airspeed(knots, kind)
    return None


def _table(
    keys: AircraftKeys,
    name: Literal["climb_table", "cruise_table", "compass_card"],
    row: Callable[..., Row],
    table: Callable[[tuple[Row, ...]], Made],
    faults: Faults,
) -> Made | None:
    """A table of the aircraft's from its rows; ``None`` where a row is not whole or well."""
    given: Sequence[Mapping[str, Any]] | None = keys.get(name)
    if given is None or any(list(broken(f"aircraft.{name}", each)) for each in given):
        return None
    at = (*_AT, name)
    rows = [faults.attempt((*at, k), partial(row, **each), each) for k, each in enumerate(given)]
    whole = tuple(each for each in rows if each is not None)
    return faults.attempt(at, partial(table, whole)) if len(whole) == len(rows) else None
