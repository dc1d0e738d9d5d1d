"""A sector flown on paper: the way out, the way down, and where they meet."""

from __future__ import annotations

import itertools

import pytest
from flights import aircraft, all_cruise, plan

from plotter.flight.aircraft import Airspeed, VerticalRate
from plotter.flight.courses import courses
from plotter.flight.log import wishes_of
from plotter.flight.plan import Plan
from plotter.flight.sky import Sky
from plotter.flight.track import SectorFlight, backward, fly, forward
from plotter.places.store import Store
from plotter.route.measuring import FlightMagnetism
from plotter.route.plotting import plot_route


def sector(store: Store, made: Plan, *altitudes_ft: float) -> SectorFlight:
    wishes = wishes_of(made)
    route = plot_route(made.route, store, wishes).route
    flown_on = courses(route, made, FlightMagnetism(wishes.date, wishes.altitude_ft, False))
    return SectorFlight(flown_on, altitudes_ft, made.aircraft, Sky())


def test_out_and_down_meet_in_calm_air_where_arithmetic_says(real_store: Store) -> None:
    flight = sector(real_store, plan(route="KRST KLSE"), 5500.0)
    path = fly(flight, 1500.0, 1500.0)
    # Up 4,000 ft at 500 ft/min and 80 kt: 8 min, 10.67 NM. Down at 500 ft/min and 115 kt: 15.33 NM.
    toc = next(one for one in path if one.phase == "cruise").start_nm
    tod = next(one for one in path if one.phase == "descent").start_nm
    assert toc == pytest.approx(8.0 / 60.0 * 80.0)
    assert tod == pytest.approx(flight.courses[-1].end_nm - 8.0 / 60.0 * 115.0)


def test_a_short_flight_peaks_where_both_lines_cross(real_store: Store) -> None:
    flight = sector(real_store, plan(route="KRST KLSE"), 40_000.0)
    path = fly(flight, 1500.0, 1500.0)
    length_nm = flight.courses[-1].end_nm
    # Up gains 375 ft a mile (500 × 60 / 80), down loses 261 ft a mile (500 × 60 / 115).
    up, down = 500.0 * 60.0 / 80.0, 500.0 * 60.0 / 115.0
    peak_nm = down * length_nm / (up + down)
    assert max(one.to_ft for one in path) == pytest.approx(1500.0 + up * peak_nm, rel=1e-6)


def test_stretches_join_without_gap_or_jump(real_store: Store) -> None:
    flight = sector(real_store, plan(), 5500.0, 4500.0, 8500.0)
    path = fly(flight, 1317.0, 2428.0)
    for before, after in itertools.pairwise(path):
        assert after.start_nm == pytest.approx(before.end_nm, abs=1e-5)
        assert after.from_ft == pytest.approx(before.to_ft, abs=0.1)
    assert path[-1].end_nm == pytest.approx(flight.courses[-1].end_nm)


def test_without_rates_altitude_changes_at_the_turning_point(real_store: Store) -> None:
    flight = sector(real_store, plan(aircraft=all_cruise()), 5500.0, 4500.0, 8500.0)
    path = fly(flight, 1317.0, 2428.0)
    assert [one.phase for one in path] == ["cruise"] * 3
    assert [one.to_ft for one in path] == [5500.0, 4500.0, 8500.0]


def test_a_field_too_high_above_its_neighbour_gets_no_descent(real_store: Store) -> None:
    slow = aircraft(descent=VerticalRate(50.0, Airspeed(180.0), 5.0))
    flight = sector(real_store, plan(route="KRST KONA", aircraft=slow), 9500.0)
    path = fly(flight, 9000.0, 1500.0)
    assert path[-1].phase == "cruise"


def test_a_stretch_cut_in_two_is_the_same_stretch(real_store: Store) -> None:
    flight = sector(real_store, plan(route="KRST KLSE"), 5500.0)
    one = forward(flight, 1500.0)[0]
    first, second = one.cut(one.start_nm + one.distance_nm / 3.0)
    assert first.minutes + second.minutes == pytest.approx(one.minutes)
    assert first.fuel + second.fuel == pytest.approx(one.fuel)
    assert first.to_ft == second.from_ft == pytest.approx(one.altitude_at(first.end_nm))


def test_the_descent_ends_at_the_end(real_store: Store) -> None:
    flight = sector(real_store, plan(), 5500.0, 5500.0, 5500.0)
    down = backward(flight, 5500.0, 2428.0)
    assert down[-1].end_nm == flight.courses[-1].end_nm
    assert (down[0].from_ft, down[-1].to_ft) == (5500.0, 2428.0)
