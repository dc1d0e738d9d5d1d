"""The shelves of the store: which row answers which question, and the check value it carries.

Every question falls on one row by arithmetic alone, a code by its hash, a point by its cell. Most
cells of the earth hold nothing: such rows are left out, and row HELD of each shelf, one bit a row,
says which are there.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from zlib import crc32

from plotter.earth.position import Position

# The earth cut into numbered cells of equal steps of latitude and longitude.
#
# A rough sieve only: cells say where to look, geodesics say what is near.

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


@dataclass(frozen=True, slots=True, eq=False)
class Shelf:
    """A table of the store: rows numbered from 0 to ``count`` − 1, and the row HELD."""

    name: str
    count: int


CODES = Shelf("codes", 16_384)
AIRPORTS = Shelf("airports", DEGREE.count)
NAVAIDS = Shelf("navaids", DEGREE.count)
TOWNS = Shelf("towns", FIVE.count)
ALL_CODES = Shelf("all_codes", 1)
BASE: Mapping[str, tuple[Shelf, Grid | None]] = MappingProxyType(
    {
        "world": (Shelf("base_world", 1), None),
        "coarse": (Shelf("base_coarse", TWENTY.count), TWENTY),
        "fine": (Shelf("base_fine", FIVE.count), FIVE),
    }
)
SHELVES = (CODES, AIRPORTS, NAVAIDS, TOWNS, ALL_CODES, *(shelf for shelf, _ in BASE.values()))


HELD = -1
"""The row of a shelf that says which others it holds."""


def held(numbers: Iterable[int], count: int) -> bytes:
    """The body of row HELD for a shelf of ``count`` rows that holds these.

    >>> held([0, 9], 10)
    b'\\x01\\x02'
    """
    bits = bytearray((count + 7) // 8)
    for number in numbers:
        bits[number // 8] |= 1 << number % 8
    return bytes(bits)


def holds(bits: bytes, number: int) -> bool:
    """Whether a body of row HELD says that a row is there.

    >>> [number for number in range(10) if holds(held([0, 9], 10), number)]
    [0, 9]
    """
    return bool(bits[number // 8] >> number % 8 & 1)


def check_value(store_name: str, shelf: Shelf, number: int, body: bytes) -> int:
    """The check value (CRC-32) that row ``number`` of a shelf must carry."""
    return crc32(body, crc32(f"{store_name}/{shelf.name}/{number}/".encode()))


def code_row(code: str) -> int:
    """The row of CODES that answers for a code."""
    return crc32(code.encode("utf-8", "replace")) % CODES.count


def base_row(tier: str, cell: str) -> tuple[Shelf, int] | None:
    """The shelf and row of a base-map cell; ``None`` where the tier has no such cell.

    >>> base_row("coarse", "-90-180")
    (Shelf(name='base_coarse', count=162), 0)
    """
    shelf, grid = BASE[tier]
    if grid is None:
        return (shelf, 0) if cell == "world" else None
    number = grid.number_of(cell)
    return None if number is None else (shelf, number)
