"""The place of the data that a point put down by hand is meant for."""

from __future__ import annotations

import math
from collections.abc import Iterator

from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.places.airports import FIXED_WING
from plotter.places.model import Airport, Place
from plotter.places.store import Store

WIDEST_NM = 60.0
_SHORTEST_DEGREE_NM = 59.7
"""Length [NM] of a degree of latitude where it is shortest, at the equator (59.706)."""


def place_near(store: Store, position: Position, within_nm: float) -> Place | None:
    """The nearest place to a position within a distance [NM], airports of every open kind.

    An airport for wheels is taken before a heliport or a seaplane base that is nearer.
    """
    found = [
        (airport.kind not in FIXED_WING, distance_nm(airport.position, position), airport)
        for airport in _around(store, position, min(within_nm, WIDEST_NM))
        if not airport.closed
    ]
    near = [each for each in found if each[1] <= within_nm]
    return min(near, key=lambda each: (each[0], each[1], each[2].ident))[2] if near else None


def _around(store: Store, position: Position, within_nm: float) -> Iterator[Airport]:
    if within_nm <= 0.0:
        return iter(())
    high = within_nm / _SHORTEST_DEGREE_NM
    wide = high / max(0.01, math.cos(math.radians(min(89.0, abs(position.latitude_deg) + high))))
    south, north = position.latitude_deg - high, position.latitude_deg + high
    west, east = position.longitude_deg - wide, position.longitude_deg + wide
    found = store.airports_in(max(-90.0, south), west, min(90.0, north), east)
    return iter(found)
