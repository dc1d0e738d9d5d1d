"""Where a stroke on the web map may stand for a line."""

from __future__ import annotations

import math

import pytest

from plotter.earth.web_mercator import LIMIT_DEG, Station, drawn_straight, northing, refined


def test_the_square_map_ends_where_its_northing_is_pi() -> None:
    assert northing(LIMIT_DEG) == pytest.approx(math.pi, abs=1e-12)
    assert northing(90.0) == northing(LIMIT_DEG) == -northing(-90.0)


def test_a_parallel_is_straight_and_its_geodesic_is_not() -> None:
    """About 100 NM at 45° N: the geodesic leaves at 89.17° and is 0.36 NM off in the middle."""
    level = Station(0.0, 45.0, 0.0, 90.0), Station(185_800.0, 45.0, 2.36, 90.0)
    bulged = Station(0.0, 45.0, 0.0, 89.166), Station(185_800.0, 45.0, 2.36, 90.834)
    assert drawn_straight(*level, 1.0)
    assert not drawn_straight(*bulged, 0.36 * 1852.0)
    assert drawn_straight(*bulged, 0.6 * 1852.0)


def test_a_line_that_bends_both_ways_is_seen() -> None:
    """Its middle is on the stroke; its ends are not along it."""
    ends = Station(0.0, -10.0, 0.0, 30.0), Station(4e6, 10.0, 20.0, 30.0)
    assert not drawn_straight(*ends, 1000.0)


def test_beyond_the_map_there_is_nothing_to_refine() -> None:
    ends = Station(0.0, 86.0, 0.0, 0.0), Station(9e5, 86.0, 180.0, 180.0)
    assert drawn_straight(*ends, 1.0)


def test_halving_ends_at_the_tolerance() -> None:
    """Even for a line that never becomes straight, here one that only ever points north."""
    a, b = Station(0.0, 0.0, 0.0, 0.0), Station(8000.0, 0.0, 1.0, 0.0)
    stations = list(refined(a, b, 1000.0, lambda m: Station(m, 0.0, m / 8000.0, 0.0)))
    assert len(stations) == 8
    assert stations[-1] == b
    assert [station.along_m for station in stations] == [1000.0 * k for k in range(1, 9)]
