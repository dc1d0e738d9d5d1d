"""Caps on the earth: the rough cut before geodesics, a matter of directions from its centre.

Neither poles nor the 180th meridian are special to a direction, and a cap drawn on a sphere that
is small enough holds whatever is near enough on the ellipsoid.
"""

from __future__ import annotations

import math

from plotter.earth.ellipsoid import ECCENTRICITY_SQUARED, EQUATORIAL_RADIUS_M
from plotter.earth.units import metres_from_nm

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
