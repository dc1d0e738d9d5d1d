"""The stores of places, names and base map: plain SQLite files, opened read-only and checked.

Three files hold what the tables say: ``places`` (airports, navaids, towns, and one row a code with
all the places it means), ``ground`` (the cells of the base map) and ``search`` (the names). Two
checks keep a damaged file from giving a wrong answer:

* Every row that becomes a place carries a check value, which :meth:`Database.checked` compares.
  A code's row names all its places, so that a place which is missing is noticed.
* The file as a whole carries a CRC-32 in its header. It is compared whenever the file is not the
  one compared last (size, time or inode differ), and once a process before anything is said not
  to be in the data.

What a damaged index can still do, where size, time and inode stayed the same, is to leave a place
out of a list of what lies in an area. A damaged file is replaced by a new one, which then answers.
"""

from __future__ import annotations

import json
import sqlite3
import threading
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from contextlib import suppress
from functools import lru_cache
from pathlib import Path, PurePath
from typing import (
    TYPE_CHECKING,
    Any,
    Literal,
    NamedTuple,
    NotRequired,
    Self,
    TypedDict,
    TypeVar,
    cast,
)
from zlib import crc32

from plotter.earth.position import Position
from plotter.errors import DataFault, PositionError
from plotter.places.grid import DEGREE, FIVE
from plotter.places.model import EVERY_KIND, Airport, Navaid, Place, Town
from plotter.places.rows import airport_of, navaid_of, town_of

if TYPE_CHECKING:
    from plotter.places.model import Changes

Kind = Literal["places", "ground", "search"]
KINDS_OF_STORE: tuple[Kind, ...] = ("places", "ground", "search")
Table = Literal["airports", "navaids", "towns"]
Found = Airport | Navaid | Town
_KEYS: Mapping[Table, str] = {"airports": "ident", "navaids": "key", "towns": "number"}
"""The primary key of each table of places."""
_IN_CELL: Mapping[Table, str] = {
    table: f"SELECT {key}, {kind}, latitude_deg, longitude_deg FROM {table} WHERE cell = ?1"
    for (table, key), kind in zip(_KEYS.items(), ("kind", "'navaid'", "'town'"), strict=True)
}
"""What the index by cell has of each table: enough for a sieve."""
Inside = Callable[[int, float, float], bool]
"""Whether a place of a cell is inside, by its latitude and longitude [°]."""
_REMEMBERED = 2048
"""Places that are not read again: while a route is dragged most stay in view."""
_SEAL = slice(60, 64)
"""Where the CRC-32 of a file is, in four bytes that SQLite leaves to its user: the user version
(SQLite, Database File Format, section 1.3.15)."""
_Answer = TypeVar("_Answer")


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
    """A store file, or a row of it, that is not what was built."""


SQLITE_FAULTS = (sqlite3.Error, sqlite3.Warning, ValueError, OverflowError, MemoryError)
"""What a damaged file can make the sqlite3 module raise. A ValueError comes when its own message
quotes damaged text that is not UTF-8."""


def sqlite_uri(path: PurePath) -> str:
    """Return the address of a file as SQLite reads it; a network share needs two more slashes.

    >>> from pathlib import PurePosixPath, PureWindowsPath
    >>> sqlite_uri(PurePosixPath("/a b/c?d#e")), sqlite_uri(PureWindowsPath("C:/a"))
    ('file:///a%20b/c%3Fd%23e', 'file:///C:/a')
    >>> sqlite_uri(PureWindowsPath("//server/share/a"))
    'file:////server/share/a'
    """
    uri = path.as_uri()
    return uri if uri.startswith("file:///") else uri.replace("file://", "file:////", 1)


def seed_of(store_name: str, table: str) -> int:
    """Return where the check values of a table begin, so that no other table's row fits."""
    return crc32(f"{store_name}/{table}".encode())


def check_value(seed: int, row: tuple[Any, ...]) -> int:
    """Return the check value (CRC-32) of a row, its own column left out."""
    return crc32(repr(row).encode("utf-8", "replace"), seed)


def sealed(content: bytes) -> bytes:
    """Return a database file that carries the CRC-32 of all its other bytes in its header."""
    rest = memoryview(content)[_SEAL.stop :]
    value = crc32(rest, crc32(content[: _SEAL.start]))
    return content[: _SEAL.start] + value.to_bytes(4, "big") + bytes(rest)


def is_sealed(path: Path) -> bool:
    """Return whether a file is what :func:`sealed` returned; raise OSError if it is unreadable."""
    with path.open("rb") as file:
        value = crc32(file.read(_SEAL.start))
        seal = file.read(4)
        while block := file.read(1 << 20):
            value = crc32(block, value)
    return seal == value.to_bytes(4, "big")


def signature(path: Path) -> tuple[int, ...] | None:
    """Return what distinguishes a file from another of its name; ``None`` where there is none."""
    try:
        status = path.stat()
    except OSError:
        return None
    return (status.st_dev, status.st_ino, status.st_size, status.st_mtime_ns)


class Database:
    """One open store file, or one held in memory; safe to share among threads."""

    def __init__(self, connection: sqlite3.Connection, name: str, path: Path | None) -> None:
        self._connection = connection
        self._lock = threading.Lock()
        self._is_proved = path is None
        self.signature = signature(path) if path else None
        self.name = name
        self.path = path

    @classmethod
    def open(cls, path: Path, name: str) -> Database:
        """Open a store file read-only; raise Damaged where SQLite cannot.

        ``immutable`` avoids every lock: the file is never changed once it has its name.
        """
        try:
            uri = f"{sqlite_uri(path.absolute())}?mode=ro&immutable=1"
            return cls(sqlite3.connect(uri, uri=True, check_same_thread=False), name, path)
        except (sqlite3.Error, ValueError) as fault:
            raise Damaged(str(fault)) from fault

    def rows(self, query: str, *values: object) -> list[tuple[Any, ...]]:
        """Return the rows of a query as they are; raise Damaged where SQLite cannot read them."""
        try:
            with self._lock:
                return self._connection.execute(query, values).fetchall()
        except SQLITE_FAULTS as fault:
            raise Damaged(str(fault)) from fault

    def checked(self, table: str, where: str, *values: object) -> list[tuple[Any, ...]]:
        """Return the rows of a table, each compared with its check value; raise Damaged."""
        rows = self.rows(f"SELECT * FROM {table} WHERE {where}", *values)
        seed = seed_of(self.name, table)
        for row in rows:
            if check_value(seed, row[:-1]) != row[-1]:
                raise Damaged(f"a row of {table}")
        return rows

    def prove(self) -> None:
        """Compare the whole file with its CRC, once; raise Damaged unless it is what was built."""
        if self._is_proved or self.path is None:
            return
        if signature(self.path) != self.signature:
            raise Damaged("replaced")
        try:
            whole = is_sealed(self.path)
        except OSError as fault:
            raise Damaged(str(fault)) from fault
        if not whole:
            raise Damaged("the file as a whole")
        self._is_proved = True

    def close(self) -> None:
        """Close the file; a closed one raises Damaged."""
        with self._lock, suppress(sqlite3.Error):
            self._connection.close()

    def __del__(self) -> None:
        # A TypeError, because at the end of the program what is called here may be gone already.
        try:  # noqa: SIM105
            self.close()
        except (AttributeError, TypeError):
            pass


class Source:
    """A database that is replaced by another when it proves damaged; shared by all threads."""

    TRIES = 4

    def __init__(self, database: Database, renew: Callable[[Database], Database]) -> None:
        self._renew = renew
        self._renewing = threading.Lock()
        self.database = database

    def ask(self, question: Callable[[Database], _Answer]) -> _Answer:
        """Return the answer of an undamaged database; raise DataFault if none can be had."""
        for _ in range(self.TRIES):
            database = self.database
            try:
                return question(database)
            except Damaged:
                with self._renewing:
                    if database is self.database:
                        self.database = self._renew(database)
        raise DataFault("data.stays-damaged")

    def close(self) -> None:
        """Close the file."""
        self.database.close()


class Match(NamedTuple):
    """A place a code means, and the columns of the tables that say so."""

    place: Place
    columns: tuple[str, ...]


class Store:
    """Look-ups of places, base map and towns; one may be shared by all threads of a process.

    ``open_source`` opens the file of a kind: that of the places at once, the others when they are
    first needed. ``changes`` tells what the tables before said otherwise of some places (by
    airport ident or navaid key).
    """

    def __init__(
        self,
        open_source: Callable[[Kind], Source],
        register: Register,
        changes: Callable[[Collection[str]], Changes] | None = None,
    ) -> None:
        self._open = open_source
        self._changes = changes
        self._opening = threading.Lock()
        self._sources: dict[Kind, Source] = {}
        self._codes: frozenset[str] = frozenset()
        self._read = lru_cache(_REMEMBERED)(_read_place)
        self.register = register
        self.source("places")

    def source(self, kind: Kind) -> Source:
        """Return one of the files, opened at the first call."""
        if kind not in self._sources:
            with self._opening:
                if kind not in self._sources:
                    self._sources[kind] = self._open(kind)
        return self._sources[kind]

    def prove(self) -> None:
        """Open all files and compare each with its CRC, so that no later answer waits for it."""
        for kind in KINDS_OF_STORE:
            self.source(kind).ask(Database.prove)

    def changes_of(self, keys: Collection[str]) -> Changes | None:
        """Return what the newest tables and those before say differently of places.

        ``None`` where no newer ones were ever fetched.
        """
        return self._changes(keys) if self._changes else None

    @property
    def path(self) -> Path | None:
        """The file of the places; ``None`` where it is held in memory: no folder would take it."""
        return self.source("places").database.path

    def by_code(self, code: str) -> tuple[Match, ...]:
        """Return every place a code means, in any column and any case: airports first."""

        def matches(places: Database) -> tuple[Match, ...]:
            found = ((self._read(places, *each[:2]), each[2]) for each in _meanings(places, code))
            return tuple(Match(p, tuple(c.split())) for p, c in found if not isinstance(p, Town))

        return self.source("places").ask(matches)

    def place(self, table: Table, key: str | int) -> Found:
        """Return the place of a table by its key, which another file names."""
        return self.source("places").ask(lambda places: self._read(places, table, key))

    def airport(self, ident: str) -> Airport | None:
        """Return the airport of that dataset ident, with runways and frequencies."""
        wanted, matches = ident.strip().upper(), self.by_code(ident)
        airports = (match.place for match in matches if isinstance(match.place, Airport))
        return next((each for each in airports if each.ident.upper() == wanted), None)

    def navaid(self, key: str) -> Navaid | None:
        """Return the navaid of that dataset key."""
        wanted, matches = key.strip().upper(), self.by_code(key)
        navaids = (match.place for match in matches if isinstance(match.place, Navaid))
        return next((each for each in navaids if each.key.upper() == wanted), None)

    def places_in(
        self, cells: Iterable[int], kinds: Collection[str], is_inside: Inside
    ) -> list[Found]:
        """Return the places of these kinds in cells of 1° whose positions pass a test.

        The test is a sieve: it sees positions that are not checked yet, those returned are.
        """
        wanted: list[Table] = ["airports"] if set(kinds) - {"navaid", "town"} else []
        wanted += ["navaids"] if "navaid" in kinds else []
        wanted += ["towns"] if "town" in kinds else []
        every = list(cells)

        def inside(places: Database) -> list[Found]:
            return [
                self._read(places, table, key)
                for table in wanted
                for cell in every
                for key, kind, north, east in places.rows(_IN_CELL[table], cell)
                if kind in kinds and is_inside(cell, north, east)
            ]

        return self.source("places").ask(inside)

    def airports_in(
        self, south: float, west: float, north: float, east: float
    ) -> tuple[Airport, ...]:
        """Return the airports of every kind in a box [°]; ``west`` > ``east`` runs through 180°."""
        wide = (east - west) % 360.0 if east - west < 360.0 else 360.0

        def is_inside(_: int, latitude_deg: float, longitude_deg: float) -> bool:
            return south <= latitude_deg <= north and (longitude_deg - west) % 360.0 <= wide

        cells = sorted(set(DEGREE.cells_in(south, west, north, west + wide)))
        places = self.places_in(cells, EVERY_KIND, is_inside)
        airports = [place for place in places if isinstance(place, Airport)]
        return tuple(sorted(airports, key=lambda each: (DEGREE.cell_of(each.position), each.ident)))

    def base_cell(self, tier: str, cell: str) -> str | None:
        """Return the JSON text of a base-map cell; ``None`` where the table has none.

        ``tier`` is ``world``, ``coarse`` or ``fine``; ``cell`` the south-west corner, ``+40-080``.
        """

        def drawn(ground: Database) -> str | None:
            rows = ground.checked("cells", "tier = ? AND cell = ?", tier, cell)
            if not rows:
                ground.prove()
            return rows[0][2] if rows else None

        return self.source("ground").ask(drawn)

    def towns_cell(self, cell: str) -> Iterator[tuple[str, float, float, int]]:
        """Return name, latitude [°], longitude [°] and population of the towns of a 5° cell.

        The largest come first.
        """
        number = FIVE.number_of(cell)
        if number is None:
            return iter(())
        middle = FIVE.middle(number)
        first = DEGREE.number(middle.latitude_deg - 2.0, middle.longitude_deg - 2.0)
        rows = range(first, first + 5 * DEGREE.columns, DEGREE.columns)
        within = " OR ".join(f"cell BETWEEN {west} AND {west + 4}" for west in rows)
        towns = self.source("places").ask(lambda places: places.checked("towns", within))
        return ((town[1], town[3], town[4], town[5] or 0) for town in sorted(towns))

    def codes(self) -> frozenset[str]:
        """Return every code in the store, the datasets' own keys of navaids left out."""
        if not self._codes:
            query = "SELECT code FROM codes WHERE is_typed"
            rows = self.source("places").ask(lambda places: places.rows(query))
            self._codes = frozenset(row[0] for row in rows)
        return self._codes

    def suggestions(
        self, text: str, limit: int = 5, near: Position | None = None
    ) -> tuple[str, ...]:
        """Return codes like a mistyped one, likeliest first; those near a position come first."""
        from plotter.places.spelling import alike

        return alike(text, self.codes(), self._positions, near)[:limit]

    def close(self) -> None:
        """Close the files; a store need not be closed by hand."""
        for source in self._sources.values():
            source.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _positions(self, code: str) -> list[Position]:
        return [match.place.position for match in self.by_code(code)]


def _meanings(places: Database, code: str) -> list[tuple[Table, str, str]]:
    """Return table, key and columns of each place a code means, all of them from one row."""
    wanted = code.strip().upper()
    if not code.isascii() or not wanted:
        return []
    rows = places.checked("codes", "code = ?", wanted)
    if not rows:
        places.prove()
    lines = rows[0][1].split("\n") if rows else ()
    return [cast(tuple[Table, str, str], tuple(line.split("\t"))) for line in lines]


def _read_place(places: Database, table: Table, key: str | int) -> Found:
    """Return a place that another row names: one that is missing is damage."""
    rows = places.checked(table, f"{_KEYS[table]} = ?", key)
    try:
        return _PLACE[table](rows[0])
    except (IndexError, TypeError, ValueError, PositionError) as fault:
        raise Damaged(f"{key} of {table}") from fault


_PLACE: Mapping[Table, Callable[[tuple[Any, ...]], Found]] = {
    "airports": lambda row: airport_of(row[:16], json.loads(row[16]), json.loads(row[17])),
    "navaids": lambda row: navaid_of(row[:11]),
    "towns": lambda row: town_of(row[1:6]),
}
"""A place from the columns of its table, which its cell (and a town's number) is not part of."""
