"""Faults of a plan in the words of the page: at which field, and what to enter instead."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from plotter import messages
from plotter.errors import PlotterError
from plotter.flight.plan.keys import TABLES, KeyPath
from plotter.flight.plan.leg_ends import BETWEEN, NUMBER, by_number, ends_of, ends_of_legs
from plotter.flight.plan.names import QUIET, ROWS, RowName, dotted, label, located, table_name
from plotter.formats.document import faults_of
from plotter.maps.labels import visible
from plotter.route.editing import points_of
from plotter.web.plan_forms import unit

Node = dict[str, Any]


def plan_faults(fault: PlotterError, legs: Sequence[Mapping[str, Any]] = ()) -> list[Node]:
    """Return every fault with its key, the title of its field, and what is wrong there.

    ``legs`` are the rows of the plan that was looked at: a row of a leg is called by its number,
    not by its place among them.
    """
    return [_node(each, legs) for each in faults_of(fault)]


def _node(fault: PlotterError, legs: Sequence[Mapping[str, Any]]) -> Node:
    path = _path(fault)
    shown = _numbered(path, legs)
    return {
        "key": dotted(shown),
        "title": visible(title(shown)),
        "words": visible(messages.text(located(fault.said, path), "page").strip()),
    }


def title(path: KeyPath) -> str:
    """Return what a path leads to, as the page calls it.

    >>> title(("wind", 1, "speed_kt")), title(("aircraft", "climb_rate_fpm")), title(("quiet", "a"))
    ('Wind 2, Speed', 'Rate of climb', 'Silenced caution, a')
    """
    if not path:
        return ""
    if path[0] == "quiet":
        return ", ".join([QUIET, *map(str, path[1:])])
    rows, key = [step for step in path if isinstance(step, int)], path[-1]
    table = table_name(path[:-1])
    if rows and table in ROWS:
        row = RowName(table, rows[0] + 1).called("page")
        return row if isinstance(key, int) else f"{row}, {label(table, str(key))}"
    return label(table, str(key))


def _path(fault: PlotterError) -> KeyPath:
    """Return the path of the key that a fault is about, as far as it is known."""
    if fault.where is not None and fault.where.key:
        steps = fault.where.key.split(".")
        if steps[0] == "quiet":
            return ("quiet", ".".join(steps[1:])) if len(steps) > 1 else ("quiet",)
        return tuple(int(step) - 1 if step.isdigit() else step for step in steps)
    if fault.code == "fuel_added":
        return ("stop",)
    home = next((table for table in ("flight", "aircraft") if fault.code in TABLES[table]), None)
    if fault.code.startswith("winds-aloft"):
        return ("winds_aloft", "station" if fault.code == "winds-aloft-station" else "text")
    return (home, fault.code) if home else ()


def _numbered(path: KeyPath, legs: Sequence[Mapping[str, Any]]) -> KeyPath:
    """Return the path of a leg's row with the leg's number, from 0, instead of the row's."""
    if len(path) < 2 or path[0] != "leg" or not isinstance(path[1], int):
        return path
    number = legs[path[1]].get("number") if path[1] < len(legs) else None
    return ("leg", number - 1, *path[2:]) if isinstance(number, int) else path


# What is noted for single legs, as the page tells it: of which leg it is, or that it has none.

Rows = Sequence[Mapping[str, Any]]


def legs_node(notes: Rows, words: Sequence[str]) -> Node:
    """Return the legs of a route, the notes for them, and the notes for legs not on the route.

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
    """Return the notes for legs that are not on the route, in words.

    >>> aside_words([{"between": ["KBBB", "KCCC"], "measured_nm": 60.5}])
    ['KBBB to KCCC: distance by hand 60.5 NM']
    """
    return [f"{_between(row)}: {_figures(row)}" for row in rows]


def faults_in_plan(fault: PlotterError, plan: Mapping[str, Any] | None, route: str) -> list[Node]:
    """Return the faults of a plan, those of its legs with the legs' numbers on the route."""
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
