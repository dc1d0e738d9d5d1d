"""What lies near a point: kinds, runways, what is not in the data, what cannot be asked."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest
from small_tables import airport, navaid, write_tables

from plotter.datastore.opening import open_store
from plotter.earth.geodesic import destination
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.places.airports import direction, reach_rad
from plotter.places.model import EVERY_KIND, Airport, Town
from plotter.places.naming import code_of
from plotter.places.nearness import KINDS, near, nearest
from plotter.places.store import Store

HERE = Position(44.0, -92.5)


def at(ident: str, distance_nm: float, kind: str = "small_airport") -> tuple[str, ...]:
    place = destination(HERE, 50.0, distance_nm)
    return tuple(airport(ident, place.latitude_deg, place.longitude_deg, kind))


def strip(ident: str, length: str, closed: str = "0", surface: str = "grass") -> tuple[str, ...]:
    return (ident, "05", "23", length, "", surface, "0", closed, "", "")


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    folder = tmp_path_factory.mktemp("nearness")
    tables = write_tables(
        folder / "tables",
        airports=[
            at("HERE", 0.0),
            at("LONG", 3.0),
            at("SHORT", 4.0),
            at("BARE", 5.0),
            at("HALF", 6.0),
            at("WET", 7.0),
            at("ONCE", 8.0),
            at("HELI", 1.0, "heliport"),
            at("SHUT", 2.0, "closed"),
            at("FAR", 500.0),
        ],
        runways=[
            strip("LONG", "3000"),
            strip("SHORT", "2999"),
            strip("HALF", "1500"),
            ("HALF", "11", "29", "", "", "", "0", "0", "", ""),
            strip("WET", "9000", surface="water"),
            strip("ONCE", "9000", closed="1"),
            strip("FAR", "5000"),
        ],
        navaids=[navaid("ODD-NDB-ZZ", 44.0, -92.5)],
        towns=[("Demoville", "ZZ", "44.01", "-92.5", "1200"), ("Demo", "ZZ", "44.02", "-92.5", "")],
        frequencies=(),
    )
    with open_store(tables=tables, cache=folder / "cache") as small:
        yield small


def codes(store: Store, **asked: object) -> list[str]:
    found = near(store, HERE, 25.0, **asked).found  # type: ignore[arg-type]
    return [code_of(each.place) or each.place.name for each in found]


def test_nearest_first_and_of_the_usual_kinds(store: Store) -> None:
    assert codes(store) == ["HERE", "LONG", "SHORT", "BARE", "HALF", "WET", "ONCE"]


def test_each_kind_and_all_of_them(store: Store) -> None:
    assert codes(store, kinds=["heliport"]) == ["HELI"]
    assert codes(store, kinds=["navaid", "town"]) == ["ODD", "Demoville", "Demo"]
    assert len(codes(store, kinds=KINDS)) == 12
    assert set(codes(store, kinds=EVERY_KIND)) >= {"HELI", "SHUT"}


def test_towns_say_their_people_or_that_the_data_does_not(store: Store) -> None:
    towns = [each.place for each in near(store, HERE, 25.0, ["town"]).found]
    assert [each.population for each in towns if isinstance(each, Town)] == [1200, None]


def test_the_point_itself_has_no_course_to_it(store: Store) -> None:
    here, first, *_ = near(store, HERE, 25.0).found
    assert here.distance_nm < 1e-9
    assert here.true_course_deg is None
    assert first.distance_nm == pytest.approx(3.0, abs=1e-6)
    assert first.true_course_deg == pytest.approx(50.0, abs=1e-3)


def test_a_runway_long_enough_and_those_of_which_the_data_does_not_tell(store: Store) -> None:
    """Water lanes and closed runways do not count; an unknown length is neither yes nor no."""
    found = near(store, HERE, 25.0, runway_ft=3000.0)
    assert [code_of(each.place) for each in found.found] == ["LONG"]
    assert found.length_unknown == 3  # HERE and BARE have no runway in the data, HALF one unknown
    assert near(store, HERE, 25.0, runway_ft=1000.0).length_unknown == 2


def test_the_nearest_however_far(store: Store) -> None:
    found = nearest(store, HERE, runway_ft=4000.0)
    assert found is not None
    assert isinstance(found.place, Airport)
    assert found.place.ident == "FAR"
    assert nearest(store, HERE, ["balloonport"]) is None


@pytest.mark.parametrize(
    ("asked", "key"),
    [
        ({"within_nm": -1.0}, "input.within"),
        ({"within_nm": math.nan}, "input.within"),
        ({"within_nm": math.inf}, "input.within"),
        ({"kinds": ["airfield"]}, "input.kind"),
        ({"kinds": []}, "input.no-kind"),
        ({"runway_ft": -1.0}, "input.runway"),
        ({"runway_ft": math.nan}, "input.runway"),
        ({"runway_ft": 10.0, "kinds": ["town"]}, "input.without-runway"),
    ],
)
def test_what_cannot_be_asked(store: Store, asked: dict[str, object], key: str) -> None:
    with pytest.raises(InputError) as fault:
        near(store, HERE, **({"within_nm": 25.0} | asked))  # type: ignore[arg-type]
    assert (fault.value.code, fault.value.said.key) == ("input", key)


def test_a_cap_holds_what_lies_within(store: Store) -> None:
    """Along the equator's meridian the earth is most curved: there the cap is just wide enough."""
    for degrees in (0.0, 45.0, 89.0):
        start = Position(degrees, 10.0)
        end = destination(start, 0.0, 30.0)
        dot = sum(
            a * b
            for a, b in zip(
                direction(start.latitude_deg, 10.0),
                direction(end.latitude_deg, end.longitude_deg),
                strict=True,
            )
        )
        assert math.acos(dot) <= reach_rad(30.0)
