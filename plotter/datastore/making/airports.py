"""Airports, runways and frequencies, as the dataset has them, cleaned."""

from __future__ import annotations

import re

from plotter.datastore.making.tables import Row, Rows, code, number, positive, text

AIRPORT_COLUMNS = (
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
RUNWAY_COLUMNS = (
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
FREQUENCY_COLUMNS = ("airport", "kind", "description", "frequency_mhz")
DISOWNED = re.compile(r"^[({][^)}]*(duplic|bogus)", re.IGNORECASE)


def disowned(row: Row) -> bool:
    """Whether the dataset's own name for a row says that it is a duplicate or bogus."""
    return DISOWNED.search(row["name"]) is not None


def airport(row: Row) -> Row:
    """One airport in our columns, with the second source still to come."""
    return {
        "ident": code(row["ident"]),
        "icao": code(row["icao_code"]),
        "iata": code(row["iata_code"]),
        "gps": code(row["gps_code"]),
        "local": code(row["local_code"]),
        "kind": row["type"],
        "name": text(row["name"]),
        "municipality": text(row["municipality"]),
        "country": code(row["iso_country"]),
        "region": code(row["iso_region"]),
        "latitude_deg": number(row["latitude_deg"], 6),
        "longitude_deg": number(row["longitude_deg"], 6),
        "elevation_ft": number(row["elevation_ft"], 0),
        "time_zone": "",
        "sources_apart_nm": "",
        "position_rule": "one source",
    }


def runway(row: Row) -> tuple[str, ...]:
    """One runway in our columns; a length or width of 0 is unknown."""
    return (
        code(row["airport_ident"]),
        code(row["le_ident"]),
        code(row["he_ident"]),
        positive(row["length_ft"], 0),
        positive(row["width_ft"], 0),
        text(row["surface"]),
        row["lighted"],
        row["closed"],
        heading(row["le_heading_degT"]),
        heading(row["he_heading_degT"]),
    )


def heading(value: str) -> str:
    """A heading [degrees true]; one that no compass has is not in the data."""
    shown = number(value, 2)
    return shown if shown and 0 <= float(shown) <= 360 else ""


def runways(rows: Rows, known: set[str]) -> set[tuple[str, ...]]:
    """Every runway of a known airport; rows that repeat each other in all columns become one."""
    return {made for row in rows if (made := runway(row))[0] in known}


def frequencies(rows: Rows, ident_by_id: dict[str, str]) -> set[tuple[str, ...]]:
    """Every frequency of a known airport, joined by the dataset's own number.

    The number outlives the identifier: airports renamed since the older snapshot are still found.
    A frequency of 0 is none and left out.
    """
    made: set[tuple[str, ...]] = set()
    for row in rows:
        ident = ident_by_id.get(row["airport_ref"])
        mhz = positive(row["frequency_mhz"], 4)
        if ident and mhz:
            made.add((ident, text(row["type"]), text(row["description"]), mhz))
    return made
