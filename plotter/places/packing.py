"""How places lie in the store's rows: one line a place, parted by tabs.

What a search needs at once (where, what kind, which) stands first; the whole answer, with the
runways and frequencies, follows in the tables' own fields and is read only for the few kept.
Parted by ASCII's own separators it is written and read in a fifth of the time JSON takes; the
tables hold no control characters, and a line that would is refused.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from plotter.errors import PositionError
from plotter.places.model import Airport, Navaid, Town
from plotter.places.rows import Row, airport_from, navaid_from, position_of, unreadable

GROUP, RECORD, FIELD = "\x1d", "\x1e", "\x1f"
FORBIDDEN = ("\t", "\r", GROUP, RECORD, FIELD)
"""What no field of a table may hold, nor a line feed."""


_REMEMBERED = 2048
"""Airports whose lines are not read anew: while a route is drawn most stay in view."""


class Sketch(NamedTuple):
    """As much of a place as a search needs [°], and the rest still packed."""

    latitude_deg: float
    longitude_deg: float
    kind: str
    packed: str


class Entry(NamedTuple):
    """What one code means: a place (its key, the cell it lies in) and the columns that say so."""

    code: str
    what: str
    key: str
    cell: int
    columns: tuple[str, ...]


def pack_airport(row: Row, runways: Sequence[Row], frequencies: Sequence[Row]) -> str:
    """The line of one airport."""
    whole = GROUP.join((FIELD.join(row), _records(runways), _records(frequencies)))
    return "\t".join((row[10], row[11], row[5], row[0], whole))


def _records(rows: Sequence[Row]) -> str:
    return RECORD.join(map(FIELD.join, rows)) if rows else ""


def sketches(body: str, kinds: Container[str] | None = None) -> Iterator[Sketch]:
    """The airports of these kinds (``None``: all) in a cell's text, as far as their positions.

    >>> [sketch.kind for sketch in sketches("1\\t2\\tclosed\\tKAAA\\t[]", {"closed"})]
    ['closed']
    """
    for line in body.split("\n") if body else ():
        latitude, longitude, kind, _ = line.split("\t", 3)
        if kinds is None or kind in kinds:
            yield Sketch(float(latitude), float(longitude), kind, line)


@lru_cache(_REMEMBERED)
def unpack_airport(line: str) -> Airport:
    """The whole airport of a line."""
    row, runways, frequencies = line.split("\t", 4)[4].split(GROUP)
    return airport_from(row.split(FIELD), _rows(runways), _rows(frequencies))


def _rows(records: str) -> Iterator[Row]:
    return (record.split(FIELD) for record in records.split(RECORD) if record)


def find_airport(body: str, ident: str) -> Airport | None:
    """The airport of that ident in a cell's text."""
    mark = f"\t{ident}\t"
    for line in body.split("\n"):
        if mark in line and line.split("\t", 4)[3] == ident:
            return unpack_airport(line)
    return None


def pack_navaid(row: Row) -> str:
    """The line of one navaid."""
    return "\t".join(row)


def navaid_sketches(body: str) -> Iterator[Sketch]:
    """The navaids in a cell's text, as far as their positions."""
    for line in body.split("\n") if body else ():
        *_, latitude, longitude, _ = line.split("\t", 6)
        yield Sketch(float(latitude), float(longitude), "navaid", line)


def unpack_navaid(line: str) -> Navaid:
    """The whole navaid of a line."""
    return navaid_from(line.split("\t"))


def town_sketches(body: str) -> Iterator[Sketch]:
    """The towns in a cell's text, as far as their positions."""
    for line in body.split("\n") if body else ():
        _, _, latitude, longitude, _ = line.split("\t")
        yield Sketch(float(latitude), float(longitude), "town", line)


def unpack_town(line: str) -> Town:
    """The whole town of a line; raises DataFault naming the row that cannot be read.

    >>> unpack_town("Demo City\\tZZ\\t44.02\\t-92.46\\t").population is None
    True
    """
    row = line.split("\t")
    try:
        name, country, latitude, longitude, population = row
        return Town(name, country, position_of(latitude, longitude), int(population or 0) or None)
    except (ValueError, PositionError) as fault:
        raise unreadable("town", row, fault) from fault


def find_navaid(body: str, key: str) -> Navaid | None:
    """The navaid of that key in a cell's text."""
    for line in body.split("\n"):
        if line.startswith(f"{key}\t"):
            return unpack_navaid(line)
    return None


def pack_entry(code: str, what: str, key: str, cell: int, columns: str) -> str:
    """The line of one meaning of one code; ``columns`` are parted by spaces."""
    return f"{code}\t{what}\t{key}\t{cell}\t{columns}"


def find_entries(body: str, code: str) -> list[Entry]:
    """All that a code means, out of the text of its row."""
    lines = (line.split("\t") for line in body.split("\n") if line.startswith(f"{code}\t"))
    return [
        Entry(code, what, key, int(cell), tuple(columns.split()))
        for code, what, key, cell, columns in lines
    ]
