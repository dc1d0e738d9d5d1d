"""Faults of a plan in the words of the page: at which field, and what to put there instead.

The library speaks of a plan file, with the names of its keys and its brackets. On the page they
are called as their fields are.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from plotter.errors import PlotterError
from plotter.flight.plan.keys import KeyPath
from plotter.flight.plan.leg_ends import BETWEEN, NUMBER, by_number, ends_of, ends_of_legs
from plotter.flight.plan.lines import path_words
from plotter.formats.document import faults_of
from plotter.maps.labels import visible
from plotter.route.editing import points_of
from plotter.web.plan_forms import LABELS, ROWS, label, unit

Node = dict[str, Any]
_NAMED = {
    "winds_aloft": "winds aloft forecast",
    "quiet": "Silenced caution",
    "limits": "Own limits",
}
_KEYS = "|".join(
    sorted({key for keys in LABELS.values() for key in keys}, key=lambda key: (-len(key), key))
)
_TABLES = "|".join(re.escape(table) for table in LABELS)
_ROW_OF = re.compile(rf"\[\[({_TABLES})\]\] (\d+)")
_TABLE = re.compile(rf"\[{{1,2}}({_TABLES})\]{{1,2}}")
_SET = re.compile(rf"\b(?:{_KEYS}) = ")
_KEY = re.compile(rf"\b(?=\w*_)(?:{_KEYS})\b")
_FOR_AN_EDITOR = (
    (", without quotes or unit", ""),
    (", without quotes", ""),
    ("; write it in quotes", ""),
    ("write it as 2026-07-04T09:00:00-05:00", "type a time, and its offset as -05:00 or Z"),
    ("2026-07-04T09:00:00-05:00, the take-off time", "a time, and its offset as -05:00 or Z"),
    ("as in 2026-07-04T09:00:00-05:00, or Z", "as -05:00, or Z"),
    (", the points as typed for plotter plot", ", points with spaces between"),
    (", or stations", ", or several stations"),
    (", or leave the key out", ", or leave the field empty"),
    (", and take its name out of the list invented", ""),
    ("leave all out", "leave all of them empty"),
    ("leave both out", "leave both empty"),
    ('""" and paste the lines of the bulletin, then """', "the lines of the bulletin"),
)


def plan_faults(fault: PlotterError, legs: Sequence[Mapping[str, Any]] = ()) -> list[Node]:
    """Every fault with the key of its field, what that is called, and what is wrong with it.

    ``legs`` are the rows of the plan that was looked at: a row of a leg is called by its number,
    not by its place among them.
    """
    return [_one(each, legs) for each in faults_of(fault)]


def _one(fault: PlotterError, legs: Sequence[Mapping[str, Any]]) -> Node:
    path = _path(fault)
    words = fault.message
    for joint in (": ", " "):
        words = words.removeprefix(path_words(path) + joint) if path else words
    shown = _numbered(path, legs)
    return {
        "key": ".".join(str(step + 1 if isinstance(step, int) else step) for step in shown),
        "title": visible(title(shown)),
        "words": visible(_without_itself(page_words(words, _table(path)), path)),
    }


def _without_itself(words: str, path: KeyPath) -> str:
    """Words that do not offer a field in place of itself: it may be written under several keys."""
    called = label(_table(path), str(path[-1])) if path else ""
    return words.replace(f", or “{called}”", "") if called else words


def title(path: KeyPath) -> str:
    """What a path leads to, as the page calls it.

    >>> title(("wind", 1, "speed_kt")), title(("aircraft", "climb_rate_fpm")), title(("quiet", "a"))
    ('Wind 2, Speed', 'Rate of climb', 'Silenced caution, a')
    """
    if not path:
        return ""
    if path[0] == "quiet":
        return ", ".join(["Silenced caution", *map(str, path[1:])])
    table, rows, key = _table(path), [step for step in path if isinstance(step, int)], path[-1]
    if rows and table in ROWS:
        row = f"{ROWS[table]} {rows[0] + 1}"
        return row if isinstance(key, int) else f"{row}, {label(table, str(key))}"
    return label(table, str(key))


def page_words(words: str, table: str = "") -> str:
    """Words about a plan file as the page says them.

    >>> page_words("is missing; write true_airspeed_kt = 110, or cruise_table", "aircraft")
    'is missing; write 110, or “Cruise table”'
    """
    for said, instead in _FOR_AN_EDITOR:
        words = words.replace(said, instead)
    words = _ROW_OF.sub(lambda row: f"{ROWS.get(row[1], row[1])} {row[2]}", words)
    words = _TABLE.sub(lambda named: _table_words(named[1]), _SET.sub("", words))
    return _KEY.sub(lambda key: _called(key[0], table), words)


def _table_words(table: str) -> str:
    return _NAMED.get(table) or ROWS.get(table, table)


def _called(key: str, table: str) -> str:
    homes = (table, *LABELS)
    called = next(LABELS[home][key] for home in homes if key in LABELS.get(home, {}))
    return f"“{called}”"


def _path(fault: PlotterError) -> KeyPath:
    """The path of the key that a fault is about, as far as it says one."""
    if fault.where is not None and fault.where.key:
        steps = fault.where.key.split(".")
        if steps[0] == "quiet":
            return ("quiet", ".".join(steps[1:])) if len(steps) > 1 else ("quiet",)
        return tuple(int(step) - 1 if step.isdigit() else step for step in steps)
    if fault.code == "fuel_added":
        return ("stop",)
    home = next((table for table in ("flight", "aircraft") if fault.code in LABELS[table]), None)
    if fault.code.startswith("winds-aloft"):
        return ("winds_aloft", "station" if fault.code == "winds-aloft-station" else "text")
    return (home, fault.code) if home else ()


def _table(path: KeyPath) -> str:
    names = [step for step in path[:-1] if isinstance(step, str)]
    return ".".join(names)


def _numbered(path: KeyPath, legs: Sequence[Mapping[str, Any]]) -> KeyPath:
    """The path of a leg's row with the leg's own number, from 0, in place of the row's."""
    if len(path) < 2 or path[0] != "leg" or not isinstance(path[1], int):
        return path
    number = legs[path[1]].get("number") if path[1] < len(legs) else None
    return ("leg", number - 1, *path[2:]) if isinstance(number, int) else path


# What is noted for single legs, as the page tells it: of which leg it is, or that it has none.

Rows = Sequence[Mapping[str, Any]]


def legs_node(notes: Rows, words: Sequence[str]) -> Node:
    """The legs of a route, what is noted for them, and what is noted for none of them.

    ``legs`` names each by its two ends, by which the page keeps its notes.
    """
    legs = ends_of_legs(words)
    made = by_number(notes, words)
    return {
        "legs": [
            {BETWEEN: list(ends), "title": visible(_title(number, words))}
            for number, ends in enumerate(legs, start=1)
        ],
        "noted": [visible(_noted(row, words)) for row in made.rows],
        "aside": [
            {BETWEEN: list(row[BETWEEN]), "text": visible(text)}
            for row, text in zip(made.aside, aside_words(made.aside), strict=True)
        ],
    }


def aside_words(rows: Rows) -> list[str]:
    """What is noted for legs that the route has not, in words.

    >>> aside_words([{"between": ["KBBB", "KCCC"], "measured_nm": 60.5}])
    ['KBBB to KCCC: distance by hand 60.5 NM']
    """
    return [f"{_between(row)}: {_figures(row)}" for row in rows]


def faults_in_plan(fault: PlotterError, plan: Mapping[str, Any] | None, route: str) -> list[Node]:
    """The faults of a plan, those of its legs with the numbers of these on the route."""
    rows = (plan or {}).get("leg")
    known = isinstance(rows, list) and all(isinstance(row, dict) for row in rows)
    return plan_faults(fault, by_number(rows, points_of(route)).rows if rows and known else ())


def _title(number: int, words: Sequence[str]) -> str:
    return f"Leg {number}, {_called_here(words[number - 1])} to {_called_here(words[number])}"


def _called_here(word: str) -> str:
    return word.partition("=")[0]


def _noted(row: Mapping[str, Any], words: Sequence[str]) -> str:
    number = row.get(NUMBER)
    there = isinstance(number, int) and 1 <= number < len(words)
    name = _title(number, words) if there and isinstance(number, int) else f"leg {number}, not here"
    return f"Typed for {name[:1].lower()}{name[1:]}: {_figures(row)}"


def _between(row: Mapping[str, Any]) -> str:
    start, end, *which = ends_of(row) or ("?", "?")
    return f"{start} to {end}" + (f", time {which[0]}" if which else "")


def _figures(row: Mapping[str, Any]) -> str:
    return ", ".join(
        f"{label('leg', key).lower()} {value} {unit(key)}".rstrip()
        for key, value in row.items()
        if key not in (BETWEEN, NUMBER)
    )
