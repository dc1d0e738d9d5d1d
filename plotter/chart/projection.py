"""A leg as a straight pencil line on a chart: how long it is on the paper, which way it runs.

The one home of pyproj's projections. Aeronautical charts are Lambert conformal conic: a straight
line on one is nearly a geodesic, its scale is right on two standard parallels only, and meridians
run together towards the pole, so that the course depends on the meridian a plotter is laid on.

Sources: J. P. Snyder, "Map Projections: A Working Manual", USGS Professional Paper 1395 (1987),
chapter 15; the parallels of a band lie a sixth of it from its edges (same chapter, "one-sixth"
rule), which in bands of 8° gives 33°20' and 38°40', those of the FAA's sectional charts between
32° and 40° N. That other bands follow the same rule is from memory: the chart prints its own.

The trap: pyproj wants longitude first.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from plotter.earth.angles import course_360, half_turn
from plotter.earth.geodesic import Line
from plotter.earth.position import Position
from plotter.earth.units import nm_from_metres
from plotter.errors import InputError

if TYPE_CHECKING:
    from pyproj import Proj

BAND_DEG = 8.0
"""Height of the bands of latitude [°] that share a pair of standard parallels."""
PARALLEL_IN_BAND = 1.0 / 6.0
HIGHEST_LATITUDE_DEG = 80.0
"""Conic charts end here; nearer the pole charts are stereographic (ICAO Annex 4, from memory)."""
LONGEST_NM = 600.0
"""Longer than any leg that is measured on one sheet: a sectional is some 8° wide and 4° high."""


@dataclass(frozen=True, slots=True)
class DrawnLine:
    """A straight line on a conformal conic chart between the ends of a leg.

    ``length_nm`` [NM] is what it measures on the paper at the chart's printed scale. Courses [°T]
    are read against the meridian at the middle, the start and the end.
    """

    length_nm: float
    true_course_deg: float
    start_true_course_deg: float
    end_true_course_deg: float


def standard_parallels(latitude_deg: float) -> tuple[float, float]:
    """The standard parallels [°] of the band of 8° that a latitude lies in.

    >>> [round(each * 60) for each in standard_parallels(35.0)] == [33 * 60 + 20, 38 * 60 + 40]
    True
    """
    band = min(math.floor(abs(latitude_deg) / BAND_DEG), math.floor(80.0 / BAND_DEG) - 1)
    low = (band + PARALLEL_IN_BAND) * BAND_DEG
    high = (band + 1.0 - PARALLEL_IN_BAND) * BAND_DEG
    return (low, high) if latitude_deg >= 0.0 else (-high, -low)


def cone_constant(latitude_deg: float) -> float:
    """By how many degrees two meridians a degree of longitude apart turn on the chart of a band.

    South of the equator they turn the other way, which the sign says. Beyond 80° the band that
    ends there is meant.

    >>> f"{cone_constant(36.0):.4f} {cone_constant(-36.0):.4f}"
    '0.5880 -0.5880'
    """
    chart = _conic(standard_parallels(latitude_deg))
    within = max(-HIGHEST_LATITUDE_DEG, min(latitude_deg, HIGHEST_LATITUDE_DEG))
    return float(chart.get_factors(1.0, within).meridian_convergence)


def drawn_line(line: Line) -> DrawnLine:
    """A measured line drawn straight on the chart of the band its middle lies in.

    Raises InputError, code ``off-chart``, beyond 80° of latitude and for more than 600 NM.

    >>> from plotter.earth.geodesic import measure
    >>> drawn = drawn_line(measure(Position(44.0, -92.0), Position(44.0, -90.0)))
    >>> f"{drawn.length_nm:.2f} {drawn.true_course_deg:.2f} {drawn.end_true_course_deg:.2f}"
    '86.52 90.00 90.69'
    """
    _check(line)
    parallels = standard_parallels(line.middle.latitude_deg)
    chart = _conic(parallels)
    middle_deg = line.middle.longitude_deg
    ends = [_onto(chart, middle_deg, each) for each in (line.start, line.end)]
    across, up = ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]
    halfway = chart((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2, inverse=True)
    grid_deg = math.degrees(math.atan2(across, up))
    start, end = (half_turn(each.longitude_deg - middle_deg) for each in (line.start, line.end))
    cone = chart.get_factors(1.0, line.middle.latitude_deg).meridian_convergence
    return DrawnLine(
        length_nm=nm_from_metres(math.hypot(across, up)),
        true_course_deg=course_360(grid_deg + cone * halfway[0]),
        start_true_course_deg=course_360(grid_deg + cone * start),
        end_true_course_deg=course_360(grid_deg + cone * end),
    )


def _check(line: Line) -> None:
    if abs(line.middle.latitude_deg) > HIGHEST_LATITUDE_DEG:
        raise InputError(
            "off-chart",
            latitude_deg=abs(line.middle.latitude_deg),
            highest_deg=HIGHEST_LATITUDE_DEG,
        )
    if line.distance_nm > LONGEST_NM:
        raise InputError("off-chart.long", distance_nm=line.distance_nm, longest_nm=LONGEST_NM)


@lru_cache(maxsize=64)
def _conic(parallels_deg: tuple[float, float]) -> Proj:
    """The projection of a band, its longitudes counted from the meridian that is put in the middle.

    Which meridian stands upright turns the whole sheet and changes no length and no course.
    """
    from pyproj import Proj

    low, high = parallels_deg
    return Proj(proj="lcc", lat_1=low, lat_2=high, lat_0=(low + high) / 2, lon_0=0, ellps="WGS84")


def _onto(chart: Proj, middle_longitude_deg: float, place: Position) -> tuple[float, float]:
    """Where a position lies on the sheet [m, across and up]; longitude first, as pyproj wants."""
    from_middle = half_turn(place.longitude_deg - middle_longitude_deg)
    across, up = chart(from_middle, place.latitude_deg)
    return float(across), float(up)
