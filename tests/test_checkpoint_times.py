"""Checkpoints every so many minutes: through climbs, legs and landings; where none may stand."""

from __future__ import annotations

import itertools
from typing import Any

import pytest
from flights import all_cruise, plan, wind

from plotter.errors import CheckpointError
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog, Sector
from plotter.flight.plan.values import LegNotes, Stop
from plotter.places.store import Store
from plotter.route.checkpoints import DEFAULT_CLEAR_OF_TURNS_NM


def timed(store: Store, every_min: float, **changes: Any) -> NavigationLog:
    return navigation_log(plan(every_min=every_min, **changes), store)


def minutes_of(sector: Sector) -> list[float]:
    """When each checkpoint is passed, since take-off."""
    return [row.elapsed_min for row in sector.rows if row.end.kind == "checkpoint"]


def test_calm_air_and_one_speed_make_them_equal_miles(real_store: Store) -> None:
    """110 kt for 6 minutes is 11 NM."""
    log = timed(real_store, 6.0, aircraft=all_cruise(), winds=(wind(0.0, 0.0),))
    along = [mark.distance_from_start_nm for mark in log.plot.checkpoints]
    # One is left out where it would stand on a turning point.
    gaps = [after - before for before, after in itertools.pairwise(along)]
    assert all(gap / 11.0 == pytest.approx(round(gap / 11.0)) for gap in gaps)
    assert along[0] == pytest.approx(11.0)


def test_each_take_off_starts_the_clock_again(real_store: Store) -> None:
    log = timed(real_store, 8.0, stops=(Stop("KEAU", 25.0),))
    for sector in log.sectors:
        times = minutes_of(sector)
        assert times
        for minutes in times:
            assert minutes / 8.0 == pytest.approx(round(minutes / 8.0))


def test_with_restart_each_turning_point_and_each_landing_does(real_store: Store) -> None:
    log = timed(real_store, 5.0, restart=True, stops=(Stop("KEAU", 25.0),))
    for sector in log.sectors:
        since = 0.0
        for row in sector.rows:
            since += row.ete_min
            if row.end.kind == "checkpoint":
                assert since / 5.0 == pytest.approx(round(since / 5.0))
            elif row.end.kind == "waypoint":
                since = 0.0


def test_they_are_numbered_through_in_the_order_of_flight(real_store: Store) -> None:
    log = timed(real_store, 5.0, stops=(Stop("KEAU", 25.0),))
    named = [row.end.name for row in log.rows if row.end.kind == "checkpoint"]
    assert named == [f"CP{k}" for k in range(1, len(named) + 1)]
    along = [mark.distance_from_start_nm for mark in log.plot.checkpoints]
    assert along == sorted(along)


def test_none_stands_close_to_a_turning_point(real_store: Store) -> None:
    for every_min in (1.0, 1.7, 3.0):
        log = timed(real_store, every_min)
        turns = [0.0, *itertools.accumulate(leg.distance_nm for leg in log.plot.route.legs)]
        for mark in log.plot.checkpoints:
            away = min(abs(mark.distance_from_start_nm - turn) for turn in turns)
            assert away >= DEFAULT_CLEAR_OF_TURNS_NM - 1e-6


def test_an_interval_longer_than_the_flight_gives_none(real_store: Store) -> None:
    log = timed(real_store, 600.0)
    assert log.plot.checkpoints == ()
    assert "far-apart" in {one.code for one in log.cautions}


def test_far_too_many_are_refused_with_what_would_do(real_store: Store) -> None:
    with pytest.raises(CheckpointError, match=r"write 0\.1 or more"):
        timed(real_store, 0.01)
    assert len(timed(real_store, 0.1).plot.checkpoints) > 1000


def test_on_a_leg_of_typed_length_they_keep_their_share_of_the_ground(real_store: Store) -> None:
    """Half of a leg typed twice as long is half of the leg."""
    own = timed(
        real_store,
        30.0,
        route="KRST KBIL",
        aircraft=all_cruise(fuel_on_board=53.0),
        winds=(wind(0.0, 0.0),),
        legs=(LegNotes(1, distance_nm=1400.0),),
    )
    mark = own.plot.checkpoints[0]
    share = 55.0 / 1400.0
    length = own.plot.route.distance_nm
    assert mark.distance_from_start_nm == pytest.approx(share * length)
    assert mark.distance_to_go_nm == pytest.approx((1.0 - share) * length)


def test_a_headwind_brings_them_closer(real_store: Store) -> None:
    with_it, against = (
        timed(real_store, 10.0, route="KRST KLSE", winds=(wind(direction, 30.0),))
        for direction in (272.0, 92.0)
    )
    first = [log.plot.checkpoints[0].distance_from_start_nm for log in (with_it, against)]
    assert first[0] > first[1]
