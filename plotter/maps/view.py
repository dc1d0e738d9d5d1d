"""The stretch of Web Mercator a map must fill, whatever the shape of the screen.

Longitudes here are unrolled: a view across the antimeridian runs past ±180 without a jump.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from plotter.earth.web_mercator import LIMIT_DEG, northing

WIDEST_ASPECT = 1.9
TALLEST_ASPECT = 0.66
MARGIN = 1.45
"""Room round the route: 12 % for the frame and up to 2^¼ from zooming in quarter steps."""
LEAST_SPAN_DEG = 0.8
"""A view is never less than this across: a two-mile route still shows where it is."""


@dataclass(frozen=True, slots=True)
class View:
    """A box in degrees, longitudes unrolled: ``west`` < ``east``, ``south`` < ``north``."""

    south: float
    west: float
    north: float
    east: float

    def __post_init__(self) -> None:
        if not (self.south < self.north and self.west < self.east):
            raise ValueError(f"a view that is no box: {self}")

    @property
    def centre(self) -> tuple[float, float]:
        """Latitude and longitude [°] of the middle as it is drawn."""
        middle = (mercator(self.south) + mercator(self.north)) / 2
        return unmercator(middle), (self.west + self.east) / 2

    @property
    def breadth_deg(self) -> float:
        """Its height or, if more, its width at mid-latitude, in degrees of a great circle."""
        across = (self.east - self.west) * math.cos(math.radians(self.centre[0]))
        return max(self.north - self.south, across)

    def grown(self, factor: float) -> View:
        """This view about its middle, ``factor`` times as wide and as high as it is drawn."""
        low, high = mercator(self.south), mercator(self.north)
        across, up = (self.east - self.west) * factor / 2, (high - low) * factor / 2
        return _box((self.west + self.east) / 2, (low + high) / 2, across, up)


def mercator(latitude_deg: float) -> float:
    """Height above the equator as Web Mercator draws it, in degrees of longitude.

    >>> mercator(0.0), round(mercator(60.0), 4)
    (0.0, 75.4561)
    >>> mercator(90.0) == mercator(LIMIT_DEG)
    True
    """
    return math.degrees(northing(latitude_deg))


def unmercator(height_deg: float) -> float:
    """The latitude [°] drawn at that height; the inverse of :func:`mercator`.

    >>> round(unmercator(mercator(60.0)), 9)
    60.0
    """
    return math.degrees(math.atan(math.sinh(math.radians(height_deg))))


def bounds(points: Iterable[tuple[float, float]]) -> View:
    """The smallest box round (latitude, unrolled longitude) points, never without area."""
    latitudes, longitudes = zip(*points, strict=True)
    hair = 1e-6
    south = max(-LIMIT_DEG, min(LIMIT_DEG - hair, *latitudes))
    north = min(LIMIT_DEG, max(south + hair, *latitudes))
    west = min(longitudes)
    return View(south, west, north, max(west + hair, *longitudes))


def view_round(route: View) -> View:
    """The view that holds a route on a wide screen and on a tall one alike."""
    low, high = mercator(route.south), mercator(route.north)
    across = max(route.east - route.west, LEAST_SPAN_DEG)
    up = max(high - low, LEAST_SPAN_DEG)
    half_across = max(across, up * WIDEST_ASPECT) * MARGIN / 2
    half_up = max(up, across / TALLEST_ASPECT) * MARGIN / 2
    return _box((route.west + route.east) / 2, (low + high) / 2, half_across, half_up)


def _box(x: float, y: float, half_across: float, half_up: float) -> View:
    return View(unmercator(y - half_up), x - half_across, unmercator(y + half_up), x + half_across)
