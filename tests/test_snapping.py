"""The place that a point put down by hand is meant for."""

from __future__ import annotations

import pytest

from plotter.earth.geodesic import destination, distance_nm
from plotter.earth.position import Position
from plotter.places.lookup import key_of, resolve
from plotter.places.snapping import place_near
from plotter.places.store import Store
from plotter.route.to_type import to_type


@pytest.mark.parametrize("ident", ["KRST", "KDLH", "NFFN", "EGLL", "YSSY", "FMEE"])
def test_an_airport_is_found_from_every_side(real_store: Store, ident: str) -> None:
    airport = resolve(real_store, ident).place
    for bearing in range(0, 360, 45):
        off = destination(airport.position, float(bearing), 0.9)
        found = place_near(real_store, off, 1.0)
        assert found is not None
        assert distance_nm(found.position, off) <= 1.0


@pytest.mark.parametrize(
    "position",
    [
        Position(-17.75, 179.9999),
        Position(-17.75, -179.9999),
        Position(90.0, 0.0),
        Position(-90.0, 180.0),
        Position(82.5, -62.3),
    ],
)
def test_no_corner_of_the_world_is_special(real_store: Store, position: Position) -> None:
    found = place_near(real_store, position, 60.0)
    assert found is None or distance_nm(found.position, position) <= 60.0


def test_nothing_is_near_where_nothing_is_asked_for(real_store: Store) -> None:
    airport = resolve(real_store, "KRST").place
    assert place_near(real_store, airport.position, 0.0) is None
    assert place_near(real_store, Position(0.0, -140.0), 60.0) is None


@pytest.mark.parametrize("text", ["KRST", "3MN4", "navaid:ODI", "airport:DCT", "key:US-0873"])
def test_what_is_typed_for_a_place_leads_back_to_it(real_store: Store, text: str) -> None:
    place = resolve(real_store, text).place
    again = resolve(real_store, to_type(real_store, place)).place
    assert key_of(again) == key_of(place)
