"""Towns: the largest of each part of the view, none twice, none from far away."""

from __future__ import annotations

from base_cells import Cells

from plotter.maps.base import BLOCKS, MOST_TOWNS_A_BLOCK, towns_for
from plotter.maps.view import View
from plotter.places.store import Store

VIEW = View(43.0, -94.0, 45.0, -91.0)


def source_of(*towns: tuple[str, float, float, int]) -> Cells:
    return Cells(towns={"+40-095": list(towns)})


def names(source: Cells, view: View = VIEW) -> list[str]:
    return [town[0] for town in towns_for(source, view)]


def test_the_largest_comes_first() -> None:
    found = names(source_of(("Small", 44.0, -93.0, 10), ("Large", 44.5, -92.0, 1000)))
    assert found == ["Large", "Small"]


def test_one_part_of_the_view_names_only_its_largest() -> None:
    crowd = [(f"Town {n:02d}", 44.0 + n * 1e-4, -93.0, 1000 - n) for n in range(30)]
    assert names(source_of(*crowd)) == [f"Town {n:02d}" for n in range(MOST_TOWNS_A_BLOCK)]


def test_a_full_view_names_no_more_than_its_blocks_hold() -> None:
    crowd = [
        (f"{i} {j}", 43.0 + i * 0.02, -94.0 + j * 0.02, i * j)
        for i in range(100)
        for j in range(150)
    ]
    found = names(source_of(*crowd))
    assert len(found) == len(set(found)) == MOST_TOWNS_A_BLOCK * BLOCKS**2


def test_towns_outside_the_view_are_not_named() -> None:
    assert names(source_of(("North", 45.1, -93.0, 10), ("West", 44.0, -94.1, 10))) == []


def test_towns_beyond_180_are_moved_into_the_view() -> None:
    source = Cells(towns={"-20-180": [("Lagoon", -16.5, -179.2, 300)]})
    view = View(-18.0, 177.0, -15.0, 182.0)
    assert list(towns_for(source, view)) == [("Lagoon", -16.5, 180.8, 300)]


def test_towns_of_equal_size_come_in_the_same_order_whatever_the_table_says() -> None:
    two = [("B", 44.0, -93.0, 5), ("A", 44.5, -92.0, 5)]
    assert names(source_of(*two)) == names(source_of(*reversed(two))) == ["A", "B"]


def test_a_wide_view_names_the_largest_of_the_whole_of_it_not_only_along_the_route() -> None:
    corners = {"+00-100": (1.0, -98.0), "+55-100": (58.0, -98.0), "+55-005": (58.0, -2.0)}
    source = Cells(towns={cell: [(cell, *at, 7)] for cell, at in corners.items()})
    source.towns["+30-050"] = [(f"Town {n:02d}", 31.0, -48.0, 100 - n) for n in range(30)]
    wide = names(source, View(0.0, -100.0, 60.0, 0.0))
    assert set(corners) < set(wide)
    assert wide[:MOST_TOWNS_A_BLOCK] == ["Town 00", "Town 01"]


def test_towns_come_in_order_of_their_people_whatever_the_cell() -> None:
    source = Cells(towns={"+40-095": [("A", 44.0, -93.0, 5)], "+40-090": [("B", 44.0, -89.0, 9)]})
    assert names(source, View(43.0, -94.0, 45.0, -86.0)) == ["B", "A"]


def test_a_cell_of_the_real_tables_gives_its_largest_first(real_store: Store) -> None:
    """A wide view stops reading each cell once its blocks are full."""
    for cell in ("+40-095", "+45+000", "+35+135"):
        people = [town[3] for town in real_store.towns_cell(cell)]
        assert len(people) > 50
        assert people == sorted(people, reverse=True)
