"""Rows of the tables made into values; an empty field is "not in the data"."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from plotter.earth.position import Position
from plotter.errors import DataFault, PositionError
from plotter.places.model import Airport, Frequency, Navaid, Runway

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
