"""Figures of a plan that nobody has confirmed: the plan names them in its key ``invented``.

The plan to start from invents most of what a log needs. While one such figure is in use the log is
not for flight, and every page and file that is made of it says so first.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from difflib import get_close_matches
from typing import Any, NamedTuple

from plotter.errors import InputError
from plotter.flight.plan.keys import TABLE_KEYS
from plotter.flight.plan.names import keys_in
from plotter.messages import message
from plotter.route.values import Caution

INVENTED = "invented"
"""The key of a plan file, and the code of the caution."""


class Part(NamedTuple):
    """What may be invented: what it is called, and whether a log can be made without it."""

    called: str
    may_go: bool = False


def _parts() -> Iterator[tuple[str, Part]]:
    tables = keys_in("")
    for table in TABLE_KEYS:
        whole = tables.get(table)
        if whole and whole.invented:
            yield table, Part(whole.invented, whole.may_go)
        for name, key in keys_in(table).items() if table else ():
            if key.invented:
                yield f"{table}.{key.part or name}", Part(key.invented, key.may_go)


PARTS: Mapping[str, Part] = dict(_parts())
"""From the table of keys, by table and the beginning of the keys that it is made of, in its order.
Each counts as one figure: a climb or a compass card is confirmed as a whole."""


def part_of(entry: str) -> str:
    """Return the part that an entry of the list names: a part, or a key that belongs to one.

    Raises InputError, code ``invented``, for any other.

    >>> part_of("wind"), part_of("aircraft.climb_rate_fpm")
    ('wind', 'aircraft.climb')
    >>> part_of("aircraft.true_airspede_kt")
    Traceback (most recent call last):
    plotter.errors.InputError: invented has 'aircraft.true_airspede_kt', which is not a figure that can be \
invented; write aircraft.true_airspeed_kt
    """
    for part in PARTS:
        if entry == part or ("." in part and entry.startswith(part)):
            return part
    close = get_close_matches(entry, PARTS, 1, 0.6)
    raise InputError(
        "invented.unknown",
        candidates=tuple(close) or tuple(PARTS),
        name=INVENTED,
        entry=entry[:60],
        instead=tuple(close[:1]) or tuple(PARTS),
    )


def still_invented(entries: Iterable[object], tables: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the parts that are on the list and in the plan; ignore unknown entries.

    >>> still_invented(["wind", "aircraft.taxi_fuel"], {"aircraft": {"taxi_fuel": 1.1}})
    ('aircraft.taxi_fuel',)
    """
    named = set(_named(entries))
    return tuple(part for part in PARTS if part in named and _is_there(part, tables))


def _named(entries: Iterable[object]) -> Iterator[str]:
    for entry in entries:
        try:
            yield part_of(str(entry))
        except InputError:
            continue


def _is_there(part: str, tables: Mapping[str, Any]) -> bool:
    table, _, start = part.partition(".")
    inside = tables.get(table)
    if not start:
        return bool(inside)
    return isinstance(inside, Mapping) and any(key.startswith(start) for key in inside)


def warning(parts: Collection[str]) -> str:
    """Return what every page and file says first; empty if nothing is invented.

    >>> warning(["wind"]), warning(["wind", "aircraft.taxi_fuel"]), warning([])
    ('1 figure invented: not for flight', '2 figures invented: not for flight', '')
    """
    figures = "figure" if len(parts) == 1 else "figures"
    return f"{len(parts)} {figures} invented: not for flight" if parts else ""


def invented_cautions(parts: Collection[str]) -> list[Caution]:
    """Return a caution that names the invented figures."""
    if not parts:
        return []
    names = tuple(PARTS[part].called.lower() for part in parts)
    return [Caution("CHECK", message("invented", names=names))]
