"""The route of a plan plotted: the plan's wishes, and those that are typed."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from plotter.earth.position import Position
from plotter.errors import RouteError
from plotter.flight.log import plot_plan
from plotter.flight.plan.read import read_plan
from plotter.flight.plan.starter import starter
from plotter.flight.plan.values import Plan
from plotter.places.store import Store
from plotter.route.plotting import Wishes, plot_route
from plotter.route.reading.points import OwnPoint, OwnPoints

NONE = OwnPoints()


@pytest.fixture(scope="module")
def plan() -> Plan:
    return replace(read_plan(starter("Sunday"), "x"), every_nm=20.0, restart=True, line="rhumb")


def test_as_the_plan_wishes(plan: Plan, real_store: Store) -> None:
    wishes = Wishes(dt.date(2026, 7, 4), 4500.0, 20.0, True, line="rhumb", name="Sunday")
    assert plot_plan(plan, real_store, NONE) == plot_route(plan.route, real_store, wishes)


def test_what_is_typed_wins(plan: Plan, real_store: Store) -> None:
    typed = {"every_nm": 50.0, "restart": False, "name": "Monday", "date": dt.date(2027, 1, 2)}
    plot = plot_plan(plan, real_store, NONE, typed)
    assert (plot.every_nm, plot.name, plot.date) == (50.0, "Monday", dt.date(2027, 1, 2))
    assert [mark.distance_from_start_nm for mark in plot.checkpoints] == [50.0, 100.0, 150.0, 200.0]


def test_the_day_is_that_of_take_off_in_utc(plan: Plan, real_store: Store) -> None:
    evening = dt.datetime.fromisoformat("2026-07-04T20:00:00-05:00")
    late = replace(plan, departure=evening)
    assert plot_plan(late, real_store, NONE).date == dt.date(2026, 7, 5)


def test_checkpoints_by_time_are_left_to_the_log_and_said(plan: Plan, real_store: Store) -> None:
    timed = replace(plan, every_min=8.0)
    plot = plot_plan(timed, real_store, NONE)
    assert not plot.checkpoints
    (said,) = [one for one in plot.cautions if one.code == "checkpoints-by-time"]
    assert "every 8 min" in said.text
    typed = plot_plan(timed, real_store, NONE, {"every_nm": 20.0})
    assert typed.checkpoints
    assert "checkpoints-by-time" not in {one.code for one in typed.cautions}


def test_own_points_and_faults_of_the_route(plan: Plan, real_store: Store) -> None:
    barn = OwnPoints([OwnPoint("Barn", Position(44.0, -92.0))])
    own = replace(plan, route="KRST Barn KLSE")
    assert plot_plan(own, real_store, barn).route.waypoints[1].name == "Barn"
    with pytest.raises(RouteError):
        plot_plan(own, real_store, NONE)
