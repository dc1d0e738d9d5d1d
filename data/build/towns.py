"""Towns: where they are, for the map and as a witness to airport positions."""

from __future__ import annotations

import json
import math
from collections import defaultdict
from collections.abc import Iterator
from typing import Any

from plotter.datastore.making.tables import number, text

TOWN_COLUMNS = ("name", "country", "latitude_deg", "longitude_deg", "population")
CROWDED_DEG = 0.025  # 1.5 NM of latitude
FEWER = 1000  # a place this small is left out beside a larger one, within CROWDED_SMALL_DEG
CROWDED_SMALL_DEG = 0.05
Town = dict[str, Any]


def read_towns(content: bytes) -> list[Town]:
    """The places of a GeoNames table, largest first, ties by their number."""
    towns = list(json.loads(content).values())
    return sorted(towns, key=lambda town: (-town["population"], town["geonameid"]))


def witnesses(towns: list[Town]) -> Iterator[tuple[str, str, str, float, float]]:
    """Name, country, region and position of each, as the comparison of sources wants them."""
    for town in towns:
        where = town["latitude"], town["longitude"]
        yield (town["name"], town["countrycode"], town["admin1code"], *where)


def thinned(towns: list[Town]) -> Iterator[Town]:
    """The places that are not crowded out by a larger one beside them."""
    kept: dict[tuple[int, int], list[Town]] = defaultdict(list)
    for town in towns:
        square = math.floor(town["latitude"] * 10), math.floor(town["longitude"] * 10)
        beside = [
            other
            for i in (-1, 0, 1)
            for j in (-1, 0, 1)
            for other in kept.get((square[0] + i, square[1] + j), ())
        ]
        if not any(_crowds(other, town) for other in beside):
            kept[square].append(town)
            yield town


def _crowds(larger: Town, town: Town) -> bool:
    """Whether a larger place is so near that this one would not be drawn beside it."""
    limit = CROWDED_SMALL_DEG if town["population"] < FEWER else CROWDED_DEG
    north = larger["latitude"] - town["latitude"]
    east = (larger["longitude"] - town["longitude"]) * math.cos(math.radians(town["latitude"]))
    return math.hypot(north, east) < limit


def row(town: Town) -> tuple[str, ...]:
    """One town in our columns; a population of 0 is not in the data."""
    return (
        text(town["name"]),
        town["countrycode"],
        number(town["latitude"], 4),
        number(town["longitude"], 4),
        str(town["population"] or ""),
    )
