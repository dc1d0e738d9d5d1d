"""The shelves of the store: which row answers which question, and the check value it carries.

Every question falls on one row by arithmetic alone, a code by its hash, a point by its cell. Most
cells of the earth hold nothing: such rows are left out, and row HELD of each shelf, one bit a row,
says which are there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from zlib import crc32

from plotter.places.grid import DEGREE, FIVE, TWENTY, Grid


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
