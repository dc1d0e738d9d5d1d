"""Towns: where they are, for the map and as a witness to airport positions."""

from __future__ import annotations

import json
import math
import re
from collections import defaultdict
from collections.abc import Iterator
from typing import Any

from plotter.datastore.making.tables import number, text

TOWN_COLUMNS = ("name", "country", "latitude_deg", "longitude_deg", "population")
CROWDED_DEG = 0.025  # 1.5 NM of latitude
FEWER = 1000  # a place this small is left out beside a larger one, within CROWDED_SMALL_DEG
CROWDED_SMALL_DEG = 0.05
CITY_PEOPLE = 50_000  # below this two neighbours of one name are often two towns
PART_DEG = 0.1  # 6 NM: a part of a city lies no farther from its middle
ALIKE = 0.05  # parts carry the count of another year than their city
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
    return _apart_deg(larger, town) < limit


def borrowed(towns: list[Town]) -> list[Town]:
    """The parts of cities that are listed with the people of their city, as New South Memphis is.

    The name holds that of a city beside it, and the people are as many within 5 %.
    """
    cities: dict[tuple[str, str], list[Town]] = defaultdict(list)
    for town in towns:
        if town["population"] >= CITY_PEOPLE:
            cities[town["countrycode"], " ".join(_words(town))].append(town)
    return [
        town
        for town in towns
        if town["population"] >= CITY_PEOPLE * (1 - ALIKE)
        and any(
            _is_part(town, city)
            for name in _parts(_words(town))
            for city in cities.get((town["countrycode"], name), ())
        )
    ]


def _words(town: Town) -> list[str]:
    return re.findall(r"[\w’']+", town["name"].lower())


def _parts(words: list[str]) -> Iterator[str]:
    """Every run of words but the whole."""
    for first in range(len(words)):
        for past in range(first + 1, len(words) + 1):
            if past - first < len(words):
                yield " ".join(words[first:past])


def _is_part(town: Town, city: Town) -> bool:
    is_alike = abs(town["population"] - city["population"]) <= ALIKE * city["population"]
    return is_alike and _apart_deg(town, city) <= PART_DEG


def _apart_deg(one: Town, other: Town) -> float:
    north = one["latitude"] - other["latitude"]
    east = (one["longitude"] - other["longitude"]) * math.cos(math.radians(other["latitude"]))
    return math.hypot(north, east)


def row(town: Town) -> tuple[str, ...]:
    """One town in our columns; a population of 0 is not in the data."""
    return (
        text(town["name"]),
        town["countrycode"],
        number(town["latitude"], 4),
        number(town["longitude"], 4),
        str(town["population"] or ""),
    )
