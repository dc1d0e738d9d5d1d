"""A track made into few points: none further off than the tolerance, by geodesics exactly."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from examples import TIMES
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Geod

from plotter.earth.geodesic import beside, distance_nm, measure
from plotter.earth.lines import _STRAY_PER_NM2, MOST_KEPT, thinned
from plotter.earth.position import Position
from plotter.errors import InputError

POINTS = st.lists(st.tuples(st.floats(-1.5, 1.5), st.floats(-1.5, 1.5)), min_size=2, max_size=40)
HOME = st.tuples(st.floats(-85.0, 85.0), st.floats(-180.0, 180.0))


def exactly_off_nm(start: Position, end: Position, between: list[Position]) -> float:
    """How far the furthest is off the geodesic from start to end, by the project's own measure."""
    if not between:
        return 0.0
    if distance_nm(start, end) < 1e-6:
        return max(distance_nm(start, each) for each in between)
    return max(abs(off) for _, off in beside(measure(start, end), between))


@settings(max_examples=80 * TIMES, deadline=None)
@given(HOME, POINTS, st.floats(0.05, 20.0))
def test_no_point_is_further_off_than_the_tolerance(
    home: tuple[float, float], points: list[tuple[float, float]], tolerance_nm: float
) -> None:
    lats = [home[0] + lat for lat, _ in points]
    lons = [(home[1] + lon + 180.0) % 360.0 - 180.0 for _, lon in points]
    track = [Position(lat, lon) for lat, lon in zip(lats, lons, strict=True)]
    kept, off_nm = thinned(lats, lons, tolerance_nm)
    assert kept[0] == 0
    assert kept[-1] == len(track) - 1
    assert kept == sorted(set(kept))
    assert off_nm <= tolerance_nm
    worst = max(
        exactly_off_nm(track[a], track[b], track[a + 1 : b]) for a, b in itertools.pairwise(kept)
    )
    assert worst <= off_nm + 1e-6
    assert off_nm <= worst * 1.011 + 0.01


def test_a_straight_line_is_its_two_ends() -> None:
    line = Geod(ellps="WGS84").npts(-96.0, 44.0, -89.4, 42.5, 5_000)
    lats, lons = [44.0, *(y for _, y in line), 42.5], [-96.0, *(x for x, _ in line), -89.4]
    kept, off_nm = thinned(lats, lons, 0.05)
    assert kept == [0, 5_001]
    assert off_nm < 0.03


def test_a_track_out_and_home_is_not_cut_short() -> None:
    lats = [44.0, 44.5, 45.0, 44.5, 44.0]
    assert thinned(lats, [-92.0] * 5, 0.5).kept == [0, 2, 4]


def test_a_track_that_goes_round_and_ends_where_it_began() -> None:
    turns = np.linspace(0.0, 2 * math.pi, 2_000)
    few = thinned(list(44 + np.sin(turns)), list(-92 + np.cos(turns)), 1.0)
    assert 8 < len(few.kept) < 60


def test_two_points_and_a_tolerance_of_nought_keep_all_that_turns() -> None:
    assert thinned([1.0, 2.0], [3.0, 4.0], 0.0).kept == [0, 1]
    assert thinned([1.0, 1.5, 1.0], [3.0, 4.0, 5.0], 0.0).kept == [0, 1, 2]


def test_too_many_turns_are_refused_with_a_larger_tolerance() -> None:
    zigzag = [44 + 0.1 * (i % 2) for i in range(2 * MOST_KEPT)]
    east = [-92 + 0.01 * i for i in range(2 * MOST_KEPT)]
    with pytest.raises(
        InputError, match=r"the track turns more than 500 times at a tolerance of 0\.5 NM"
    ):
        thinned(zigzag, east, 0.5)


@pytest.mark.parametrize("tolerance_nm", [-1.0, math.nan, math.inf])
def test_a_tolerance_that_is_none(tolerance_nm: float) -> None:
    with pytest.raises(InputError, match="NM is out of range; enter a number above 0"):
        thinned([0.0, 1.0], [0.0, 1.0], tolerance_nm)


def test_geodesics_stray_less_from_the_arc_than_is_allowed_for() -> None:
    """The allowance for the length of a leg, measured on 600 legs of every length and course."""
    random, geod = np.random.default_rng(7), Geod(ellps="WGS84")
    for _ in range(600):
        lat, lon = random.uniform(-85, 85), random.uniform(-180, 180)
        length_nm, course = random.uniform(100, 4_000), random.uniform(0, 360)
        end_lon, end_lat, _ = geod.fwd(lon, lat, course, length_nm * 1852)
        line = geod.npts(lon, lat, end_lon, end_lat, 31)
        lats, lons = np.radians([y for _, y in line]), np.radians([x for x, _ in line])
        points = np.column_stack(
            (np.cos(lats) * np.cos(lons), np.cos(lats) * np.sin(lons), np.sin(lats))
        )
        ends = [
            np.array([np.cos(b) * np.cos(a), np.cos(b) * np.sin(a), np.sin(b)])
            for a, b in (np.radians((lon, lat)), np.radians((end_lon, end_lat)))
        ]
        normal = np.cross(*ends)
        normal /= np.linalg.norm(normal)
        stray_nm = float(np.max(np.abs(np.arcsin(points @ normal)))) * 3443.9
        assert stray_nm < _STRAY_PER_NM2 * length_nm**2
