"""A route from a file against the data: places it names, pairs it exchanged."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plotter.datastore.opening import open_store
from plotter.earth.geodesic import destination
from plotter.earth.position import Position
from plotter.route.reading.whole import GivenRoute, settled
from plotter.route.values import Waypoint

KRST, KDLH = Position(43.908298, -92.5), Position(46.842098, -92.193604)


def at(name: str, latitude: float, longitude: float) -> Waypoint:
    return Waypoint(name, name, "file", Position(latitude, longitude))


def settle(*waypoints: Waypoint) -> GivenRoute:
    return settled(GivenRoute(waypoints), open_store())


def cautions(route: GivenRoute) -> list[tuple[str, str, str]]:
    return [(caution.rank, caution.code, caution.where) for caution in route.cautions]


def test_a_name_that_stands_where_the_data_has_it_is_that_place() -> None:
    route = settle(at("krst", 43.9083, -92.4999), at("Home", 44.0, -92.0))
    first, second = route.waypoints
    assert (first.kind, first.ident, first.name) == ("airport", "KRST", "krst")
    assert first.position == Position(43.9083, -92.4999), "the file's position stays"
    assert first.elevation_ft == 1317.0
    assert second == at("Home", 44.0, -92.0)
    assert not route.cautions


@pytest.mark.parametrize(
    ("north_nm", "kind"), [(0.0, "airport"), (0.49, "airport"), (0.51, "file"), (1.9, "file")]
)
def test_a_point_is_the_place_of_its_name_within_half_a_mile(north_nm: float, kind: str) -> None:
    route = settle(at("KRST", 43.908298 + north_nm / 60.0, -92.5), at("B", 44.0, -92.0))
    assert route.waypoints[0].kind == kind
    assert [code for _, code, _ in cautions(route)] == ["file-apart"] * (kind == "file")


def test_an_elevation_of_the_file_stays() -> None:
    route = settle(replace(at("KRST", 43.9083, -92.5), elevation_ft=1300.0), at("B", 44.0, -92.0))
    assert route.waypoints[0].elevation_ft == 1300.0


def test_a_name_that_stands_elsewhere_is_doubted() -> None:
    route = settle(at("KRST", 43.9, -92.3), at("B", 44.0, -92.0))
    assert cautions(route) == [("CHECK", "file-apart", "KRST")]
    assert "KRST is 8.7 NM from Rochester International Airport in" in route.cautions[0].text
    assert route.waypoints[0].kind == "file"


@pytest.mark.parametrize(("away_nm", "told"), [(59.9, True), (60.1, False)])
def test_a_name_is_taken_for_chance_from_60_miles(away_nm: float, told: bool) -> None:
    found = settle(Waypoint("KRST", "KRST", "file", destination(KRST, 90.0, away_nm)))
    assert ("file-apart" in {code for _, code, _ in cautions(found)}) is told


def test_a_name_shared_by_chance_is_nothing_to_say() -> None:
    assert not settle(at("KRST", -33.0, 18.0), at("B", -33.5, 18.0)).cautions


@pytest.mark.parametrize("wrong", [0, 1, 2, 3])
def test_one_exchanged_pair_makes_the_route_jump_and_only_it_is_named(wrong: int) -> None:
    good = [at("A", 50.0, 8.0), at("B", 50.5, 8.5), at("C", 50.2, 9.0), at("D", 50.4, 9.4)]
    where = good[wrong].position
    good[wrong] = at(good[wrong].name, where.longitude_deg, where.latitude_deg)
    route = settle(*good)
    assert cautions(route) == [("STOP", "exchanged", good[wrong].name)]
    assert "Correct the file" in route.cautions[0].text
    assert route.waypoints == tuple(good), "nothing is put right in silence"


def test_a_whole_route_exchanged_is_noticed_by_its_names() -> None:
    route = settle(at("EDDF", 8.5706, 50.0333), at("EDDS", 9.2220, 48.6899))
    assert ("STOP", "exchanged", "EDDF") in cautions(route)
    assert ("STOP", "exchanged", "EDDS") in cautions(route)


@pytest.mark.parametrize(
    "route",
    [
        [at("A", 50.0, 8.0), at("B", -33.9, 18.4), at("C", 51.5, -0.4)],
        [at("A", 44.0, 44.0), at("B", 45.0, 45.5), at("C", 46.0, 44.0)],
        [at("A", 10.0, 80.0), at("B", 60.0, 30.0)],
    ],
)
def test_long_legs_and_even_pairs_are_no_exchange(route: list[Waypoint]) -> None:
    assert "exchanged" not in [caution.code for caution in settle(*route).cautions]
