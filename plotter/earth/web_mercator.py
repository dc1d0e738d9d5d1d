"""Where a line over the earth is straight on a Web Mercator map, and where it must be refined.

Web Mercator puts geodetic latitude into the sphere's formula (EPSG Guidance Note 7-2, method
1024), so on it neither a geodesic nor a rhumb line of the ellipsoid is quite straight.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import NamedTuple

from plotter.earth.angles import sine_cosine
from plotter.earth.units import ECCENTRICITY_SQUARED, EQUATORIAL_RADIUS_M

LIMIT_DEG = 85.0511287798066
"""The square map ends at this latitude [°], where the northing is π: atan(sinh π)."""


class Station(NamedTuple):
    """A point of a line: metres from its start, position [°], true course of the line [°T]."""

    along_m: float
    latitude_deg: float
    longitude_deg: float
    true_course_deg: float


def northing(latitude_deg: float) -> float:
    """Northing [rad] on the map of a unit sphere; beyond the limit it stays at the edge.

    >>> round(northing(45.0), 6), round(northing(90.0), 6)
    (0.881374, 3.141593)
    """
    clipped = max(-LIMIT_DEG, min(LIMIT_DEG, latitude_deg))
    return math.asinh(math.tan(math.radians(clipped)))


def refined(
    a: Station, b: Station, tolerance_m: float, at: Callable[[float], Station]
) -> Iterator[Station]:
    """Stations after a, up to b, between which straight strokes will do: halved until so."""
    if drawn_straight(a, b, tolerance_m):
        yield b
        return
    middle = at((a.along_m + b.along_m) / 2)
    yield from refined(a, middle, tolerance_m, at)
    yield from refined(middle, b, tolerance_m, at)


def drawn_straight(a: Station, b: Station, tolerance_m: float) -> bool:
    """Whether one straight stroke from a to b keeps within a tolerance [m] of the line.

    On the map an arc that leaves its chord at an angle δ is off it by length × δ / 4, were it a
    circle; a third is allowed for, with the larger δ of the two ends, so that a line that bends
    both ways is seen too. Off the map there is nothing to draw; a stroke that runs off it is held
    to the edge, and then the line may be off it by length × δ.
    """
    lats = abs(a.latitude_deg), abs(b.latitude_deg)
    if min(lats) >= LIMIT_DEG or b.along_m - a.along_m <= tolerance_m:
        return True
    east = math.radians(b.longitude_deg - a.longitude_deg)
    north = northing(b.latitude_deg) - northing(a.latitude_deg)
    stroke = math.atan2(east, north)
    bend = max(abs(math.remainder(_map_angle(end) - stroke, math.tau)) for end in (a, b))
    lowest_deg = min(lats) if a.latitude_deg * b.latitude_deg > 0.0 else 0.0
    length_m = math.hypot(east, north) * EQUATORIAL_RADIUS_M * sine_cosine(lowest_deg)[1]
    return length_m * bend / (1 if max(lats) >= LIMIT_DEG else 3) <= tolerance_m


def _map_angle(station: Station) -> float:
    """Direction [rad] of the line on the map; up to 0.2° off its true course."""
    sine, cosine = sine_cosine(station.true_course_deg)
    up = sine_cosine(station.latitude_deg)[0]
    squeeze = (1.0 - ECCENTRICITY_SQUARED) / (1.0 - ECCENTRICITY_SQUARED * up * up)
    return math.atan2(sine * squeeze, cosine)
