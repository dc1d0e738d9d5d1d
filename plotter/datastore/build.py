"""The store made from the tables, in one pass."""

from __future__ import annotations

import csv
import gc
import re
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import NamedTuple

from plotter.datastore.tables import COLUMNS, TIERS, content_hash, read_rows, read_table
from plotter.errors import DataFault
from plotter.places.packing import pack_airport, pack_entry, pack_navaid
from plotter.places.shelves import (
    AIRPORTS,
    ALL_CODES,
    CODES,
    DEGREE,
    FIVE,
    HELD,
    NAVAIDS,
    SHELVES,
    TOWNS,
    Shelf,
    base_row,
    check_value,
    code_row,
    held,
)
from plotter.places.store import Register

SCHEMA = 3
"""Goes up with every change of what is in a store or how; a test holds it to the layout."""

Progress = Callable[[float], None]
Fill = Callable[[sqlite3.Connection, Path, Register, Progress], None]
Bins = dict[int, list[str]]
KEY = "key"
CODE_COLUMNS = ("icao", "gps", "local", "iata", "ident")
_CELL = re.compile(r'\{\s*"cell"\s*:\s*"([^"]*)"')
TICK = 4096
"""Rows between two calls of ``progress``."""
READING = 0.8
"""The part of the work that is done when the tables are read and the rows not yet written."""


class Recipe(NamedTuple):
    """A kind of store: its name for a register, how it is filled, the shelves it then has."""

    name: Callable[[Register], str]
    fill: Fill
    shelves: Sequence[Shelf]


def store_name(register: Register) -> str:
    """The name of the store of these tables: its schema and a hash of what is in them."""
    return f"places-{SCHEMA}-{content_hash(register)}"


def build(
    connection: sqlite3.Connection, folder: Path, register: Register, progress: Progress
) -> None:
    """Fill an empty database with the store of a folder of tables.

    ``progress`` is called with the fraction done. Raises DataFault where a table is not the one
    registered or cannot be read, sqlite3.Error where the database refuses.
    """
    name = store_name(register)
    contents = Contents(folder, register, lambda done: progress(READING * done))
    with no_garbage_search():
        contents.read()
    connection.execute("PRAGMA journal_mode = OFF")
    with connection:
        for done, shelf in enumerate(SHELVES, start=1):
            bins = contents.shelves[shelf]
            write_shelf(connection, name, shelf, bins.keys(), partial(_body, bins))
            progress(READING + (1.0 - READING) * done / len(SHELVES))


PLACES = Recipe(store_name, build, SHELVES)


@contextmanager
def no_garbage_search() -> Iterator[None]:
    """Spare the search for reference cycles: a million new lists without one cost a fifth more."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def write_shelf(
    connection: sqlite3.Connection,
    name: str,
    shelf: Shelf,
    numbers: Collection[int],
    body: Callable[[int], bytes],
) -> None:
    """Write the rows of these numbers on one shelf, and first the row that says which they are."""
    connection.execute(
        f"CREATE TABLE {shelf.name} (number INTEGER PRIMARY KEY, check_value INTEGER, body BLOB)"
    )
    rows = _checked_rows(name, shelf, numbers, body)
    connection.executemany(f"INSERT INTO {shelf.name} VALUES (?, ?, ?)", rows)


def _checked_rows(
    name: str, shelf: Shelf, numbers: Collection[int], body: Callable[[int], bytes]
) -> Iterator[tuple[int, int, bytes]]:
    if numbers and not 0 <= min(numbers) <= max(numbers) < shelf.count:
        raise DataFault(f"a row of {shelf.name} lies nowhere on earth")
    yield _checked(name, shelf, HELD, held(numbers, shelf.count))
    for number in sorted(numbers):
        yield _checked(name, shelf, number, body(number))


def _checked(name: str, shelf: Shelf, number: int, body: bytes) -> tuple[int, int, bytes]:
    return number, check_value(name, shelf, number, body), body


def _body(bins: Bins, number: int) -> bytes:
    return "\n".join(bins[number]).encode("utf-8")


class Contents:
    """The lines of every row of every shelf, gathered table by table."""

    def __init__(self, folder: Path, register: Register, progress: Progress) -> None:
        self._folder = folder
        self._register = register
        self._progress = progress
        self._rows_read = 0
        self._rows_expected = sum(register[table]["rows"] for table in COLUMNS) or 1
        self._codes: set[str] = set()
        self.shelves: dict[Shelf, Bins] = {shelf: defaultdict(list) for shelf in SHELVES}

    def read(self) -> None:
        """Read every table; raises DataFault where one is not what it should be."""
        readers = (self._airports, self._navaids, self._towns, self._base_map)
        for reader in readers:
            try:
                reader()
            except (ValueError, IndexError, csv.Error) as fault:
                what = reader.__name__.strip("_").replace("_", " ")
                raise DataFault(f"the table of {what} cannot be read: {fault!r}") from fault
        self.shelves[ALL_CODES][0] = sorted(self._codes)

    def _rows(self, table: str) -> Iterator[list[str]]:
        for row in read_rows(self._folder, self._register, table):
            self._rows_read += 1
            if self._rows_read % TICK == 0:
                self._progress(min(1.0, self._rows_read / self._rows_expected))
            yield row

    def _airports(self) -> None:
        runways = _by_airport(self._rows("runways"))
        frequencies = _by_airport(self._rows("frequencies"))
        cells = self.shelves[AIRPORTS]
        for row in self._rows("airports"):
            cell = DEGREE.number(float(row[10]), float(row[11]))
            line = pack_airport(row, runways.get(row[0], ()), frequencies.get(row[0], ()))
            cells[cell].append(line)
            codes = zip(CODE_COLUMNS, (row[1], row[3], row[4], row[2], row[0]), strict=True)
            self._add_codes("airport", row[0], cell, codes)

    def _navaids(self) -> None:
        for row in self._rows("navaids"):
            cell = DEGREE.number(float(row[4]), float(row[5]))
            self.shelves[NAVAIDS][cell].append(pack_navaid(row))
            self._add_codes("navaid", row[0], cell, (("ident", row[1]), (KEY, row[0])))

    def _add_codes(self, what: str, key: str, cell: int, codes: Iterable[tuple[str, str]]) -> None:
        columns: dict[str, str] = {}
        for column, written in codes:
            if code := written.upper():
                columns[code] = f"{columns[code]} {column}" if code in columns else column
        for code, found in columns.items():
            line = pack_entry(code, what, key, cell, found)
            self.shelves[CODES][code_row(code)].append(line)
            if found != KEY:
                self._codes.add(code)

    def _towns(self) -> None:
        cells = self.shelves[TOWNS]
        for row in sorted(self._rows("towns"), key=_largest_first):
            cells[FIVE.number(float(row[2]), float(row[3]))].append("\t".join(row))

    def _base_map(self) -> None:
        for table, tier in TIERS.items():
            for line in read_table(self._folder, self._register[table]).split("\n"):
                if line:
                    self._base_cell(tier, line)

    def _base_cell(self, tier: str, line: str) -> None:
        cell = _CELL.match(line)
        found = base_row(tier, cell[1]) if cell else None
        if found is None:
            raise ValueError(f"no such cell: {line[:40]}")
        shelf, number = found
        self.shelves[shelf][number].append(line)


def _largest_first(town: list[str]) -> tuple[int, str, float, float]:
    """Order towns by population, equal ones by name and position, as the map does."""
    return -int(town[4] or 0), town[0], float(town[2]), float(town[3])


def _by_airport(rows: Iterable[list[str]]) -> dict[str, list[list[str]]]:
    found: dict[str, list[list[str]]] = {}
    for row in rows:
        found.setdefault(row[0], []).append(row)
    return found
