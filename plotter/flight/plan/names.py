"""What the keys, rows and tables of a plan file are called: in the file, and on the page.

A message about a plan carries these as values, so that its sentence names a key as the file spells
it, and on the page the field that it is typed in.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import get_args

from plotter.flight.plan.keys import TABLE_KEYS, KeyPath
from plotter.flight.plan.kinds import Key
from plotter.messages import Edge, Message, Named, message

ROWS: Mapping[str, str] = {
    "stop": "Stop",
    "aircraft.climb_table": "Climb table, row",
    "aircraft.cruise_table": "Cruise table, row",
    "aircraft.compass_card": "Compass correction card, row",
    "wind": "Wind",
    "weather": "Weather",
    "leg": "Leg",
}
"""What one row of a table is called on the page, before its number."""
QUIET = "Silenced caution"
_LISTS = ("flight", "invented", "winds_aloft")
"""Tables whose arrays hold plain values, not tables."""


@cache
def keys_in(table: str) -> Mapping[str, Key]:
    """Return what is said of the keys of a table, in order; empty for an unknown table."""
    kinds = TABLE_KEYS[table].__annotations__ if table in TABLE_KEYS else {}
    marks = ((key, mark) for key, kind in kinds.items() for mark in get_args(kind)[1:])
    return {key: mark for key, mark in marks if isinstance(mark, Key)}


def label(table: str, key: str) -> str:
    """Return what a key is called on the page; the key itself for an unknown one.

    >>> label("wind", "speed_kt"), label("wind", "sped")
    ('Speed', 'sped')
    """
    known = keys_in(table).get(key)
    return known.label if known else key


def table_name(path: KeyPath) -> str:
    """Return the name of the table a path leads to, as the table's heading has it.

    >>> table_name(("aircraft", "compass_card", 3))
    'aircraft.compass_card'
    """
    return ".".join(step for step in path if isinstance(step, str))


def dotted(path: KeyPath) -> str:
    """Return a path as one word, its rows counted from 1.

    >>> dotted(("wind", 1, "speed_kt"))
    'wind.2.speed_kt'
    """
    return ".".join(str(step + 1 if isinstance(step, int) else step) for step in path)


def path_words(path: KeyPath) -> str:
    """Return a path as it is written in the file.

    >>> path_words(("wind", 1, "speed_kt")), path_words(("aircraft", "taxi_fuel"))
    ('[[wind]] 2, speed_kt', '[aircraft] taxi_fuel')
    >>> path_words(("aircraft", "climb_table", 0)), path_words(("flight",)), path_words(("format",))
    ('[[aircraft.climb_table]] 1', '[flight]', 'format')
    """
    row = next((k for k, step in enumerate(path) if isinstance(step, int)), None)
    if row is not None and path[0] not in _LISTS:
        table = ".".join(map(str, path[:row]))
        return ", ".join([f"[[{table}]] {int(path[row]) + 1}", *map(str, path[row + 1 :])])
    table, *keys = [str(step) for step in path if isinstance(step, str)]
    is_table = table in TABLE_KEYS or table == "quiet"
    return " ".join([f"[{table}]", *keys]) if keys or is_table else table


@dataclass(frozen=True, slots=True)
class KeyName(Named):
    """A key of a table: on the page its label."""

    table: str
    key: str

    def called(self, edge: Edge) -> str:
        """Return the key, or on the page the label of its field."""
        return f"“{label(self.table, self.key)}”" if edge == "page" else self.key


@dataclass(frozen=True, slots=True)
class RowName(Named):
    """A row of a table, numbered from 1."""

    table: str
    number: int

    def called(self, edge: Edge) -> str:
        """Return the row's heading with its number."""
        if edge == "page":
            return f"{ROWS.get(self.table, self.table)} {self.number}"
        return f"[[{self.table}]] {self.number}"


@dataclass(frozen=True, slots=True)
class KeyPlace(Named):
    """The place that a fault is about, which opens its sentence.

    On the page it is empty: the fault stands under the label of its field there.
    """

    path: KeyPath

    def called(self, edge: Edge) -> str:
        """Return the path as the file has it; empty on the page."""
        return "" if edge == "page" else path_words(self.path)


def located(said: Message, path: KeyPath, only_named: bool = False) -> Message:
    """Return a message about a key with the key's place in the plan as its subject.

    A message that names the key opens with the place instead; any other gets the place in front,
    unless ``only_named``.

    >>> from plotter.messages import text
    >>> about = message("figure.not-negative", name="taxi_fuel", value=-1.0)
    >>> text(located(about, ("aircraft", "taxi_fuel")))
    '[aircraft] taxi_fuel is -1; enter 0 or more'
    """
    if not path:
        return said
    values = dict(said.values)
    other = values.get("other")
    if isinstance(other, str):
        values["other"] = KeyName(table_name(path[:-1]), other)
    if isinstance(values.get("name"), KeyPlace):
        return said
    if values.get("name") in (path[-1], f"[[{path[0]}]] {path[-1]}"):
        return message(said.key, **values | {"name": KeyPlace(path)})
    if only_named:
        return said
    return message("plan-fault.at", place=KeyPlace(path), reason=message(said.key, **values))
