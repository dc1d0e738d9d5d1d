"""Law: what lies near a point is what measuring every place finds, wherever on earth."""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest
from examples import TIMES
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small_tables import airport, navaid, write_tables

from plotter.datastore.opening import open_store
from plotter.earth.geodesic import destination, distance_nm, measure
from plotter.earth.position import Position
from plotter.places.model import Airport
from plotter.places.naming import NAVAID, TOWN
from plotter.places.nearness import FARTHEST_NM, near, nearest
from plotter.places.store import Store

CROWDS = (
    Position(44.0, -92.5),
    Position(0.0, 0.0),
    Position(-17.0, 179.99),
    Position(65.0, -179.99),
    Position(89.99, 20.0),
    Position(-89.99, -70.0),
)
CORNERS = [Position(lat, lon) for lat in (-90.0, 0.0, 90.0) for lon in (-180.0, 0.0, 180.0)]


def crowd(seed: int) -> list[Position]:
    draw = random.Random(seed)
    around = [
        destination(centre, draw.uniform(0.0, 360.0), draw.uniform(0.0, 120.0))
        for centre in CROWDS
        for _ in range(40)
    ]
    return around + CORNERS


AIRPORTS, NAVAIDS, TOWNS = crowd(20260704), crowd(20260705), crowd(20260706)


def figures(place: Position) -> tuple[float, float]:
    return place.latitude_deg, place.longitude_deg


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    folder = tmp_path_factory.mktemp("near")
    tables = write_tables(
        folder / "tables",
        airports=[airport(f"ZZ-{n:04d}", *figures(p)) for n, p in enumerate(AIRPORTS)],
        navaids=[navaid(f"N{n:04d}-NDB-ZZ", *figures(p)) for n, p in enumerate(NAVAIDS)],
        towns=[(f"T{n:04d}", "ZZ", *map(repr, figures(p)), "") for n, p in enumerate(TOWNS)],
        runways=(),
        frequencies=(),
    )
    with open_store(tables=tables, cache=folder / "cache") as small:
        yield small


centres = st.one_of(
    st.builds(destination, st.sampled_from(CROWDS), st.floats(0.0, 360.0), st.floats(0.0, 150.0)),
    st.sampled_from([*CROWDS, *CORNERS, *AIRPORTS]),
    st.builds(Position, st.floats(-90.0, 90.0), st.floats(-180.0, 180.0)),
)


@settings(max_examples=80 * TIMES, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    centre=centres,
    within_nm=st.sampled_from([0.0, 1e-6, 0.4, 5.0, 25.0, 90.0, 700.0, 6000.0, FARTHEST_NM]),
    kind=st.sampled_from(["small_airport", NAVAID, TOWN]),
)
def test_near_agrees_with_measuring_every_place(
    store: Store, centre: Position, within_nm: float, kind: str
) -> None:
    places = {"small_airport": AIRPORTS, NAVAID: NAVAIDS, TOWN: TOWNS}[kind]
    measured = sorted(distance_nm(centre, place) for place in places)
    expected = [each for each in measured if each <= within_nm]
    found = near(store, centre, within_nm, [kind]).found
    assert [each.distance_nm for each in found] == expected
    assert len(set(found)) == len(found)
    for each in found:
        assert each.distance_nm == distance_nm(centre, each.place.position)
        if each.true_course_deg is not None and each.distance_nm < 10_000.0:
            line = measure(centre, each.place.position)
            assert each.true_course_deg == pytest.approx(line.initial_true_course_deg, abs=1e-6)


@settings(max_examples=40 * TIMES, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(centre=centres)
def test_the_nearest_is_the_nearest_of_all(store: Store, centre: Position) -> None:
    found = nearest(store, centre)
    assert found is not None
    assert isinstance(found.place, Airport)
    assert found.distance_nm == min(distance_nm(centre, place) for place in AIRPORTS)


@pytest.mark.parametrize("centre", [Position(52.0, 13.0), Position(61.5, -150.0), *CORNERS[:4]])
def test_real_places_by_brute_force(real_store: Store, centre: Position) -> None:
    """Every airfield of the earth measured on the ellipsoid, against the search."""
    everyone = [
        each
        for each in real_store.airports_in(-90.0, -180.0, 90.0, 180.0)
        if each.kind in ("small_airport", "medium_airport", "large_airport")
    ]
    distances = {each.ident: distance_nm(centre, each.position) for each in everyone}
    expected = {ident for ident, each_nm in distances.items() if each_nm <= 150.0}
    found = near(real_store, centre, 150.0).found
    assert {each.place.ident for each in found if isinstance(each.place, Airport)} == expected
    first = nearest(real_store, centre)
    assert first is not None
    assert first.distance_nm == min(distances.values())
