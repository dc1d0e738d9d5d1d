"""Airfields that may be one field which stands twice in the data."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import NamedTuple

from plotter.earth.geodesic import distance_nm
from plotter.messages import Message, message
from plotter.places.model import FIXED_WING, Airport
from plotter.places.nearness import near
from plotter.places.spelling import telling, words
from plotter.places.store import Store

TWINS_NM = 0.3
"""Open airfields nearer than this [NM, 550 m] may be one whatever they are called. Some are two,
a grass strip beside a gliding site: nothing in the data tells, so both stay and are told."""
NAMESAKES_NM = 5.0
"""Of one name or code and nearer than this [NM] they may be one too: a slip of 0.1° in a
longitude of middle latitudes is 4 NM."""
_AMPLE = 2.0
"""The sieve lets through twice as much as it need, so that what it leaves out is surely far."""
_KEYS = {"": "twin", "code": "twin.same-code", "name": "twin.same-name"}
_REMEMBERED = 4096
_ONE_DEGREE_NM = 59.7
"""Least length [NM] of a degree of latitude, at the equator: 110.574 km (WGS 84)."""


class Twins(NamedTuple):
    """Two airfields that may be one, how far apart the data puts them [NM], what they share."""

    first: Airport
    second: Airport
    apart_nm: float
    share: str

    @property
    def said(self) -> Message:
        """What the pilot reads about the pair."""
        return message(
            _KEYS[self.share],
            first=self.first.ident,
            first_name=self.first.name,
            second=self.second.ident,
            second_name=self.second.name,
            apart_nm=self.apart_nm,
        )


def twins_among(airports: Iterable[Airport]) -> tuple[Twins, ...]:
    """The pairs among these that may be one field, from south to north."""
    some = sorted(
        (each for each in airports if each.kind in FIXED_WING),
        key=lambda each: (each.position.latitude_deg, each.ident),
    )
    return tuple(pair for a, b in _neighbours(some) for pair in _twins(a, b))


@lru_cache(_REMEMBERED)
def twins_of(store: Store, airport: Airport) -> tuple[Twins, ...]:
    """Other open airfields that may be the same as this one, nearest first."""
    if airport.kind not in FIXED_WING:
        return ()
    around = (each.place for each in near(store, airport.position, NAMESAKES_NM).found)
    return tuple(
        pair
        for other in around
        if isinstance(other, Airport) and other.ident != airport.ident
        for pair in _twins(airport, other)
    )


def _neighbours(ordered: list[Airport]) -> Iterator[tuple[Airport, Airport]]:
    """Pairs that lie near in latitude and, away from the poles, in longitude: a sieve."""
    latitudes = [each.position.latitude_deg for each in ordered]
    reach_deg = NAMESAKES_NM / _ONE_DEGREE_NM
    for at, one in enumerate(ordered):
        end = bisect_right(latitudes, latitudes[at] + reach_deg)
        flat = math.cos(math.radians(min(abs(latitudes[at]) + reach_deg, 90.0)))
        for other in ordered[at + 1 : end]:
            turn = abs(one.position.longitude_deg - other.position.longitude_deg)
            if min(turn, 360.0 - turn) * flat < _AMPLE * reach_deg:
                yield one, other


def _twins(one: Airport, other: Airport) -> Iterator[Twins]:
    share = _shared(one, other)
    apart_nm = distance_nm(one.position, other.position)
    if apart_nm <= (NAMESAKES_NM if share else TWINS_NM):
        yield Twins(one, other, apart_nm, share)


def _shared(one: Airport, other: Airport) -> str:
    """What two airfields have in common: a code, their name, or nothing."""
    if not set(one.codes).isdisjoint(other.codes):
        return "code"
    return "name" if _telling(one.name) == _telling(other.name) else ""


@lru_cache(_REMEMBERED)
def _telling(name: str) -> tuple[str, ...]:
    return tuple(telling(words(name)))
