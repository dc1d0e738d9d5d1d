"""The three store files made from the tables; see :mod:`plotter.places.store` for how they are read.

Their tables are plain: what they hold can be read with the ``sqlite3`` program as it stands.
Runways and frequencies are part of their airport's row, and all places a code means of the code's
row, because a row that is lost must be noticed and not look like a shorter runway or no airport.
Each row of these has a check value, the file as a whole has one in its header.
"""

from __future__ import annotations

import csv
import gc
import json
import re
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from functools import lru_cache, partial
from pathlib import Path
from typing import Any

from plotter.datastore.tables import MADE_OF, TIERS, read_rows, read_table, store_name
from plotter.errors import DataFault
from plotter.places.grid import DEGREE, Grid
from plotter.places.model import Runway, longest_open_ft
from plotter.places.naming import NAVAID, TOWN
from plotter.places.rows import AIRPORTS, FREQUENCIES, NAVAIDS, RUNWAYS, TOWNS, typed_rows
from plotter.places.search import (
    CODE,
    NAME,
    SHORTEST_SLIPPED,
    WORD,
    of_airport,
    of_navaid,
    of_town,
    rank,
)
from plotter.places.spelling import KIND_WORDS, telling, words
from plotter.places.store import Kind, Register, check_value, seed_of

Progress = Callable[[float], None]
_TICK = 4096
"""Rows between two calls of ``progress``."""
_CELL = re.compile(r'\{\s*"cell"\s*:\s*"([^"]*)"')
_GRIDS: Mapping[str, Grid | None] = {"world": None, "coarse": Grid(20), "fine": Grid(5)}
LONGEST_KEY = 40
"""Longer keys are cut: nobody types so much of a name."""
MOST_BEST = 400
"""Places kept for each text of one or two letters."""
_MOST_REMEMBERED = 20_000
"""Names whose keys are kept in memory: towns come again with each of their airports."""
_PARTS = re.compile(r" / |[()]")
_EQUAL, _LONGER = (
    [rank(what, is_equal) for what in (CODE, NAME, WORD)] for is_equal in (True, False)
)

_PLACES = f"""
CREATE TABLE airports ( -- runways and frequencies as JSON, in the order of the tables' own columns
    {", ".join(AIRPORTS)},
    runways, frequencies, cell, check_value, PRIMARY KEY (ident)) WITHOUT ROWID;
CREATE TABLE navaids (
    {", ".join(NAVAIDS)}, cell, check_value, PRIMARY KEY (key)) WITHOUT ROWID;
CREATE TABLE towns ( -- numbered from the largest to the smallest
    number INTEGER PRIMARY KEY, {", ".join(TOWNS)}, cell, check_value);
CREATE TABLE codes ( -- a line for each place, with its table, its key and the columns with the code
    code PRIMARY KEY, places, is_typed, check_value) WITHOUT ROWID;
"""
_INDEXES = """
CREATE INDEX airports_by_cell ON airports (cell, latitude_deg, longitude_deg, kind);
CREATE INDEX navaids_by_cell ON navaids (cell, latitude_deg, longitude_deg);
CREATE INDEX towns_by_cell ON towns (cell, latitude_deg, longitude_deg);
CREATE INDEX typed_codes ON codes (code) WHERE is_typed;
"""
_GROUND = """
CREATE TABLE cells (tier, cell, drawing, check_value, PRIMARY KEY (tier, cell));
"""
_SEARCH = """
CREATE TABLE places ( -- numbered from the most to the least important
    number INTEGER PRIMARY KEY, key, kind, country, class);
CREATE TABLE names ( -- what is 0 where the key is an identifier of the place, 1 a name, 2 a word of it
    key, place, what, PRIMARY KEY (key, place)) WITHOUT ROWID;
CREATE TABLE best ( -- the first places for one or two letters
    beginning, at, place, rank, PRIMARY KEY (beginning, at)) WITHOUT ROWID;
CREATE TABLE lengths ( -- all keys of so many letters, one a line, to look through for slips
    letters INTEGER PRIMARY KEY, keys);
"""
_READING = 0.6
"""The part of the work that is done when the tables are read and the file is not yet complete."""


def build(
    connection: sqlite3.Connection,
    kind: Kind,
    folder: Path,
    register: Register,
    progress: Progress,
) -> None:
    """Fill an empty database with what a kind of store file has of a folder of tables.

    ``progress`` is called with the fraction done. Raises DataFault where a table is not the one
    registered or cannot be read, sqlite3.Error where the database refuses.
    """
    tables = Tables(folder, register, MADE_OF[kind], progress)
    fill = {"places": _fill_places, "ground": _fill_ground, "search": _fill_search}[kind]
    connection.execute("PRAGMA journal_mode = OFF")
    with _no_garbage_search(), connection:
        try:
            fill(connection, store_name(kind, register), tables)
        except (ValueError, IndexError, csv.Error) as fault:
            raise DataFault("data.table", table=tables.reading, fault=str(fault)) from fault
    progress(1.0)


@contextmanager
def _no_garbage_search() -> Iterator[None]:
    """Spare the search for reference cycles: a million new lists without one cost a fifth more."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


class Tables:
    """The tables a store file is made of, and how much of them is read."""

    def __init__(
        self, folder: Path, register: Register, names: Iterable[str], progress: Progress
    ) -> None:
        self._folder = folder
        self._register = register
        self._progress = progress
        self._rows_read = 0
        self._rows_expected = sum(register[name]["rows"] for name in names) or 1
        self.reading = ""

    def rows(self, name: str, columns: tuple[str, ...]) -> Iterator[tuple[Any, ...]]:
        """Return the typed rows of a CSV table."""
        self.reading = name
        return typed_rows(columns, self._counted(name))

    def _counted(self, name: str) -> Iterator[list[str]]:
        for row in read_rows(self._folder, self._register, name):
            self._rows_read += 1
            if self._rows_read % _TICK == 0:
                self._progress(_READING * min(1.0, self._rows_read / self._rows_expected))
            yield row

    def lines(self, name: str) -> list[str]:
        """Return the lines of a table of the base map."""
        self.reading = name
        return [line for line in read_table(self._folder, self._register[name]).split("\n") if line]

    def of_airports(
        self, name: str, columns: tuple[str, ...]
    ) -> Mapping[str, list[tuple[Any, ...]]]:
        """Return typed rows by the airport they belong to, whose ident is left out of them."""
        by_airport: dict[str, list[tuple[Any, ...]]] = {}
        for row in self.rows(name, columns):
            by_airport.setdefault(row[0], []).append(row[1:])
        return by_airport

    def towns(self) -> Iterator[tuple[int, tuple[Any, ...]]]:
        """Return the towns by their numbers, from the largest; equals by name and position."""
        rows = sorted(
            self.rows("towns", TOWNS), key=lambda row: (-(row[4] or 0), row[0], row[2], row[3])
        )
        return enumerate(rows, start=1)


def _put_checked(
    connection: sqlite3.Connection, name: str, table: str, rows: Iterable[tuple[Any, ...]]
) -> None:
    """Write the rows of a table, each with its check value."""
    seed = seed_of(name, table)
    put(connection, table, ((*row, check_value(seed, row)) for row in rows))


def put(connection: sqlite3.Connection, table: str, rows: Iterable[tuple[Any, ...]]) -> None:
    """Write the rows of a table as they are."""
    (count,) = connection.execute("SELECT count(*) FROM pragma_table_info(?)", (table,)).fetchone()
    marks = ", ".join("?" * count)
    connection.executemany(f"INSERT INTO {table} VALUES ({marks})", rows)


def _cell(latitude_deg: float, longitude_deg: float) -> int:
    number = DEGREE.number(latitude_deg, longitude_deg)
    if not 0 <= number < DEGREE.count:
        raise ValueError(f"{latitude_deg}, {longitude_deg} is not a position")
    return number


_Codes = dict[str, list[str]]
"""By code a line for each place it means: its table, its key and the columns that have it."""


def _fill_places(connection: sqlite3.Connection, name: str, tables: Tables) -> None:
    connection.executescript(_PLACES)
    write = partial(_put_checked, connection, name)
    codes: _Codes = {}
    write("airports", _airports(tables, codes))
    write("navaids", _navaids(tables, codes))
    write("towns", ((at, *town, _cell(town[2], town[3])) for at, town in tables.towns()))
    lines = ((code, "\n".join(codes[code])) for code in sorted(codes))
    write("codes", ((code, text, int(text[-4:] != "\tkey")) for code, text in lines))
    connection.executescript(_INDEXES)


def _airports(tables: Tables, codes: _Codes) -> Iterator[tuple[Any, ...]]:
    runways = tables.of_airports("runways", RUNWAYS)
    frequencies = tables.of_airports("frequencies", FREQUENCIES)
    for row in tables.rows("airports", AIRPORTS):
        ident, icao, iata, gps, local = row[:5]
        _add_codes(
            codes,
            f"airports\t{ident}",
            ("icao", "gps", "local", "iata", "ident"),
            (icao, gps, local, iata, ident),
        )
        hanging = (rows.get(ident) for rows in (runways, frequencies))
        texts = (_json(rows) if rows else "[]" for rows in hanging)
        yield *row, *texts, _cell(row[10], row[11])


def _navaids(tables: Tables, codes: _Codes) -> Iterator[tuple[Any, ...]]:
    for row in tables.rows("navaids", NAVAIDS):
        _add_codes(codes, f"navaids\t{row[0]}", ("ident", "key"), (row[1], row[0]))
        yield *row, _cell(row[4], row[5])


def _add_codes(codes: _Codes, place: str, columns: Iterable[str], written: Iterable[str]) -> None:
    named: dict[str, str] = {}
    for column, code in zip(columns, written, strict=True):
        if code:
            upper = code.upper()
            named[upper] = f"{named[upper]} {column}" if upper in named else column
    for code, having in named.items():
        codes.setdefault(code, []).append(f"{place}\t{having}")


_json = json.JSONEncoder(ensure_ascii=False, separators=(",", ":")).encode


def _fill_ground(connection: sqlite3.Connection, name: str, tables: Tables) -> None:
    connection.executescript(_GROUND)
    write = partial(_put_checked, connection, name)
    for table, tier in TIERS.items():
        lines = tables.lines(table)
        write("cells", ((tier, _named_cell(tier, line), line) for line in lines))


def _named_cell(tier: str, line: str) -> str:
    cell, grid = _CELL.match(line), _GRIDS[tier]
    if not cell or not (grid.number_of(cell[1]) is not None if grid else cell[1] == "world"):
        raise ValueError(f"no such cell: {line[:40]}")
    return cell[1]


def _fill_search(connection: sqlite3.Connection, _: str, tables: Tables) -> None:
    connection.executescript(_SEARCH)
    places = sorted(_named_places(tables), key=lambda place: place[0])
    put(connection, "places", ((at, *place[1:5]) for at, place in enumerate(places)))
    found: dict[str, list[tuple[int, int]]] = defaultdict(list)
    ranked: dict[tuple[str, int], list[int]] = defaultdict(list)
    for number, place in enumerate(places):
        for key, what in place[5].items():
            found[key].append((number, what))
            for beginning in (key[:1], key[:2])[: len(key)]:
                numbers = ranked[beginning, (_EQUAL if key == beginning else _LONGER)[what]]
                if len(numbers) < MOST_BEST and number not in numbers[-1:]:
                    numbers.append(number)
    keys = sorted(found)
    put(connection, "names", ((key, *each) for key in keys for each in found[key]))
    put(connection, "best", _best(ranked))
    put(connection, "lengths", _by_length(keys))


def _best(ranked: Mapping[tuple[str, int], list[int]]) -> Iterator[tuple[Any, ...]]:
    """Return the first places of each beginning; one that has several ranks has the best."""
    ranks: dict[str, dict[int, int]] = defaultdict(dict)
    for beginning, of_rank in sorted(ranked):
        for number in ranked[beginning, of_rank]:
            ranks[beginning].setdefault(number, of_rank)
    for beginning, numbers in ranks.items():
        for at, (number, of_rank) in enumerate(list(numbers.items())[:MOST_BEST]):
            yield beginning, at, number, of_rank


def _by_length(keys: Iterable[str]) -> Iterator[tuple[int, str]]:
    by_length: dict[int, list[str]] = defaultdict(list)
    for key in keys:
        by_length[len(key)].append(key)
    for letters, of_length in by_length.items():
        if letters >= SHORTEST_SLIPPED:
            yield letters, "\n".join(of_length)


_Keys = dict[str, int]
_Named = tuple[Any, str | int, str, str, int, _Keys]
"""Order, key, kind, country and class of a place, and its keys."""


def _named_places(tables: Tables) -> Iterator[_Named]:
    runways = tables.of_airports("runways", RUNWAYS)
    for row in tables.rows("airports", AIRPORTS):
        ident, kind, name, town, country, region = row[0], *row[5:10]
        # Whoever types a word of a large airport's name means it: its words count as its name.
        large = name if kind == "large_airport" else ""
        keys = _keys(row[:5], (name, town), region.rpartition("-")[2], large)
        longest_ft = longest_open_ft(kind, (Runway(*each) for each in runways.get(ident, ())))
        order = of_airport(kind, longest_ft)
        yield (*order, ident), ident, kind, country, order[0], keys
    for row in tables.rows("navaids", NAVAIDS):
        order = of_navaid()
        keys = _keys(row[:2], (row[2],))
        yield (*order, row[0]), row[0], NAVAID, row[8], order[0], keys
    for number, values in tables.towns():
        order = of_town(values[4] or 0)
        listed = (*order, "\t".join(map(str, values)))
        yield listed, number, TOWN, values[1], order[0], _keys((), (values[0],))


def _keys(codes: Iterable[str], names: Iterable[str], region: str = "", large: str = "") -> _Keys:
    """Return the keys of one place, each as the most telling thing it is to the place.

    Of a name: the whole, without the words that say only what it is, its parts, and its words.
    """
    keys = {_letters(code): CODE for code in codes if code}
    wholes: list[str] = []
    single: list[str] = words(region) if region else []
    for name in filter(None, names):
        new_wholes, new_words = _of_name(name)
        wholes += new_wholes
        single += new_words
    if large:
        wholes += _of_name(large)[1]
    for whole in wholes:
        keys.setdefault(whole[:LONGEST_KEY], NAME)
    for word in single:
        keys.setdefault(word[:LONGEST_KEY], WORD)
    keys.pop("", None)
    return keys


def _letters(code: str) -> str:
    return code.lower() if code.isascii() and code.isalnum() else "".join(words(code))


@lru_cache(_MOST_REMEMBERED)
def _of_name(name: str) -> tuple[list[str], list[str]]:
    """Return the whole name and its parts, in the ways they may be typed, and its words."""
    every = words(name)
    meant = [word for word in every if word not in KIND_WORDS]
    wholes = ["".join(every), "".join(meant)]
    parts = _PARTS.split(name)
    if len(parts) > 1:
        wholes += ["".join(telling(words(part))) for part in parts]
    return wholes, meant
