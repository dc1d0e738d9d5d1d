"""The table of all keys of a plan file: kind and bounds, and everything that is said of each.

From it are made the checker (:mod:`plotter.flight.plan.check`), the rules of what goes together
(:mod:`plotter.flight.plan.rules`), the JSON Schema and the reference page
(:mod:`plotter.flight.plan.schema`), the plan to start from (:mod:`plotter.flight.plan.starter`),
the figures that can be invented (:mod:`plotter.flight.invented`) and the forms of the page. A new
key is an entry here, a field of its value and the code that uses it.

Annotations are values here, read when the program starts: no ``from __future__ import
annotations``, which would turn them into text to be evaluated again.
"""

import datetime as dt
from collections.abc import Collection, Mapping
from typing import Annotated, TypedDict

from plotter.earth.geodesic import LineKind
from plotter.flight.aircraft import FuelUnit
from plotter.flight.plan.kinds import (
    FORMAT,
    AboveZero,
    AltitudeFt,
    Altitudes,
    Celsius,
    Degrees,
    Format,
    Inches,
    Key,
    Knots,
    LegNumber,
    Longitude,
    Names,
    NotNegative,
    Stations,
    Text,
    Variation,
    WindSpeed,
)
from plotter.flight.plan.values import Clock, Reference
from plotter.flight.reserve import AircraftCategory
from plotter.flight.rules import VisualRules

COMPASS_CARD = """\
[
  { for_magnetic_deg = 360, steer_deg = 2 },
  { for_magnetic_deg = 45, steer_deg = 46 },
  { for_magnetic_deg = 90, steer_deg = 91 },
  { for_magnetic_deg = 135, steer_deg = 135 },
  { for_magnetic_deg = 180, steer_deg = 178 },
  { for_magnetic_deg = 225, steer_deg = 224 },
  { for_magnetic_deg = 270, steer_deg = 269 },
  { for_magnetic_deg = 315, steer_deg = 316 },
]"""
CLIMB_TABLE = """\
[
  { altitude_ft = 2000, minutes = 3, fuel = 0.7, distance_nm = 4 },
  { altitude_ft = 4000, minutes = 7, fuel = 1.5, distance_nm = 9 },
  { altitude_ft = 6000, minutes = 12, fuel = 2.4, distance_nm = 16 },
]"""
CRUISE_TABLE = """\
[
  { altitude_ft = 2000, true_airspeed_kt = 107, fuel_per_hour = 8.6 },
  { altitude_ft = 6000, true_airspeed_kt = 112, fuel_per_hour = 8.3 },
]"""


# fmt: off
class FlightKeys(TypedDict, total=False):
    """The flight: its route, when it takes off, how high it cruises."""

    name: Annotated[Text, Key(
        "Name of the flight", "Name of the flight.", form="rules", order=4, start='"NAME"')]
    route: Annotated[Text, Key(
        "Route", "The points of the route, with spaces between.", "KRST KLSE", needed='"KRST KLSE"',
        says="missing-key.route", start='"KRST KLSE KEAU KDLH"', note="as typed for plotter plot")]
    departure: Annotated[dt.datetime, Key(
        "Take-off", "Take-off time with its offset from UTC (ISO 8601).",
        "2026-07-04T09:00:00-05:00", needed="2026-07-04T09:00:00-05:00",
        says="missing-key.departure", invented="Time of take-off",
        start="2026-07-04T09:00:00-05:00", note="take-off, with its offset from UTC (Z for UTC)")]
    cruise_altitude_ft: Annotated[Altitudes, Key(
        "Altitude", "Feet above sea level: one, or one for each leg.", 5500, needed="5500",
        says="missing-key.altitudes", invented="Altitude", start="[3500, 4500, 4500]",
        note="one for the flight, or one a leg")]
    checkpoints_every_nm: Annotated[AboveZero, Key(
        "Checkpoint every", "Checkpoint interval in nautical miles.", start="10")]
    checkpoints_every_min: Annotated[AboveZero, Key(
        "Checkpoint by time, every", "Checkpoint interval in minutes of flying.",
        not_with=("checkpoints_every_nm",), form="rules", order=4, offer="8",
        note="or by time, instead")]
    checkpoints_restart: Annotated[bool, Key(
        "Count afresh at turning points", "Start counting again at each turning point.",
        offer="true", note="count afresh from each turning point")]
    line: Annotated[LineKind, Key(
        "Legs", "Shortest line, or line of constant true course.", offer='"rhumb"',
        note="constant true course; left out, the shortest line")]
    points: Annotated[Text, Key(
        "File of own points", "File of your own points, relative to this file.", "points.csv",
        form="rules", order=4, offer='"points.csv"',
        note="your own points (CSV or GeoJSON), beside this file")]
    visual_rules: Annotated[VisualRules, Key(
        "Cruising altitudes by the table of", "Rules for cruising altitudes; default: US, in the US.",
        form="rules", usual="", blank="US, only in the US", offer='"ICAO"',
        note='whose cruising altitudes; left out, "US" inside the US')]
    aircraft_category: Annotated[AircraftCategory, Key(
        "Reserve by the rule for", "Decides the reserve that the rules require.", form="rules",
        usual="airplane", start='"airplane"',
        note='or "rotorcraft": for the reserve the rule asks')]
    lands_on_water: Annotated[bool, Key(
        "May land on water", "The aircraft may land on water.", form="rules", order=3, usual=False,
        offer="true", note="the aircraft may land on water")]
    clock: Annotated[Clock, Key(
        "ETA by the clock", "ETA by the clock of the field a sector leaves, or in UTC.",
        form="rules", order=2, usual="local", offer='"utc"',
        note="ETA in UTC; left out, by the clock of the field you leave")]
    chart_middle: Annotated[Longitude, Key(
        "Middle of the paper chart, longitude, east positive",
        "Longitude of the middle of the paper chart, west negative.", form="rules", order=4,
        unit="°", offer="-93.0", note="longitude of the middle of the paper chart you measure on")]


class StopKeys(TypedDict, total=False):
    """A landing on the way: a new sector."""

    point: Annotated[Text, Key(
        "Lands at", "A point of the route, as it is typed there.", "KLSE", needed='"KLSE"',
        says="missing-key.point", form="stop", kind="turning", start='"KEAU"',
        note="a point of the route")]
    ground_min: Annotated[NotNegative, Key(
        "On the ground", "Minutes on the ground.", form="stop", start="30")]
    fuel_added: Annotated[NotNegative, Key(
        "Fuel taken on", "Fuel added, in the aircraft's unit.", form="stop", start="10")]
    full_stop: Annotated[bool, Key(
        "To a full stop", "A landing to a full stop.", form="stop", usual=True, start="true")]


class ClimbRowKeys(TypedDict, total=False):
    """One row of the flight manual's climb table, counted from sea level."""

    altitude_ft: Annotated[NotNegative, Key(
        "Pressure altitude", "Pressure altitude.", needed="4000", form="aircraft.climb_table")]
    minutes: Annotated[NotNegative, Key(
        "Time", "Time from sea level.", needed="7", form="aircraft.climb_table", unit="min")]
    fuel: Annotated[NotNegative, Key(
        "Fuel", "Fuel from sea level.", needed="1.5", form="aircraft.climb_table")]
    distance_nm: Annotated[NotNegative, Key(
        "Distance", "Distance in still air from sea level.", needed="9",
        form="aircraft.climb_table")]


class CruiseRowKeys(TypedDict, total=False):
    """One row of the flight manual's cruise table."""

    altitude_ft: Annotated[NotNegative, Key(
        "Pressure altitude", "Pressure altitude.", needed="6000", form="aircraft.cruise_table")]
    true_airspeed_kt: Annotated[Knots, Key(
        "True airspeed", "True airspeed.", needed="114", form="aircraft.cruise_table")]
    fuel_per_hour: Annotated[AboveZero, Key(
        "Fuel an hour", "Fuel per hour.", needed="7.6", form="aircraft.cruise_table")]


class CardKeys(TypedDict, total=False):
    """One pair of the compass correction card, both magnetic, as it is printed."""

    for_magnetic_deg: Annotated[Degrees, Key(
        "For", "FOR: the magnetic heading wanted.", needed="90", says="missing-key.card-for",
        form="aircraft.compass_card")]
    steer_deg: Annotated[Degrees, Key(
        "Steer", "STEER: what the compass must read.", needed="92", says="missing-key.card-steer",
        form="aircraft.compass_card", unit="°M")]


class AircraftKeys(TypedDict, total=False):
    """The aircraft: its speeds and its fuel, all in one unit."""

    name: Annotated[Text, Key(
        "Aircraft", "Registration or type.", form="aircraft", invented="Aircraft",
        start='"Blue Wren, invented"')]
    registered_in: Annotated[Text, Key(
        "Registered in (two letters)",
        "Country of registration, two letters (ISO 3166): US where it begins with N.", "US",
        form="rules", order=1, offer='"US"',
        note="two letters; abroad, a US aircraft keeps part 91 too")]
    true_airspeed_kt: Annotated[Knots, Key(
        "True airspeed", "True airspeed in cruise.", needed="110",
        instead=("calibrated_airspeed_kt", "cruise_table"), not_with=("cruise_table",),
        field="Airspeed", form="aircraft", invented="Airspeed in cruise", start="110", note="in cruise")]
    calibrated_airspeed_kt: Annotated[Knots, Key(
        "Calibrated airspeed", "Or calibrated airspeed in cruise.",
        not_with=("true_airspeed_kt", "cruise_table"), offer="100", note="or this, instead")]
    cruise_fuel_per_hour: Annotated[AboveZero, Key(
        "Fuel an hour, cruise", "Fuel per hour in cruise.", needed="8.5", instead=("cruise_table",),
        not_with=("cruise_table",), form="aircraft", invented="Fuel an hour in cruise",
        start="8.5")]
    fuel_unit: Annotated[FuelUnit, Key(
        "Fuel in", "Unit of every amount of fuel in this file.", needed='"US gal"',
        says="missing-key.fuel-unit", form="aircraft", order=3, usual="", start='"US gal"',
        note='of every amount of fuel here: "US gal", "L", "lb" or "kg"')]
    usable_fuel: Annotated[AboveZero, Key(
        "Usable", "Fuel in full tanks that the engine can use.", needed="53", form="aircraft",
        order=1, invented="Usable fuel", start="53", note="what the tanks hold for use")]
    fuel_on_board: Annotated[NotNegative, Key(
        "Fuel on board", "Usable fuel on board before the engine is started.", needed="40",
        form="aircraft", at_most="usable_fuel", invented="Fuel on board", start="40",
        note="before start")]
    taxi_fuel: Annotated[NotNegative, Key(
        "Taxi", "Fuel for start, run-up and taxi.", form="aircraft", order=2,
        at_most="fuel_on_board", invented="Taxi fuel", may_go=True, start="1.1",
        note="start, run-up and taxi")]
    climb_rate_fpm: Annotated[AboveZero, Key(
        "Rate of climb", "Rate of climb, feet a minute.", not_with=("climb_table",), form="climb",
        invented="Climb", part="climb", may_go=True,
        above="Climb and descent. Left out, the flight is all cruise, and the log says so.",
        start="500", note="feet a minute")]
    climb_true_airspeed_kt: Annotated[Knots, Key(
        "True airspeed, climb", "True airspeed in the climb.", field="Airspeed, climb", form="climb", start="80")]
    climb_calibrated_airspeed_kt: Annotated[Knots, Key(
        "Calibrated airspeed, climb", "Or calibrated airspeed in the climb.",
        not_with=("climb_true_airspeed_kt",), offer="75", note="or this, instead")]
    climb_fuel_per_hour: Annotated[NotNegative, Key(
        "Fuel an hour, climb", "Fuel per hour in the climb.", form="climb", start="11")]
    descent_rate_fpm: Annotated[AboveZero, Key(
        "Rate of descent", "Rate of descent, feet a minute.", form="climb", invented="Descent",
        part="descent", may_go=True, start="500")]
    descent_true_airspeed_kt: Annotated[Knots, Key(
        "True airspeed, descent", "True airspeed in the descent.", field="Airspeed, descent", form="climb", start="110")]
    descent_calibrated_airspeed_kt: Annotated[Knots, Key(
        "Calibrated airspeed, descent", "Or calibrated airspeed in the descent.",
        not_with=("descent_true_airspeed_kt",), offer="105", note="or this, instead")]
    descent_fuel_per_hour: Annotated[NotNegative, Key(
        "Fuel an hour, descent", "Fuel per hour in the descent.", form="climb", start="7")]
    pattern_height_ft: Annotated[NotNegative, Key(
        "Descent ends above the field by", "Height above the field where the descent ends.", form="climb",
        invented="Height where the descent ends", may_go=True, start="1000",
        note="where the descent ends, above the field")]
    compass_card: Annotated[list[CardKeys], Key(
        "Compass correction card", "The compass correction card.",
        invented="Compass correction card", may_go=True,
        above="The compass correction card, both columns magnetic: FOR 090 STEER 091. Left out, "
        "the compass\nheading is the magnetic heading, and the log says so. Type every pair; "
        "these are invented.", start=COMPASS_CARD)]
    climb_table: Annotated[list[ClimbRowKeys], Key(
        "Climb table", "The flight manual's climb table.",
        above="The flight manual's climb table, counted from sea level, instead of the climb "
        "keys above.", offer=CLIMB_TABLE)]
    cruise_table: Annotated[list[CruiseRowKeys], Key(
        "Cruise table", "The flight manual's cruise table.",
        above="Its cruise table, instead of true_airspeed_kt and cruise_fuel_per_hour.",
        offer=CRUISE_TABLE)]


class WindKeys(TypedDict, total=False):
    """A wind at an altitude; its reference is given, never guessed."""

    altitude_ft: Annotated[AltitudeFt, Key(
        "Altitude", "Feet above sea level.", needed="3000", form="wind", order=-1,
        start=("3000", "6000"))]
    from_deg: Annotated[Degrees, Key(
        "From", "Direction it comes from, by the reference below.", asks="reference",
        says="missing-key.north", not_with=("from_true_deg",), start=("240", None))]
    from_true_deg: Annotated[Degrees, Key(
        "From", "Or direction it comes from, by true north.", needed="240", instead=("from_deg",),
        says="missing-key.direction", form="wind", start=(None, "260"),
        note='the same as from_deg with reference = "true"')]
    reference: Annotated[Reference, Key(
        "North", "North of from_deg: in writing true; spoken by a US tower or broadcast magnetic.",
        asks="from_deg", says="missing-key.true-already", start=('"true"', None),
        note='or "magnetic"')]
    speed_kt: Annotated[WindSpeed, Key(
        "Speed", "Knots.", needed="15", form="wind", start=("15", "22"))]
    temperature_c: Annotated[Celsius, Key(
        "Temperature", "Degrees Celsius at that altitude.", form="wind", start=("18", "12"))]


class WindsAloftKeys(TypedDict, total=False):
    """A winds aloft forecast (FB), pasted as it was sent."""

    text: Annotated[Text, Key(
        "Forecast (FB), as it was sent, heading included",
        "The lines of the bulletin, heading included.", needed="", says="missing-key.bulletin",
        form="winds_aloft", kind="lines", start='"""\n"""')]
    station: Annotated[Text, Key(
        "Station", "The station to take it from.", "MSP", needed='"MSP"', instead=("stations",),
        says="missing-key.station", form="winds_aloft", kind="words", start='"MSP"',
        note="the station to take it from,")]
    stations: Annotated[Stations, Key(
        "Stations", "Or several, each counting by its distance.", ['MSP', 'GRB'],
        not_with=("station",), start='["MSP", "GRB"]',
        note="or several, each counting by its distance")]


class WeatherKeys(TypedDict, total=False):
    """What is reported or forecast at a point of the route."""

    point: Annotated[Text, Key(
        "At", "A point of the route, as it is typed there.", "KRST", needed='"KRST"',
        says="missing-key.point", form="weather", kind="point", start='"KRST"')]
    altimeter_inhg: Annotated[Inches, Key(
        "Altimeter setting", "Altimeter setting in inches of mercury.", 30.02, form="weather",
        start="30.02")]
    altimeter_hpa: Annotated[AboveZero, Key(
        "Altimeter setting", "Or in hectopascals.", 1016, not_with=("altimeter_inhg",),
        start="1017", note="or this, instead")]
    temperature_c: Annotated[Celsius, Key(
        "Temperature", "Degrees Celsius.", form="weather", start="21")]
    wind_from_deg: Annotated[Degrees, Key(
        "Wind from", "Direction the wind comes from, by the reference below.", asks="wind_reference",
        says="missing-key.north", form="weather", start="230")]
    wind_reference: Annotated[Reference, Key(
        "North of the wind",
        "In writing (METAR, TAF) true; spoken by a US tower or broadcast magnetic.",
        asks="wind_from_deg", says="missing-key.both", start='"true"',
        note='or "magnetic", as above')]
    wind_speed_kt: Annotated[WindSpeed, Key("Wind speed", "Knots.", form="weather", start="11")]


class LegKeys(TypedDict, total=False):
    """What you want or read from the chart for one leg."""

    number: Annotated[LegNumber, Key(
        "Leg", "Number of the leg, from 1.", needed="1", says="missing-key.leg", start="1")]
    altitude_ft: Annotated[AltitudeFt, Key(
        "Altitude", "Cruise at this altitude on this leg.", form="leg", start="5500",
        note="cruise this leg here")]
    wind_from_true_deg: Annotated[Degrees, Key(
        "Wind from", "Wind on this leg, by true north.", form="leg", order=2, start="250",
        note="a wind for this leg alone")]
    wind_speed_kt: Annotated[WindSpeed, Key(
        "Wind speed", "Wind on this leg, knots.", form="leg", order=3, start="18")]
    true_airspeed_kt: Annotated[Knots, Key(
        "True airspeed", "True airspeed on this leg.", form="leg", order=1, start="108")]
    highest_ground_ft: Annotated[AltitudeFt, Key(
        "Highest ground", "Highest ground, read from the chart.", form="leg", order=4, start="1450",
        note='from the chart; until then "terrain not checked"')]
    highest_obstacle_ft: Annotated[AltitudeFt, Key(
        "Highest obstacle", "Top of the highest obstacle above sea level, read from the chart.",
        form="leg", order=4, start="1890",
        note="top of the highest mast or tower, above sea level")]
    true_course_deg: Annotated[Degrees, Key(
        "True course", "From the chart; replaces the computed course.", form="leg", order=4,
        unit="°T", start="92", note="from the chart; these three replace what is computed,")]
    distance_nm: Annotated[AboveZero, Key(
        "Distance", "From the chart; replaces the computed distance.", form="leg", order=4,
        start="54", note="and the log says so")]
    variation_deg_east: Annotated[Variation, Key(
        "Variation, east positive",
        "From the chart, west negative; replaces the computed variation.", form="leg", order=4,
        start="-1", note="west is negative")]
    measured_course_deg: Annotated[Degrees, Key(
        "Course by hand", "Measured by hand; compared, not used.", start="93",
        note="by hand with a plotter; compared, not used")]
    measured_course_reference: Annotated[Reference, Key(
        "North of the course by hand", "North of the measured course.", asks="measured_course_deg",
        says="missing-key.both", start='"true"', note='or "magnetic"')]
    measured_nm: Annotated[AboveZero, Key(
        "Distance by hand", "Measured by hand; compared, not used.", start="54.5")]


class LimitKeys(TypedDict, total=False):
    """Your own limits, checked in addition to the rules, never instead of them."""

    reserve_min: Annotated[NotNegative, Key(
        "Own reserve", "Fuel reserve, minutes.", form="aircraft", order=4, invented="Reserve",
        may_go=True, start="60")]
    crosswind_kt: Annotated[NotNegative, Key(
        "Strongest crosswind", "Strongest crosswind.", form="limits", offer="12")]
    runway_ft: Annotated[NotNegative, Key(
        "Shortest runway", "Shortest runway.", form="limits", offer="3000")]
    daylight_margin_min: Annotated[NotNegative, Key(
        "Down before sunset by", "Minutes before sunset.", form="limits", offer="60",
        note="before sunset")]
    ground_clearance_ft: Annotated[NotNegative, Key(
        "Above ground and obstacles by", "Height above ground and obstacles.", form="limits",
        offer="1500", note="above highest_ground_ft and highest_obstacle_ft")]


class PlanKeys(TypedDict, total=False):
    """A plan file: one visual cross-country flight."""

    format: Annotated[Format, Key(
        "Format", "The format of this file.", FORMAT, needed="1", says="missing-key.format")]
    invented: Annotated[Names, Key(
        "Invented figures", "Figures not yet your own: remove each once it is.",
        ["wind", "aircraft.taxi_fuel"])]
    flight: Annotated[FlightKeys, Key("Flight", "", needed="", says="missing-key.flight")]
    stop: Annotated[list[StopKeys], Key("Stops", "", invented="Stops", may_go=True)]
    aircraft: Annotated[AircraftKeys, Key("Aircraft", "", needed="", says="missing-key.aircraft")]
    wind: Annotated[list[WindKeys], Key("Winds", "", invented="Wind", may_go=True)]
    winds_aloft: WindsAloftKeys
    weather: Annotated[list[WeatherKeys], Key(
        "Weather", "", invented="Weather at the fields", may_go=True)]
    leg: list[LegKeys]
    limits: LimitKeys
    quiet: Annotated[dict[str, Text], Key(
        "Silenced cautions", "CODE = reason: cautions to silence, and why.")]
# fmt: on

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
TOGETHER: Mapping[str, tuple[tuple[tuple[str, ...], ...], ...]] = {
    "aircraft": tuple(
        (
            (f"{phase}_rate_fpm",),
            (f"{phase}_true_airspeed_kt", f"{phase}_calibrated_airspeed_kt"),
            (f"{phase}_fuel_per_hour",),
        )
        for phase in ("climb", "descent")
    ),
    "weather": ((("wind_from_deg",), ("wind_speed_kt",)),),
    "leg": ((("wind_from_true_deg",), ("wind_speed_kt",)),),
}
"""By table, the things made of several parts, each part a key or a choice of keys."""
