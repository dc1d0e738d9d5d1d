"""The forms of the page for everything that a plan file holds, made from the plan's own keys.

Which kind a field is, what may be chosen in it and what it is for come from
:mod:`plotter.flight.plan.keys`; here is only which fields stand together, and in what order.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple, get_args

from plotter.flight.plan.keys import TABLE_KEYS, TABLES
from plotter.flight.plan.names import QUIET, ROWS, key_of, label
from plotter.flight.plan.rules import RULES, Needed, Rule

QUIET_LABELS: Mapping[str, str] = {"code": "Caution", "reason": "Reason"}
FUEL = "fuel"
"""The unit that the aircraft's fuel is in, whichever that is."""
_UNITS = (
    ("_deg_east", "°"),
    ("chart_middle", "°"),
    ("_from_true_deg", "°T"),
    ("_true_deg", "°T"),
    ("_magnetic_deg", "°M"),
    ("true_course_deg", "°T"),
    ("steer_deg", "°M"),
    ("_deg", "°"),
    ("_ft", "ft"),
    ("_kt", "kt"),
    ("_nm", "NM"),
    ("_min", "min"),
    ("_fpm", "ft/min"),
    ("_c", "°C"),
    ("_inhg", "inHg"),
    ("_hpa", "hPa"),
    ("minutes", "min"),
)


def unit(key: str) -> str:
    """The unit of a key, as its name says it, or the word that stands for the unit of fuel.

    >>> unit("climb_rate_fpm"), unit("steer_deg"), unit("cruise_fuel_per_hour"), unit("name")
    ('ft/min', '°M', 'fuel', '')
    """
    if "fuel" in key and key != "fuel_unit":
        return FUEL
    return next((sign for end, sign in _UNITS if key.endswith(end)), "")


Node = dict[str, Any]


class Way(NamedTuple):
    """One of the ways to write a figure: its key, how the way is called, what goes with it."""

    key: str
    called: str = ""
    also: Mapping[str, str] = {}


class Field(NamedTuple):
    """One field: a key of a table, or a figure that may be written under one of several."""

    table: str
    ways: tuple[Way, ...]
    kind: str = ""
    """Left empty, what the plan's keys say."""
    usual: object = None
    """What holds where nothing is written, for a box that is ticked."""
    label: str = ""


class Form(NamedTuple):
    """Fields that stand together, or the rows of a table; shut until it is wanted, if titled."""

    name: str
    title: str
    fields: tuple[Field, ...] = ()
    rows: tuple[str, ...] = ()
    hint: str = ""


def _plain(table: str, *keys: str) -> tuple[Field, ...]:
    return tuple(Field(table, (Way(key),)) for key in keys)


def _airspeed(phase: str, called: str) -> Field:
    ways = tuple(Way(f"{phase}{kind}_airspeed_kt", kind) for kind in ("true", "calibrated"))
    return Field("aircraft", ways, label=called)


def _from(table: str, key: str, reference: str, true_key: str = "", unsaid: bool = False) -> Field:
    """A direction whose north is said: by a key of its own, or by what goes with it."""
    true = Way(true_key, "true") if true_key else Way(key, "true", {reference: "true"})
    ways = [true, Way(key, "magnetic", {reference: "magnetic"})]
    ways += [Way(key, "true", {reference: "true"})] if true_key else []
    ways += [Way(key, "true")] if unsaid else []
    return Field(table, tuple(ways))


ROW_FIELDS: Mapping[str, tuple[Field, ...]] = {
    "wind": (
        *_plain("wind", "altitude_ft"),
        _from("wind", "from_deg", "reference", "from_true_deg"),
        *_plain("wind", "speed_kt", "temperature_c"),
    ),
    "stop": (
        Field("stop", (Way("point"),), "turning"),
        *_plain("stop", "ground_min", "fuel_added"),
        Field("stop", (Way("full_stop"),), usual=True),
    ),
    "weather": (
        Field("weather", (Way("point"),), "point"),
        Field("weather", (Way("altimeter_inhg", "inHg"), Way("altimeter_hpa", "hPa"))),
        *_plain("weather", "temperature_c"),
        _from("weather", "wind_from_deg", "wind_reference"),
        *_plain("weather", "wind_speed_kt"),
    ),
    "aircraft.climb_table": _plain("aircraft.climb_table", *TABLES["aircraft.climb_table"]),
    "aircraft.cruise_table": _plain("aircraft.cruise_table", *TABLES["aircraft.cruise_table"]),
    "aircraft.compass_card": _plain("aircraft.compass_card", *TABLES["aircraft.compass_card"]),
    "quiet": (
        Field("quiet", (Way("code"),), "caution"),
        Field("quiet", (Way("reason"),), "text"),
    ),
    "leg": (
        *_plain("leg", "altitude_ft", "true_airspeed_kt", "wind_from_true_deg", "wind_speed_kt"),
        *_plain("leg", "highest_ground_ft", "highest_obstacle_ft"),
        *_plain("leg", "true_course_deg", "distance_nm", "variation_deg_east"),
    ),
}
"""The fields of one row, table by table."""

FORMS = (
    Form(
        "aircraft",
        "",
        (
            *_plain("aircraft", "name"),
            _airspeed("", "Airspeed"),
            *_plain("aircraft", "cruise_fuel_per_hour", "fuel_on_board", "usable_fuel"),
            *_plain("aircraft", "taxi_fuel", "fuel_unit"),
            *_plain("limits", "reserve_min"),
        ),
    ),
    Form("winds", "", rows=("wind",)),
    Form(
        "winds_aloft",
        "Paste a winds aloft forecast",
        (
            Field("winds_aloft", (Way("text"),), "lines"),
            Field("winds_aloft", (Way("station"), Way("stations")), "words"),
        ),
        hint="One station, or several with spaces between: then each counts by its distance.",
    ),
    Form(
        "climb",
        "Climb and descent",
        (
            *_plain("aircraft", "climb_rate_fpm"),
            _airspeed("climb_", "Airspeed, climb"),
            *_plain("aircraft", "climb_fuel_per_hour", "descent_rate_fpm"),
            _airspeed("descent_", "Airspeed, descent"),
            *_plain("aircraft", "descent_fuel_per_hour", "pattern_height_ft"),
        ),
        ("aircraft.climb_table",),
        "Left out, the flight is all cruise. The flight manual's climb table, counted from sea "
        "level, stands in place of rate, airspeed and fuel of the climb.",
    ),
    Form(
        "cruise",
        "Cruise table of the flight manual",
        rows=("aircraft.cruise_table",),
        hint="In place of the airspeed and the fuel an hour in cruise: empty those two first.",
    ),
    Form(
        "card",
        "Compass correction card",
        rows=("aircraft.compass_card",),
        hint="As the card in the aircraft has it. Left out, the compass heading is the magnetic "
        "heading.",
    ),
    Form(
        "stops",
        "Stops on the way",
        rows=("stop",),
        hint="A landing begins a new sector with its own taxi, climb, reserve and totals.",
    ),
    Form(
        "weather_form",
        "Weather at points of the route",
        rows=("weather",),
        hint="A wind in writing (METAR, TAF) is true; one spoken by a US tower or broadcast is "
        "magnetic.",
    ),
    Form(
        "single_legs",
        "Single legs",
        rows=("leg",),
        hint="What you want for one leg, or read from the chart for it: course, distance and "
        "variation replace what is computed, and the log says so.",
    ),
    Form(
        "limits",
        "Own limits",
        _plain("limits", "crosswind_kt", "runway_ft", "daylight_margin_min", "ground_clearance_ft"),
        hint="Asked on top of the rules, never below them.",
    ),
    Form(
        "rules",
        "Rules, name and checkpoints by time",
        (
            *_plain("flight", "visual_rules", "aircraft_category"),
            *_plain("aircraft", "registered_in"),
            *_plain("flight", "clock"),
            Field("flight", (Way("lands_on_water"),), usual=False),
            *_plain("flight", "name", "checkpoints_every_min", "points", "chart_middle"),
        ),
        hint="A file of own points lies beside the plan file; the page keeps its name and does "
        "not open it.",
    ),
    Form(
        "quiet",
        "Silenced cautions",
        rows=("quiet",),
        hint="The reason is printed in the caution's place. What stands under STOP cannot be "
        "silenced.",
    ),
)
_ADD = {
    "wind": "Add a wind",
    "stop": "Add a stop",
    "weather": "Add the weather at a point",
    "aircraft.climb_table": "Add a row to the climb table",
    "aircraft.cruise_table": "Add a row to the cruise table",
    "aircraft.compass_card": "Add a pair",
    "quiet": "Silence a caution",
}
_USUAL_WORDS = {
    "visual_rules": "",
    "aircraft_category": "airplane",
    "clock": "local",
    "fuel_unit": "",
}
_BLANK = {"visual_rules": "US, only in the US"}
"""What a choice that is left out stands for, where it is none of the others."""


def forms() -> Node:
    """The forms as the page builds them."""
    return {"forms": [_form(each) for each in FORMS]}


def _form(form: Form) -> Node:
    return {
        "name": form.name,
        "title": form.title,
        "hint": form.hint,
        "fields": [_field(each) for each in form.fields],
        "rows": [_rows(table) for table in form.rows],
    }


def _rows(table: str) -> Node:
    return {
        "table": table,
        "called": ROWS.get(table, QUIET),
        "add": _ADD.get(table, "Add a row"),
        "needed": _needed(RULES[table], table),
        "fields": [_field(each) for each in ROW_FIELDS[table]],
    }


def _needed(rules: Sequence[Rule], table: str) -> list[list[str]]:
    """What a row must have before it is one: each a key, or any of several."""
    if table == "quiet":
        return [["code"], ["reason"]]
    return [[rule.key, *rule.instead] for rule in rules if isinstance(rule, Needed)]


def _field(field: Field) -> Node:
    first = field.ways[0].key
    is_quiet = field.table == "quiet"
    known: Any = None if is_quiet else TABLE_KEYS[field.table].__annotations__[first]
    words = key_of(field.table, first)
    kind, choices = _kind(known)
    return {
        "table": field.table,
        "label": field.label or (QUIET_LABELS[first] if is_quiet else label(field.table, first)),
        "unit": _unit(field),
        "kind": field.kind or kind,
        "choices": choices,
        "usual": _USUAL_WORDS.get(first, field.usual),
        "blank": _BLANK.get(first, ""),
        "ways": [way._asdict() | {"also": dict(way.also)} for way in field.ways],
        "says": words.help if words else "",
    }


def _unit(field: Field) -> str:
    """The unit beside a field; what is chosen beside it already is not said twice."""
    sign = unit(field.ways[0].key)
    chosen = {way.called for way in field.ways}
    return "" if sign in chosen else sign[:1] if "magnetic" in chosen else sign


def _kind(known: Any) -> tuple[str, list[str]]:  # noqa: ANN401 - an annotation
    """What a field of an annotation is, and what may be chosen in it."""
    inside = get_args(known)[0] if get_args(known) else str
    if get_args(inside):
        choices = [each for each in get_args(inside) if isinstance(each, str)]
        return ("choice", choices) if choices else _kind(inside)
    names: Mapping[object, str] = {float: "number", int: "number", bool: "tick"}
    return names.get(inside, "text"), []
