"""The place of the data that a point put down by hand is meant for."""

from __future__ import annotations

from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.places.airports import EVERY_KIND, FIXED_WING
from plotter.places.model import Airport, Place, Town
from plotter.places.naming import NAVAID
from plotter.places.nearness import Near, near
from plotter.places.store import Store

WIDEST_NM = 60.0
KINDS = (*(kind for kind in EVERY_KIND if kind != "closed"), NAVAID)
ONE_SIGN = 0.5
"""A beacon nearer to an airport than this part of the snapping distance stands on its sign."""


def place_near(store: Store, position: Position, within_nm: float) -> Place | None:
    """The airport or navaid nearest to a position within a distance [NM], closed fields left out.

    An airport for wheels is taken before a heliport or a seaplane base that is nearer, and so is a
    beacon; a beacon that stands on an airport or beside it gives way to it, for at that distance
    the two cannot be told apart: with a shorter one they can.
    """
    if within_nm <= 0.0:
        return None
    first: dict[str, Near] = {}
    for each in near(store, position, min(within_nm, WIDEST_NM), KINDS).found:
        first.setdefault(_sort(each), each)
    field, beacon, other = (first.get(sort) for sort in ("field", NAVAID, "other"))
    if field and beacon and _beacon_is_meant(field, beacon, within_nm):
        return _place(beacon)
    found = field or beacon or other
    return _place(found) if found else None


def _sort(each: Near) -> str:
    if not isinstance(each.place, Airport):
        return NAVAID
    return "field" if each.place.kind in FIXED_WING else "other"


def _beacon_is_meant(field: Near, beacon: Near, within_nm: float) -> bool:
    apart_nm = distance_nm(field.place.position, beacon.place.position)
    return beacon.distance_nm < field.distance_nm and apart_nm > ONE_SIGN * within_nm


def _place(found: Near) -> Place:
    assert not isinstance(found.place, Town)
    return found.place
