"""Laws every navigation log keeps, whatever the wind, the aircraft and the checkpoints."""

from __future__ import annotations

import dataclasses
import datetime as dt
import itertools
import math

import numpy as np
import pytest
from examples import TIMES
from flights import aircraft, plan, wind
from hypothesis import given, settings
from hypothesis import strategies as st

from plotter.earth.angles import half_turn
from plotter.errors import InputError
from plotter.flight.aircraft import Airspeed, Cruise, VerticalRate
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import Plan, PlannedWind, Stop
from plotter.places.store import Store

ROUTES = ("KRST KLSE KEAU KDLH", "KRST KONA", "KBOI KSUN KTWF", "KRST KLSE", "PANC PADL PADK")
winds = st.builds(
    wind,
    st.integers(0, 360).map(float),
    st.integers(0, 45).map(float),
    st.sampled_from([3000.0, 6500.0, 9500.0]),
)
several_winds = st.lists(winds, min_size=1, max_size=3, unique_by=lambda one: one.altitude_ft)
speeds = st.integers(75, 180).map(float)
rates = st.builds(
    VerticalRate, st.integers(150, 1500).map(float), speeds.map(Airspeed), st.just(11.0)
)
planes = st.builds(
    lambda cruise, climb, descent: aircraft(
        cruise=Cruise(Airspeed(cruise), 8.5), climb=climb, descent=descent
    ),
    speeds,
    st.none() | rates,
    st.none() | rates,
)


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """A plan that can be flown: altitudes above every field, no wind too strong for it."""
    route = draw(st.sampled_from(ROUTES))
    stops = (Stop("KLSE", 20.0, 0.0),) if route.startswith("KRST KLSE K") else ()
    return plan(
        route=route,
        aircraft=draw(planes),
        winds=tuple(draw(several_winds)),
        cruise_altitudes_ft=(float(draw(st.integers(65, 125)) * 100),),
        every_nm=float(draw(st.integers(3, 60))),
        stops=draw(st.sampled_from([(), stops])),
    )


def log_of(made: Plan, store: Store) -> NavigationLog:
    return navigation_log(made, store)


@settings(max_examples=60 * TIMES)
@given(made=plans())
def test_every_triangle_closes(made: Plan, real_store: Store) -> None:
    """The way through the air and the wind add up to the way over the ground, row by row."""
    for row in log_of(made, real_store).rows:
        t = row.triangle
        heading, course = math.radians(t.true_heading_deg), math.radians(t.true_course_deg)
        blowing_to = math.radians(t.wind.from_true_deg + 180.0)
        for part in (math.sin, math.cos):
            through_air = t.true_airspeed_kt * part(heading)
            over_ground = t.groundspeed_kt * part(course)
            assert through_air + t.wind.speed_kt * part(blowing_to) == pytest.approx(
                over_ground, abs=1e-6
            )


@settings(max_examples=60 * TIMES)
@given(made=plans())
def test_headings_follow_from_one_another_and_back(made: Plan, real_store: Store) -> None:
    for row in log_of(made, real_store).rows:
        east = row.course.variation_deg_east
        t = row.triangle
        wca = half_turn(t.true_heading_deg - t.true_course_deg)
        assert wca == pytest.approx(t.wind_correction_angle_deg, abs=1e-9)
        back = half_turn(row.magnetic_heading_deg + east - t.true_heading_deg)
        assert back == pytest.approx(0.0, abs=1e-9)


@settings(max_examples=60 * TIMES)
@given(made=plans())
def test_the_compass_heading_is_the_magnetic_one_by_the_card(made: Plan, real_store: Store) -> None:
    """The card of the tests, FOR 0 90 180 270 STEER 2 91 178 269, in proportion between."""
    for row in log_of(made, real_store).rows:
        card = float(np.interp(row.magnetic_heading_deg, [0, 90, 180, 270, 360], [2, 1, -2, -1, 2]))
        assert row.compass_card_correction_deg == pytest.approx(card, abs=1e-9)
        wanted = row.magnetic_heading_deg + card
        assert half_turn(row.compass_heading_deg - wanted) == pytest.approx(0.0, abs=1e-9)


@settings(max_examples=60 * TIMES)
@given(made=plans())
def test_rows_add_up_to_totals_and_fuel_only_falls(made: Plan, real_store: Store) -> None:
    log = log_of(made, real_store)
    for sector in log.sectors:
        rows = sector.rows
        assert sum(row.ete_min for row in rows) == pytest.approx(sector.ete_min)
        assert rows[-1].elapsed_min == pytest.approx(sector.ete_min)
        assert sector.landing - sector.take_off == pytest.approx(
            dt.timedelta(minutes=sector.ete_min), abs=dt.timedelta(milliseconds=1)
        )
        assert sum(row.fuel_used for row in rows) == pytest.approx(sector.fuel.flown)
        assert rows[-1].fuel_remaining == pytest.approx(sector.fuel.remaining)
        left = [sector.fuel.at_start, *(row.fuel_remaining for row in rows)]
        assert all(later <= before for before, later in itertools.pairwise(left))
    assert log.distance_nm == pytest.approx(log.plot.route.distance_nm, abs=1e-4)


@settings(max_examples=60 * TIMES)
@given(made=plans())
def test_distance_over_groundspeed_is_time(made: Plan, real_store: Store) -> None:
    for row in log_of(made, real_store).rows:
        assert row.distance_nm / row.triangle.groundspeed_kt * 60.0 == pytest.approx(row.ete_min)


@settings(max_examples=60 * TIMES)
@given(made=plans())
def test_altitude_never_jumps_and_stays_within_the_plan(made: Plan, real_store: Store) -> None:
    cruise_ft = made.cruise_altitudes_ft[0]
    for sector in log_of(made, real_store).sectors:
        rows = sector.rows
        for before, after in itertools.pairwise(rows):
            assert after.start_altitude_ft == pytest.approx(before.altitude_ft, abs=0.5)
        assert max(row.altitude_ft for row in rows) <= cruise_ft + 1e-6


@settings(max_examples=30 * TIMES)
@given(made=plans(), every_nm=st.integers(2, 50).map(float))
def test_checkpoints_change_no_total(made: Plan, every_nm: float, real_store: Store) -> None:
    one = log_of(made, real_store)
    other = log_of(dataclasses.replace(made, every_nm=every_nm), real_store)
    """A split leg apart: where its parts end, each has the wind on its own course."""
    split = any(row.course.parts > 1 for row in (*one.rows, *other.rows))
    near = {"rel": 1e-3} if split else {"abs": 1e-4}
    assert other.distance_nm == pytest.approx(one.distance_nm, abs=1e-4)
    assert other.ete_min == pytest.approx(one.ete_min, **near)
    assert other.fuel_used == pytest.approx(one.fuel_used, **near)


@settings(max_examples=30 * TIMES)
@given(made=plans(), hours=st.integers(1, 30))
def test_a_later_departure_changes_no_distance(made: Plan, hours: int, real_store: Store) -> None:
    later = dataclasses.replace(made, departure=made.departure + dt.timedelta(hours=hours))
    one, other = log_of(made, real_store), log_of(later, real_store)
    assert other.distance_nm == one.distance_nm
    assert other.sectors[0].take_off - one.sectors[0].take_off == dt.timedelta(hours=hours)


@settings(max_examples=30 * TIMES)
@given(made=plans())
def test_no_wind_needs_no_correction(made: Plan, real_store: Store) -> None:
    calm = tuple(PlannedWind(one.altitude_ft, wind(0, 0).wind) for one in made.winds)
    for row in log_of(dataclasses.replace(made, winds=calm), real_store).rows:
        assert row.triangle.wind_correction_angle_deg == pytest.approx(0.0, abs=1e-9)
        assert row.triangle.groundspeed_kt == pytest.approx(row.triangle.true_airspeed_kt)


@given(speed=st.integers(60, 90), strength=st.integers(100, 250))
def test_a_wind_faster_than_the_aircraft_from_ahead_is_refused(
    speed: int, strength: int, real_store: Store
) -> None:
    slow = aircraft(cruise=Cruise(Airspeed(float(speed)), 8.5))
    with pytest.raises(InputError) as caught:
        log_of(plan(aircraft=slow, winds=(wind(92.0, float(strength)),)), real_store)
    assert caught.value.code in ("no-groundspeed", "crosswind-exceeds-airspeed")
