"""A route written out: typed again it is the same, and as item 15 asks, DCT where it belongs."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from routes import waypoint

from plotter.earth.position import Position
from plotter.errors import RouteError
from plotter.places.store import Store
from plotter.route.editing import item15_route, written_route
from plotter.route.reading.text import read_route
from plotter.route.suggesting import to_type
from plotter.route.values import Waypoint

ANGLES = st.floats(min_value=-90.0, max_value=90.0)
TURNS = st.floats(min_value=-180.0, max_value=180.0)


def coded(ident: str, kind: str = "airport") -> Waypoint:
    return Waypoint(ident, ident, kind, Position(44.0, -92.0), ident)


BARN = waypoint(Position(46.9996, -78.9996), "BARN")
MILL = waypoint(Position(-0.5, 179.25), "MILL")


ROUTES = [
    # Doc 4444, item 15 (c): DCT unless both points are given as positions.
    ([coded("KRST"), coded("KDLH")], "KRST DCT KDLH", "KRST DCT KDLH"),
    (
        [coded("KRST"), BARN, MILL, coded("ODI", "navaid")],
        "KRST DCT 4700N07900W 0030S17915E DCT ODI",
        "KRST DCT 465959N0785959W 0030S17915E DCT ODI",
    ),
    ([BARN, MILL], "4700N07900W 0030S17915E", "465959N0785959W 0030S17915E"),
    ([coded("US-0001"), coded("KDLH")], "4400N09200W DCT KDLH", "4400N09200W DCT KDLH"),
]


@pytest.mark.parametrize(("points", "filed", "written"), ROUTES)
def test_written_routes(points: list[Waypoint], filed: str, written: str) -> None:
    assert item15_route(points) == filed
    assert written_route(points) == written


def test_a_point_by_bearing_is_written_as_the_position_it_is() -> None:
    point = Waypoint("DUB180040", "DUB180040", "bearing-distance", Position(52.5, -6.5), "DUB")
    assert written_route([coded("EIDW"), point]) == "EIDW DCT 5230N00630W"


@pytest.mark.parametrize(
    ("typed", "written", "filed"),
    [
        # 43°54′30″ and 43.9917° (59.502′), by hand.
        ("43°54'30\"N 92°30'00\"W", "435430N0923000W", "4354N09230W"),
        ("BARN=43.9917,-92.4917", "435930N0922930W", "4400N09230W"),
        ("4354N09230W", "4354N09230W", "4354N09230W"),
    ],
)
def test_half_a_minute_is_not_dropped(
    real_store: Store, typed: str, written: str, filed: str
) -> None:
    points = read_route([typed, "KLSE"], real_store).waypoints
    assert written_route(points) == f"{written} DCT KLSE"
    assert item15_route(points) == f"{filed} DCT KLSE"


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ("klse", "KLSE"),
        ("airport:klse", "airport:KLSE"),  # an own point may be called KLSE
        ("navaid:odi", "navaid:ODI"),
        ("key:br-3135", "key:BR-3135"),  # SWSY, which is another field's ICAO indicator
        ("BR-3135", "BR-3135"),
    ],
)
def test_an_identifier_is_written_so_that_it_means_the_same_place(
    real_store: Store, typed: str, written: str
) -> None:
    points = read_route([typed, "0,0"], real_store).waypoints
    text = written_route(points)
    assert text == f"{written} DCT 0000N00000E"
    assert read_route(text, real_store).waypoints[0].place == points[0].place


def test_what_is_typed_for_any_place_is_written_out_as_that_place(real_store: Store) -> None:
    codes = sorted(real_store.codes())
    for code in Random(20261125).sample(codes, 400):
        for match in real_store.by_code(code):
            points = read_route([to_type(real_store, match.place), "0,0"], real_store).waypoints
            again = read_route(written_route(points), real_store).waypoints
            assert near(again[0].position, points[0].position), (code, written_route(points))
            if again[0].place is not None:
                assert again[0].place == points[0].place


@given(st.lists(st.builds(Position, ANGLES, TURNS), min_size=2, max_size=5))
@example([Position(89.99999, 179.99999), Position(-0.0001, -0.0001)])
def test_typed_again_it_is_the_same_to_half_a_second(
    real_store: Store, places: list[Position]
) -> None:
    text = written_route([waypoint(place) for place in places])
    try:
        again = read_route(text, real_store).waypoints
    except RouteError as fault:
        assert "same place" in str(fault)  # two of them within a second of each other
        return
    assert len(again) == len(places)
    for point, place in zip(again, places, strict=True):
        assert near(point.position, place), text


def near(one: Position, other: Position) -> bool:
    """Whether two positions agree to half a second of arc on either axis; ±180 is one meridian."""
    half_second_deg = 0.5 / 3600 + 1e-9
    east = abs(one.longitude_deg - other.longitude_deg)
    return (
        abs(one.latitude_deg - other.latitude_deg) <= half_second_deg
        and min(east, 360.0 - east) <= half_second_deg
    )
