"""The indexed store of places, opened read-only: every answer is checked, "nothing" too.

A store is a few shelves of numbered rows. Every question falls on one row by arithmetic alone
(a code by its hash, a point by its cell). Each shelf has one more row that says which rows it
holds, so that a row which is missing is either said to be empty or is damage, never an answer.
Each row carries a check value over the store's name, the shelf, the number and the body; a row
from elsewhere fails it too. Whatever is damaged is replaced by a store built anew, and the answer
is taken from that one.
"""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Callable, Collection, Container, Iterator, Mapping
from contextlib import suppress
from pathlib import Path, PurePath
from typing import TYPE_CHECKING, NamedTuple, NotRequired, Self, TypedDict

from plotter.earth.position import Position
from plotter.errors import DataFault
from plotter.places import packing
from plotter.places.model import Airport, Navaid, Place
from plotter.places.packing import town_from
from plotter.places.shelves import (
    AIRPORTS,
    ALL_CODES,
    CODES,
    DEGREE,
    FIVE,
    HELD,
    NAVAIDS,
    TOWNS,
    Shelf,
    base_row,
    check_value,
    code_row,
    holds,
)

if TYPE_CHECKING:
    from plotter.places.model import Changes


class Dataset(TypedDict):
    """What the register says of one table; it may say more.

    ``folder`` is where a table lies that was fetched later; the shipped ones go without.
    """

    file: str
    source: str
    date: str
    licence: str
    sha256: str
    rows: int
    folder: NotRequired[str]


Register = Mapping[str, Dataset]


class Damaged(Exception):
    """A row that is missing, fails its check, or cannot be read."""


SQLITE_FAULTS = (sqlite3.Error, sqlite3.Warning, ValueError, OverflowError, MemoryError)
"""What a damaged file can make the sqlite3 module raise. A ValueError comes when its own message
quotes damaged text that is not UTF-8."""


def sqlite_uri(path: PurePath) -> str:
    """The address of a file as SQLite reads it; a network share needs two slashes more.

    >>> from pathlib import PurePosixPath, PureWindowsPath
    >>> sqlite_uri(PurePosixPath("/a b/c?d#e")), sqlite_uri(PureWindowsPath("C:/a"))
    ('file:///a%20b/c%3Fd%23e', 'file:///C:/a')
    >>> sqlite_uri(PureWindowsPath("//server/share/a"))
    'file:////server/share/a'
    """
    uri = path.as_uri()
    return uri if uri.startswith("file:///") else uri.replace("file://", "file:////", 1)


class Rows:
    """The rows of one open store file, or of one held in memory; safe to share among threads."""

    def __init__(self, connection: sqlite3.Connection, name: str, path: Path | None) -> None:
        self._connection = connection
        self._lock = threading.Lock()
        self._held: dict[Shelf, bytes] = {}
        self.name = name
        self.path = path

    @classmethod
    def open(cls, path: Path, name: str) -> Rows:
        """Open a store file, never to write; raises Damaged where SQLite cannot.

        ``immutable`` spares every lock: the file is never changed once it has its name.
        """
        try:
            uri = f"{sqlite_uri(path.absolute())}?mode=ro&immutable=1"
            return cls(sqlite3.connect(uri, uri=True, check_same_thread=False), name, path)
        except (sqlite3.Error, ValueError) as fault:
            raise Damaged(f"{path}: {fault}") from fault

    def body(self, shelf: Shelf, number: int) -> str:
        """The text of one row, empty where the shelf says it holds none; raises Damaged."""
        return self.content(shelf, number).decode("utf-8")

    def content(self, shelf: Shelf, number: int) -> bytes:
        """What one row holds, nothing where the shelf says it holds none.

        Raises Damaged unless the check value of what was read fits.
        """
        if shelf not in self._held:
            self._held[shelf] = self._checked(shelf, HELD)
        if not 0 <= number < shelf.count or not holds(self._held[shelf], number):
            return b""
        return self._checked(shelf, number)

    def _checked(self, shelf: Shelf, number: int) -> bytes:
        query = f"SELECT body, check_value FROM {shelf.name} WHERE number = ?"
        try:
            with self._lock:
                row = self._connection.execute(query, (number,)).fetchone()
        except SQLITE_FAULTS as fault:
            raise Damaged(f"{shelf.name} {number}: {fault}") from fault
        if row is None or not isinstance(row[0], bytes):
            raise Damaged(f"{shelf.name} {number}: missing")
        if check_value(self.name, shelf, number, row[0]) != row[1]:
            raise Damaged(f"{shelf.name} {number}: the check value does not fit")
        return row[0]

    def close(self) -> None:
        """Close the file; a closed one gives Damaged."""
        with self._lock, suppress(sqlite3.Error):
            self._connection.close()

    def __del__(self) -> None:
        # A TypeError, because at the end of the program what is called here may be gone already.
        try:  # noqa: SIM105
            self.close()
        except (AttributeError, TypeError):
            pass


class CheckedRows:
    """Rows that are replaced by others whenever they prove damaged; shared by all threads.

    ``renew`` is asked for the others.
    """

    TRIES = 4

    def __init__(self, rows: Rows, renew: Callable[[Rows], Rows]) -> None:
        self._renew = renew
        self._renewing = threading.Lock()
        self.rows = rows

    def content(self, shelf: Shelf, number: int) -> bytes:
        """What one row holds; raises DataFault where it stays damaged however often built anew."""
        for _ in range(self.TRIES):
            rows = self.rows
            try:
                return rows.content(shelf, number)
            except Damaged:
                with self._renewing:
                    if rows is self.rows:
                        self.rows = self._renew(rows)
        raise DataFault("the store of places stays damaged however often it is built anew")

    def text(self, shelf: Shelf, number: int) -> str:
        """The text of one row."""
        return self.content(shelf, number).decode("utf-8")

    def close(self) -> None:
        """Close the file."""
        self.rows.close()


class Match(NamedTuple):
    """A place a code means, and the columns of the tables that say so."""

    place: Place
    columns: tuple[str, ...]


class Store:
    """Look-ups of places, base map and towns; one may be shared by all threads of a process.

    ``renew`` is asked for other rows whenever these prove damaged, ``open_search`` for the rows
    of the search index, which is its own file, when it is first needed, ``changes`` what the tables
    before said otherwise of some places (by airport ident or navaid key).
    """

    def __init__(
        self,
        rows: Rows,
        register: Register,
        renew: Callable[[Rows], Rows],
        open_search: Callable[[], CheckedRows] | None = None,
        changes: Callable[[Collection[str]], Changes] | None = None,
    ) -> None:
        self._checked = CheckedRows(rows, renew)
        self._open_search = open_search
        self._changes = changes
        self._search: CheckedRows | None = None
        self._opening = threading.Lock()
        self._codes: frozenset[str] = frozenset()
        self.register = register

    def search_rows(self) -> CheckedRows:
        """The rows of the search index, opened at the first call; raises DataFault without one."""
        with self._opening:
            if self._search is None:
                if self._open_search is None:
                    raise DataFault("this store was opened without a search index")
                self._search = self._open_search()
            return self._search

    def changes_of(self, keys: Collection[str]) -> Changes | None:
        """What the newest tables and those before say differently of places, ``None`` where no
        newer ones were ever fetched.
        """
        return self._changes(keys) if self._changes else None

    @property
    def path(self) -> Path | None:
        """The store's file; ``None`` where it is held in memory because no folder would take it."""
        return self._checked.rows.path

    def by_code(self, code: str) -> tuple[Match, ...]:
        """Every place a code means, in any column and any case: airports first, by their keys."""
        matches = (self._match(entry) for entry in self._entries(code))
        return tuple(match for match in matches if match)

    def place(self, entry: packing.Entry) -> Place | None:
        """The place of an entry, by its key and cell."""
        if entry.what == "airport":
            return packing.find_airport(self._body(AIRPORTS, entry.cell), entry.key)
        return packing.find_navaid(self._body(NAVAIDS, entry.cell), entry.key)

    def airport(self, ident: str) -> Airport | None:
        """The airport of that dataset ident, with runways and frequencies."""
        return next((m for m in self._keyed(ident) if isinstance(m, Airport)), None)

    def navaid(self, key: str) -> Navaid | None:
        """The navaid of that dataset key."""
        return next((m for m in self._keyed(key) if isinstance(m, Navaid)), None)

    def airports_in(
        self, south: float, west: float, north: float, east: float
    ) -> tuple[Airport, ...]:
        """The airports of every kind in a box [°]; ``west`` > ``east`` runs through 180°."""
        wide = (east - west) % 360.0 if east - west < 360.0 else 360.0
        return tuple(
            packing.unpack_airport(sketch.packed)
            for cell in sorted(set(DEGREE.cells_in(south, west, north, west + wide)))
            for sketch in packing.sketches(self._body(AIRPORTS, cell))
            if south <= sketch.latitude_deg <= north
            and (sketch.longitude_deg - west) % 360.0 <= wide
        )

    def sketches(self, cell: int, kinds: Container[str]) -> Iterator[packing.Sketch]:
        """The airports of these kinds in one cell of 1°, unpacked as far as their positions."""
        return packing.sketches(self._body(AIRPORTS, cell), kinds)

    def navaid_sketches(self, cell: int) -> Iterator[packing.Sketch]:
        """The navaids in one cell of 1°, unpacked as far as their positions."""
        return packing.navaid_sketches(self._body(NAVAIDS, cell))

    def town_sketches(self, cell: int) -> Iterator[packing.Sketch]:
        """The towns in one cell of 5°, unpacked as far as their positions."""
        return packing.town_sketches(self._body(TOWNS, cell))

    def base_cell(self, tier: str, cell: str) -> str | None:
        """The JSON text of a base-map cell; ``None`` where the table has none.

        ``tier`` is ``world``, ``coarse`` or ``fine``; ``cell`` the south-west corner, ``+40-080``.
        """
        found = base_row(tier, cell)
        return (self._body(*found) or None) if found else None

    def towns_cell(self, cell: str) -> Iterator[tuple[str, float, float, int]]:
        """Towns of a cell of 5°, largest first: name, latitude [°], longitude [°], population."""
        number = FIVE.number_of(cell)
        body = self._body(TOWNS, number) if number is not None else ""
        return (town_from(line.split("\t")) for line in body.split("\n") if line)

    def codes(self) -> frozenset[str]:
        """Every code in the store."""
        if not self._codes:
            self._codes = frozenset(self._body(ALL_CODES, 0).split("\n"))
        return self._codes

    def suggestions(
        self, text: str, limit: int = 5, near: Position | None = None
    ) -> tuple[str, ...]:
        """Codes like a mistyped one, the likeliest first; those near a position are preferred."""
        from plotter.places.spelling import alike

        return alike(text, self.codes(), self._roughly, near)[:limit]

    def close(self) -> None:
        """Close the files; a store need not be closed by hand."""
        self._checked.close()
        if self._search is not None:
            self._search.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _entries(self, code: str) -> list[packing.Entry]:
        wanted = code.strip().upper()
        if not code.isascii() or not wanted or "\t" in wanted or "\n" in wanted:
            return []
        return packing.find_entries(self._body(CODES, code_row(wanted)), wanted)

    def _match(self, entry: packing.Entry) -> Match | None:
        place = self.place(entry)
        return Match(place, entry.columns) if place else None

    def _keyed(self, key: str) -> Iterator[Place]:
        wanted = key.strip().upper()
        for entry in self._entries(key):
            place = self.place(entry) if entry.key.upper() == wanted else None
            if place:
                yield place

    def _roughly(self, code: str) -> list[Position]:
        """About where a code's places lie: the middles of their cells."""
        return [DEGREE.middle(entry.cell) for entry in self._entries(code)]

    def _body(self, shelf: Shelf, number: int) -> str:
        return self._checked.text(shelf, number)
