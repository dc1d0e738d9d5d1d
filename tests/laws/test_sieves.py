"""What is left out early to save time could not have been in the answer."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from base_cells import Cells
from hypothesis import given
from hypothesis import strategies as st
from plots import airport

from plotter.earth.geodesic import destination, distance_nm
from plotter.earth.position import Position
from plotter.maps.base import (
    BLOCKS,
    MOST_TOWNS_A_BLOCK,
    TOWN_CELL_DEG,
    Town,
    cell_name,
    cells_over,
    towns_for,
    turn_deg,
)
from plotter.maps.view import View
from plotter.places.model import Airport
from plotter.places.twins import NAMESAKES_NM, TWINS_NM, twins_among

CENTRES = st.sampled_from(
    [Position(44.0, -92.5), Position(70.0, 179.97), Position(-89.97, 12.0), Position(90.0, 0.0)]
)
STEPS = st.tuples(st.floats(0.0, 360.0), st.floats(0.0, 12.0))


def field(number: int, place: Position, name: str) -> Airport:
    made = airport(f"XD{number:02d}", name, place.latitude_deg, place.longitude_deg)
    return replace(made, icao="", gps="", local="", iata="", kind="small_airport")


@given(CENTRES, st.lists(st.tuples(STEPS, st.sampled_from(["Demo Farm", "Demo Mill"])), max_size=9))
def test_no_pair_of_fields_is_lost(
    centre: Position, drawn: list[tuple[tuple[float, float], str]]
) -> None:
    fields = [field(k, destination(centre, *step), name) for k, (step, name) in enumerate(drawn)]
    expected = {
        frozenset((one.ident, other.ident))
        for k, one in enumerate(fields)
        for other in fields[k + 1 :]
        if distance_nm(one.position, other.position)
        <= (NAMESAKES_NM if one.name == other.name else TWINS_NM)
    }
    pairs = twins_among(fields)
    assert {frozenset((pair.first.ident, pair.second.ident)) for pair in pairs} == expected
    assert len(pairs) == len(expected)


PLACES = st.tuples(
    st.floats(-20.0, 20.0, exclude_max=True),
    st.floats(-20.0, 20.0, exclude_max=True),
    st.integers(0, 50),
)
EDGES = st.tuples(st.floats(-20.0, 18.0), st.floats(0.5, 30.0))


@given(st.lists(PLACES, max_size=60), EDGES, EDGES)
def test_no_town_is_lost_that_is_among_the_largest_of_its_block(
    drawn: list[tuple[float, float, int]], up: tuple[float, float], across: tuple[float, float]
) -> None:
    towns = [(f"T{k}", *place) for k, place in enumerate(drawn)]
    source = Cells()
    for town in towns:
        south, west = (5 * int((value + 90) // 5) - 90 for value in town[1:3])
        source.towns.setdefault(cell_name(south, west), []).append(town)
    view = View(up[0], across[0], sum(up), sum(across))
    assert list(towns_for(source, view)) == list(slowly(source, view))


def slowly(source: Cells, view: View) -> Iterator[Town]:
    """The same by its definition: of all towns in view the largest of each block."""
    inside = []
    for south, west in cells_over(view, TOWN_CELL_DEG):
        shift = turn_deg(west)
        for name, north, east, people in source.towns_cell(cell_name(south, west - shift)):
            if view.south <= north < view.north and view.west <= east + shift < view.east:
                inside.append((name, north, east + shift, people))
    named: dict[tuple[int, int], int] = {}
    for town in sorted(inside, key=lambda each: (-each[3], *each[:3])):
        row = int((town[1] - view.south) / (view.north - view.south) * BLOCKS)
        column = int((town[2] - view.west) / (view.east - view.west) * BLOCKS)
        named[row, column] = named.get((row, column), 0) + 1
        if named[row, column] <= MOST_TOWNS_A_BLOCK:
            yield town
