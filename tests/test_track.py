"""A sector flown on paper: the way out, the way down, and where they meet."""

from __future__ import annotations

import itertools

import pytest
from flights import aircraft, all_cruise, plan

from plotter.flight.air.sky import Sky
from plotter.flight.aircraft import Airspeed, VerticalRate
from plotter.flight.courses import courses
from plotter.flight.log import wishes_of
from plotter.flight.plan.values import GivenWind, LegNotes, Plan, PlannedWind
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
    down = list(backward(flight, 5500.0, 2428.0))[::-1]
    assert down[-1].end_nm == flight.courses[-1].end_nm
    assert (down[0].from_ft, down[-1].to_ft) == (5500.0, 2428.0)


@pytest.mark.parametrize("descent_fpm", [0.5, 0.7, 1.3, 20.0, 35.0, 50.0, 90.0])
@pytest.mark.parametrize("climb_kt", [40.0, 61.0, 80.0])
def test_nothing_is_lost_where_the_ways_out_and_down_are_joined(
    real_store: Store, descent_fpm: float, climb_kt: float
) -> None:
    """Stretches flown backward end a rounding away from where the next begins: all must stay."""
    plane = aircraft(
        climb=VerticalRate(100.0, Airspeed(climb_kt, "calibrated"), 20.0),
        descent=VerticalRate(descent_fpm, Airspeed(40.0), 3.0),
    )
    flight = sector(real_store, plan(route="KEAU KDLH", aircraft=plane), 6500.0)
    path = fly(flight, 913.0, 2428.0)
    assert path[0].start_nm == 0.0
    assert path[-1].end_nm == pytest.approx(flight.courses[-1].end_nm, abs=1e-6)
    for before, after in itertools.pairwise(path):
        assert after.start_nm == pytest.approx(before.end_nm, abs=1e-5)


@pytest.mark.parametrize("past_nm", [0.0, 1e-12, -1e-12, 1e-7])
def test_a_climb_that_ends_at_a_turning_point_leaves_nothing_over(
    real_store: Store, past_nm: float
) -> None:
    """Calm air and 4,000 ft at 500 ft/min and 80 kt: the climb takes 10.67 NM, as does leg 1."""
    notes = LegNotes(1, distance_nm=80.0 * 8.0 / 60.0 - past_nm)
    flight = sector(real_store, plan(route="KRST KLSE KEAU", legs=(notes,)), 5500.0, 5500.0)
    path = forward(flight, 1500.0)
    climb = [one for one in path if one.phase == "climb"]
    assert {one.course.leg.number for one in climb} == {1}
    assert sum(one.minutes for one in climb) == pytest.approx(8.0)


def test_a_climb_and_a_descent_may_fill_several_legs_each(real_store: Store) -> None:
    slow = aircraft(
        climb=VerticalRate(120.0, Airspeed(100.0), 12.0),
        descent=VerticalRate(100.0, Airspeed(120.0), 5.0),
    )
    flight = sector(real_store, plan(aircraft=slow), *3 * [7500.0])
    path = fly(flight, 1317.0, 2428.0)
    legs = {
        phase: {one.course.leg.number for one in path if one.phase == phase}
        for phase in ("climb", "cruise", "descent")
    }
    assert legs["climb"] == {1, 2}
    assert 3 in legs["descent"]
    # 6,183 ft up at 120 ft/min, whatever the turning points.
    assert sum(one.minutes for one in path if one.phase == "climb") == pytest.approx(6183 / 120)


def test_a_descent_may_begin_before_the_last_turning_point(real_store: Store) -> None:
    slow = aircraft(descent=VerticalRate(150.0, Airspeed(140.0), 7.0))
    flight = sector(real_store, plan(route="KRST KLSE KONA", aircraft=slow), 5500.0, 5500.0)
    path = fly(flight, 1317.0, 1656.0)
    down = [one for one in path if one.phase == "descent"]
    assert {one.course.leg.number for one in down} == {1, 2}
    assert sum(one.minutes for one in down) == pytest.approx((5500.0 - 1656.0) / 150.0, rel=1e-6)


def test_a_step_down_between_legs_is_a_descent_and_no_approach(real_store: Store) -> None:
    flight = sector(real_store, plan(), 9500.0, 4500.0, 8500.0)
    path = fly(flight, 1317.0, 2428.0)
    phases = [phase for phase, _ in itertools.groupby(path, key=lambda one: one.phase)]
    assert phases == ["climb", "cruise", "descent", "cruise", "climb", "cruise", "descent"]
    assert min(one.to_ft for one in path if one.course.leg.number == 2) == 4500.0


def test_a_cruise_below_the_pattern_has_no_descent(real_store: Store) -> None:
    flight = sector(real_store, plan(route="KRST KLSE"), 1500.0)
    path = fly(flight, 1317.0, 1656.0)
    assert [one.phase for one in path] == ["climb", "cruise"]
    assert path[-1].to_ft == 1500.0


def test_below_sea_level_the_climb_counts_every_foot(real_store: Store) -> None:
    flight = sector(real_store, plan(route="L06 KTRM"), 2500.0)
    path = forward(flight, -210.0)
    climb = [one for one in path if one.phase == "climb"]
    assert sum(one.minutes for one in climb) == pytest.approx(2710.0 / 500.0)
    assert climb[0].from_ft == -210.0
    assert climb[0].to_ft == 0.0


def test_a_climb_that_never_ends_fills_the_flight(real_store: Store) -> None:
    lame = aircraft(climb=VerticalRate(1.0, Airspeed(80.0), 12.0), descent=None)
    flight = sector(real_store, plan(route="KRST KLSE", aircraft=lame), 6500.0)
    path = fly(flight, 1317.0, 1655.0)
    assert {one.phase for one in path} == {"climb"}
    assert path[-1].to_ft == pytest.approx(1317.0 + sum(one.minutes for one in path))


def test_no_wind_is_asked_for_above_where_the_descent_begins(real_store: Store) -> None:
    """A gale at 12,500 ft that leg 1 has behind it would stop leg 3, which is flown far below."""
    gale = PlannedWind(12_500.0, GivenWind(346.0, "true", 170.0))
    sky = Sky((PlannedWind(9000.0, GivenWind(346.0, "true", 10.0)), gale))
    there = sector(real_store, plan(route="KDLH KEAU KLSE KEAU"), 12_500.0, 4500.0, 4500.0)
    path = fly(SectorFlight(there.courses, there.cruise_ft, there.aircraft, sky), 1428.0, 1913.0)
    last = [one for one in path if one.course.leg.number == 3]
    assert [one.phase for one in last].count("cruise") == 1
    assert path[-1].phase == "descent"
    assert {round(one.triangle.wind.speed_kt) for one in last} == {10}
