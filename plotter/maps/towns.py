"""Which towns a map names: the largest of each part of it, so that no part is left bare."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from plotter.maps.cells import CellSource, Town, cell_name, cells_over, turn_deg
from plotter.maps.view import View

MOST_TOWNS_A_BLOCK = 2
BLOCKS = 12
TOWN_CELL_DEG = 5


def towns_for(source: CellSource, view: View) -> Iterator[Town]:
    """The most populous towns of each block of a view, so that none crowd out a bare corner.

    They come largest first: a script that draws them in turn while there is room names the
    most populous ones at any scale.
    """
    of_cells = [
        town for cell in cells_over(view, TOWN_CELL_DEG) for town in _of(source, view, cell)
    ]
    yield from _largest(sorted(of_cells, key=lambda t: (-t[3], t[0], t[1], t[2])), view)


def _of(source: CellSource, view: View, cell: tuple[int, int]) -> Iterator[Town]:
    """The towns of one cell that a block may name; no more of them are read."""
    south, west = cell
    blocks = _blocks(view, south, west)
    return _largest(_inside(source, view, cell), view, most=MOST_TOWNS_A_BLOCK * blocks)


def _inside(source: CellSource, view: View, cell: tuple[int, int]) -> Iterator[Town]:
    south, west = cell
    shift = turn_deg(west)
    for name, latitude, longitude, population in source.towns_cell(cell_name(south, west - shift)):
        if view.south <= latitude < view.north and view.west <= longitude + shift < view.east:
            yield name, latitude, longitude + shift, population


def _largest(ordered: Iterable[Town], view: View, most: int | None = None) -> Iterator[Town]:
    """The first towns of each block, of some that come largest first; at ``most`` it ends."""
    taken: dict[tuple[int, int], int] = {}
    named = 0
    for town in ordered:
        block = _block(view, town[1], town[2])
        taken[block] = taken.get(block, 0) + 1
        if taken[block] <= MOST_TOWNS_A_BLOCK:
            yield town
            named += 1
            if named == most:
                return


def _block(view: View, latitude: float, longitude: float) -> tuple[int, int]:
    """Which part of a view a position [°] lies in, counted from its south-west corner."""
    return (
        int((latitude - view.south) / (view.north - view.south) * BLOCKS),
        int((longitude - view.west) / (view.east - view.west) * BLOCKS),
    )


def _blocks(view: View, south: int, west: int) -> int:
    """How many parts of a view a cell touches."""
    first = _block(view, max(south, view.south), max(west, view.west))
    last = _block(
        view, min(south + TOWN_CELL_DEG, view.north), min(west + TOWN_CELL_DEG, view.east)
    )
    return math.prod(b - a + 1 for a, b in zip(first, last, strict=True))
