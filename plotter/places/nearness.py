"""What lies near a position: a rough cut by cells and caps, the answer by geodesics."""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass

from plotter.earth.geodesic import SHORTEST_NM, distance_nm, seen_from
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.places.airports import direction, reach_rad
from plotter.places.grid import DEGREE
from plotter.places.model import EVERY_KIND, FIXED_WING, Airport, Navaid, Place, Town
from plotter.places.naming import NAVAID, TOWN
from plotter.places.store import Store

KINDS = (*EVERY_KIND, NAVAID, TOWN)
"""Every kind of place that can be asked for."""
FARTHEST_NM = 10_810.0
"""No two places are farther apart [NM]: a little over half the earth's meridian, 10,801.26."""
FIRST_LOOK_NM = 12.0
"""How far the search for the very nearest looks at first; it doubles until something is found."""


@dataclass(frozen=True, slots=True)
class Near:
    """A place near a position: how far [NM], and the true course [°T] to it from there.

    ``true_course_deg`` is the initial course of the shortest line; ``None`` where the place is
    the position itself, to which any course leads.
    """

    place: Airport | Navaid | Town
    distance_nm: float
    true_course_deg: float | None


@dataclass(frozen=True, slots=True)
class Nearby:
    """What lies near, the nearest first, and how many airports could not be judged.

    ``length_unknown`` counts those near enough of which no open runway is known to be long
    enough, but the length of one, or every runway, is not in the data.
    """

    found: tuple[Near, ...]
    length_unknown: int = 0


def near(
    store: Store,
    centre: Position,
    within_nm: float,
    kinds: Collection[str] = FIXED_WING,
    runway_ft: float | None = None,
) -> Nearby:
    """The places of these kinds within a distance [NM] of a position, nearest first.

    ``runway_ft`` [ft] keeps the airports that have an open runway of that length or more.
    Exact on the ellipsoid, at the poles and at 180° too. Raises InputError for a distance or
    length that is negative or not finite, a kind that is none, and a runway asked of what has none.
    """
    _check(within_nm, kinds, runway_ft)
    measured = _measured(store, centre, within_nm, frozenset(kinds))
    if runway_ft is None:
        return Nearby(tuple(measured))
    found: list[Near] = []
    unknown = 0
    for each in measured:
        assert isinstance(each.place, Airport)
        if (each.place.longest_runway_ft or 0.0) >= runway_ft:
            found.append(each)
        else:
            unknown += _length_unknown(each.place)
    return Nearby(tuple(found), unknown)


def nearest(
    store: Store,
    centre: Position,
    kinds: Collection[str] = FIXED_WING,
    runway_ft: float | None = None,
) -> Near | None:
    """The nearest place of these kinds, however far; ``None`` where the data holds none."""
    reach_nm = FIRST_LOOK_NM
    while True:
        found = near(store, centre, reach_nm, kinds, runway_ft).found
        if found or reach_nm >= FARTHEST_NM:
            return found[0] if found else None
        reach_nm = min(2.0 * reach_nm, FARTHEST_NM)


def _check(within_nm: float, kinds: Collection[str], runway_ft: float | None) -> None:
    if not 0.0 <= within_nm < math.inf:
        raise InputError("input.within", within_nm=within_nm)
    if not kinds:
        raise InputError("input.no-kind", kinds=KINDS)
    for kind in kinds:
        if kind not in KINDS:
            raise InputError("input.kind", kind=kind, kinds=KINDS)
    if runway_ft is None:
        return
    if not 0.0 <= runway_ft < math.inf:
        raise InputError("input.runway", runway_ft=runway_ft)
    if without := [kind for kind in (NAVAID, TOWN) if kind in kinds]:
        raise InputError("input.without-runway", kind=without[0])


def _measured(
    store: Store, centre: Position, within_nm: float, kinds: frozenset[str]
) -> list[Near]:
    """The places near enough, measured and unpacked, the nearest first."""
    radius_rad = reach_rad(within_nm)
    x, y, z = direction(centre.latitude_deg, centre.longitude_deg)
    least = math.cos(radius_rad) - 1e-12

    def is_near(_: int, latitude_deg: float, longitude_deg: float) -> bool:
        a, b, c = direction(latitude_deg, longitude_deg)
        return a * x + b * y + c * z >= least

    cells = DEGREE.cells_round(centre, math.degrees(radius_rad))
    rough = store.places_in(cells, kinds, is_near)
    seen = seen_from(centre, [place.position for place in rough])
    every = [
        Near(place, distance_nm, course_deg if distance_nm >= SHORTEST_NM else None)
        for place, (distance_nm, course_deg) in zip(rough, seen, strict=True)
        if distance_nm <= within_nm
    ]
    return sorted(every, key=_order)


def _order(near: Near) -> tuple[float, int, str, str]:
    """Sorts the nearest first, and of those at one distance airports, by kind and ident."""
    place = near.place
    if isinstance(place, Airport):
        return near.distance_nm, 0, place.kind, place.ident
    if isinstance(place, Navaid):
        return near.distance_nm, 1, "", place.key
    return near.distance_nm, 1, "", place.name


def _length_unknown(airport: Airport) -> bool:
    """Whether a runway of this airport may be long enough for all the data knows."""
    return not airport.runways or any(not runway.length_ft for runway in airport.open_runways)


# The place of the data that a point put down by hand is meant for.

WIDEST_NM = 60.0
SNAPPING_KINDS = (*(kind for kind in EVERY_KIND if kind != "closed"), NAVAID)
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
    for each in near(store, position, min(within_nm, WIDEST_NM), SNAPPING_KINDS).found:
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
