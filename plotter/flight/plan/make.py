"""Make the values of a plan from the keys of its file, and keep each fault with its key.

Faulty keys have been removed before: a value that needs one is not made, without another fault.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields
from functools import partial
from typing import TYPE_CHECKING, Any, Literal, TypeVar

from plotter.earth.atmosphere import hpa_from_inhg
from plotter.errors import InputError
from plotter.flight.aircraft import Aircraft, Airspeed, Cruise, VerticalRate
from plotter.flight.checks import check_not_above
from plotter.flight.compass import CardPair, CompassCard
from plotter.flight.invented import INVENTED, part_of, still_invented
from plotter.flight.performance import ClimbRow, ClimbTable, CruiseRow, CruiseTable
from plotter.flight.plan.keys import KeyPath
from plotter.flight.plan.lines import Faults
from plotter.flight.plan.names import RowName, keys_in
from plotter.flight.plan.rules import broken
from plotter.flight.plan.values import (
    GivenWind,
    LegNotes,
    Limits,
    Plan,
    PlannedWind,
    Stop,
    Weather,
    WindsAloft,
    check_departure,
)
from plotter.flight.wind import Wind
from plotter.messages import message

if TYPE_CHECKING:
    from plotter.flight.plan.keys import (
        AircraftKeys,
        FlightKeys,
        LegKeys,
        PlanKeys,
        WeatherKeys,
        WindKeys,
        WindsAloftKeys,
    )

# The [aircraft] of a plan file made into an :class:`~plotter.flight.aircraft.Aircraft`.

Row = TypeVar("Row")
Made = TypeVar("Made")
_AT: KeyPath = ("aircraft",)
_AIRCRAFT = {each.name for each in fields(Aircraft)}
_KINDS: tuple[Literal["true"], Literal["calibrated"]] = ("true", "calibrated")


def aircraft_of(keys: AircraftKeys, faults: Faults) -> Aircraft | None:
    """Return the aircraft, or ``None`` if too little of it is valid; keep the faults."""
    _check_amounts(keys, faults)
    cruise = _cruise(keys, faults)
    climb = _table(keys, "climb_table", ClimbRow, ClimbTable, faults) or _rate(keys, "climb")
    card = _table(keys, "compass_card", CardPair, CompassCard, faults)
    if cruise is None or not {"fuel_unit", "usable_fuel", "fuel_on_board"} <= keys.keys():
        return None
    values: dict[str, Any] = {key: value for key, value in keys.items() if key in _AIRCRAFT}
    values |= {"cruise": cruise, "climb": climb, "descent": _rate(keys, "descent")}
    make = partial(Aircraft, **{"name": ""} | values | {"compass_card": card})
    return faults.attempt(_AT, make, keys)


def _check_amounts(keys: AircraftKeys, faults: Faults) -> None:
    """Keep a fault for each amount above the one it is a part of."""
    amounts: Mapping[str, Any] = keys
    for name, key in keys_in("aircraft").items():
        if {name, key.at_most} <= keys.keys():
            check = partial(check_not_above, name, amounts[name], key.at_most, amounts[key.at_most])
            faults.attempt(_AT, check, keys)


def _cruise(keys: AircraftKeys, faults: Faults) -> Cruise | CruiseTable | None:
    if "cruise_table" in keys:
        return _table(keys, "cruise_table", CruiseRow, CruiseTable, faults)
    speed, fuel = _airspeed(keys, ""), keys.get("cruise_fuel_per_hour")
    return None if speed is None or fuel is None else Cruise(speed, fuel)


def _rate(keys: AircraftKeys, phase: Literal["climb", "descent"]) -> VerticalRate | None:
    """Return climb or descent by rate, if all of it is given."""
    figures: Mapping[str, Any] = keys
    rate, fuel = figures.get(f"{phase}_rate_fpm"), figures.get(f"{phase}_fuel_per_hour")
    speed = _airspeed(keys, f"{phase}_")
    if rate is None or speed is None or fuel is None:
        return None
    return VerticalRate(rate, speed, fuel)


def _airspeed(keys: AircraftKeys, phase: str) -> Airspeed | None:
    """Return the airspeed of a phase, true or calibrated, whichever is given."""
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
    """Return a table of the aircraft from its rows; ``None`` if a row is incomplete or wrong."""
    given: Sequence[Mapping[str, Any]] | None = keys.get(name)
    if given is None or any(list(broken(f"aircraft.{name}", each)) for each in given):
        return None
    at = (*_AT, name)
    rows = [faults.attempt((*at, k), partial(row, **each), each) for k, each in enumerate(given)]
    whole = tuple(each for each in rows if each is not None)
    return faults.attempt(at, partial(table, whole)) if len(whole) == len(rows) else None


# What a key of [flight] is called in a Plan, where the two differ.
_IN_PLAN = {
    "checkpoints_every_nm": "every_nm",
    "checkpoints_every_min": "every_min",
    "checkpoints_restart": "restart",
    "points": "points_file",
}


def plan_of(keys: PlanKeys, faults: Faults) -> Plan | None:
    """Return the plan, or ``None`` if too little of it is valid; keep the faults."""
    _check_repeats(keys, faults)
    for entry in keys.get("invented", []):
        faults.attempt((INVENTED,), partial(part_of, entry))
    flight = keys.get("flight", {})
    if "departure" in flight:
        check = partial(check_departure, flight["departure"])
        faults.attempt(("flight",), check, flight)
    aircraft = aircraft_of(keys["aircraft"], faults) if "aircraft" in keys else None
    parts = {
        "winds": tuple(filter(None, map(_wind, keys.get("wind", [])))),
        "winds_aloft": _winds_aloft(keys.get("winds_aloft", {}), faults),
        "weather": tuple(
            made
            for k, row in enumerate(keys.get("weather", []))
            if (made := _weather(row, ("weather", k), faults))
        ),
        "stops": tuple(Stop(**row) for row in keys.get("stop", []) if "point" in row),
        "legs": tuple(
            notes
            for k, row in enumerate(keys.get("leg", []))
            if "number" in row
            and (notes := faults.attempt(("leg", k), partial(_notes, row), row)) is not None
        ),
        "limits": Limits(**keys.get("limits", {})),
        "quiet": keys.get("quiet", {}),
        "invented": still_invented(keys.get("invented", []), keys),
    }
    if aircraft is None or not {"route", "departure", "cruise_altitude_ft"} <= flight.keys():
        return None
    return faults.attempt(("flight",), partial(_plan, flight, aircraft, parts), flight)


def _plan(flight: FlightKeys, aircraft: Aircraft, parts: Mapping[str, Any]) -> Plan:
    given: dict[str, Any] = {_IN_PLAN.get(key, key): value for key, value in flight.items()}
    altitudes = tuple(given.pop("cruise_altitude_ft"))
    return Plan(cruise_altitudes_ft=altitudes, aircraft=aircraft, **given, **parts)


def _wind(row: WindKeys) -> PlannedWind | None:
    if not {"altitude_ft", "speed_kt"} <= row.keys():
        return None
    if "from_true_deg" in row:
        wind = GivenWind(row["from_true_deg"], "true", row["speed_kt"])
    elif {"from_deg", "reference"} <= row.keys():
        wind = GivenWind(row["from_deg"], row["reference"], row["speed_kt"])
    else:
        return None
    return PlannedWind(row["altitude_ft"], wind, row.get("temperature_c"))


def _winds_aloft(keys: WindsAloftKeys, faults: Faults) -> WindsAloft | None:
    """Return the forecast as it was pasted; keep the fault of one that cannot be read."""
    key = "station" if "station" in keys else "stations"
    stations = (keys["station"],) if "station" in keys else tuple(keys.get("stations", ()))
    if not stations or "text" not in keys:
        return None
    from plotter.flight.air.forecast import read_winds_aloft

    try:
        read_winds_aloft(keys["text"], stations)
    except InputError as fault:
        faults.keep(("winds_aloft", key if fault.candidates else "text"), fault)
    return WindsAloft(keys["text"], stations)


def _weather(row: WeatherKeys, at: KeyPath, faults: Faults) -> Weather | None:
    """Return the weather at a point, its altimeter setting in hectopascals."""
    if "point" not in row:
        return None
    hpa = row.get("altimeter_hpa")
    if "altimeter_inhg" in row:
        hpa = hpa_from_inhg(row["altimeter_inhg"])
    wind = None
    if {"wind_from_deg", "wind_reference", "wind_speed_kt"} <= row.keys():
        wind = GivenWind(row["wind_from_deg"], row["wind_reference"], row["wind_speed_kt"])
    make = partial(Weather, row["point"], hpa, row.get("temperature_c"), wind)
    return faults.attempt((*at, "altimeter_hpa") if "altimeter_hpa" in row else at, make)


def _notes(row: LegKeys) -> LegNotes:
    given: dict[str, Any] = dict(row)
    from_deg, speed = given.pop("wind_from_true_deg", None), given.pop("wind_speed_kt", None)
    wind = None if from_deg is None or speed is None else Wind(from_deg, speed)
    return LegNotes(wind=wind, **given)


def _check_repeats(keys: PlanKeys, faults: Faults) -> None:
    """Keep a fault for each row that repeats the leg, altitude or point of another."""
    tables: Mapping[str, Any] = keys
    for table, key in (("leg", "number"), ("wind", "altitude_ft"), ("weather", "point")):
        seen: dict[object, int] = {}
        for k, row in enumerate(tables.get(table, ())):
            value = row.get(key)
            what = value.strip().casefold() if isinstance(value, str) else value
            first = seen.setdefault(what, k)
            if value is not None and first != k:
                shown = value if isinstance(value, str) else f"{value:g}"
                row_before = RowName(table, first + 1)
                said = message("repeated", name=key, value=shown, row=row_before)
                faults.add((table, k, key), said)
