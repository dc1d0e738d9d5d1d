"""The keys of a plan file, table by table: name, kind and bounds of each, and what it is for.

Everything may be left out as far as these tables go: which keys must be there, and which go
together, is in :mod:`plotter.flight.plan.keys`, so that a fault in one never hides the next. The
checker (:mod:`plotter.flight.plan.check`) and the JSON Schema for editors
(:mod:`plotter.flight.plan.schema`) are both made from what is written here.

Annotations are values here, read when the program starts: no ``from __future__ import
annotations``, which would turn them into text to be evaluated again.
"""

import datetime as dt
from collections.abc import Collection, Iterator, Mapping
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


class Says(NamedTuple):
    """What a key is for, and an example where its kind does not tell."""

    words: str
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

    name: Annotated[Text, Says("What the flight is called.")]
    route: Annotated[Text, Says("The points, as typed for plotter plot.", "KRST KLSE")]
    departure: Annotated[
        dt.datetime,
        Says("Take-off time with its offset from UTC (ISO 8601).", "2026-07-04T09:00:00-05:00"),
    ]
    cruise_altitude_ft: Annotated[Altitudes, Says("Feet above sea level: one, or one a leg.", 5500)]
    checkpoints_every_nm: Annotated[AboveZero, Says("A checkpoint every so many nautical miles.")]
    checkpoints_every_min: Annotated[
        AboveZero, Says("A checkpoint every so many minutes of flying.")
    ]
    checkpoints_restart: Annotated[bool, Says("Count checkpoints afresh at each turning point.")]
    line: Annotated[LineKind, Says("Shortest line, or line of constant true course.")]
    points: Annotated[Text, Says("File of your own points, found from this file.", "points.csv")]
    visual_rules: Annotated[VisualRules, Says("Whose cruising altitudes; left out, US in the US.")]
    aircraft_category: Annotated[
        AircraftCategory, Says("For the reserve a visual flight must have.")
    ]
    lands_on_water: Annotated[bool, Says("The aircraft may land on water.")]
    clock: Annotated[Clock, Says("ETA by the clock of the field a sector leaves, or in UTC.")]
    chart_middle: Annotated[
        Longitude, Says("Longitude of the middle of the paper chart, west negative.")
    ]


class StopKeys(TypedDict, total=False):
    """A landing on the way: a new sector."""

    point: Annotated[Text, Says("A point of the route, as it is typed there.", "KLSE")]
    ground_min: Annotated[NotNegative, Says("Minutes on the ground.")]
    fuel_added: Annotated[NotNegative, Says("Fuel put in, in the aircraft's unit.")]
    full_stop: Annotated[bool, Says("A landing to a full stop.")]


class ClimbRowKeys(TypedDict, total=False):
    """One row of the flight manual's climb table, counted from sea level."""

    altitude_ft: Annotated[NotNegative, Says("Pressure altitude.")]
    minutes: Annotated[NotNegative, Says("Time from sea level.")]
    fuel: Annotated[NotNegative, Says("Fuel from sea level.")]
    distance_nm: Annotated[NotNegative, Says("Distance in still air from sea level.")]


class CruiseRowKeys(TypedDict, total=False):
    """One row of the flight manual's cruise table."""

    altitude_ft: Annotated[NotNegative, Says("Pressure altitude.")]
    true_airspeed_kt: Annotated[Knots, Says("True airspeed.")]
    fuel_per_hour: Annotated[AboveZero, Says("Fuel an hour.")]


class CardKeys(TypedDict, total=False):
    """One pair of the compass correction card, both magnetic, as it is printed."""

    for_magnetic_deg: Annotated[Degrees, Says("FOR: the magnetic heading wanted.")]
    steer_deg: Annotated[Degrees, Says("STEER: what the compass must read.")]


class AircraftKeys(TypedDict, total=False):
    """The aircraft: its speeds and its fuel, all in one unit."""

    name: Annotated[Text, Says("Registration or type.")]
    registered_in: Annotated[
        Text,
        Says("Country of registration, two letters (ISO 3166): US where it begins with N.", "US"),
    ]
    true_airspeed_kt: Annotated[Knots, Says("True airspeed in cruise.")]
    calibrated_airspeed_kt: Annotated[Knots, Says("Or calibrated airspeed in cruise.")]
    cruise_fuel_per_hour: Annotated[AboveZero, Says("Fuel an hour in cruise.")]
    fuel_unit: Annotated[FuelUnit, Says("Unit of every amount of fuel in this file.")]
    usable_fuel: Annotated[AboveZero, Says("What the tanks hold and the engine can use.")]
    fuel_on_board: Annotated[
        NotNegative, Says("Usable fuel on board before the engine is started.")
    ]
    taxi_fuel: Annotated[NotNegative, Says("Fuel for start, run-up and taxi.")]
    climb_rate_fpm: Annotated[AboveZero, Says("Rate of climb, feet a minute.")]
    climb_true_airspeed_kt: Annotated[Knots, Says("True airspeed in the climb.")]
    climb_calibrated_airspeed_kt: Annotated[Knots, Says("Or calibrated airspeed in the climb.")]
    climb_fuel_per_hour: Annotated[NotNegative, Says("Fuel an hour in the climb.")]
    descent_rate_fpm: Annotated[AboveZero, Says("Rate of descent, feet a minute.")]
    descent_true_airspeed_kt: Annotated[Knots, Says("True airspeed in the descent.")]
    descent_calibrated_airspeed_kt: Annotated[Knots, Says("Or calibrated airspeed in the descent.")]
    descent_fuel_per_hour: Annotated[NotNegative, Says("Fuel an hour in the descent.")]
    pattern_height_ft: Annotated[NotNegative, Says("Where the descent ends, above the field.")]
    climb_table: Annotated[list[ClimbRowKeys], Says("The flight manual's climb table.")]
    cruise_table: Annotated[list[CruiseRowKeys], Says("The flight manual's cruise table.")]
    compass_card: Annotated[list[CardKeys], Says("The compass correction card.")]


class WindKeys(TypedDict, total=False):
    """A wind at an altitude; its reference is said, never guessed."""

    altitude_ft: Annotated[AltitudeFt, Says("Feet above sea level.")]
    from_deg: Annotated[Degrees, Says("Where it comes from, by the reference below.")]
    from_true_deg: Annotated[Degrees, Says("Or where it comes from by true north.")]
    reference: Annotated[
        Reference,
        Says("North of from_deg: in writing true; spoken by a US tower or broadcast magnetic."),
    ]
    speed_kt: Annotated[WindSpeed, Says("Knots.")]
    temperature_c: Annotated[Celsius, Says("Degrees Celsius at that altitude.")]


class WindsAloftKeys(TypedDict, total=False):
    """A winds aloft forecast (FB), pasted as it was sent."""

    text: Annotated[Text, Says("The lines of the bulletin, heading included.")]
    station: Annotated[Text, Says("The station to take it from.", "MSP")]
    stations: Annotated[
        Stations,
        Says("Or several, each counting by its distance.", ["MSP", "GRB"]),
    ]


class WeatherKeys(TypedDict, total=False):
    """What is reported or forecast at a point of the route."""

    point: Annotated[Text, Says("A point of the route, as it is typed there.", "KRST")]
    altimeter_inhg: Annotated[Inches, Says("Altimeter setting in inches of mercury.", 30.02)]
    altimeter_hpa: Annotated[AboveZero, Says("Or in hectopascals.", 1016)]
    temperature_c: Annotated[Celsius, Says("Degrees Celsius.")]
    wind_from_deg: Annotated[Degrees, Says("Where the wind comes from, by the reference below.")]
    wind_reference: Annotated[
        Reference, Says("In writing (METAR, TAF) true; spoken by a US tower or broadcast magnetic.")
    ]
    wind_speed_kt: Annotated[WindSpeed, Says("Knots.")]


class LegKeys(TypedDict, total=False):
    """What you want or read from the chart for one leg."""

    number: Annotated[LegNumber, Says("Which leg, from 1.")]
    altitude_ft: Annotated[AltitudeFt, Says("Cruise at this altitude on this leg.")]
    wind_from_true_deg: Annotated[Degrees, Says("Wind on this leg, by true north.")]
    wind_speed_kt: Annotated[WindSpeed, Says("Wind on this leg, knots.")]
    true_airspeed_kt: Annotated[Knots, Says("True airspeed on this leg.")]
    highest_ground_ft: Annotated[AltitudeFt, Says("Highest ground, read from the chart.")]
    highest_obstacle_ft: Annotated[
        AltitudeFt, Says("Top of the highest obstacle above sea level, read from the chart.")
    ]
    true_course_deg: Annotated[Degrees, Says("From the chart; replaces the computed course.")]
    distance_nm: Annotated[AboveZero, Says("From the chart; replaces the computed distance.")]
    variation_deg_east: Annotated[
        Variation,
        Says("From the chart, west negative; replaces the computed variation."),
    ]
    measured_course_deg: Annotated[Degrees, Says("Measured by hand; compared, not used.")]
    measured_course_reference: Annotated[Reference, Says("North of the measured course.")]
    measured_nm: Annotated[AboveZero, Says("Measured by hand; compared, not used.")]


class LimitKeys(TypedDict, total=False):
    """Your own limits, asked on top of the rules and never below them."""

    reserve_min: Annotated[NotNegative, Says("Fuel reserve, minutes.")]
    crosswind_kt: Annotated[NotNegative, Says("Strongest crosswind.")]
    runway_ft: Annotated[NotNegative, Says("Shortest runway.")]
    daylight_margin_min: Annotated[NotNegative, Says("Minutes before sunset.")]
    ground_clearance_ft: Annotated[NotNegative, Says("Height above ground and obstacles.")]


class PlanKeys(TypedDict, total=False):
    """A plan file: one visual cross-country flight."""

    format: Annotated[Format, Says("The format of this file.", FORMAT)]
    invented: Annotated[
        Names,
        Says("Figures not yet your own: take each out once it is.", ["wind", "aircraft.taxi_fuel"]),
    ]
    flight: FlightKeys
    stop: list[StopKeys]
    aircraft: AircraftKeys
    wind: list[WindKeys]
    winds_aloft: WindsAloftKeys
    weather: list[WeatherKeys]
    leg: list[LegKeys]
    limits: LimitKeys
    quiet: Annotated[dict[str, Text], Says("CODE = reason: cautions to leave out, and why.")]


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

# Which keys of a plan file must be there, and which go together, table by table.
#
# They look at names alone, never at values, so that they hold for a file however wrong the rest is.

KeyPath = tuple[str | int, ...]
"""The way to a value in a plan file: keys, and numbers from 0 in arrays."""
_Names = Collection[str]


class Missing(NamedTuple):
    """What is wrong with the names in a table: the key it is about, words, code."""

    key: str
    words: str
    code: str


class Needed(NamedTuple):
    """A key that must be there; ``instead`` are keys that make up for it."""

    key: str
    example: str
    instead: tuple[str, ...] = ()

    def check(self, names: _Names) -> Iterator[Missing]:
        """The key that is not there."""
        if not {self.key, *self.instead} & set(names):
            choice = "".join(f", or {key}" for key in self.instead)
            yield Missing(self.key, f"is missing; write {self.example}{choice}", "missing-key")


class NotBoth(NamedTuple):
    """Keys that say the same thing twice; at most one may be there."""

    keys: tuple[str, ...]

    def check(self, names: _Names) -> Iterator[Missing]:
        """Every one after the first."""
        there = [key for key in self.keys if key in names]
        for key in there[1:]:
            yield Missing(key, f"{there[0]} is there too; keep one of them", "keys-exclude")


class Together(NamedTuple):
    """Parts of one thing, each a key or a choice of keys; with one of them, all must be there."""

    parts: tuple[tuple[str, ...], ...]

    def check(self, names: _Names) -> Iterator[Missing]:
        """The parts that are not there."""
        given = [key for part in self.parts for key in part if key in names]
        lacking = [" or ".join(part) for part in self.parts if not set(part) & set(names)]
        if given and lacking:
            words = (
                f"{' and '.join(lacking)} must go with it; write {_it(lacking)}, or leave all out"
            )
            yield Missing(given[0], words, "missing-key")


class Asks(NamedTuple):
    """A key that is of no use without another."""

    key: str
    for_key: str
    words: str

    def check(self, names: _Names) -> Iterator[Missing]:
        """The key whose companion is not there."""
        if self.key in names and self.for_key not in names:
            yield Missing(self.key, f"{self.for_key} must go with it; {self.words}", "missing-key")


Rule = Needed | NotBoth | Together | Asks


def _flown(phase: str) -> Together:
    """What a climb or descent by rate is made of."""
    speeds = (f"{phase}_true_airspeed_kt", f"{phase}_calibrated_airspeed_kt")
    return Together(((f"{phase}_rate_fpm",), speeds, (f"{phase}_fuel_per_hour",)))


_REFERENCE = '"true" for a wind in writing, "magnetic" for one spoken by a US tower or broadcast'

RULES: Mapping[str, tuple[Rule, ...]] = {
    "": (
        Needed("format", "format = 1 at the top"),
        Needed("flight", "the table [flight] with route, departure and cruise_altitude_ft"),
        Needed("aircraft", "the table [aircraft] with its speeds and its fuel"),
    ),
    "flight": (
        Needed("route", 'route = "KRST KLSE", the points as typed for plotter plot'),
        Needed("departure", "departure = 2026-07-04T09:00:00-05:00, the take-off time"),
        Needed("cruise_altitude_ft", "cruise_altitude_ft = 5500, or one a leg"),
        NotBoth(("checkpoints_every_nm", "checkpoints_every_min")),
    ),
    "stop": (Needed("point", 'point = "KLSE", a point of the route'),),
    "aircraft": (
        Needed("fuel_unit", 'fuel_unit = "US gal", "L", "lb" or "kg"'),
        Needed("usable_fuel", "usable_fuel = 53"),
        Needed("fuel_on_board", "fuel_on_board = 40"),
        Needed(
            "true_airspeed_kt",
            "true_airspeed_kt = 110",
            ("calibrated_airspeed_kt", "cruise_table"),
        ),
        Needed("cruise_fuel_per_hour", "cruise_fuel_per_hour = 8.5", ("cruise_table",)),
        NotBoth(("true_airspeed_kt", "calibrated_airspeed_kt")),
        NotBoth(("cruise_table", "true_airspeed_kt")),
        NotBoth(("cruise_table", "calibrated_airspeed_kt")),
        NotBoth(("cruise_table", "cruise_fuel_per_hour")),
        _flown("climb"),
        NotBoth(("climb_true_airspeed_kt", "climb_calibrated_airspeed_kt")),
        NotBoth(("climb_table", "climb_rate_fpm")),
        _flown("descent"),
        NotBoth(("descent_true_airspeed_kt", "descent_calibrated_airspeed_kt")),
    ),
    "aircraft.climb_table": (
        Needed("altitude_ft", "altitude_ft = 4000"),
        Needed("minutes", "minutes = 7"),
        Needed("fuel", "fuel = 1.5"),
        Needed("distance_nm", "distance_nm = 9"),
    ),
    "aircraft.cruise_table": (
        Needed("altitude_ft", "altitude_ft = 6000"),
        Needed("true_airspeed_kt", "true_airspeed_kt = 114"),
        Needed("fuel_per_hour", "fuel_per_hour = 7.6"),
    ),
    "aircraft.compass_card": (
        Needed("for_magnetic_deg", "for_magnetic_deg = 90, as the card has it after FOR"),
        Needed("steer_deg", "steer_deg = 92, as the card has it after STEER"),
    ),
    "wind": (
        Needed("altitude_ft", "altitude_ft = 3000"),
        Needed("speed_kt", "speed_kt = 15"),
        Needed("from_true_deg", "from_true_deg = 240", ("from_deg",)),
        NotBoth(("from_true_deg", "from_deg")),
        Asks("from_deg", "reference", f"write {_REFERENCE}"),
        Asks("reference", "from_deg", "from_true_deg is true already"),
    ),
    "winds_aloft": (
        Needed("text", 'text = """ and paste the lines of the bulletin, then """'),
        Needed("station", 'station = "MSP"', ("stations",)),
        NotBoth(("station", "stations")),
    ),
    "weather": (
        Needed("point", 'point = "KRST", a point of the route'),
        NotBoth(("altimeter_inhg", "altimeter_hpa")),
        Together((("wind_from_deg",), ("wind_speed_kt",))),
        Asks("wind_from_deg", "wind_reference", f"write {_REFERENCE}"),
        Asks("wind_reference", "wind_from_deg", "write both, or leave both out"),
    ),
    "leg": (
        Needed("number", "number = 1 for the first leg"),
        Together((("wind_from_true_deg",), ("wind_speed_kt",))),
        Asks("measured_course_reference", "measured_course_deg", "write both, or leave both out"),
    ),
    "limits": (),
    "quiet": (),
}


def table_name(path: KeyPath) -> str:
    """The name of the table a path leads to, as it stands in the table's heading.

    >>> table_name(("aircraft", "compass_card", 3))
    'aircraft.compass_card'
    """
    return ".".join(step for step in path if isinstance(step, str))


def broken(table: str, names: _Names) -> Iterator[Missing]:
    """Every rule of a table that the names in it break.

    >>> [fault.words for fault in broken("leg", ["number", "wind_speed_kt"])]
    ['wind_from_true_deg must go with it; write it too, or leave all out']
    """
    for rule in RULES.get(table, ()):
        yield from rule.check(names)


def _it(lacking: list[str]) -> str:
    return "it too" if len(lacking) == 1 else "them too"
