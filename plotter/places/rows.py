"""Rows of the tables made into values; an empty field is "not in the data".

A field is converted once, in :func:`typed`: a CSV row and a row of the store then hold the same
values, and one function makes a place of either.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any, TypeVar

from plotter.earth.position import Position
from plotter.errors import DataFault, PositionError
from plotter.places.model import Airport, Frequency, Navaid, Runway, Town

_Place = TypeVar("_Place")
Row = Sequence[str]
Values = Sequence[Any]
"""A row with numbers as numbers, ``None`` where the table has nothing."""


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
FREQUENCIES = ("airport", "kind", "description", "frequency_mhz")
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
TOWNS = ("name", "country", "latitude_deg", "longitude_deg", "population")
FORBIDDEN = ("\t", "\r", "\x1d", "\x1e", "\x1f")
"""What no field of a table may hold, nor a line feed."""


def number(field: str) -> float | None:
    """Return a number, or ``None`` where the field is empty; raise ValueError for anything else.

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


def _people(field: str) -> int | None:
    return int(field or 0) or None


def _yes(field: str) -> bool:
    return field == "1"


_CONVERTED: Mapping[str, Callable[[str], object]] = {
    **dict.fromkeys(("lighted", "closed"), _yes),
    **dict.fromkeys(("latitude_deg", "longitude_deg", "frequency_mhz"), float),
    "population": _people,
}
_NUMBERS = ("_deg", "_ft", "_nm", "_khz", "_deg_east")


def _converters(columns: Sequence[str]) -> tuple[tuple[int, Callable[[str], object]], ...]:
    """Return which columns of a table are not text, and how each is read."""
    converters = (
        _CONVERTED.get(name) or (number if name.endswith(_NUMBERS) else None) for name in columns
    )
    return tuple((at, read) for at, read in enumerate(converters) if read)


_OF_TABLE: Mapping[tuple[str, ...], tuple[tuple[int, Callable[[str], object]], ...]] = {
    columns: _converters(columns) for columns in (AIRPORTS, RUNWAYS, FREQUENCIES, NAVAIDS, TOWNS)
}


def typed_rows(columns: tuple[str, ...], rows: Iterable[Row]) -> Iterator[tuple[Any, ...]]:
    """Return the rows of a table with numbers as numbers; raise ValueError for a bad field.

    >>> list(typed_rows(TOWNS, [["Demo City", "ZZ", "44.02", "-92.46", ""]]))
    [('Demo City', 'ZZ', 44.02, -92.46, None)]
    """
    fields: list[Iterable[Any]] = list(zip(*rows, strict=True))  # by column: half the time
    if not fields:
        return iter(())
    if len(fields) != len(columns):
        raise ValueError(f"{len(fields)} fields in place of {len(columns)}")
    for at, read in _OF_TABLE[columns]:
        fields[at] = map(read, fields[at])
    return zip(*fields, strict=True)


def typed(columns: tuple[str, ...], row: Row) -> tuple[Any, ...]:
    """Return one row of a table with numbers as numbers; raise ValueError for a bad field."""
    return next(typed_rows(columns, [row]))


def airport_of(
    values: Values, runways: Iterable[Values] = (), frequencies: Iterable[Values] = ()
) -> Airport:
    """Return the airport of a typed row; runways and frequencies without the airport's ident."""
    *texts, latitude_deg, longitude_deg, elevation_ft, time_zone, apart_nm, rule = values
    ident, icao, iata, gps, local, kind, name, municipality, country, region = texts
    return Airport(
        ident,
        icao,
        iata,
        gps,
        local,
        kind,
        name,
        municipality,
        country,
        region,
        Position(latitude_deg, longitude_deg),
        elevation_ft,
        time_zone,
        apart_nm,
        rule,
        tuple(Runway(*runway) for runway in runways),
        tuple(Frequency(*frequency) for frequency in frequencies),
    )


def navaid_of(values: Values) -> Navaid:
    """Return the navaid of a typed row."""
    key, ident, name, kind, latitude_deg, longitude_deg, *rest = values
    elevation_ft, frequency_khz, country, declination_deg, airport = rest
    position = Position(latitude_deg, longitude_deg)
    return Navaid(
        key,
        ident,
        name,
        kind,
        position,
        elevation_ft,
        frequency_khz,
        country,
        declination_deg,
        airport,
    )


def town_of(values: Values) -> Town:
    """Return the town of a typed row."""
    name, country, latitude_deg, longitude_deg, people = values
    return Town(name, country, Position(latitude_deg, longitude_deg), people)


def airport_from(row: Row, runways: Iterable[Row] = (), frequencies: Iterable[Row] = ()) -> Airport:
    """Return an airport with what belongs to it; raise DataFault for a row that cannot be read."""
    return _made(
        "airport",
        row,
        lambda: airport_of(
            typed(AIRPORTS, row),
            (typed(RUNWAYS, runway)[1:] for runway in runways),
            (typed(FREQUENCIES, frequency)[1:] for frequency in frequencies),
        ),
    )


def runway_from(row: Row) -> Runway:
    """Return a runway; ``1`` is yes, anything else is not said.

    >>> strip = runway_from("KAAA,13,31,4200,75,ASP,1,0,134,".split(","))
    >>> strip.length_ft, strip.lighted, strip.heading_2_true_deg
    (4200.0, True, None)
    """
    return Runway(*typed(RUNWAYS, row)[1:])


def frequency_from(row: Row) -> Frequency:
    """Return a radio frequency [MHz]."""
    return Frequency(*typed(FREQUENCIES, row)[1:])


def navaid_from(row: Row) -> Navaid:
    """Return a navaid; raise DataFault for a row that cannot be read."""
    return _made("navaid", row, lambda: navaid_of(typed(NAVAIDS, row)))


def town_from(row: Row) -> Town:
    """Return a town; raise DataFault for a row that cannot be read."""
    return _made("town", row, lambda: town_of(typed(TOWNS, row)))


def _made(table: str, row: Row, make: Callable[[], _Place]) -> _Place:
    try:
        return make()
    except (TypeError, ValueError, PositionError) as fault:
        raise DataFault("data.row", table=table, row=",".join(row), fault=str(fault)) from fault


def position_of(latitude: str, longitude: str) -> Position:
    """Return a position from two fields [°]; raise ValueError or PositionError."""
    return Position(float(latitude), float(longitude))
