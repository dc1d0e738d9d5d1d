"""Airports beside a route: each once, at its nearest leg, in flying order, none missed."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest
from small_tables import airport, write_tables

from plotter.datastore.opening import open_store
from plotter.earth.geodesic import Line, beside, destination, measure
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.places.airports import airports_beside
from plotter.places.model import EVERY_KIND, FIXED_WING
from plotter.places.store import Store

A, B, C = Position(44.0, -93.0), Position(44.0, -91.0), Position(45.5, -91.0)


def at(ident: str, place: Position, kind: str = "small_airport") -> tuple[str, ...]:
    return tuple(airport(ident, place.latitude_deg, place.longitude_deg, kind))


ROWS = (
    at("START", A),
    at("TURN", B),
    at("END", C),
    at("BEFORE", destination(A, 270.0, 8.0)),
    at("BEYOND", destination(C, 0.0, 8.0)),
    at("CORNER", destination(B, 135.0, 8.0)),
    at("LEFT", Position(44.15, -92.0)),
    at("RIGHT", Position(43.85, -92.1)),
    at("FAR", Position(43.5, -92.0)),
    at("HELI", Position(44.01, -92.2), "heliport"),
    at("SHUT", Position(44.01, -92.3), "closed"),
    at("SEA", Position(44.01, -92.4), "seaplane_base"),
    at("EAST", Position(-17.0, 179.9)),
    at("WEST", Position(-17.0, -179.9)),
    at("ON180", Position(-17.05, 180.0)),
    at("ONMINUS180", Position(-16.95, -180.0)),
    at("POLE", Position(90.0, 0.0)),
    at("NEARPOLE", Position(89.9, 137.0)),
    at("SOUTHPOLE", Position(-90.0, 33.0)),
)
PLACES = [Position(float(row[10]), float(row[11])) for row in ROWS]


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    folder = tmp_path_factory.mktemp("airports")
    tables = write_tables(folder / "tables", airports=ROWS, runways=(), frequencies=())
    with open_store(tables=tables, cache=folder / "cache") as small:
        yield small


def idents(store: Store, *lines: Line, within_nm: float = 10.0) -> list[str]:
    return [each.airport.ident for each in airports_beside(store, lines, within_nm)]


def test_in_flying_order_each_once(store: Store) -> None:
    found = airports_beside(store, [measure(A, B), measure(B, C)], 10.0)
    assert [each.airport.ident for each in found] == [
        "BEFORE",
        "START",
        "RIGHT",
        "LEFT",
        "CORNER",
        "TURN",
        "BEYOND",
        "END",
    ]
    assert [each.along_nm for each in found] == sorted(each.along_nm for each in found)


def test_along_is_from_the_start_of_the_route_and_off_has_its_side(store: Store) -> None:
    lines = [measure(A, B), measure(B, C)]
    found = {each.airport.ident: each for each in airports_beside(store, lines, 10.0)}
    (along_nm, off_nm) = beside(lines[0], [Position(44.15, -92.0)])[0]
    assert (found["LEFT"].along_nm, found["LEFT"].off_nm) == (along_nm, off_nm)
    assert found["LEFT"].off_nm == pytest.approx(-9.0, abs=0.5)
    assert found["RIGHT"].off_nm == pytest.approx(9.0, abs=0.5)
    assert found["END"].along_nm == pytest.approx(sum(line.distance_nm for line in lines))
    assert found["END"].leg_number == 2
    assert abs(found["BEYOND"].off_nm) == pytest.approx(8.0, abs=1e-6)


def test_beyond_an_end_of_the_route_is_said_but_not_beyond_a_turn(store: Store) -> None:
    found = airports_beside(store, [measure(A, B), measure(B, C)], 10.0)
    said = {each.airport.ident: each.beyond for each in found if each.beyond}
    assert said == {"BEFORE": "before the departure", "BEYOND": "past the destination"}
    there_and_back = airports_beside(store, [measure(A, B), measure(B, A)], 10.0)
    assert {e.airport.ident: e.beyond for e in there_and_back}["BEFORE"] == "before the departure"


def test_as_near_to_two_legs_it_belongs_to_the_first(store: Store) -> None:
    lines = [measure(A, B), measure(B, C)]
    found = {each.airport.ident: each for each in airports_beside(store, lines, 10.0)}
    assert found["TURN"].leg_number == 1
    assert found["CORNER"].leg_number == 1
    assert abs(found["CORNER"].off_nm) == pytest.approx(8.0, abs=1e-6)


def test_at_the_leg_it_is_nearest_to(store: Store) -> None:
    wide = [measure(A, C), measure(C, B)]
    found = {each.airport.ident: each for each in airports_beside(store, wide, 60.0)}
    near = {n: abs(beside(wide[n - 1], [found["CORNER"].airport.position])[0][1]) for n in (1, 2)}
    assert near[2] < near[1]
    assert found["CORNER"].leg_number == 2


def test_kinds(store: Store) -> None:
    line = [measure(A, B)]
    kinds = {each.airport.kind for each in airports_beside(store, line, 5.0, EVERY_KIND)}
    assert kinds == {"small_airport", "heliport", "closed", "seaplane_base"}
    assert {each.airport.kind for each in airports_beside(store, line, 5.0)} <= set(FIXED_WING)
    (sea,) = airports_beside(store, line, 5.0, ["seaplane_base"])
    assert sea.airport.ident == "SEA"
    assert airports_beside(store, line, 5.0, []) == ()


@pytest.mark.parametrize("kind", ["geodesic", "rhumb"])
def test_across_the_180th_meridian(store: Store, kind: str) -> None:
    everyone = {"EAST", "WEST", "ON180", "ONMINUS180"}
    for start, end in [(179.0, -179.0), (-179.0, 179.0), (179.95, 180.0), (-180.0, -179.95)]:
        line = measure(Position(-17.02, start), Position(-16.98, end), kind)  # type: ignore[arg-type]
        assert set(idents(store, line)) == everyone


def test_over_and_beside_the_poles(store: Store) -> None:
    over = measure(Position(89.0, 10.0), Position(89.0, -170.0))
    assert set(idents(store, over)) == {"POLE", "NEARPOLE"}
    beside_it = measure(Position(89.9, 30.0), Position(89.9, 60.0))
    assert set(idents(store, beside_it)) == {"POLE", "NEARPOLE"}
    assert idents(store, beside_it, within_nm=2.0) == []
    south = measure(Position(-89.9, -120.0), Position(-89.0, 0.0))
    assert idents(store, south) == ["SOUTHPOLE"]


@pytest.mark.parametrize("kind", ["geodesic", "rhumb"])
def test_long_legs(store: Store, kind: str) -> None:
    """8,000 NM: the cells along the line are followed, not those of a box."""
    line = measure(Position(44.0, -92.0), Position(-17.0, 178.0), kind)  # type: ignore[arg-type]
    beyond = measure(Position(-17.0, 178.0), Position(-17.0, -178.0), kind)  # type: ignore[arg-type]
    found = airports_beside(store, [line, beyond], 15.0)
    measured = [[abs(off) for _, off in beside(each, PLACES)] for each in (line, beyond)]
    expected = {
        row[0]
        for row, *offs in zip(ROWS, *measured, strict=True)
        if min(offs) <= 15.0 and row[5] in FIXED_WING
    }
    assert {each.airport.ident for each in found} == expected
    assert {"RIGHT", "EAST", "WEST", "ON180", "ONMINUS180"} <= expected
    assert {each.leg_number for each in found} == {1, 2}


def test_the_distance_itself_counts_as_within(store: Store) -> None:
    line = measure(A, B)
    (_, off_nm) = beside(line, [Position(44.15, -92.0)])[0]
    assert "LEFT" in idents(store, line, within_nm=abs(off_nm))
    assert "LEFT" not in idents(store, line, within_nm=abs(off_nm) - 1e-6)
    assert set(idents(store, line, within_nm=0.0)) <= {"START", "TURN"}
    assert len(idents(store, line, within_nm=11_000.0)) == len(ROWS) - 3


@pytest.mark.parametrize("within_nm", [-1.0, math.nan, math.inf, -0.001])
def test_what_is_no_distance_is_refused(store: Store, within_nm: float) -> None:
    with pytest.raises(InputError, match="out of range; enter 0 or more"):
        airports_beside(store, [measure(A, B)], within_nm)


def test_no_line_no_airport(store: Store) -> None:
    assert airports_beside(store, [], 10.0) == ()


@pytest.mark.parametrize(
    ("start", "course_deg"),
    [
        (Position(41.0, -88.0), 90.0),
        (Position(35.5, 139.5), 45.0),
        (Position(60.0, -151.0), 20.0),
        (Position(-17.5, 177.0), 85.0),
    ],
)
def test_real_airports_by_brute_force(
    real_store: Store, start: Position, course_deg: float
) -> None:
    """All of them within a wide box, each measured, against the search."""
    line = measure(start, destination(start, course_deg, 300.0))
    west = start.longitude_deg - 16.0
    box = real_store.airports_in(-35.0, west, 72.0, west + 32.0)
    some = [each for each in box if each.kind in FIXED_WING]
    offs = beside(line, [each.position for each in some])
    expected = {each.ident for each, (_, off) in zip(some, offs, strict=True) if abs(off) <= 10.0}
    found = airports_beside(real_store, [line], 10.0)
    assert {each.airport.ident for each in found} == expected
    assert len(found) == len(expected) > 3
