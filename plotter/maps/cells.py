"""Cells of the base map: how they are named, and which of them a view touches."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Protocol

from plotter.maps.view import View

Town = tuple[str, float, float, int]
"""Name, latitude, longitude (unrolled), population."""


class CellSource(Protocol):
    """What the base map asks of an open store."""

    def base_cell(self, tier: str, cell: str) -> str | None:
        """The JSON text of one cell, ``None`` where the table has none (open sea)."""

    def towns_cell(self, cell: str) -> Iterable[Town]:
        """Towns of one cell of 5°: name, latitude, longitude, population.

        The largest come first, towns of equal population by name, latitude and longitude.
        """


def cells_over(view: View, size_deg: int) -> Iterator[tuple[int, int]]:
    """South-west corners of all cells a view touches, counted from 90° S 180° W, unrolled.

    >>> list(cells_over(View(-1.0, 178.0, 4.0, 181.0), 5))
    [(-5, 175), (-5, 180), (0, 175), (0, 180)]
    """
    south = math.floor((view.south + 90) / size_deg) * size_deg - 90
    west = math.floor((view.west + 180) / size_deg) * size_deg - 180
    for latitude in range(south, math.ceil(view.north), size_deg):
        for longitude in range(west, math.ceil(view.east), size_deg):
            yield latitude, longitude


def cell_name(south: int, west: int) -> str:
    """The name of a cell: its south-west corner.

    >>> cell_name(40, -80), cell_name(-5, 175)
    ('+40-080', '-05+175')
    """
    return f"{south:+03d}{west:+04d}"


def turn_deg(west: float) -> int:
    """Whole turns [°] by which an unrolled longitude lies beyond −180 to 180.

    >>> turn_deg(175), turn_deg(180), turn_deg(-185)
    (0, 360, -360)
    """
    return 360 * math.floor((west + 180) / 360)
