"""Airports, runways and frequencies, as the dataset has them, cleaned."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator

import numpy as np

from plotter.datastore.making import lints
from plotter.datastore.making.tables import Row, Rows, code, number, positive, text
from plotter.errors import RefreshFault

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


# Radio beacons, as the dataset has them, each with a key of its own.

NAVAID_COLUMNS = (
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
WITH_RADIALS = {"VOR", "VOR-DME", "VORTAC"}


def navaids(rows: Rows, ident_by_id: dict[str, str], old_airports: Rows) -> list[tuple[str, ...]]:
    """Every beacon; the airport beside it by the identifier that airport has today."""
    today = {old["ident"]: ident_by_id.get(old["id"], "") for old in old_airports}
    seen: Counter[str] = Counter()
    made = []
    for row in sorted(rows, key=lambda row: int(row["id"])):
        key = f"{code(row['ident'])}-{row['type']}-{code(row['iso_country'])}"
        seen[key] += 1
        numbered = key if seen[key] == 1 else f"{key}-{seen[key]}"
        made.append((numbered, *_values(row, today.get(row["associated_airport"], ""))))
    return made


def _values(row: Row, beside: str) -> tuple[str, ...]:
    """The columns after the key."""
    declination = row["slaved_variation_deg"] if row["type"] in WITH_RADIALS else ""
    return (
        code(row["ident"]),
        text(row["name"]),
        row["type"],
        number(row["latitude_deg"], 6),
        number(row["longitude_deg"], 6),
        number(row["elevation_ft"], 0),
        positive(row["frequency_khz"], 1),
        code(row["iso_country"]),
        number(declination, 3),
        beside,
    )


def navaid_lints(rows: list[tuple[str, ...]]) -> dict[str, int]:
    """Oddities of the beacons."""
    idents = Counter(row[1] for row in rows)
    with_radials = [row for row in rows if row[3] in WITH_RADIALS]
    return {
        lints.BEACONS_TWICE: sum(count > 1 for count in idents.values()),
        lints.BEACON_NO_FREQUENCY: sum(not row[7] for row in rows),
        lints.BEACONS_WITH_RADIALS: len(with_radials),
        lints.NO_DECLINATION: sum(not row[9] for row in with_radials),
    }


# Towns out of a GeoNames dump: the third witness where two sources of airports disagree.
#
# Source: the columns are those of the readme beside the dumps of geonames.org.

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
    for row, line in enumerate(text.split("\n"), start=1):
        if line:
            yield _witness(row, line.split("\t"))


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


# Time zones of airports that the second source does not know.

WITHIN_NM = 60.0
ASKED = 3
EARTH_RADIUS_NM = 3440.065


def fill(airports: Rows) -> int:
    """Give an airport the zone its three nearest neighbours of the same region agree on.

    All three must lie within 60 NM; where they disagree the zone stays empty.
    """
    regions: dict[str, tuple[Rows, Rows]] = defaultdict(lambda: ([], []))
    for airport in airports:
        regions[airport["region"]][not airport["time_zone"]].append(airport)
    filled = 0
    for known, unknown in regions.values():
        if len(known) >= ASKED and unknown:
            filled += _fill_region(known, unknown)
    return filled


def _fill_region(known: Rows, unknown: Rows) -> int:
    """The same, within one region."""
    chords = np.linalg.norm(_vectors(unknown)[:, None, :] - _vectors(known)[None, :, :], axis=2)
    nearest = np.argsort(chords, axis=1, kind="stable")[:, :ASKED]
    filled = 0
    for airport, asked, row in zip(unknown, nearest, chords, strict=True):
        zones = {known[i]["time_zone"] for i in asked}
        if len(zones) == 1 and row[asked[-1]] * EARTH_RADIUS_NM <= WITHIN_NM:
            airport["time_zone"] = zones.pop()
            filled += 1
    return filled


def _vectors(airports: list[Row]) -> np.ndarray:
    """Unit vectors from the centre of the earth."""
    latitude = np.radians([float(row["latitude_deg"]) for row in airports])
    longitude = np.radians([float(row["longitude_deg"]) for row in airports])
    flat = np.cos(latitude)
    return np.column_stack((flat * np.cos(longitude), flat * np.sin(longitude), np.sin(latitude)))
