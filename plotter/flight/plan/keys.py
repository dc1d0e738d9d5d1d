"""The keys of a plan file, table by table: name, kind and bounds of each, and what it is for.

Everything may be left out as far as these tables go: which keys must be there, and which go
together, is in :mod:`plotter.flight.plan.rules`, so that a fault in one never hides the next. The
checker (:mod:`plotter.flight.plan.check`) and the JSON Schema for editors
(:mod:`plotter.flight.plan.schema`) are both made from what is written here.

Annotations are values here, read when the program starts: no ``from __future__ import
annotations``, which would turn them into text to be evaluated again.
"""

import datetime as dt
from collections.abc import Collection, Mapping
from typing import Annotated, NamedTuple, TypedDict

from plotter.earth.atmosphere import COLDEST_C, HOTTEST_C
from plotter.earth.geodesic import LineKind
from plotter.flight.aircraft import FuelUnit
from plotter.flight.checks import FASTEST_KT, HIGHEST_ALTITUDE_FT, SLOWEST_KT
from plotter.flight.plan.values import Clock, Reference
from plotter.flight.reserve import AircraftCategory
from plotter.flight.rules import VisualRules
from plotter.flight.wind import STRONGEST_KT
from plotter.route.plotting import LOWEST_ALTITUDE_FT

FORMAT = 1
"""The format this program writes; it reads this one and every one before it."""
MOST_LEGS = 10_000


class Bounds(NamedTuple):
    """What a number may be; ``None`` is no bound."""

    gt: float | None = None
    ge: float | None = None
    le: float | None = None


class Key(NamedTuple):
    """A key's label on the page, what it is for, and an example where its kind does not tell."""

    label: str
    help: str
    example: object = None


class OneOrMore(NamedTuple):
    """A list that may be written as its one value; in a list at least ``least``."""

    bare: bool
    least: int = 1


NOT_BLANK = r"\S"
Text = Annotated[str, NOT_BLANK]
AboveZero = Annotated[float, Bounds(gt=0.0)]
NotNegative = Annotated[float, Bounds(ge=0.0)]
Degrees = Annotated[float, Bounds(ge=0.0, le=360.0)]
WindSpeed = Annotated[float, Bounds(ge=0.0, le=STRONGEST_KT)]
Celsius = Annotated[float, Bounds(ge=COLDEST_C, le=HOTTEST_C)]
Knots = Annotated[float, Bounds(ge=SLOWEST_KT, le=FASTEST_KT)]
Inches = Annotated[float, Bounds(ge=25.7, le=32.0)]  # in hectopascals 870 to 1,084
AltitudeFt = Annotated[float, Bounds(ge=LOWEST_ALTITUDE_FT, le=HIGHEST_ALTITUDE_FT)]
Altitudes = Annotated[list[AltitudeFt], OneOrMore(bare=True)]
Longitude = Annotated[float, Bounds(ge=-180.0, le=180.0)]
Variation = Annotated[float, Bounds(ge=-180.0, le=180.0)]
LegNumber = Annotated[int, Bounds(ge=1, le=MOST_LEGS)]
Format = Annotated[int, Bounds(ge=1, le=FORMAT)]
Names = list[Text]
Stations = Annotated[list[Text], OneOrMore(bare=False)]


class FlightKeys(TypedDict, total=False):
    """The flight: its route, when it takes off, how high it cruises."""

    name: Annotated[Text, Key("Name of the flight", "What the flight is called.")]
    route: Annotated[Text, Key("Route", "The points, as typed for plotter plot.", "KRST KLSE")]
    departure: Annotated[
        dt.datetime,
        Key(
            "Take-off",
            "Take-off time with its offset from UTC (ISO 8601).",
            "2026-07-04T09:00:00-05:00",
        ),
    ]
    cruise_altitude_ft: Annotated[
        Altitudes, Key("Altitude", "Feet above sea level: one, or one a leg.", 5500)
    ]
    checkpoints_every_nm: Annotated[
        AboveZero, Key("Checkpoint every", "A checkpoint every so many nautical miles.")
    ]
    checkpoints_every_min: Annotated[
        AboveZero, Key("Checkpoint by time, every", "A checkpoint every so many minutes of flying.")
    ]
    checkpoints_restart: Annotated[
        bool,
        Key("Count afresh at turning points", "Count checkpoints afresh at each turning point."),
    ]
    line: Annotated[LineKind, Key("Legs", "Shortest line, or line of constant true course.")]
    points: Annotated[
        Text,
        Key("File of own points", "File of your own points, found from this file.", "points.csv"),
    ]
    visual_rules: Annotated[
        VisualRules,
        Key(
            "Cruising altitudes by the table of",
            "Whose cruising altitudes; left out, US in the US.",
        ),
    ]
    aircraft_category: Annotated[
        AircraftCategory,
        Key("Reserve by the rule for", "For the reserve a visual flight must have."),
    ]
    lands_on_water: Annotated[bool, Key("May land on water", "The aircraft may land on water.")]
    clock: Annotated[
        Clock, Key("ETA by the clock", "ETA by the clock of the field a sector leaves, or in UTC.")
    ]
    chart_middle: Annotated[
        Longitude,
        Key(
            "Middle of the paper chart, longitude, east positive",
            "Longitude of the middle of the paper chart, west negative.",
        ),
    ]


class StopKeys(TypedDict, total=False):
    """A landing on the way: a new sector."""

    point: Annotated[Text, Key("Lands at", "A point of the route, as it is typed there.", "KLSE")]
    ground_min: Annotated[NotNegative, Key("On the ground", "Minutes on the ground.")]
    fuel_added: Annotated[NotNegative, Key("Fuel taken on", "Fuel put in, in the aircraft's unit.")]
    full_stop: Annotated[bool, Key("To a full stop", "A landing to a full stop.")]


class ClimbRowKeys(TypedDict, total=False):
    """One row of the flight manual's climb table, counted from sea level."""

    altitude_ft: Annotated[NotNegative, Key("Pressure altitude", "Pressure altitude.")]
    minutes: Annotated[NotNegative, Key("Time", "Time from sea level.")]
    fuel: Annotated[NotNegative, Key("Fuel", "Fuel from sea level.")]
    distance_nm: Annotated[NotNegative, Key("Distance", "Distance in still air from sea level.")]


class CruiseRowKeys(TypedDict, total=False):
    """One row of the flight manual's cruise table."""

    altitude_ft: Annotated[NotNegative, Key("Pressure altitude", "Pressure altitude.")]
    true_airspeed_kt: Annotated[Knots, Key("True airspeed", "True airspeed.")]
    fuel_per_hour: Annotated[AboveZero, Key("Fuel an hour", "Fuel an hour.")]


class CardKeys(TypedDict, total=False):
    """One pair of the compass correction card, both magnetic, as it is printed."""

    for_magnetic_deg: Annotated[Degrees, Key("For", "FOR: the magnetic heading wanted.")]
    steer_deg: Annotated[Degrees, Key("Steer", "STEER: what the compass must read.")]


class AircraftKeys(TypedDict, total=False):
    """The aircraft: its speeds and its fuel, all in one unit."""

    name: Annotated[Text, Key("Aircraft", "Registration or type.")]
    registered_in: Annotated[
        Text,
        Key(
            "Registered in (two letters)",
            "Country of registration, two letters (ISO 3166): US where it begins with N.",
            "US",
        ),
    ]
    true_airspeed_kt: Annotated[Knots, Key("True airspeed", "True airspeed in cruise.")]
    calibrated_airspeed_kt: Annotated[
        Knots, Key("Calibrated airspeed", "Or calibrated airspeed in cruise.")
    ]
    cruise_fuel_per_hour: Annotated[
        AboveZero, Key("Fuel an hour, cruise", "Fuel an hour in cruise.")
    ]
    fuel_unit: Annotated[FuelUnit, Key("Fuel in", "Unit of every amount of fuel in this file.")]
    usable_fuel: Annotated[AboveZero, Key("Usable", "What the tanks hold and the engine can use.")]
    fuel_on_board: Annotated[
        NotNegative, Key("Fuel on board", "Usable fuel on board before the engine is started.")
    ]
    taxi_fuel: Annotated[NotNegative, Key("Taxi", "Fuel for start, run-up and taxi.")]
    climb_rate_fpm: Annotated[AboveZero, Key("Rate of climb", "Rate of climb, feet a minute.")]
    climb_true_airspeed_kt: Annotated[
        Knots, Key("True airspeed, climb", "True airspeed in the climb.")
    ]
    climb_calibrated_airspeed_kt: Annotated[
        Knots, Key("Calibrated airspeed, climb", "Or calibrated airspeed in the climb.")
    ]
    climb_fuel_per_hour: Annotated[
        NotNegative, Key("Fuel an hour, climb", "Fuel an hour in the climb.")
    ]
    descent_rate_fpm: Annotated[
        AboveZero, Key("Rate of descent", "Rate of descent, feet a minute.")
    ]
    descent_true_airspeed_kt: Annotated[
        Knots, Key("True airspeed, descent", "True airspeed in the descent.")
    ]
    descent_calibrated_airspeed_kt: Annotated[
        Knots, Key("Calibrated airspeed, descent", "Or calibrated airspeed in the descent.")
    ]
    descent_fuel_per_hour: Annotated[
        NotNegative, Key("Fuel an hour, descent", "Fuel an hour in the descent.")
    ]
    pattern_height_ft: Annotated[
        NotNegative,
        Key("Descent ends above the field by", "Where the descent ends, above the field."),
    ]
    climb_table: Annotated[
        list[ClimbRowKeys], Key("Climb table", "The flight manual's climb table.")
    ]
    cruise_table: Annotated[
        list[CruiseRowKeys], Key("Cruise table", "The flight manual's cruise table.")
    ]
    compass_card: Annotated[
        list[CardKeys], Key("Compass correction card", "The compass correction card.")
    ]


class WindKeys(TypedDict, total=False):
    """A wind at an altitude; its reference is said, never guessed."""

    altitude_ft: Annotated[AltitudeFt, Key("Altitude", "Feet above sea level.")]
    from_deg: Annotated[Degrees, Key("From", "Where it comes from, by the reference below.")]
    from_true_deg: Annotated[Degrees, Key("From", "Or where it comes from by true north.")]
    reference: Annotated[
        Reference,
        Key(
            "North",
            "North of from_deg: in writing true; spoken by a US tower or broadcast magnetic.",
        ),
    ]
    speed_kt: Annotated[WindSpeed, Key("Speed", "Knots.")]
    temperature_c: Annotated[Celsius, Key("Temperature", "Degrees Celsius at that altitude.")]


class WindsAloftKeys(TypedDict, total=False):
    """A winds aloft forecast (FB), pasted as it was sent."""

    text: Annotated[
        Text,
        Key(
            "Forecast (FB), as it was sent, heading included",
            "The lines of the bulletin, heading included.",
        ),
    ]
    station: Annotated[Text, Key("Station", "The station to take it from.", "MSP")]
    stations: Annotated[
        Stations,
        Key("Stations", "Or several, each counting by its distance.", ["MSP", "GRB"]),
    ]


class WeatherKeys(TypedDict, total=False):
    """What is reported or forecast at a point of the route."""

    point: Annotated[Text, Key("At", "A point of the route, as it is typed there.", "KRST")]
    altimeter_inhg: Annotated[
        Inches, Key("Altimeter setting", "Altimeter setting in inches of mercury.", 30.02)
    ]
    altimeter_hpa: Annotated[AboveZero, Key("Altimeter setting", "Or in hectopascals.", 1016)]
    temperature_c: Annotated[Celsius, Key("Temperature", "Degrees Celsius.")]
    wind_from_deg: Annotated[
        Degrees, Key("Wind from", "Where the wind comes from, by the reference below.")
    ]
    wind_reference: Annotated[
        Reference,
        Key(
            "North of the wind",
            "In writing (METAR, TAF) true; spoken by a US tower or broadcast magnetic.",
        ),
    ]
    wind_speed_kt: Annotated[WindSpeed, Key("Wind speed", "Knots.")]


class LegKeys(TypedDict, total=False):
    """What you want or read from the chart for one leg."""

    number: Annotated[LegNumber, Key("Leg", "Which leg, from 1.")]
    altitude_ft: Annotated[AltitudeFt, Key("Altitude", "Cruise at this altitude on this leg.")]
    wind_from_true_deg: Annotated[Degrees, Key("Wind from", "Wind on this leg, by true north.")]
    wind_speed_kt: Annotated[WindSpeed, Key("Wind speed", "Wind on this leg, knots.")]
    true_airspeed_kt: Annotated[Knots, Key("True airspeed", "True airspeed on this leg.")]
    highest_ground_ft: Annotated[
        AltitudeFt, Key("Highest ground", "Highest ground, read from the chart.")
    ]
    highest_obstacle_ft: Annotated[
        AltitudeFt,
        Key(
            "Highest obstacle", "Top of the highest obstacle above sea level, read from the chart."
        ),
    ]
    true_course_deg: Annotated[
        Degrees, Key("True course", "From the chart; replaces the computed course.")
    ]
    distance_nm: Annotated[
        AboveZero, Key("Distance", "From the chart; replaces the computed distance.")
    ]
    variation_deg_east: Annotated[
        Variation,
        Key(
            "Variation, east positive",
            "From the chart, west negative; replaces the computed variation.",
        ),
    ]
    measured_course_deg: Annotated[
        Degrees, Key("Course by hand", "Measured by hand; compared, not used.")
    ]
    measured_course_reference: Annotated[
        Reference, Key("North of the course by hand", "North of the measured course.")
    ]
    measured_nm: Annotated[
        AboveZero, Key("Distance by hand", "Measured by hand; compared, not used.")
    ]


class LimitKeys(TypedDict, total=False):
    """Your own limits, asked on top of the rules and never below them."""

    reserve_min: Annotated[NotNegative, Key("Own reserve", "Fuel reserve, minutes.")]
    crosswind_kt: Annotated[NotNegative, Key("Strongest crosswind", "Strongest crosswind.")]
    runway_ft: Annotated[NotNegative, Key("Shortest runway", "Shortest runway.")]
    daylight_margin_min: Annotated[
        NotNegative, Key("Down before sunset by", "Minutes before sunset.")
    ]
    ground_clearance_ft: Annotated[
        NotNegative, Key("Above ground and obstacles by", "Height above ground and obstacles.")
    ]


class PlanKeys(TypedDict, total=False):
    """A plan file: one visual cross-country flight."""

    format: Annotated[Format, Key("Format", "The format of this file.", FORMAT)]
    invented: Annotated[
        Names,
        Key(
            "Invented figures",
            "Figures not yet your own: take each out once it is.",
            ["wind", "aircraft.taxi_fuel"],
        ),
    ]
    flight: FlightKeys
    stop: list[StopKeys]
    aircraft: AircraftKeys
    wind: list[WindKeys]
    winds_aloft: WindsAloftKeys
    weather: list[WeatherKeys]
    leg: list[LegKeys]
    limits: LimitKeys
    quiet: Annotated[
        dict[str, Text], Key("Silenced cautions", "CODE = reason: cautions to leave out, and why.")
    ]


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
KeyPath = tuple[str | int, ...]
"""The path to a value in a plan file: keys, and numbers from 0 in arrays."""
TABLES: Mapping[str, Collection[str]] = {
    name: tuple(table.__annotations__) for name, table in TABLE_KEYS.items()
}
"""The names of the keys of every table."""
