"""What is wrong with one key of a plan file, and what to write, from the checker's own report."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING, NamedTuple

from plotter.flight.plan_file_keys import TABLES
from plotter.flight.plan_rules import Path, table_name

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

_LONGEST_SHOWN = 40
_KINDS = {
    "string_type": "no text; write it in quotes",
    "string_too_short": "empty; write something, or leave the key out",
    "string_pattern_mismatch": "blank; write something, or leave the key out",
    "int_type": "no whole number; write figures alone, without quotes or unit",
    "float_type": "no number; write figures alone, without quotes or unit",
    "finite_number": "no number to reckon with; write figures",
    "bool_type": "neither true nor false; write one of them, without quotes",
    "datetime_type": "no time with a date; write it as 2026-07-04T09:00:00-05:00",
    "too_short": "an empty list; write at least one, or leave the key out",
}
_BOUNDS = {
    "greater_than": "a number above {gt:g}",
    "greater_than_equal": "{ge:g} or more",
    "less_than": "a number below {lt:g}",
    "less_than_equal": "{le:g} or less",
}


class Words(NamedTuple):
    """A fault in words, its code, and what could be written instead."""

    words: str
    code: str
    candidates: tuple[str, ...] = ()


def fault_words(error: ErrorDetails) -> Words:
    """The checker's report of one fault in our own words."""
    path, kind, given = error["loc"], error["type"], error["input"]
    if kind == "extra_forbidden":
        return _unknown(path)
    if kind in ("dict_type", "list_type"):
        return Words(_brackets(path, kind), "wrong-type")
    if kind == "literal_error":
        return Words(f"is {shown(given)}; write {error['ctx']['expected']}", "wrong-value")
    if kind in _BOUNDS:
        bound = _BOUNDS[kind].format(**error["ctx"])
        return Words(f"is {shown(given)}; write {bound}", "impossible-value")
    words = _KINDS.get(kind, f"cannot be used ({error['msg'].lower()})")
    return Words(f"{shown(given)} is {words}", "wrong-type")


def shown(given: object) -> str:
    """A value as it might stand in the file, cut short."""
    text = str(given).lower() if isinstance(given, bool) else str(given)
    text = " ".join(text.split())
    cut = text if len(text) <= _LONGEST_SHOWN else f"{text[:_LONGEST_SHOWN]}…"
    return f'"{cut}"' if isinstance(given, str) else cut


def _unknown(path: Path) -> Words:
    """A key nobody knows: the nearest of its own table, else the table it belongs in."""
    key, table = str(path[-1]), table_name(path[:-1])
    known = TABLES.get(table, ())
    close = tuple(get_close_matches(key.lower(), known, 3, 0.6))
    elsewhere = tuple(name for name, keys in TABLES.items() if key in keys and name)
    if elsewhere and (not close or close[0] != key):
        return Words(
            f"no such key here; it belongs in [{elsewhere[0]}]", "unknown-key", elsewhere[:3]
        )
    if close:
        return Words(f"no such key; did you mean {close[0]}?", "unknown-key", close)
    return Words(f"no such key; known are {', '.join(known)}", "unknown-key", tuple(known))


def _brackets(path: Path, kind: str) -> str:
    name = table_name(path)
    if kind == "list_type" and name in TABLES:
        return f"is one of several; write [[{name}]], with two brackets"
    if kind == "list_type":
        return 'is no list; write it in brackets, as in ["MSP", "GRB"]'
    if isinstance(path[-1], str) and name in TABLES:
        return f"is a table and there is one only; write [{name}], with one bracket"
    return f"is no table; write [[{name}]] and its keys below"
