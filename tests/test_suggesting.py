"""Suggestions while a point is typed, and what each puts into the route."""

from __future__ import annotations

import pytest

from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.places.model import Town
from plotter.places.search import search
from plotter.places.store import Store
from plotter.route.reading.points import OwnPoint, OwnPoints
from plotter.route.reading.text import read_point, read_route
from plotter.route.suggesting import suggest, to_type

HERE = Position(43.95, -92.41)
OWN = OwnPoints([OwnPoint("Red barn", HERE), OwnPoint("Rochester farm", HERE)])


def test_own_points_come_first(real_store: Store) -> None:
    found = suggest(real_store, "rochest", own_points=OWN)
    assert (found[0].to_type, found[0].kind) == ('"Rochester farm"', "own")
    assert found[1].to_type == "KRST"
    assert len(found) == 8
    (barn, *_) = suggest(real_store, "barn", own_points=OWN)
    assert barn.to_type == '"Red barn"'
    assert suggest(real_store, "red ba", 1, OWN) == (barn,)


@pytest.mark.parametrize("text", ["", " ", "-", "zzqqyyxx"])
def test_what_nothing_can_be_made_of_gives_nothing(real_store: Store, text: str) -> None:
    assert suggest(real_store, text, own_points=OWN) == ()


def test_words_say_what_it_is_and_where(real_store: Store) -> None:
    first = suggest(real_store, "KRST")[0]
    assert first.words == "KRST Rochester International Airport, medium airport, US-MN"
    assert first.kind == "medium_airport"


@pytest.mark.parametrize(
    "text",
    ["r", "ro", "san", "43MN", "st john's", "odi", "dct", "v1", "aaa", "superior aero", "l'", "1k"],
)
def test_what_a_suggestion_types_is_that_very_place(real_store: Store, text: str) -> None:
    """Alone, and between two other points of a route, where a word could mean something else."""
    for each in suggest(real_store, text, 40):
        read = read_point(each.to_type, real_store).waypoint
        assert distance_nm(read.position, each.position) < 0.01, each
        route = read_route(f"88N000E {each.to_type} 88N010E", real_store)
        assert distance_nm(route.waypoints[1].position, each.position) < 0.01, each


def test_a_town_is_its_name_and_position(real_store: Store) -> None:
    town = Town('O"Neil = A/B', "ZZ", HERE, None)
    assert to_type(real_store, town) == '"O Neil A B=43.9500,-92.4100"'
    assert to_type(real_store, Town("'s Demo", "ZZ", HERE, 5)) == '"s Demo=43.9500,-92.4100"'


def test_every_kind_of_hit_can_be_typed(real_store: Store) -> None:
    for kind in ("closed", "heliport", "navaid", "seaplane_base"):
        for hit in search(real_store, "lake", 10, kinds=[kind]):
            read = read_point(to_type(real_store, hit.place), real_store).waypoint
            assert read.position == hit.place.position


KRST = Position(43.9088, -92.5)


@pytest.mark.parametrize(
    ("before", "text", "taken", "begins"),
    [
        ("KRST red", "wing", 2, '"Red Wing='),
        ("KRST eau", "clai", 2, "KEAU"),
        ("KRST KLSE St.", "Paul", 2, "KSTP"),
        ("KRST KLSE", "KEA", 1, "KEAU"),
    ],
)
def test_a_name_may_be_of_several_words(
    real_store: Store, before: str, text: str, taken: int, begins: str
) -> None:
    first = suggest(real_store, text, near=KRST, before=before)[0]
    assert first.taken == taken
    assert first.to_type.startswith(begins)


def test_near_the_route_comes_before_the_rest_of_the_world(real_store: Store) -> None:
    assert suggest(real_store, "krs")[0].to_type != "KRST"
    found = suggest(real_store, "krs", near=KRST)
    assert found[0].to_type == "KRST"
    assert {each.to_type for each in found} > {"ENCN"}, "those far away are there, behind"
    towns = [
        each for each in suggest(real_store, "Springfie", 20, near=KRST) if each.kind == "town"
    ]
    away = [distance_nm(KRST, each.position) for each in towns[:3]]
    assert away == sorted(away)


def test_a_navaid_of_the_same_letters_is_suggested_from_anywhere(real_store: Store) -> None:
    """The RST VOR lies 8.6 NM from its field: another point than the airport."""
    for near in (None, HERE, Position(51.0, 7.0)):
        assert "navaid" in {each.kind for each in suggest(real_store, "RST", 3, near=near)}
    field, beacon = suggest(real_store, "RST", 2, near=HERE)
    assert (field.to_type, beacon.to_type) == ("KRST", "navaid:RST-VOR-DME-US")


def test_a_town_says_which_airport_it_lies_by(real_store: Store) -> None:
    said = next(e.words for e in suggest(real_store, "red wing", near=KRST) if e.kind == "town")
    assert said == "Red Wing, town, US, 2.6 NM from KRGK, US-MN"


@pytest.mark.parametrize("text", ["4354N09230W", "43.95,-92", "43°54'N"])
def test_a_position_being_typed_gives_none(real_store: Store, text: str) -> None:
    assert suggest(real_store, text, near=KRST, before="KRST") == ()
