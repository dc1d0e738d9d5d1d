"""Laws that hold for flights nobody would fly: poles, the date line, tiny legs, lame climbs.

Either the log is whole, or it is refused with a code; nothing in between, and never a traceback.
"""

from __future__ import annotations

import datetime as dt
import itertools

import pytest
from examples import TIMES
from flights import aircraft, plan, wind
from hypothesis import given, settings
from hypothesis import strategies as st

from plotter.errors import InputError, PlotterError
from plotter.flight.aircraft import Airspeed, Cruise, VerticalRate
from plotter.flight.columns import COLUMNS
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.performance import ClimbRow, ClimbTable
from plotter.flight.plan.values import LegNotes, Plan, Stop
from plotter.flight.rows import SHARES_A_ROW_NM
from plotter.flight.wind import Wind
from plotter.flight.working.answers import working
from plotter.formats.log_document import log_document
from plotter.formats.log_table import log_table
from plotter.maps.log_tables import log_notes, log_sections
from plotter.places.store import Store

NEAR = ("KRST", "KLSE", "KONA", "44,-92", "44.001,-92", "44,-92.02")
FAR = ("KRST", "KASE", "KTRM", "ENSB", "PADK", "PASY", "90,0", "-89.5,10", "75,179", "75,-179")
TABLE = ClimbTable((ClimbRow(2000, 3, 0.7, 4), ClimbRow(18_000, 60, 9.0, 80)))
speeds = st.builds(
    Airspeed, st.sampled_from([40.0, 80.0, 200.0]), st.sampled_from(["true", "calibrated"])
)
rates = st.builds(
    VerticalRate,
    st.sampled_from([0.5, 20.0, 100.0, 500.0, 20_000.0]),
    speeds,
    st.sampled_from([0.0, 9.0]),
)
planes = st.builds(
    lambda cruise, climb, descent, pattern: aircraft(
        cruise=Cruise(cruise, 8.0), climb=climb, descent=descent, pattern_height_ft=pattern
    ),
    speeds,
    st.none() | rates | st.just(TABLE),
    st.none() | rates,
    st.sampled_from([0.0, 1000.0, 5000.0]),
)
winds = st.lists(
    st.builds(
        wind,
        st.integers(0, 360).map(float),
        st.sampled_from([0.0, 12.0, 30.0]),
        st.sampled_from([0.0, 3000.0, 9000.0]),
    ),
    max_size=3,
    unique_by=lambda one: one.altitude_ft,
)
notes = st.sampled_from(
    [
        LegNotes(1, distance_nm=0.1),
        LegNotes(1, distance_nm=2000.0),
        LegNotes(1, true_course_deg=360.0, variation_deg_east=-180.0),
        LegNotes(1, wind=Wind(90.0, 25.0), true_airspeed_kt=75.0),
        LegNotes(1, altitude_ft=9500.0, highest_ground_ft=3000.0),
    ]
)


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    pool = draw(st.sampled_from([NEAR, FAR]))
    drawn = draw(st.lists(st.sampled_from(pool), min_size=2, max_size=5))
    route = [name for name, _ in itertools.groupby(drawn)]
    if len(route) < 2:
        route = [*pool[:2]]
    landed = draw(st.lists(st.sampled_from(route[1:-1]), max_size=1)) if route[1:-1] else []
    timed = draw(st.sampled_from([None, None, 2.0, 15.0]))
    return plan(
        route=" ".join(route),
        aircraft=draw(planes),
        winds=tuple(draw(winds)),
        cruise_altitudes_ft=tuple(
            draw(st.sampled_from([2500.0, 6500.0, 9500.0, 17_500.0])) for _ in route[1:]
        ),
        stops=tuple(Stop(name, 10.0) for name in landed),
        legs=tuple(draw(st.lists(notes, max_size=1))),
        every_nm=draw(st.sampled_from([5.0, 25.0])),
        every_min=timed,
        restart=draw(st.booleans()),
        line=draw(st.sampled_from(["geodesic", "rhumb"])),
        departure=dt.datetime(2026, draw(st.integers(1, 12)), 20, tzinfo=dt.UTC)
        + dt.timedelta(hours=draw(st.integers(0, 23))),
    )


def made(what: Plan, store: Store) -> NavigationLog | None:
    """The log, or ``None`` where it is refused as it should be."""
    try:
        return navigation_log(what, store)
    except PlotterError as refused:
        assert refused.message
        if isinstance(refused, InputError):
            assert refused.code
        return None


@settings(max_examples=60 * TIMES, deadline=None)
@given(what=plans())
def test_no_turning_point_and_no_mile_is_lost(what: Plan, real_store: Store) -> None:
    log = made(what, real_store)
    if log is None:
        return
    turned = [row.end.name for row in log.rows if row.end.kind == "waypoint"]
    assert turned == [point.name for point in log.plot.route.waypoints[1:]]
    for sector in log.sectors:
        for before, after in itertools.pairwise(sector.rows):
            assert before.end == after.start
        for row in sector.rows:
            assert row.distance_nm == pytest.approx(row.end.at_nm - row.start.at_nm, abs=1e-4)
            assert {one.course for one in row.flown} == {row.course}
            for before, after in itertools.pairwise(row.flown):
                if before.phase != after.phase:  # a top that shares the row of a checkpoint
                    near_nm = (after.start_nm - row.start.at_nm, row.end.at_nm - after.start_nm)
                    assert min(near_nm) <= SHARES_A_ROW_NM + 1e-9


@settings(max_examples=60 * TIMES, deadline=None)
@given(what=plans())
def test_time_goes_on_and_fuel_goes_down(what: Plan, real_store: Store) -> None:
    log = made(what, real_store)
    if log is None:
        return
    for sector in log.sectors:
        etas = [sector.take_off, *(row.eta for row in sector.rows)]
        assert all(before <= after for before, after in itertools.pairwise(etas))
        assert all(row.triangle.groundspeed_kt > 0.0 for row in sector.rows)
        left = [row.fuel_remaining for row in sector.rows]
        assert all(before >= after - 1e-9 for before, after in itertools.pairwise(left))


@settings(max_examples=60 * TIMES, deadline=None)
@given(what=plans())
def test_the_flight_stays_between_ground_and_plan(what: Plan, real_store: Store) -> None:
    log = made(what, real_store)
    if log is None:
        return
    for sector in log.sectors:
        planned = [what.cruise_altitude_ft(row.course.leg.number) for row in sector.rows]
        assert max(row.altitude_ft for row in sector.rows) <= max(planned) + 1e-6
        if what.aircraft.climb and what.aircraft.descent:
            for before, after in itertools.pairwise(sector.rows):
                assert after.start_altitude_ft == pytest.approx(before.altitude_ft, abs=0.5)


@settings(max_examples=25 * TIMES, deadline=None)
@given(what=plans())
def test_every_output_can_be_written(what: Plan, real_store: Store) -> None:
    log = made(what, real_store)
    if log is None:
        return
    for row in (log.rows[0], log.rows[-1]):
        for column in COLUMNS:
            assert working(log, row.number, column).printed is not None
    assert log_table(log).startswith(b"row,number")
    assert log_sections(log) + log_notes(log)
    assert log_document(log, {})["schema"] == "log-1"
