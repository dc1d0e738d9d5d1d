"""Airports beside a route: a rough cut by cells and spheres, the answer by geodesics."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from plotter.earth.geodesic import Line, along, beside
from plotter.earth.position import Position
from plotter.earth.units import ECCENTRICITY_SQUARED, EQUATORIAL_RADIUS_M, metres_from_nm
from plotter.errors import InputError
from plotter.places.grid import DEGREE
from plotter.places.model import FIXED_WING, Airport
from plotter.places.store import Store

# Caps on the earth: the rough cut before geodesics, a matter of directions from its centre.
#
# Neither poles nor the 180th meridian are special to a direction, and a cap drawn on a sphere that
# is small enough holds whatever is near enough on the ellipsoid.

SMALLEST_RADIUS_M = EQUATORIAL_RADIUS_M * (1.0 - ECCENTRICITY_SQUARED)
"""Least radius of curvature of the ellipsoid, that of the meridian at the equator: no two points
lie nearer than their latitudes and longitudes put them on a sphere of this size."""

Vector = tuple[float, float, float]


def direction(latitude_deg: float, longitude_deg: float) -> Vector:
    """The unit vector of a latitude and longitude [°]."""
    lat, lon = math.radians(latitude_deg), math.radians(longitude_deg)
    flat = math.cos(lat)
    return flat * math.cos(lon), flat * math.sin(lon), math.sin(lat)


def reach_rad(distance_nm: float) -> float:
    """The radius [rad] of a cap that holds all that lies within a distance [NM] of its centre.

    >>> round(math.degrees(reach_rad(60.0)), 3), reach_rad(30_000.0) == math.pi
    (1.005, True)
    """
    return min(math.pi, metres_from_nm(distance_nm) / SMALLEST_RADIUS_M * (1.0 + 1e-9))


_SHORTEST_STEP_NM = 5.0
_LINES_REMEMBERED = 512
"""While a point of a route is dragged all legs but two stay as they are."""
_AT_AN_END_NM = 1e-6
"""Nearer to an end than this [NM, 2 mm] is at that end: ``beside`` is good to a millimetre."""

Beyond = Literal["", "before the departure", "past the destination"]


@dataclass(frozen=True, slots=True)
class Beside:
    """An airport beside a route, at the leg it is nearest to.

    ``along_nm`` [NM] is where on the route, from its start; ``off_nm`` how far off, right +,
    left −; an airport beyond a leg's end is measured to that end, and ``beyond`` says so where
    that is an end of the route.
    """

    airport: Airport
    leg_number: int
    along_nm: float
    off_nm: float
    beyond: Beyond = ""


def airports_beside(
    store: Store,
    lines: Sequence[Line],
    within_nm: float,
    kinds: Collection[str] = FIXED_WING,
) -> tuple[Beside, ...]:
    """The airports within a distance [NM] of a route's lines, each once, in flying order.

    One that is as near to two legs belongs to the first. Raises InputError for a distance that
    is negative or not finite.
    """
    if not 0.0 <= within_nm < math.inf:
        raise InputError("input.within", within_nm=within_nm)
    wanted = frozenset(kinds)
    nearest: dict[str, tuple[float, int, float, float, Airport]] = {}
    flown_nm = 0.0
    for number, line in enumerate(lines, start=1):
        for airport, along_nm, off_nm in _beside_line(store, line, within_nm, wanted):
            found = (abs(off_nm), number, flown_nm + along_nm, off_nm, airport)
            if airport.ident not in nearest or found[0] < nearest[airport.ident][0]:
                nearest[airport.ident] = found
        flown_nm += line.distance_nm
    every = (
        Beside(airport, number, along_nm, off_nm, _beyond(along_nm, off_nm, flown_nm))
        for _, number, along_nm, off_nm, airport in nearest.values()
    )
    return tuple(sorted(every, key=lambda each: (each.along_nm, each.airport.ident)))


def _beyond(along_nm: float, off_nm: float, whole_nm: float) -> Beyond:
    """Which end of the route [NM long] a place lies beyond, if it is measured to one."""
    if abs(off_nm) <= _AT_AN_END_NM:
        return ""
    if along_nm <= _AT_AN_END_NM:
        return "before the departure"
    return "past the destination" if along_nm >= whole_nm - _AT_AN_END_NM else ""


@lru_cache(_LINES_REMEMBERED)
def _beside_line(
    store: Store, line: Line, within_nm: float, kinds: frozenset[str]
) -> tuple[tuple[Airport, float, float], ...]:
    """Return airport, along [NM] and off [NM] of those near enough to one line."""
    rough = _roughly_near(store, line, within_nm, kinds)
    measured = beside(line, [airport.position for airport in rough])
    return tuple(
        (airport, along_nm, off_nm)
        for airport, (along_nm, off_nm) in zip(rough, measured, strict=True)
        if abs(off_nm) <= within_nm
    )


def _roughly_near(
    store: Store, line: Line, within_nm: float, kinds: frozenset[str]
) -> list[Airport]:
    """Return all airports near enough to a line, and some that are not quite.

    The line is covered by caps round points set evenly along it, wide enough that whatever is
    near the line lies in one. A cap is a matter of directions from the earth's centre, so
    neither poles nor the 180th meridian are special.
    """
    centres, radius_rad = _caps(line, within_nm)
    touched: dict[int, list[Vector]] = defaultdict(list)
    for centre in centres:
        vector = direction(centre.latitude_deg, centre.longitude_deg)
        for cell in DEGREE.cells_round(centre, math.degrees(radius_rad)):
            touched[cell].append(vector)
    least = math.cos(radius_rad)

    def is_near(cell: int, latitude_deg: float, longitude_deg: float) -> bool:
        x, y, z = direction(latitude_deg, longitude_deg)
        return any(x * a + y * b + z * c >= least for a, b, c in touched[cell])

    places = store.places_in(touched, kinds, is_near)
    return [place for place in places if isinstance(place, Airport)]


def _caps(line: Line, within_nm: float) -> tuple[Iterable[Position], float]:
    """Points along a line and the radius [rad] of the caps round them."""
    count = math.ceil(line.distance_nm / max(within_nm, _SHORTEST_STEP_NM))
    step_nm = line.distance_nm / count
    centres = along(line, [(number + 0.5) * step_nm for number in range(count)])
    return centres, reach_rad(within_nm + step_nm / 2)
