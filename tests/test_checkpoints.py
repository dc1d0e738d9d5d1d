"""Checkpoints: where they stand, where they must not, and what is refused."""

from __future__ import annotations

import math

import pytest
from examples import TIMES
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st
from routes import route_through

from plotter.earth.position import Position
from plotter.errors import CheckpointError
from plotter.route.checkpoints import MOST_CHECKPOINTS, checkpoints
from plotter.route.values import Route

WEST, MIDDLE, EAST = Position(44.0, -95.0), Position(44.3, -94.4), Position(44.0, -92.0)


def straight() -> Route:
    return route_through([WEST, EAST])


def bent() -> Route:
    return route_through([WEST, MIDDLE, EAST])


def test_they_stand_at_exact_multiples_on_the_line() -> None:
    """Against the other implementation of Karney's geodesics, to a metre."""
    route = straight()
    line = Geodesic.WGS84.InverseLine(
        WEST.latitude_deg, WEST.longitude_deg, EAST.latitude_deg, EAST.longitude_deg
    )
    marks = checkpoints(route, 10.0)
    assert len(marks) == math.floor(route.distance_nm / 10.0)
    for step, mark in enumerate(marks, start=1):
        there = line.Position(step * 10 * 1852.0)
        off = Geodesic.WGS84.Inverse(
            there["lat2"], there["lon2"], mark.position.latitude_deg, mark.position.longitude_deg
        )
        assert off["s12"] < 1.0
        assert mark.distance_from_start_nm == pytest.approx(10.0 * step, abs=1e-9)
        assert mark.distance_to_go_nm == pytest.approx(route.distance_nm - 10.0 * step)


def test_they_are_counted_along_the_whole_route() -> None:
    route = bent()
    marks = checkpoints(route, 10.0, clear_of_turns_nm=0.0)
    assert [mark.distance_from_start_nm for mark in marks] == pytest.approx(
        [10.0 * step for step in range(1, len(marks) + 1)]
    )
    assert {mark.leg_number for mark in marks} == {1, 2}


def test_or_afresh_from_each_turning_point() -> None:
    route = bent()
    first_nm = route.legs[0].distance_nm
    marks = checkpoints(route, 10.0, restart=True)
    second = [mark for mark in marks if mark.leg_number == 2]
    assert second[0].distance_from_start_nm == pytest.approx(first_nm + 10.0)


def test_numbers_and_names_run_through_the_route() -> None:
    marks = checkpoints(bent(), 7.0, restart=True)
    assert [mark.number for mark in marks] == list(range(1, len(marks) + 1))
    assert [mark.name for mark in marks] == [f"CP{mark.number}" for mark in marks]


def test_none_on_the_destination() -> None:
    route = straight()
    marks = checkpoints(route, route.distance_nm / 4.0)
    assert len(marks) == 3


def test_an_interval_longer_than_the_route_gives_none() -> None:
    assert checkpoints(straight(), 10_000.0) == ()


@pytest.mark.parametrize("every_nm", [0.0, -1.0, math.inf, -math.inf, math.nan])
def test_an_interval_that_is_no_distance_is_refused(every_nm: float) -> None:
    with pytest.raises(
        CheckpointError, match="NM is out of range; enter a distance above 0 NM, such as 10"
    ):
        checkpoints(straight(), every_nm)


@pytest.mark.parametrize("clear_nm", [-1.0, math.inf, math.nan])
def test_a_clearance_that_is_no_distance_is_refused(clear_nm: float) -> None:
    with pytest.raises(CheckpointError, match="0 or more"):
        checkpoints(straight(), 10.0, clear_of_turns_nm=clear_nm)


def test_more_than_can_be_used_are_refused_with_what_to_type() -> None:
    with pytest.raises(
        CheckpointError,
        match="gives more than 5,000 checkpoints over 130 NM",
    ):
        checkpoints(straight(), 0.001)
    least = math.ceil(10 * straight().distance_nm / MOST_CHECKPOINTS) / 10
    assert len(checkpoints(straight(), least)) <= MOST_CHECKPOINTS


@settings(max_examples=60 * TIMES, deadline=None)
@given(
    every_nm=st.floats(0.5, 80.0),
    clear_nm=st.floats(0.0, 5.0),
    restart=st.booleans(),
)
def test_laws_of_any_interval(every_nm: float, clear_nm: float, restart: bool) -> None:
    route = bent()
    marks = checkpoints(route, every_nm, restart, clear_nm)
    turn_nm = route.legs[0].distance_nm
    gone = [mark.distance_from_start_nm for mark in marks]
    assert gone == sorted(set(gone))
    assert all(0 < distance < route.distance_nm for distance in gone)
    assert all(abs(distance - turn_nm) >= clear_nm - 1e-9 for distance in gone)
    for mark in marks:
        start_nm = turn_nm if restart and mark.leg_number == 2 else 0.0
        steps = (mark.distance_from_start_nm - start_nm) / every_nm
        assert steps == pytest.approx(round(steps), abs=1e-6)
    for mark in marks:
        assert mark.distance_from_start_nm + mark.distance_to_go_nm == pytest.approx(
            route.distance_nm
        )
