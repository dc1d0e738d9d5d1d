"""What looks wrong in the tables: counted and printed, never mended in silence."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from itertools import combinations

from plotter.datastore.making.match import AIRFIELDS, distance_nm, first_position
from plotter.datastore.making.tables import Rows

BESIDE_NM = 0.3
ENDS_NM = 1.5


def airport_lints(airports: Rows) -> dict[str, int]:
    """Oddities of the airports by themselves."""
    return {
        "pairs of open airfields within 0.3 NM": _pairs_beside(airports),
        "codes borne by more than one airport": _codes_borne_twice(airports),
        "US local identifiers that are another airport's IATA code": _iata_clashes(airports),
        "elevation 0": sum(row["elevation_ft"] == "0" for row in airports),
        "elevation not in the data": sum(not row["elevation_ft"] for row in airports),
        "time zone not in the data": sum(not row["time_zone"] for row in airports),
    }


def _pairs_beside(airports: Rows) -> int:
    """Pairs of open airfields so near each other that they may be one field twice."""
    squares: dict[tuple[int, int], Rows] = defaultdict(list)
    for row in airports:
        if row["kind"] in AIRFIELDS:
            latitude, longitude = first_position(row)
            squares[math.floor(latitude * 10), math.floor(longitude * 10)].append(row)
    return sum(_beside_in(squares, square) for square in squares)


def _beside_in(squares: dict[tuple[int, int], Rows], square: tuple[int, int]) -> int:
    """Pairs within one square, and from it into half of its neighbours, so each is met once."""
    south, west = square
    here = squares[square]
    around = ((south, west + 1), (south + 1, west - 1), (south + 1, west), (south + 1, west + 1))
    next_door = [row for name in around for row in squares.get(name, ())]
    pairs = [*combinations(here, 2), *((one, other) for one in here for other in next_door)]
    return sum(
        distance_nm(first_position(one), first_position(other)) <= BESIDE_NM for one, other in pairs
    )


def _codes_borne_twice(airports: Rows) -> int:
    """Codes that lead to more than one airport, over all code columns."""
    bearers: Counter[str] = Counter()
    for row in airports:
        columns = ("ident", "icao", "iata", "gps", "local")
        bearers.update({row[column] for column in columns if row[column]})
    return sum(count > 1 for count in bearers.values())


def _iata_clashes(airports: Rows) -> int:
    """Identifiers of US airports that mean another airport in the IATA column."""
    by_iata = {row["iata"]: row["ident"] for row in airports if row["iata"]}
    us = (row for row in airports if row["country"] == "US" and row["local"])
    return sum(by_iata.get(row["local"], row["ident"]) != row["ident"] for row in us)


def runway_lints(source: Rows, airports: Rows, runways: set[tuple[str, ...]]) -> dict[str, int]:
    """Oddities of the runways."""
    kept = {row["ident"]: row for row in airports}
    with_runway = {row[0] for row in runways}
    return {
        "runways without airport": sum(row["airport_ident"] not in kept for row in source),
        "airports without runway": sum(ident not in with_runway for ident in kept),
        "runways without any heading": sum(not row[8] and not row[9] for row in runways),
        "headings outside 0 to 360 degrees, left out": sum(map(_no_heading, source)),
        "headings of the two ends not opposite within 5 degrees": sum(map(_bent, runways)),
        "airports over 1.5 NM from their own runway's ends": _ends_elsewhere(source, kept),
    }


def _no_heading(row: dict[str, str]) -> bool:
    """Whether the source gives an end a heading that no compass has."""
    given = (row["le_heading_degT"], row["he_heading_degT"])
    return any(value and not 0 <= float(value) <= 360 for value in given)


def _bent(runway: tuple[str, ...]) -> bool:
    """Whether the headings of both ends are given and do not point opposite ways."""
    if not runway[8] or not runway[9]:
        return False
    turn = (float(runway[9]) - float(runway[8])) % 360
    return abs(turn - 180) > 5


def _ends_elsewhere(source: Rows, airports: dict[str, dict[str, str]]) -> int:
    """Airports none of whose runway ends (a column not kept here) lie near their position."""
    ends: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for row in source:
        for end in ("le", "he"):
            where = row[f"{end}_latitude_deg"], row[f"{end}_longitude_deg"]
            if all(where) and row["airport_ident"] in airports:
                ends[row["airport_ident"]].append((float(where[0]), float(where[1])))
    return sum(
        min(distance_nm(first_position(airports[ident]), end) for end in found) > ENDS_NM
        for ident, found in ends.items()
    )


def frequency_lints(source: Rows, kept_ids: set[str], airports: Rows) -> dict[str, int]:
    """Oddities of the frequencies."""
    ids_with = {row["airport_ref"] for row in source} & kept_ids
    return {
        "frequencies without airport": sum(row["airport_ref"] not in kept_ids for row in source),
        "frequencies of 0, left out": sum(float(row["frequency_mhz"]) <= 0 for row in source),
        "airports without frequency": len(airports) - len(ids_with),
    }
