"""The keys of a plan file, table by table: name, kind and bounds of each, and what it is for.

Everything may be left out as far as these models go: which keys must be there, and which go
together, is in :mod:`plotter.flight.plan_rules`, so that a fault in one never hides the next. The
JSON Schema for editors is made from both (:mod:`plotter.flight.plan_schema`).
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Mapping
from typing import Annotated

from pydantic import BeforeValidator, Field, TypeAdapter, WithJsonSchema, with_config
from typing_extensions import TypedDict

from plotter.earth.atmosphere import COLDEST_C, HOTTEST_C
from plotter.earth.geodesic import LineKind
from plotter.flight.aircraft import FuelUnit
from plotter.flight.plan import Reference
from plotter.flight.reserve import AircraftCategory
from plotter.flight.rules import VisualRules
from plotter.flight.wind import STRONGEST_KT
from plotter.route.plotting import LOWEST_ALTITUDE_FT

FORMAT = 1
"""The format this program writes; it reads this one and every one before it."""
MOST_LEGS = 10_000
HIGHEST_ALTITUDE_FT = 65_000.0
"""Within the model of the atmosphere (:data:`plotter.earth.atmosphere.HIGHEST_FT`)."""


def _listed(given: object) -> object:
    return given if isinstance(given, list) else [given]


def _instant(given: object) -> object:
    """A time in quotes as TOML would give it without; anything else is left to be refused."""
    if not isinstance(given, str):
        return given
    try:
        return dt.datetime.fromisoformat(given.strip())
    except ValueError:
        return given


_INSTANT_SCHEMA = {"type": "string", "format": "date-time"}
_ALTITUDE = {"minimum": LOWEST_ALTITUDE_FT, "maximum": HIGHEST_ALTITUDE_FT}
_ALTITUDES_SCHEMA = {
    "anyOf": [
        {"type": "number", **_ALTITUDE},
        {"type": "array", "items": {"type": "number", **_ALTITUDE}, "minItems": 1},
    ]
}

Text = Annotated[str, Field(min_length=1, pattern=r"\S")]
AboveZero = Annotated[float, Field(gt=0.0)]
NotNegative = Annotated[float, Field(ge=0.0)]
Degrees = Annotated[float, Field(ge=0.0, le=360.0)]
WindSpeed = Annotated[float, Field(ge=0.0, le=STRONGEST_KT)]
Celsius = Annotated[float, Field(ge=COLDEST_C, le=HOTTEST_C)]
Inches = Annotated[float, Field(ge=25.2, le=32.4)]  # in hectopascals 853 to 1,097
AltitudeFt = Annotated[float, Field(ge=LOWEST_ALTITUDE_FT, le=HIGHEST_ALTITUDE_FT)]
Altitudes = Annotated[list[AltitudeFt], BeforeValidator(_listed), WithJsonSchema(_ALTITUDES_SCHEMA)]
Instant = Annotated[dt.datetime, BeforeValidator(_instant), WithJsonSchema(_INSTANT_SCHEMA)]


def says(words: str, example: object = None) -> object:
    """What a key is for, and an example where its kind does not tell."""
    return Field(description=words, examples=None if example is None else [example])


class FlightKeys(TypedDict, total=False):
    """The flight: its route, when it takes off, how high it cruises."""

    name: Annotated[Text, says("What the flight is called.")]
    route: Annotated[Text, says("The points, as typed for plotter plot.", "KRST KLSE")]
    departure: Annotated[
        Instant,
        says("Take-off time with its offset from UTC (ISO 8601).", "2026-07-04T09:00:00-05:00"),
    ]
    cruise_altitude_ft: Annotated[Altitudes, says("Feet above sea level: one, or one a leg.", 5500)]
    checkpoints_every_nm: Annotated[AboveZero, says("A checkpoint every so many nautical miles.")]
    checkpoints_every_min: Annotated[
        AboveZero, says("A checkpoint every so many minutes of flying.")
    ]
    checkpoints_restart: Annotated[bool, says("Count checkpoints afresh at each turning point.")]
    line: Annotated[LineKind, says("Shortest line, or line of constant true course.")]
    points: Annotated[Text, says("File of your own points, found from this file.", "points.csv")]
    visual_rules: Annotated[VisualRules, says("Whose table of visual cruising altitudes.")]
    aircraft_category: Annotated[
        AircraftCategory, says("For the reserve a visual flight must have.")
    ]
    lands_on_water: Annotated[bool, says("The aircraft may land on water.")]


class StopKeys(TypedDict, total=False):
    """A landing on the way: a new sector."""

    point: Annotated[Text, says("A point of the route, as it is typed there.", "KLSE")]
    ground_min: Annotated[NotNegative, says("Minutes on the ground.")]
    fuel_added: Annotated[NotNegative, says("Fuel put in, in the aircraft's unit.")]
    full_stop: Annotated[bool, says("A landing to a full stop.")]


class ClimbRowKeys(TypedDict, total=False):
    """One row of the flight manual's climb table, counted from sea level."""

    altitude_ft: Annotated[NotNegative, says("Pressure altitude.")]
    minutes: Annotated[NotNegative, says("Time from sea level.")]
    fuel: Annotated[NotNegative, says("Fuel from sea level.")]
    distance_nm: Annotated[NotNegative, says("Distance in still air from sea level.")]


class CruiseRowKeys(TypedDict, total=False):
    """One row of the flight manual's cruise table."""

    altitude_ft: Annotated[NotNegative, says("Pressure altitude.")]
    true_airspeed_kt: Annotated[AboveZero, says("True airspeed.")]
    fuel_per_hour: Annotated[AboveZero, says("Fuel an hour.")]


class CardKeys(TypedDict, total=False):
    """One pair of the compass correction card, both magnetic, as it is printed."""

    for_magnetic_deg: Annotated[Degrees, says("FOR: the magnetic heading wanted.")]
    steer_deg: Annotated[Degrees, says("STEER: what the compass must read.")]


class AircraftKeys(TypedDict, total=False):
    """The aircraft: its speeds and its fuel, all in one unit."""

    name: Annotated[Text, says("Registration or type.")]
    true_airspeed_kt: Annotated[AboveZero, says("True airspeed in cruise.")]
    calibrated_airspeed_kt: Annotated[AboveZero, says("Or calibrated airspeed in cruise.")]
    cruise_fuel_per_hour: Annotated[AboveZero, says("Fuel an hour in cruise.")]
    fuel_unit: Annotated[FuelUnit, says("Unit of every amount of fuel in this file.")]
    usable_fuel: Annotated[AboveZero, says("What the tanks hold and the engine can use.")]
    fuel_on_board: Annotated[
        NotNegative, says("Usable fuel on board before the engine is started.")
    ]
    taxi_fuel: Annotated[NotNegative, says("Fuel for start, run-up and taxi.")]
    climb_rate_fpm: Annotated[AboveZero, says("Rate of climb, feet a minute.")]
    climb_true_airspeed_kt: Annotated[AboveZero, says("True airspeed in the climb.")]
    climb_calibrated_airspeed_kt: Annotated[AboveZero, says("Or calibrated airspeed in the climb.")]
    climb_fuel_per_hour: Annotated[NotNegative, says("Fuel an hour in the climb.")]
    descent_rate_fpm: Annotated[AboveZero, says("Rate of descent, feet a minute.")]
    descent_true_airspeed_kt: Annotated[AboveZero, says("True airspeed in the descent.")]
    descent_calibrated_airspeed_kt: Annotated[
        AboveZero, says("Or calibrated airspeed in the descent.")
    ]
    descent_fuel_per_hour: Annotated[NotNegative, says("Fuel an hour in the descent.")]
    pattern_height_ft: Annotated[NotNegative, says("Where the descent ends, above the field.")]
    climb_table: Annotated[list[ClimbRowKeys], says("The flight manual's climb table.")]
    cruise_table: Annotated[list[CruiseRowKeys], says("The flight manual's cruise table.")]
    compass_card: Annotated[list[CardKeys], says("The compass correction card.")]


class WindKeys(TypedDict, total=False):
    """A wind at an altitude; its reference is said, never guessed."""

    altitude_ft: Annotated[AltitudeFt, says("Feet above sea level.")]
    from_deg: Annotated[Degrees, says("Where it comes from, by the reference below.")]
    from_true_deg: Annotated[Degrees, says("Or where it comes from by true north.")]
    reference: Annotated[
        Reference,
        says("North of from_deg: in writing true; spoken by a US tower or broadcast magnetic."),
    ]
    speed_kt: Annotated[WindSpeed, says("Knots.")]
    temperature_c: Annotated[Celsius, says("Degrees Celsius at that altitude.")]


class WindsAloftKeys(TypedDict, total=False):
    """A winds aloft forecast (FB), pasted as it was sent."""

    text: Annotated[Text, says("The lines of the bulletin, heading included.")]
    station: Annotated[Text, says("The station to take it from.", "MSP")]
    stations: Annotated[
        Annotated[list[Text], Field(min_length=1)],
        says("Or several, each counting by its distance.", ["MSP", "GRB"]),
    ]


class WeatherKeys(TypedDict, total=False):
    """What is reported or forecast at a point of the route."""

    point: Annotated[Text, says("A point of the route, as it is typed there.", "KRST")]
    altimeter_inhg: Annotated[Inches, says("Altimeter setting in inches of mercury.", 30.02)]
    altimeter_hpa: Annotated[AboveZero, says("Or in hectopascals.", 1016)]
    temperature_c: Annotated[Celsius, says("Degrees Celsius.")]
    wind_from_deg: Annotated[Degrees, says("Where the wind comes from, by the reference below.")]
    wind_reference: Annotated[
        Reference, says("In writing (METAR, TAF) true; spoken by a US tower or broadcast magnetic.")
    ]
    wind_speed_kt: Annotated[WindSpeed, says("Knots.")]


class LegKeys(TypedDict, total=False):
    """What you want or read from the chart for one leg."""

    number: Annotated[Annotated[int, Field(ge=1, le=MOST_LEGS)], says("Which leg, from 1.")]
    altitude_ft: Annotated[AltitudeFt, says("Cruise at this altitude on this leg.")]
    wind_from_true_deg: Annotated[Degrees, says("Wind on this leg, by true north.")]
    wind_speed_kt: Annotated[WindSpeed, says("Wind on this leg, knots.")]
    true_airspeed_kt: Annotated[AboveZero, says("True airspeed on this leg.")]
    highest_ground_ft: Annotated[
        AltitudeFt, says("Highest ground or obstacle, read from the chart.")
    ]
    true_course_deg: Annotated[Degrees, says("From the chart; replaces the computed course.")]
    distance_nm: Annotated[AboveZero, says("From the chart; replaces the computed distance.")]
    variation_deg_east: Annotated[
        Annotated[float, Field(ge=-180.0, le=180.0)],
        says("From the chart, west negative; replaces the computed variation."),
    ]
    measured_course_deg: Annotated[Degrees, says("Measured by hand; compared, not used.")]
    measured_course_reference: Annotated[Reference, says("North of the measured course.")]
    measured_nm: Annotated[AboveZero, says("Measured by hand; compared, not used.")]


class LimitKeys(TypedDict, total=False):
    """Your own limits, asked on top of the rules and never below them."""

    reserve_min: Annotated[NotNegative, says("Fuel reserve, minutes.")]
    crosswind_kt: Annotated[NotNegative, says("Strongest crosswind.")]
    runway_ft: Annotated[NotNegative, says("Shortest runway.")]
    daylight_margin_min: Annotated[NotNegative, says("Minutes before the end of daylight.")]
    ground_clearance_ft: Annotated[NotNegative, says("Height above highest_ground_ft of a leg.")]


@with_config(strict=True, extra="forbid", allow_inf_nan=False)
class PlanKeys(TypedDict, total=False):
    """A plan file: one visual cross-country flight."""

    format: Annotated[
        Annotated[int, Field(ge=1, le=FORMAT)], says("The format of this file.", FORMAT)
    ]
    flight: FlightKeys
    stop: list[StopKeys]
    aircraft: AircraftKeys
    wind: list[WindKeys]
    winds_aloft: WindsAloftKeys
    weather: list[WeatherKeys]
    leg: list[LegKeys]
    limits: LimitKeys
    quiet: Annotated[dict[str, Text], says("CODE = reason: cautions to leave out, and why.")]


PLAN_KEYS = TypeAdapter(PlanKeys)
TABLE_KEYS: Mapping[str, type] = {
    "": PlanKeys,
    "flight": FlightKeys,
    "stop": StopKeys,
    "aircraft": AircraftKeys,
    "aircraft.climb_table": ClimbRowKeys,
    "aircraft.cruise_table": CruiseRowKeys,
    "aircraft.compass_card": CardKeys,
    "wind": WindKeys,
    "winds_aloft": WindsAloftKeys,
    "weather": WeatherKeys,
    "leg": LegKeys,
    "limits": LimitKeys,
}
"""The tables of a plan file, by name as in the heading; [quiet] takes any key."""
TABLES: Mapping[str, Collection[str]] = {
    name: tuple(table.__annotations__) for name, table in TABLE_KEYS.items()
}
"""The names of the keys of every table."""
