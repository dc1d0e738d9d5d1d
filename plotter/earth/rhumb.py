"""Rhumb lines (lines of constant true course) on the WGS 84 ellipsoid, in plain arithmetic.

A rhumb line is straight on a Mercator chart. Its course follows from the differences of longitude
and of isometric latitude (the chart's northing), its length from the difference of meridian
distance. Near east–west both of the latter vanish together and only their ratio matters, so
neither is taken by subtracting two numbers that are nearly equal: each difference is written as
a product that keeps all its digits (a divided difference).

Sources: isometric latitude, J. P. Snyder, "Map Projections: A Working Manual", USGS PP 1395
(1987), eq. 3-7; meridian distance, the series of F. R. Helmert (1880) in the third flattening,
in the form of C. F. F. Karney, "On auxiliary latitudes", Survey Review (2023); why divided
differences, C. F. F. Karney, "The area of rhumb polygons", Stud. Geophys. Geod. 68 (2024).
"""

from __future__ import annotations

import math

from plotter.earth.angles import longitude_change, sine_cosine
from plotter.earth.units import ECCENTRICITY_SQUARED, EQUATORIAL_RADIUS_M, THIRD_FLATTENING
from plotter.errors import PositionError

_E = math.sqrt(ECCENTRICITY_SQUARED)
_N = THIRD_FLATTENING
_RECTIFYING_RADIUS_M = EQUATORIAL_RADIUS_M / (1 + _N) * (1 + _N**2 / 4 + _N**4 / 64 + _N**6 / 256)
_RECTIFYING_FROM_GEODETIC = (
    -3 / 2 * _N + 9 / 16 * _N**3 - 3 / 32 * _N**5,
    15 / 16 * _N**2 - 15 / 32 * _N**4 + 135 / 2048 * _N**6,
    -35 / 48 * _N**3 + 105 / 256 * _N**5,
    315 / 512 * _N**4 - 189 / 512 * _N**6,
    -693 / 1280 * _N**5,
    1001 / 2048 * _N**6,
)
_GEODETIC_FROM_RECTIFYING = (
    3 / 2 * _N - 27 / 32 * _N**3 + 269 / 512 * _N**5,
    21 / 16 * _N**2 - 55 / 32 * _N**4 + 6759 / 4096 * _N**6,
    151 / 96 * _N**3 - 417 / 128 * _N**5,
    1097 / 512 * _N**4 - 15543 / 2560 * _N**6,
    8011 / 2560 * _N**5,
    293393 / 61440 * _N**6,
)
_POLE_SLACK_M = 1e-6
"""A line may overshoot a pole by this much [m] through rounding and still end on it."""


def isometric_change(lat1_deg: float, lat2_deg: float) -> float:
    """Change of isometric latitude [rad] between two latitudes [°]; infinite to or from a pole.

    The sine of the far latitude less that of the near one is taken as a product, twice the cosine
    of the mean times the sine of half the change, with the mean reckoned from the nearer pole.

    >>> round(isometric_change(0.0, 45.0), 9), isometric_change(10.0, 90.0)
    (0.876634653, inf)
    """
    if lat1_deg == lat2_deg:
        return 0.0
    sin1, cos1 = sine_cosine(lat1_deg)
    sin2, cos2 = sine_cosine(lat2_deg)
    pole_deg = math.copysign(90.0, lat1_deg + lat2_deg)
    mean_from_pole_deg = abs((pole_deg - lat1_deg) + (pole_deg - lat2_deg)) / 2
    half_change_deg = (lat2_deg - lat1_deg) / 2
    rise = 2.0 * sine_cosine(mean_from_pole_deg)[0] * sine_cosine(half_change_deg)[0]
    if cos1 == 0.0 or cos2 == 0.0:
        return math.copysign(math.inf, rise)
    flattened = math.atanh(_E * rise / (1.0 - ECCENTRICITY_SQUARED * sin1 * sin2))
    return math.asinh(rise / (cos1 * cos2)) - _E * flattened


def meridian_change_m(lat1_deg: float, lat2_deg: float) -> float:
    """Distance [m] along a meridian between two latitudes [°], negative southward.

    >>> round(meridian_change_m(0.0, 90.0), 3)
    10001965.729
    """
    change, both = math.radians(lat2_deg - lat1_deg), math.radians(lat1_deg + lat2_deg)
    waves = sum(
        coefficient * 2.0 * math.cos(k * both) * math.sin(k * change)
        for k, coefficient in enumerate(_RECTIFYING_FROM_GEODETIC, 1)
    )
    return _RECTIFYING_RADIUS_M * (change + waves)


def parallel_radius_m(lat_deg: float) -> float:
    """Radius [m] of the circle of latitude [°]: metres a radian of longitude."""
    sine, cosine = sine_cosine(lat_deg)
    return EQUATORIAL_RADIUS_M * cosine / math.sqrt(1.0 - ECCENTRICITY_SQUARED * sine * sine)


def bend_per_m(lat_deg: float, course_deg: float) -> float:
    """How fast a rhumb line turns left of the geodesic it touches [rad a metre].

    Eastbound in the northern hemisphere it must keep turning left to stay on its course.

    >>> bend_per_m(0.0, 90.0), bend_per_m(45.0, 90.0) > 0.0, bend_per_m(45.0, 180.0)
    (0.0, True, 0.0)
    """
    if abs(lat_deg) == 90.0:
        return 0.0
    return sine_cosine(course_deg)[0] * sine_cosine(lat_deg)[0] / parallel_radius_m(lat_deg)


def inverse(lat1: float, lon1: float, lat2: float, lon2: float) -> tuple[float, float]:
    """True course [°T, −180…180] and length [m] of the shorter rhumb line between two points [°].

    Between opposite meridians the two ways are equally long and the eastward one is given. To or
    from a pole the line is a meridian: there longitude has no meaning and plays no part.

    >>> inverse(40.0, -75.0, 40.0, -74.0)[0]
    90.0
    >>> inverse(40.0, 0.0, 90.0, 90.0)[0]
    0.0
    """
    east = math.radians(longitude_change(lon1, lon2))
    north = isometric_change(lat1, lat2)
    if math.isinf(north):
        return (0.0 if north > 0.0 else 180.0), abs(meridian_change_m(lat1, lat2))
    course = math.degrees(math.atan2(east, north))
    return course, math.hypot(east, north) * _metres_a_radian(lat1, lat2)


def direct(lat1: float, lon1: float, course_deg: float, length_m: float) -> tuple[float, float]:
    """Latitude and longitude [°, unrolled: it may pass ±180] after a length [m] on a course [°T].

    Raises PositionError where the line would run past a pole, or leave one on anything but a
    meridian: a rhumb line has no course there.

    >>> [round(x, 6) for x in direct(40.0, -75.0, 90.0, 1852.0)]
    [40.0, -74.978312]
    >>> direct(89.0, 0.0, 0.0, 200000.0)
    Traceback (most recent call last):
    plotter.errors.PositionError: the rhumb line runs past a pole; make it shorter
    """
    sine, cosine = sine_cosine(course_deg)
    lat2 = _latitude_after(lat1, length_m * cosine)
    if abs(lat1) == 90.0 and sine != 0.0:
        raise PositionError("beyond-pole.leaves")
    if sine == 0.0 or abs(lat2) == 90.0:
        return lat2, lon1
    return lat2, lon1 + math.degrees(length_m * sine / _metres_a_radian(lat1, lat2))


def _metres_a_radian(lat1_deg: float, lat2_deg: float) -> float:
    """Metres a radian of longitude between two latitudes: meridian over isometric change."""
    isometric = isometric_change(lat1_deg, lat2_deg)
    if isometric == 0.0:
        return parallel_radius_m(lat1_deg)
    return meridian_change_m(lat1_deg, lat2_deg) / isometric


def _latitude_after(lat1_deg: float, north_m: float) -> float:
    if north_m == 0.0:
        return lat1_deg
    limit_m = meridian_change_m(0.0, 90.0)
    distance_m = meridian_change_m(0.0, lat1_deg) + north_m
    if abs(distance_m) > limit_m + _POLE_SLACK_M:
        raise PositionError("beyond-pole")
    if abs(distance_m) >= limit_m:
        return math.copysign(90.0, distance_m)
    rectifying = distance_m / _RECTIFYING_RADIUS_M
    waves = sum(
        coefficient * math.sin(2 * k * rectifying)
        for k, coefficient in enumerate(_GEODETIC_FROM_RECTIFYING, 1)
    )
    return math.degrees(rectifying + waves)
