"""The forms of the page for everything that a plan file holds, made from the plan's own keys.

What a field is called, what it is for, its kind and its place come from the table of keys
(:mod:`plotter.flight.plan.keys`); here are the forms and the figures written in several ways.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple, get_args

from plotter.flight.plan.keys import TABLE_KEYS
from plotter.flight.plan.names import QUIET, ROWS, keys_in
from plotter.flight.plan.rules import RULES, Needed, Rule

FUEL = "fuel"
"""The unit that the aircraft's fuel is in, whichever that is."""
_UNITS = (
    ("_deg_east", "°"),
    ("_from_true_deg", "°T"),
    ("_true_deg", "°T"),
    ("_magnetic_deg", "°M"),
    ("_deg", "°"),
    ("_ft", "ft"),
    ("_kt", "kt"),
    ("_nm", "NM"),
    ("_min", "min"),
    ("_fpm", "ft/min"),
    ("_c", "°C"),
    ("_inhg", "inHg"),
    ("_hpa", "hPa"),
)


def unit(key: str, table: str = "") -> str:
    """Return the unit of a key, or the word that stands for the unit of fuel.

    It is the key's own in the table of keys, else what the end of its name says.

    >>> unit("climb_rate_fpm"), unit("steer_deg", "aircraft.compass_card"), unit("name")
    ('ft/min', '°M', '')
    >>> unit("cruise_fuel_per_hour")
    'fuel'
    """
    known = keys_in(table).get(key)
    if known and known.unit:
        return known.unit
    if "fuel" in key:
        return FUEL
    return next((sign for end, sign in _UNITS if key.endswith(end)), "")


Node = dict[str, Any]


class Way(NamedTuple):
    """One of the ways to write a figure: its key, how the way is called, what goes with it."""

    key: str
    called: str = ""
    also: Mapping[str, str] = {}


class Form(NamedTuple):
    """Fields that stand together, or the rows of a table; shut until it is wanted, if titled."""

    name: str
    title: str
    rows: tuple[str, ...] = ()
    hint: str = ""


def _airspeed(phase: str) -> tuple[Way, ...]:
    kinds = ("true", "calibrated")
    return tuple(Way(f"{phase}{kind}_airspeed_kt", kind) for kind in kinds)


WAYS: Mapping[tuple[str, str], tuple[Way, ...]] = {
    ("aircraft", "true_airspeed_kt"): _airspeed(""),
    ("aircraft", "climb_true_airspeed_kt"): _airspeed("climb_"),
    ("aircraft", "descent_true_airspeed_kt"): _airspeed("descent_"),
    ("wind", "from_true_deg"): (
        Way("from_true_deg", "true"),
        Way("from_deg", "magnetic", {"reference": "magnetic"}),
        Way("from_deg", "true", {"reference": "true"}),
    ),
    ("weather", "altimeter_inhg"): (Way("altimeter_inhg", "inHg"), Way("altimeter_hpa", "hPa")),
    ("weather", "wind_from_deg"): (
        Way("wind_from_deg", "true", {"wind_reference": "true"}),
        Way("wind_from_deg", "magnetic", {"wind_reference": "magnetic"}),
    ),
    ("winds_aloft", "station"): (Way("station"), Way("stations")),
}
"""The figures that may be written in several ways; a direction always with its north."""
FORMS = (
    Form("aircraft", ""),
    Form("winds", "", rows=("wind",)),
    Form(
        "winds_aloft",
        "Paste a winds aloft forecast",
        hint="One station, or several with spaces between: then each counts by its distance.",
    ),
    Form(
        "climb",
        "Climb and descent",
        rows=("aircraft.climb_table",),
        hint=(
            "Left out, the flight is all cruise. The flight manual's climb table, counted from "
            "sea level, stands in place of rate, airspeed and fuel of the climb."
        ),
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
        hint=(
            "As the card in the aircraft has it. Left out, the compass heading is the magnetic "
            "heading."
        ),
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
        hint=(
            "A wind in writing (METAR, TAF) is true; one spoken by a US tower or broadcast is "
            "magnetic."
        ),
    ),
    Form(
        "single_legs",
        "Single legs",
        rows=("leg",),
        hint=(
            "What you want for one leg, or read from the chart for it: course, distance and "
            "variation replace what is computed, and the log says so."
        ),
    ),
    Form("limits", "Own limits", hint="Asked on top of the rules, never below them."),
    Form(
        "rules",
        "Rules, name and checkpoints by time",
        hint=(
            "A file of own points lies beside the plan file; the page keeps its name and does "
            "not open it."
        ),
    ),
    Form(
        "quiet",
        "Silenced cautions",
        rows=("quiet",),
        hint=(
            "The reason is printed in the caution's place. What stands under STOP cannot be "
            "silenced."
        ),
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


def forms() -> Node:
    """Return the forms as the page builds them."""
    return {"forms": [_form(each) for each in FORMS]}


def _form(form: Form) -> Node:
    return {
        "name": form.name,
        "title": form.title,
        "hint": form.hint,
        "fields": [] if form.name in ("wind", "quiet") else _fields(form.name),
        "rows": [_rows(table) for table in form.rows],
    }


def _rows(table: str) -> Node:
    return {
        "table": table,
        "called": ROWS.get(table, QUIET),
        "add": _ADD.get(table, "Add a row"),
        "needed": _needed(RULES[table], table),
        "fields": QUIET_FIELDS if table == "quiet" else _fields(table),
    }


def _needed(rules: Sequence[Rule], table: str) -> list[list[str]]:
    """Return what a row needs before it counts: each a key, or any of several."""
    if table == "quiet":
        return [["code"], ["reason"]]
    return [[rule.key, *rule.instead] for rule in rules if isinstance(rule, Needed)]


def _fields(form: str) -> list[Node]:
    """Return the fields of a form, in the order of the table of keys unless a key has its own."""
    placed = [
        (key.order, table, name)
        for table in TABLE_KEYS
        for name, key in keys_in(table).items()
        if key.form == form
    ]
    return [_field(table, name) for _, table, name in sorted(placed, key=lambda place: place[0])]


def _field(table: str, name: str) -> Node:
    key, ways = keys_in(table)[name], WAYS.get((table, name), (Way(name),))
    kind, choices = _kind(TABLE_KEYS[table].__annotations__[name])
    return {
        "table": table,
        "label": key.field or key.label,
        "unit": _unit(table, ways) if kind == "number" else "",
        "kind": key.kind or kind,
        "choices": choices,
        "usual": key.usual,
        "blank": key.blank,
        "ways": [way._asdict() | {"also": dict(way.also)} for way in ways],
        "says": key.help,
    }


def _quiet_field(name: str, called: str, kind: str) -> Node:
    return {
        "table": "quiet",
        "label": called,
        "unit": "",
        "kind": kind,
        "choices": [],
        "usual": None,
        "blank": "",
        "ways": [Way(name)._asdict() | {"also": {}}],
        "says": "",
    }


QUIET_FIELDS = [
    _quiet_field("code", "Caution", "caution"),
    _quiet_field("reason", "Reason", "text"),
]
"""Of a table that takes any key."""


def _unit(table: str, ways: Sequence[Way]) -> str:
    """Return the unit beside a field; what is chosen beside it already is not said twice."""
    sign = unit(ways[0].key, table)
    chosen = {way.called for way in ways}
    return "" if sign in chosen else sign[:1] if "magnetic" in chosen else sign


def _kind(known: Any) -> tuple[str, list[str]]:  # noqa: ANN401 - an annotation
    """Return the kind of field for an annotation, and its choices."""
    inside = get_args(known)[0] if get_args(known) else str
    if get_args(inside):
        choices = [each for each in get_args(inside) if isinstance(each, str)]
        return ("choice", choices) if choices else _kind(inside)
    names: Mapping[object, str] = {float: "number", int: "number", bool: "tick"}
    return names.get(inside, "text"), []
