"""The earth cut into numbered cells of equal steps of latitude and longitude.

A rough sieve only: cells say where to look, geodesics say what is near.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

from plotter.earth.position import Position

_NAME = re.compile(r"([+-]\d\d)([+-]\d\d\d)", re.ASCII)


@dataclass(frozen=True, slots=True)
class Grid:
    """Square cells of ``step_deg`` [°], numbered from the south pole and 180° eastward.

    The north pole belongs to the northernmost row, and 180° E to the cells that begin at 180° W.
    """

    step_deg: int

    @property
    def columns(self) -> int:
        """Cells in a row round the earth."""
        return 360 // self.step_deg

    @property
    def rows(self) -> int:
        """Rows from pole to pole."""
        return 180 // self.step_deg

    @property
    def count(self) -> int:
        """How many cells there are."""
        return self.columns * self.rows

    def number(self, latitude_deg: float, longitude_deg: float) -> int:
        """The cell that holds a point; any turn of longitude is the same.

        A latitude that cannot be gives a number that no cell has.

        >>> DEGREE.number(-90.0, -180.0), DEGREE.number(90.0, 180.0), DEGREE.count
        (0, 64440, 64800)
        """
        step = self.step_deg
        row = int((latitude_deg + 90.0) // step) - (latitude_deg + 90.0 == 180.0)
        return row * (360 // step) + int((longitude_deg + 180.0) // step) % (360 // step)

    def cell_of(self, position: Position) -> int:
        """Return the cell that holds a position."""
        return self.number(position.latitude_deg, position.longitude_deg)

    def middle(self, number: int) -> Position:
        """The middle of a cell.

        >>> DEGREE.middle(0)
        Position(latitude_deg=-89.5, longitude_deg=-179.5)
        """
        row, column = divmod(number, self.columns)
        half = self.step_deg / 2
        return Position(row * self.step_deg - 90.0 + half, column * self.step_deg - 180.0 + half)

    def number_of(self, name: str) -> int | None:
        """The number of a cell named by its south-west corner; ``None`` where there is no such.

        >>> FIVE.number_of("+40-080"), FIVE.number_of("+41-080"), FIVE.number_of("+40-190")
        (1892, None, None)
        """
        found = _NAME.fullmatch(name)
        if not found:
            return None
        south, west = int(found[1]), int(found[2])
        inside = -90 <= south < 90 and -180 <= west < 180
        if not inside or (south + 90) % self.step_deg or (west + 180) % self.step_deg:
            return None
        return self.number(south, west)

    def name(self, number: int) -> str:
        """Return the name of a cell: its south-west corner, the inverse of :meth:`number_of`.

        >>> FIVE.name(1892)
        '+40-080'
        """
        row, column = divmod(number, self.columns)
        return f"{row * self.step_deg - 90:+03d}{column * self.step_deg - 180:+04d}"

    def cells_round(self, centre: Position, radius_deg: float) -> Iterator[int]:
        """The cells a cap of ``radius_deg`` [° of a great circle] touches, and perhaps a few more.

        >>> len(list(DEGREE.cells_round(Position(0.5, 179.9), 0.2)))
        2
        >>> len(list(DEGREE.cells_round(Position(90.0, 0.0), 0.2)))
        360
        """
        south, north = centre.latitude_deg - radius_deg, centre.latitude_deg + radius_deg
        half_width = _half_width(centre.latitude_deg, radius_deg)
        west = centre.longitude_deg - half_width
        return self.cells_in(south, west, north, west + 2 * half_width)

    def cells_in(self, south: float, west: float, north: float, east: float) -> Iterator[int]:
        """The cells a box [°] touches; ``west`` runs eastward to ``east``, through 180° or not."""
        first_row, last_row = self._row(south), self._row(north)
        first = int((west + 180.0) // self.step_deg)
        wide = int((east + 180.0) // self.step_deg) - first + 1
        for row in range(first_row, last_row + 1):
            for column in range(first, first + min(wide, self.columns)):
                yield row * self.columns + column % self.columns

    def _row(self, latitude_deg: float) -> int:
        """The row of a latitude; the last one where it is at a pole or past it."""
        return min(max(0, int((latitude_deg + 90.0) // self.step_deg)), self.rows - 1)


def _half_width(latitude_deg: float, radius_deg: float) -> float:
    """How far east and west [°] a cap reaches: all round where it holds a pole.

    The widest meridian touches the cap where sin(half width) = sin(radius) / cos(latitude).
    """
    if abs(latitude_deg) + radius_deg >= 90.0:
        return 180.0
    sine = math.sin(math.radians(radius_deg)) / math.cos(math.radians(latitude_deg))
    return math.degrees(math.asin(min(1.0, sine))) + 1e-9


DEGREE = Grid(1)
FIVE = Grid(5)
TWENTY = Grid(20)
