"""Legs as they are flown: cut where course or variation turns, replaced where the pilot typed."""

from __future__ import annotations

import datetime as dt

import pytest
from flights import plan

from plotter.earth.angles import half_turn
from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.flight.courses import Course, courses
from plotter.flight.log import navigation_log, wishes_of
from plotter.flight.plan.values import LegNotes, Plan
from plotter.places.store import Store
from plotter.route.measuring import FlightMagnetism
from plotter.route.plotting import plot_route

MODEL = FlightMagnetism(dt.date(2026, 7, 4), 6500.0, False)


def flown_on(store: Store, made: Plan) -> tuple[Course, ...]:
    return courses(plot_route(made.route, store, wishes_of(made)).route, made, MODEL)


def test_a_short_leg_keeps_the_course_and_variation_of_its_middle(real_store: Store) -> None:
    (one,) = flown_on(real_store, plan(route="KRST KLSE"))
    assert one.parts == 1
    assert one.true_course_deg == one.leg.true_course_deg
    assert one.variation_deg_east == one.leg.variation.degrees_east


def test_a_long_leg_is_cut_into_equal_parts_each_with_its_own_middle(real_store: Store) -> None:
    made = flown_on(real_store, plan(route="KRST KBIL"))
    assert [one.part for one in made] == list(range(1, len(made) + 1))
    lengths = [one.distance_nm for one in made]
    assert max(lengths) == pytest.approx(min(lengths), abs=1e-6)
    assert sum(lengths) == pytest.approx(made[0].leg.distance_nm, abs=1e-6)
    for one in made:
        assert one.true_course_deg == one.line.true_course_deg
        assert one.variation_deg_east == pytest.approx(MODEL.degrees_east(one.line.middle))


def test_a_rhumb_line_is_cut_for_variation_alone(real_store: Store) -> None:
    made = flown_on(real_store, plan(route="KRST KBIL", line="rhumb"))
    assert made[0].parts > 1
    assert {round(one.true_course_deg, 6) for one in made} == {round(made[0].true_course_deg, 6)}


def test_a_leg_with_typed_figures_is_not_cut(real_store: Store) -> None:
    notes = LegNotes(1, distance_nm=700.0)
    (one,) = flown_on(real_store, plan(route="KRST KBIL", legs=(notes,)))
    assert one.distance_nm == 700.0
    half_way = one.position(350.0)
    assert distance_nm(half_way, one.leg.middle) == pytest.approx(0.0, abs=1e-6)


def test_many_points_get_the_variation_of_one_asked_alone() -> None:
    places = [Position(44.0 + k / 10.0, -92.0) for k in range(20)]  # more than one by one
    together = MODEL.degrees_east_of(places)
    assert together == pytest.approx([MODEL.degrees_east(place) for place in places], abs=1e-9)


@pytest.mark.parametrize(
    "route",
    [
        "44,-92 44.00000001,-92 44.5,-92",
        "44,-92 44.5,-92 44.50000003,-92",
        "44,-92 44.00000001,-92",
    ],
)
def test_a_leg_without_length_is_refused(real_store: Store, route: str) -> None:
    """Its two ends would fall on one mark, and its turning point out of the log."""
    with pytest.raises(
        InputError, match=r"-92\) has no length: both ends are the same point; remove one"
    ) as caught:
        flown_on(real_store, plan(route=route))
    assert caught.value.code == "short-leg"


def test_the_shortest_leg_that_is_flown_has_its_row(real_store: Store) -> None:
    made = navigation_log(plan(route="44,-92 44.00002,-92 44.5,-92"), real_store)
    assert made.rows[0].end.kind == "waypoint"
    assert made.rows[0].course.leg.number == 1
    assert made.rows[0].distance_nm == pytest.approx(0.0012, abs=0.0001)


@pytest.mark.parametrize("route", ["89.9,0 89.9,180", "89.9,0 89.85,180", "-89.9,20 -89.9,-160"])
def test_a_leg_over_a_pole_is_cut_there_alone(real_store: Store, route: str) -> None:
    """Before the pole the one meridian, behind it the other: the course turns about at once."""
    before, behind = flown_on(real_store, plan(route=route))
    assert before.distance_nm + behind.distance_nm == pytest.approx(before.leg.distance_nm)
    assert before.distance_nm == pytest.approx(6.03, abs=0.01)
    courses_deg = [round(one.true_course_deg, 3) % 360.0 for one in (before, behind)]
    assert courses_deg == ([0.0, 180.0] if route[0] != "-" else [180.0, 0.0])


def test_a_leg_that_passes_a_pole_within_a_tenth_of_a_mile_is_over_it(real_store: Store) -> None:
    before, behind = flown_on(real_store, plan(route="89.9,0 89.9,179"))
    turn_deg = half_turn(behind.true_course_deg - before.true_course_deg)
    assert abs(turn_deg) == pytest.approx(178.0, abs=0.1)


def test_a_leg_that_passes_a_pole_well_clear_is_cut_in_equal_parts(real_store: Store) -> None:
    made = flown_on(real_store, plan(route="89.0,0 89.0,90"))
    assert made[0].parts > 50
    lengths = [one.distance_nm for one in made]
    assert max(lengths) == pytest.approx(min(lengths), abs=1e-6)
