"""How places lie in the store's rows: one line a place, parted by tabs.

What a search needs at once (where, what kind, which) stands first; the whole answer, with the
runways and frequencies, follows in the tables' own fields and is read only for the few kept.
Parted by ASCII's own separators it is written and read in a fifth of the time JSON takes; the
tables hold no control characters, and a line that would is refused.
"""

from __future__ import annotations

import math
from collections.abc import Container, Iterable, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from plotter.earth.position import Position
from plotter.errors import DataFault, PositionError
from plotter.places.model import Airport, Frequency, Navaid, Runway, Town

# Rows of the tables made into values; an empty field is "not in the data".

Row = Sequence[str]

AIRPORTS = (
    "ident",
    "icao",
    "iata",
    "gps",
    "local",
    "kind",
    "name",
    "municipality",
    "country",
    "region",
    "latitude_deg",
    "longitude_deg",
    "elevation_ft",
    "time_zone",
    "sources_apart_nm",
    "position_rule",
)
RUNWAYS = (
    "airport",
    "end_1",
    "end_2",
    "length_ft",
    "width_ft",
    "surface",
    "lighted",
    "closed",
    "heading_1_true_deg",
    "heading_2_true_deg",
)
FREQUENCIES = (
    "airport",
    "kind",
    "description",
    "frequency_mhz",
)
NAVAIDS = (
    "key",
    "ident",
    "name",
    "kind",
    "latitude_deg",
    "longitude_deg",
    "elevation_ft",
    "frequency_khz",
    "country",
    "station_declination_deg_east",
    "associated_airport",
)
TOWNS = (
    "name",
    "country",
    "latitude_deg",
    "longitude_deg",
    "population",
)


def airport_from(row: Row, runways: Iterable[Row] = (), frequencies: Iterable[Row] = ()) -> Airport:
    """An airport with what hangs on it; raises DataFault naming the row that cannot be read."""
    try:
        ident, icao, iata, gps, local, kind, name, town, country, region, *rest = row
        lat, lon, elevation, time_zone, sources_apart, position_rule = rest
        return Airport(
            ident=ident,
            icao=icao,
            iata=iata,
            gps=gps,
            local=local,
            kind=kind,
            name=name,
            municipality=town,
            country=country,
            region=region,
            position=position_of(lat, lon),
            elevation_ft=number(elevation),
            time_zone=time_zone,
            sources_apart_nm=number(sources_apart),
            position_rule=position_rule,
            runways=tuple(map(runway_from, runways)),
            frequencies=tuple(map(frequency_from, frequencies)),
        )
    except (ValueError, PositionError) as fault:
        raise unreadable("airport", row, fault) from fault


def runway_from(row: Row) -> Runway:
    """A runway; ``1`` is yes, anything else is not said.

    >>> strip = runway_from("KAAA,13,31,4200,75,ASP,1,0,134,".split(","))
    >>> strip.length_ft, strip.lighted, strip.heading_2_true_deg
    (4200.0, True, None)
    """
    _, end_1, end_2, length, width, surface, lighted, closed, heading_1, heading_2 = row
    return Runway(
        end_1,
        end_2,
        number(length),
        number(width),
        surface,
        lighted == "1",
        closed == "1",
        number(heading_1),
        number(heading_2),
    )


def frequency_from(row: Row) -> Frequency:
    """A radio frequency [MHz]."""
    _, kind, description, frequency_mhz = row
    return Frequency(kind, description, float(frequency_mhz))


def navaid_from(row: Row) -> Navaid:
    """A navaid; raises DataFault naming the row that cannot be read."""
    try:
        key, ident, name, kind, lat, lon, elevation, frequency, country, declination, airport = row
        return Navaid(
            key,
            ident,
            name,
            kind,
            position_of(lat, lon),
            number(elevation),
            number(frequency),
            country,
            number(declination),
            airport,
        )
    except (ValueError, PositionError) as fault:
        raise unreadable("navaid", row, fault) from fault


def town_from(row: Row) -> tuple[str, float, float, int]:
    """A town: name, latitude [°], longitude [°], population.

    A map reads thousands of them, so no Position is made of each; its limits hold all the same.
    """
    try:
        name, _, latitude, longitude, population = row
        north, east = float(latitude), float(longitude)
        if not (-90.0 <= north <= 90.0 and -180.0 <= east <= 180.0):
            raise ValueError(f"{north}, {east} is no position")
        return name, north, east, int(population or 0)
    except ValueError as fault:
        raise unreadable("town", row, fault) from fault


def position_of(latitude: str, longitude: str) -> Position:
    """A position from two fields [°]; raises ValueError or PositionError."""
    return Position(float(latitude), float(longitude))


def number(field: str) -> float | None:
    """A number, or ``None`` where the field is empty; raises ValueError where it is no number.

    >>> number("1.5"), number("")
    (1.5, None)
    >>> number("nan")
    Traceback (most recent call last):
    ValueError: 'nan' is not a number
    """
    if not field:
        return None
    value = float(field)
    if not math.isfinite(value):
        raise ValueError(f"{field!r} is not a number")
    return value


def unreadable(what: str, row: Row, fault: Exception) -> DataFault:
    """The error for a row of a table that cannot be a value."""
    return DataFault(f"the {what} row {','.join(row)!r} cannot be read: {fault}")


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
