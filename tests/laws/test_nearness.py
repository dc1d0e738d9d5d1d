"""Law: the search beside a route finds what measuring every airport finds, wherever on earth."""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest
from examples import TIMES
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small_tables import airport, write_tables

from plotter.datastore.opening import open_store
from plotter.earth.geodesic import Line, LineKind, beside, destination, measure
from plotter.earth.position import Position
from plotter.places.airports import airports_beside
from plotter.places.store import Store

CROWDS = (
    Position(44.0, -92.5),
    Position(0.0, 0.0),
    Position(-17.0, 179.99),
    Position(65.0, -179.99),
    Position(89.99, 20.0),
    Position(-89.99, -70.0),
)
"""Where the invented airports crowd, and where the lines start: the awkward places."""
SAME_NM = 1e-6
"""Two legs this nearly as near [NM, 2 mm] are as near: ``beside`` is good to a millimetre."""


def crowd(draw: random.Random) -> list[Position]:
    near = [
        destination(centre, draw.uniform(0.0, 360.0), draw.uniform(0.0, 120.0))
        for centre in CROWDS
        for _ in range(60)
    ]
    corners = [Position(lat, lon) for lat in (-90.0, 0.0, 90.0) for lon in (-180.0, 0.0, 180.0)]
    return near + corners


POSITIONS = crowd(random.Random(20260131))


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    folder = tmp_path_factory.mktemp("nearness")
    rows = [
        airport(f"ZZ-{number:04d}", place.latitude_deg, place.longitude_deg)
        for number, place in enumerate(POSITIONS)
    ]
    tables = write_tables(folder / "tables", airports=rows, runways=(), frequencies=())
    with open_store(tables=tables, cache=folder / "cache") as small:
        yield small


@st.composite
def routes(draw: st.DrawFn) -> list[Line]:
    """One to three lines from a crowded place on, short ones and very long ones."""
    kind: LineKind = draw(st.sampled_from(["geodesic", "rhumb"]))
    place = destination(
        draw(st.sampled_from(CROWDS)), draw(st.floats(0.0, 360.0)), draw(st.floats(0.0, 150.0))
    )
    lines = []
    for _ in range(draw(st.integers(1, 3))):
        length_nm = draw(st.floats(0.1, 200.0) | st.floats(1000.0, 9000.0))
        end = destination(place, draw(st.floats(0.0, 360.0)), length_nm)
        lines.append(measure(place, end, kind))
        place = end
    return lines


@settings(
    max_examples=60 * TIMES,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(lines=routes(), within_nm=st.sampled_from([0.0, 0.5, 5.0, 10.0, 40.0, 200.0]))
def test_the_search_agrees_with_measuring_every_airport(
    store: Store, lines: list[Line], within_nm: float
) -> None:
    found = airports_beside(store, lines, within_nm)
    measured = [beside(line, POSITIONS) for line in lines]
    nearest = [min(abs(line[n][1]) for line in measured) for n in range(len(POSITIONS))]
    expected = {f"ZZ-{n:04d}" for n, off_nm in enumerate(nearest) if off_nm <= within_nm}
    assert {each.airport.ident for each in found} == expected
    assert len(found) == len(expected)
    assert [each.along_nm for each in found] == sorted(each.along_nm for each in found)
    flown = [sum(line.distance_nm for line in lines[:number]) for number in range(len(lines))]
    for each in found:
        n = int(each.airport.ident[3:])
        along_nm, off_nm = measured[each.leg_number - 1][n]
        assert (each.along_nm, each.off_nm) == (
            pytest.approx(flown[each.leg_number - 1] + along_nm, abs=SAME_NM),
            pytest.approx(off_nm, abs=SAME_NM),
        )
        assert abs(off_nm) <= nearest[n] + SAME_NM
        assert all(abs(line[n][1]) > abs(off_nm) for line in measured[: each.leg_number - 1])
