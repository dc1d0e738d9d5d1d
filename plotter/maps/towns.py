"""Which towns a map names: the largest of each part of it, so that no part is left bare."""

from __future__ import annotations

from collections.abc import Iterator

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
    taken: dict[tuple[int, int], int] = {}
    for town in sorted(_towns_in(source, view), key=lambda t: (-t[3], t[0], t[1], t[2])):
        block = (
            int((town[1] - view.south) / (view.north - view.south) * BLOCKS),
            int((town[2] - view.west) / (view.east - view.west) * BLOCKS),
        )
        taken[block] = taken.get(block, 0) + 1
        if taken[block] <= MOST_TOWNS_A_BLOCK:
            yield town


def _towns_in(source: CellSource, view: View) -> Iterator[Town]:
    for south, west in cells_over(view, TOWN_CELL_DEG):
        shift = turn_deg(west)
        for name, latitude, longitude, population in source.towns_cell(
            cell_name(south, west - shift)
        ):
            if view.south <= latitude < view.north and view.west <= longitude + shift < view.east:
                yield name, latitude, longitude + shift, population
