"""Faults of a plan in the words of the page: at which field, and what to put there instead.

The library speaks of a plan file, with the names of its keys and its brackets. On the page they
are called as their fields are.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from plotter.errors import PlotterError
from plotter.flight.plan_faults import path_words
from plotter.flight.plan_rules import Path
from plotter.formats.faults import faults_of
from plotter.maps.labels import visible
from plotter.web.plan_labels import LABELS, ROWS, label

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


def _without_itself(words: str, path: Path) -> str:
    """Words that do not offer a field in place of itself: it may be written under several keys."""
    called = label(_table(path), str(path[-1])) if path else ""
    return words.replace(f", or “{called}”", "") if called else words


def title(path: Path) -> str:
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


def _path(fault: PlotterError) -> Path:
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


def _table(path: Path) -> str:
    names = [step for step in path[:-1] if isinstance(step, str)]
    return ".".join(names)


def _numbered(path: Path, legs: Sequence[Mapping[str, Any]]) -> Path:
    """The path of a leg's row with the leg's own number, from 0, in place of the row's."""
    if len(path) < 2 or path[0] != "leg" or not isinstance(path[1], int):
        return path
    number = legs[path[1]].get("number") if path[1] < len(legs) else None
    return ("leg", number - 1, *path[2:]) if isinstance(number, int) else path
