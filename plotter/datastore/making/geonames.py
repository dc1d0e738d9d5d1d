"""Towns out of a GeoNames dump: the third witness where two sources of airports disagree.

Source: the columns are those of the readme beside the dumps of geonames.org.
"""

from __future__ import annotations

from collections.abc import Iterator

from plotter.errors import RefreshFault

NAME, LATITUDE, LONGITUDE, COUNTRY, REGION, COLUMNS = 1, 4, 5, 8, 10, 19
Witness = tuple[str, str, str, float, float]


def witnesses(content: bytes) -> Iterator[Witness]:
    """Name, country, region, latitude [°], longitude [°] of each place of a dump.

    Raises RefreshFault naming the line that is no place.
    """
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as fault:
        raise RefreshFault(f"towns are not a table of text: {fault}") from fault
    for number, line in enumerate(text.split("\n"), start=1):
        if line:
            yield _witness(number, line.split("\t"))


def _witness(number: int, fields: list[str]) -> Witness:
    if len(fields) != COLUMNS:
        raise RefreshFault(f"towns, line {number}: {len(fields)} fields instead of {COLUMNS}")
    try:
        latitude_deg, longitude_deg = float(fields[LATITUDE]), float(fields[LONGITUDE])
        if not (-90 <= latitude_deg <= 90 and -180 <= longitude_deg <= 180):
            raise ValueError
    except ValueError:
        raise RefreshFault(f"towns, line {number}: no position on earth") from None
    return fields[NAME], fields[COUNTRY], fields[REGION], latitude_deg, longitude_deg
