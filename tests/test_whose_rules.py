"""Whose rules hold: the state of each point, as the data has it or as its neighbours have."""

from __future__ import annotations

from typing import Any

import pytest
from flights import all_cruise, plan

from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import LegNotes
from plotter.flight.whose_rules import abroad, in_the_united_states, rules_of_flight, state_of
from plotter.places.store import Store


def flown(store: Store, route: str, **changes: Any) -> NavigationLog:
    return navigation_log(plan(route=route, **changes), store)


@pytest.mark.parametrize(
    ("route", "inside", "rules"),
    [
        ("KRST KLSE", [True], "US"),
        ("KRST 44.5,-92 KLSE", [True, True], "US"),
        ("KRST 44.5,-92 44.6,-92 KLSE", [True, True, True], "US"),
        ("TJSJ TIST", [True], "US"),  # Puerto Rico, US Virgin Islands
        ("KBUF CYHM CYTZ", [False, False], "ICAO"),
        ("KROC KBUF CYHM", [True, False], "ICAO"),
        ("NZQN 44.8S,168E NZMF", [False, False], "ICAO"),
        ("44.0,-92.0 44.5,-92.0", [True], "US"),
        ("44.5,-79.6 45.0,-79.0", [False], "ICAO"),  # Ontario
        ("40.0,-40.0 40.5,-40.0", [None], "US"),  # the Atlantic
        ("40.0,-40.0 44.0,-92.0", [True], "US"),
    ],
)
def test_the_state_of_a_leg(
    real_store: Store, route: str, inside: list[bool | None], rules: str
) -> None:
    log = flown(real_store, route.replace("44.8S,168E", "-44.8,168.0"), cruise_altitudes_ft=(9500,))
    legs = log.plot.route.legs
    assert [in_the_united_states(leg, log.plot.route) for leg in legs] == inside
    assert rules_of_flight(log.plan, log.plot.route) == rules


def test_a_point_has_the_state_of_the_data(real_store: Store) -> None:
    points = flown(real_store, "KBUF 43,-79 CYHM").plot.route.waypoints
    assert [state_of(point) for point in points] == ["US", "", "CA"]
    assert [point.name for point in abroad(points)] == ["CYHM"]


ASKED = {"cruising-altitude", "cruising-altitude-state"}


@pytest.mark.parametrize(
    ("route", "rules", "expected"),
    [
        # East at an even thousand: the US table refuses it where it holds, and only there.
        ("KRST KLSE", None, {"cruising-altitude": "CHECK"}),
        ("KRST KLSE", "US", {"cruising-altitude": "CHECK"}),
        ("EDNY LOWI", None, {"cruising-altitude-state": "CHECK"}),
        ("EDNY LOWI", "US", {"cruising-altitude-state": "CHECK"}),
        ("EDNY LOWI", "ICAO", {"cruising-altitude": "CHECK", "cruising-altitude-state": "NOTE"}),
        ("44.0,-92.0 44.0,-91.0", None, {"cruising-altitude": "CHECK"}),
        ("44.5,-79.6 44.5,-79.0", None, {"cruising-altitude-state": "CHECK"}),
        ("40.0,-40.0 40.0,-39.0", None, {"cruising-altitude-state": "CHECK"}),
        ("40.0,-40.0 40.0,-39.0", "US", {"cruising-altitude": "CHECK"}),
    ],
)
def test_no_table_is_applied_where_another_state_decides(
    real_store: Store, route: str, rules: Any, expected: dict[str, str]
) -> None:
    changes = {"cruise_altitudes_ft": (6500.0,), "aircraft": all_cruise()}
    log = flown(real_store, route, **changes, visual_rules=rules)
    assert {one.code: one.rank for one in log.cautions if one.code in ASKED} == expected


def test_many_points_abroad_are_counted(real_store: Store) -> None:
    route = "EDNY LOWI LIPB LIPZ LIPE LIRF"
    (said,) = [one for one in flown(real_store, route).cautions if one.code in ASKED]
    assert "LIPZ (IT) and 2 more lie outside the US" in said.text


def test_least_heights_are_read_in_the_rules_of_where_it_is(real_store: Store) -> None:
    legs = (LegNotes(1, highest_ground_ft=6400.0),)
    for route, source in (("KRST KLSE", "14 CFR 91.119(b), (c)"), ("EDNY LOWI", "ICAO Annex 2")):
        found = {one.code: one for one in flown(real_store, route, legs=legs).cautions}
        assert found["ground-within-500-ft"].source.startswith(source)


def test_a_helicopter_may_be_lower(real_store: Store) -> None:
    legs = (LegNotes(1, highest_ground_ft=6400.0),)
    for category, said in (("airplane", False), ("rotorcraft", True)):
        log = flown(real_store, "KRST KLSE", legs=legs, aircraft_category=category)
        (low,) = [one for one in log.cautions if one.code == "ground-within-500-ft"]
        assert ("91.119(d)" in low.text) is said
