"""The place that a point put down by hand is meant for."""

from __future__ import annotations

import pytest

from plotter.earth.geodesic import destination, distance_nm
from plotter.earth.position import Position
from plotter.places.lookup import key_of, resolve
from plotter.places.model import Navaid
from plotter.places.nearness import near, place_near
from plotter.places.store import Store
from plotter.route.suggesting import to_type


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


ODI = Position(43.912399, -91.467598)
"""The beacon at Nodine in the navaids table; no airfield lies within 6 NM of it."""


def taken(store: Store, position: Position, within_nm: float) -> str:
    place = place_near(store, position, within_nm)
    return "" if place is None else key_of(place)


def test_a_beacon_is_found_from_every_side(real_store: Store) -> None:
    for bearing in range(0, 360, 45):
        off = destination(ODI, float(bearing), 1.9)
        assert taken(real_store, off, 2.0) == key_of(resolve(real_store, "navaid:ODI").place)
        assert not taken(real_store, off, 1.8)


def test_a_beacon_beside_an_airport_is_told_from_it_only_from_near_by(real_store: Store) -> None:
    beacon = resolve(real_store, "navaid:EAU").place
    airport = resolve(real_store, "KEAU").place
    assert 1.5 < distance_nm(beacon.position, airport.position) < 2.5
    assert taken(real_store, beacon.position, 10.0) == key_of(airport)
    assert taken(real_store, beacon.position, 2.0) == key_of(beacon)
    assert taken(real_store, airport.position, 2.0) == key_of(airport)


def test_every_beacon_can_be_reached_by_hand(real_store: Store) -> None:
    found = near(real_store, ODI, 60.0, ("navaid",)).found
    assert len(found) > 5
    for each in found:
        assert isinstance(each.place, Navaid)
        reached = place_near(real_store, each.place.position, 0.01)
        assert reached is not None
        assert distance_nm(reached.position, each.place.position) < 0.01
        assert key_of(resolve(real_store, to_type(real_store, each.place)).place) == each.place.key
