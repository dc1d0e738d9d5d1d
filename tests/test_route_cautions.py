"""Which cautions a route gives rise to, and that they are few and ranked."""

from __future__ import annotations

from dataclasses import replace

import pytest
from plots import airport
from routes import route_through, waypoint

from plotter.earth.position import Position
from plotter.messages import literal
from plotter.route.checks import model_caution, route_cautions
from plotter.route.values import Caution, Route, Waypoint, ranked

HERE, THERE = Position(44.0, -93.0), Position(44.5, -92.5)


def codes(route: Route) -> list[tuple[str, str]]:
    return [(caution.rank, caution.code) for caution in route_cautions(route)]


def ending_at(last: Waypoint) -> Route:
    route = route_through([HERE, last.position])
    return replace(route, waypoints=(route.waypoints[0], last))


def at_field(kind: str = "small_airport", apart_nm: float | None = None) -> Waypoint:
    place = replace(
        airport("KZZZ", "Invented field", THERE.latitude_deg, THERE.longitude_deg), kind=kind
    )
    return Waypoint("KZZZ", "KZZZ", "airport", THERE, "KZZZ", None, apart_nm, place=place)


def test_a_plain_route_has_none() -> None:
    assert codes(route_through([HERE, THERE])) == []


@pytest.mark.parametrize(
    ("apart_nm", "told"), [(None, 0), (0.0, 0), (0.5, 0), (0.51, 1), (22.9, 1)]
)
def test_sources_apart_is_told_above_half_a_mile(apart_nm: float | None, told: int) -> None:
    assert codes(ending_at(at_field(apart_nm=apart_nm))) == [("CHECK", "sources-apart")] * told


def test_a_closed_destination_is_a_stop_and_a_closed_turning_point_a_check() -> None:
    closed = at_field("closed")
    assert codes(ending_at(closed)) == [("STOP", "closed")]
    route = ending_at(closed)
    passing = replace(route, waypoints=(closed, route.waypoints[0]))
    assert codes(passing) == [("CHECK", "closed")]


@pytest.mark.parametrize("kind", ["heliport", "seaplane_base", "balloonport"])
def test_a_field_of_another_kind_is_flagged(kind: str) -> None:
    assert codes(ending_at(at_field(kind))) == [("CHECK", kind.replace("_", "-"))]


def test_a_long_east_west_leg_says_that_its_course_changes() -> None:
    assert codes(route_through([Position(45.0, -100.0), Position(45.0, -90.0)])) == [
        ("NOTE", "course-changes")
    ]


def test_ends_opposite_each_other() -> None:
    assert codes(route_through([Position(0.0, 0.0), Position(0.01, 179.9)])) == [
        ("CHECK", "near-antipodal")
    ]


def test_magnetic_zones_and_old_models_come_from_the_variation() -> None:
    route = route_through([HERE, THERE])
    zone = replace(route.legs[0].variation, zone="blackout")
    marked = replace(route, legs=(replace(route.legs[0], variation=zone),))
    assert codes(marked) == [("CHECK", "magnetic-blackout-zone")]
    assert model_caution(route) == []


def test_worst_first_and_each_once() -> None:
    note, stop = Caution("NOTE", literal("a", "one")), Caution("STOP", literal("b", "two"))
    assert ranked([note, stop, note]) == (stop, note)


def test_positions_are_not_asked_for_airport_cautions() -> None:
    assert codes(ending_at(waypoint(THERE))) == []


def test_two_places_of_one_name() -> None:
    route = route_through([HERE, THERE])
    named = tuple(replace(point, name="KZZZ") for point in route.waypoints)
    assert codes(replace(route, waypoints=named)) == [("CHECK", "same-name")]


def test_a_leg_of_almost_no_length() -> None:
    assert codes(route_through([HERE, Position(44.001, -93.0)])) == [("CHECK", "short-leg")]
