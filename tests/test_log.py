"""The navigation log of a whole flight: figures by hand, sectors, marks, refusals."""

from __future__ import annotations

import datetime as dt
import itertools
import math

import pytest
from flights import TAKE_OFF, aircraft, all_cruise, plan, wind

from plotter.errors import InputError, RouteError
from plotter.flight.log import navigation_log, wishes_of
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import LegNotes, Stop, WindsAloft
from plotter.places.store import Store
from plotter.route.plotting import plot_route


@pytest.fixture(scope="module")
def log(real_store: Store) -> NavigationLog:
    return navigation_log(plan(), real_store)


def test_rows_follow_one_another_from_departure_to_destination(log: NavigationLog) -> None:
    rows = log.rows
    assert (rows[0].start.name, rows[-1].end.name) == ("KRST", "KDLH")
    assert all(a.end == b.start for a, b in itertools.pairwise(rows))
    assert [row.number for row in rows] == list(range(1, len(rows) + 1))


def test_the_log_measures_what_the_plot_measures(log: NavigationLog, real_store: Store) -> None:
    plot = plot_route(plan().route, real_store, wishes_of(plan()))
    assert log.distance_nm == pytest.approx(plot.route.distance_nm, abs=1e-5)
    named = [row.end.name for row in log.rows if row.end.kind == "checkpoint"]
    assert named == [mark.name for mark in plot.checkpoints]


def test_a_climb_ends_at_top_of_climb_and_a_descent_at_the_pattern(log: NavigationLog) -> None:
    toc = next(row for row in log.rows if row.end.kind == "TOC")
    assert toc.altitude_ft == 6500.0
    last = log.rows[-1]
    # KDLH lies at 1,428 ft in the data; its pattern is 1,000 ft above.
    assert last.phase == "descent"
    assert last.altitude_ft == pytest.approx(2428.0)


def test_the_climb_takes_what_height_over_rate_takes(log: NavigationLog) -> None:
    # KRST lies at 1,317 ft: 5,183 ft at 500 ft a minute and 12 US gal an hour.
    minutes = sum(row.ete_min for row in log.rows if row.phase == "climb")
    assert minutes == pytest.approx(5183.0 / 500.0)
    assert log.sectors[0].fuel.climb == pytest.approx(12.0 * minutes / 60.0)


def test_one_speed_and_no_wind_is_distance_over_speed(real_store: Store) -> None:
    still = navigation_log(plan(aircraft=all_cruise(), winds=(wind(0.0, 0.0),)), real_store)
    assert still.ete_min == pytest.approx(still.distance_nm / 110.0 * 60.0)
    assert still.fuel_used == pytest.approx(8.5 * still.ete_min / 60.0)
    assert {row.phase for row in still.rows} == {"cruise"}
    assert all(row.triangle.wind_correction_angle_deg == 0.0 for row in still.rows)


def test_a_row_by_hand(real_store: Store) -> None:
    # TC 091.9, wind 180/20, TAS 110: the sine and cosine rules by hand give WCA 10.5R, GS 107.5.
    flown = navigation_log(plan(aircraft=all_cruise(), winds=(wind(180.0, 20.0),)), real_store)
    row = flown.rows[0]
    course = row.triangle.true_course_deg
    across = 20.0 * math.sin(math.radians(180.0 - course))
    assert row.triangle.wind_correction_angle_deg == pytest.approx(
        math.degrees(math.asin(across / 110.0))
    )
    assert row.triangle.wind_correction_angle_deg == pytest.approx(10.47, abs=0.02)
    assert row.triangle.groundspeed_kt == pytest.approx(107.5, abs=0.1)


def test_a_stop_is_a_sector_of_its_own(real_store: Store) -> None:
    stop = Stop("keau", ground_min=30.0, fuel_added=10.0)
    first, second = navigation_log(plan(stops=(stop,)), real_store).sectors
    assert second.take_off - first.landing == dt.timedelta(minutes=30)
    assert second.fuel.at_start == pytest.approx(first.fuel.remaining + 10.0)
    assert second.fuel.taxi == 1.1
    assert first.rows[-1].phase == "descent"
    assert second.rows[0].phase == "climb"
    assert second.rows[0].start_altitude_ft == pytest.approx(913.0)


def test_a_landing_that_rolls_on_taxis_nothing_away(real_store: Store) -> None:
    stop = Stop("KEAU", full_stop=False)
    second = navigation_log(plan(stops=(stop,)), real_store).sectors[1]
    assert second.fuel.taxi == 0.0


@pytest.mark.parametrize(
    ("stop", "words"),
    [
        (Stop("KMSP"), "which is not a turning point of the route"),
        (Stop("KDLH"), "not a turning point"),
        (Stop("KEAU", fuel_added=40.0), "more than the tanks take"),
    ],
)
def test_a_stop_that_cannot_be(real_store: Store, stop: Stop, words: str) -> None:
    with pytest.raises(InputError, match=words):
        navigation_log(plan(stops=(stop,)), real_store)


def test_a_turn_in_the_climb_keeps_climbing_on_the_new_heading(real_store: Store) -> None:
    slow = aircraft(climb=aircraft().climb.__class__(120.0, aircraft().cruise.airspeed, 12.0))  # type: ignore[union-attr]
    rows = navigation_log(plan(aircraft=slow), real_store).rows
    turned = [row for row in rows if row.phase == "climb" and row.course.leg.number == 2]
    assert turned
    assert turned[0].start.name == "KLSE"
    assert turned[0].triangle.true_course_deg == pytest.approx(350.6, abs=0.5)


def test_a_flight_too_short_for_its_cruise_peaks_below_it(real_store: Store) -> None:
    short = navigation_log(plan(route="KRST KONA", cruise_altitudes_ft=(12500.0,)), real_store)
    assert {row.phase for row in short.rows} == {"climb", "descent"}
    assert max(row.altitude_ft for row in short.rows) < 12500.0
    assert "peaks-below-cruise" in {one.code for one in short.cautions}


def test_an_altitude_a_leg_steps_at_the_turning_point(real_store: Store) -> None:
    stepped = navigation_log(plan(cruise_altitudes_ft=(5500.0, 4500.0, 6500.0)), real_store)
    level = [row for row in stepped.rows if row.end.kind == "level"]
    assert [(row.start.name, row.altitude_ft) for row in level] == [("KLSE", 4500.0)]
    cruised = {
        row.course.leg.number: row.altitude_ft for row in stepped.rows if row.phase == "cruise"
    }
    assert cruised == {1: 5500.0, 2: 4500.0, 3: 6500.0}


@pytest.mark.parametrize("altitude_ft", [900.0, 1317.0])
def test_an_altitude_below_the_field_is_refused(real_store: Store, altitude_ft: float) -> None:
    with pytest.raises(InputError, match="is not above KRST, elevation 1,317 ft"):
        navigation_log(plan(cruise_altitudes_ft=(altitude_ft,)), real_store)


def test_a_wind_that_no_heading_holds_names_the_leg(real_store: Store) -> None:
    with pytest.raises(InputError, match=r"leg 2 \(KLSE to KEAU\)") as caught:
        navigation_log(
            plan(legs=(LegNotes(2, wind=wind(80.0, 150.0).wind.true_wind(0)),)), real_store
        )
    assert caught.value.code == "crosswind-exceeds-airspeed"


def test_typed_figures_replace_the_computed_ones_and_are_told(real_store: Store) -> None:
    notes = LegNotes(1, true_course_deg=95.0, distance_nm=60.0, variation_deg_east=-3.0)
    own = navigation_log(plan(legs=(notes,)), real_store)
    first = [row for row in own.rows if row.course.leg.number == 1]
    assert sum(row.distance_nm for row in first) == pytest.approx(60.0)
    assert first[0].triangle.true_course_deg == 95.0
    assert first[0].course.magnetic_course_deg == pytest.approx(98.0)
    (said,) = [one for one in own.cautions if one.code == "typed-figures"]
    assert "095°T typed for 092°T computed" in said.text
    assert "60.0 NM typed for 54.0 NM computed" in said.text
    # Checkpoints stay where they are on the ground: a fifth of the leg is a fifth of either length.
    cp1 = next(row.end for row in own.rows if row.end.name == "CP1")
    assert cp1.at_nm == pytest.approx(10.0 / 53.98 * 60.0, abs=0.01)


def test_measured_figures_are_compared_and_not_used(real_store: Store) -> None:
    notes = LegNotes(1, measured_course_deg=97.0, measured_nm=54.4)
    compared = navigation_log(plan(legs=(notes,)), real_store)
    assert compared.rows[0].triangle.true_course_deg == pytest.approx(91.9, abs=0.1)
    (said,) = [one for one in compared.cautions if one.code == "measured-differs"]
    assert said.rank == "CHECK"
    agreed = LegNotes(1, measured_course_deg=93.5, measured_course_reference="magnetic")
    codes = {one.code for one in navigation_log(plan(legs=(agreed,)), real_store).cautions}
    assert "measured-agrees" in codes


def test_winds_aloft_out_of_their_period_are_refused(real_store: Store) -> None:
    text = """VALID 041800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000
FT  3000    6000    9000   12000
MSP 2215 2422+12 2530+06 2638+00
DLH 2310 2418+10 2528+04 2640-02
"""
    aloft = WindsAloft(text, ("MSP", "DLH"))
    flown = navigation_log(plan(winds=(), winds_aloft=aloft), real_store)
    assert flown.rows[0].triangle.wind.speed_kt > 10.0
    assert any("MSP" in note for note in flown.rows[0].rests_on)
    late = plan(winds=(), winds_aloft=aloft, departure=TAKE_OFF + dt.timedelta(days=1))
    with pytest.raises(InputError, match="for use from 2026-07-04"):
        navigation_log(late, real_store)
    with pytest.raises(InputError, match=r"station XYZ is not in the winds aloft \(in it"):
        navigation_log(plan(winds=(), winds_aloft=WindsAloft(text, ("XYZ",))), real_store)


def test_checkpoints_by_time(real_store: Store) -> None:
    timed = navigation_log(plan(every_min=10.0), real_store)
    marks = [row for row in timed.rows if row.end.kind == "checkpoint"]
    assert len(marks) > 8
    for row in marks:
        assert row.elapsed_min % 10.0 == pytest.approx(0.0, abs=1e-6) or (
            row.elapsed_min % 10.0 == pytest.approx(10.0, abs=1e-6)
        )
    assert [mark.name for mark in timed.plot.checkpoints] == [row.end.name for row in marks]


def test_checkpoints_by_time_afresh_from_each_turning_point(real_store: Store) -> None:
    timed = navigation_log(plan(every_min=7.0, restart=True), real_store)
    since = 0.0
    for row in timed.rows:
        since += row.ete_min
        if row.end.kind == "checkpoint":
            assert since % 7.0 == pytest.approx(0.0, abs=1e-6) or since % 7.0 == pytest.approx(7.0)
        if row.end.kind == "waypoint":
            since = 0.0


def test_a_long_leg_is_split_where_its_course_changes_by_two_degrees(real_store: Store) -> None:
    wide = navigation_log(plan(route="KRST KSEA"), real_store)
    courses = [row.course for row in wide.rows]
    assert courses[0].parts > 5
    assert "leg-split" in {one.code for one in wide.cautions}
    for course in {(one.part): one for one in courses}.values():
        line = course.line
        assert abs(line.final_true_course_deg - line.initial_true_course_deg) < 2.0
    assert not [row for row in wide.rows if row.end.kind == "part"]


def test_all_faults_of_the_route_come_at_once(real_store: Store) -> None:
    with pytest.raises(RouteError) as caught:
        navigation_log(plan(route="KRST KXXX QQQQ"), real_store)
    assert len(caught.value.faults) == 2


def test_a_route_of_five_hundred_legs(real_store: Store) -> None:
    points = [f"{44 + (k % 2) * 0.1:.1f},{-92 + k * 0.05:.2f}" for k in range(501)]
    made = navigation_log(
        plan(route=" ".join(points), aircraft=all_cruise(usable_fuel=900.0, fuel_on_board=900.0)),
        real_store,
    )
    assert len({row.course.leg.number for row in made.rows}) == 500
    assert made.rows[-1].elapsed_min == pytest.approx(made.ete_min)
