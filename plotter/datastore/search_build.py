"""The search index made from the tables: every key of every place, and which places come first."""

from __future__ import annotations

import csv
import re
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import chain, groupby
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from plotter.datastore.build import Recipe, no_garbage_search, write_shelf
from plotter.datastore.tables import content_hash, read_rows
from plotter.errors import DataFault
from plotter.places import search as rule
from plotter.places import search_index as shelves
from plotter.places.model import longest_open_ft
from plotter.places.naming import NAVAID, TOWN
from plotter.places.packing import Row, runway_from
from plotter.places.search import of_airport, of_navaid, of_town, rank
from plotter.places.shelves import DEGREE, Shelf
from plotter.places.spelling import KIND_WORDS, telling, words
from plotter.places.store import Register

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Numbers = NDArray[np.uint32]

SCHEMA = 1
"""Goes up with every change of what is in an index or how; a test holds it to the layout."""
LONGEST_KEY = 40
"""Longer keys are cut: nobody types so much of a name."""
MOST_REMEMBERED = 20_000
"""Names whose keys are kept at hand: towns come again with each of their airports."""
_PARTS = re.compile(r" / |[()]")
Keys = dict[str, int]
Order = tuple[int, float, str]


class _Listed(NamedTuple):
    """One place as the index holds it."""

    order: Order
    line: str
    traits: str
    keys: Keys


def search_name(register: Register) -> str:
    """The name of the index of these tables: its schema and a hash of what is in them."""
    return f"search-{SCHEMA}-{content_hash(register)}"


def build_search(
    connection: sqlite3.Connection,
    folder: Path,
    register: Register,
    progress: Callable[[float], None],
) -> None:
    """Fill an empty database with the search index of a folder of tables.

    ``progress`` is called with the fraction done. Raises DataFault where a table is not the one
    registered or cannot be read, sqlite3.Error where the database refuses.
    """
    name = search_name(register)
    with no_garbage_search():
        try:
            listed = sorted(_places(folder, register, progress))
        except (ValueError, IndexError, csv.Error) as fault:
            raise DataFault(f"the tables cannot be read for the search: {fault!r}") from fault
        if len(listed) > shelves.MOST_PLACES:
            raise DataFault(f"{len(listed):,} places are more than the search can number")
        index = _Index(listed)
        progress(0.6)
        connection.execute("PRAGMA journal_mode = OFF")
        with connection:
            for shelf, bodies in _shelves(listed, index).items():
                write_shelf(connection, name, shelf, bodies.keys(), bodies.__getitem__)
    progress(1.0)


SEARCH = Recipe(search_name, build_search, shelves.SEARCH_SHELVES)


def _places(
    folder: Path, register: Register, progress: Callable[[float], None]
) -> Iterator[_Listed]:
    runways: dict[str, list[Row]] = defaultdict(list)
    for row in read_rows(folder, register, "runways"):
        runways[row[0]].append(row)
    for row in read_rows(folder, register, "airports"):
        yield _airport(row, runways.get(row[0], ()))
    progress(0.3)
    for row in read_rows(folder, register, "navaids"):
        yield _navaid(row)
    for row in read_rows(folder, register, "towns"):
        yield _town(row)
    progress(0.5)


def _airport(row: Row, runways: Iterable[Row]) -> _Listed:
    ident, kind, name, town, country, region = row[0], *row[5:10]
    # Whoever types a word of a large airport's name means it: its words count as its name.
    is_large = kind == "large_airport"
    keys = _keys(row[:5], (name, town), region.rpartition("-")[2], name if is_large else "")
    cell = DEGREE.number(float(row[10]), float(row[11]))
    longest_ft = longest_open_ft(kind, map(runway_from, runways))
    order = (*of_airport(kind, longest_ft), ident)
    return _Listed(order, f"airport\t{ident}\t{cell}", _traits(country, kind), keys)


def _navaid(row: Row) -> _Listed:
    cell = DEGREE.number(float(row[4]), float(row[5]))
    keys = _keys(row[:2], (row[2],))
    return _Listed(
        (*of_navaid(), row[0]), f"navaid\t{row[0]}\t{cell}", _traits(row[8], NAVAID), keys
    )


def _town(row: Row) -> _Listed:
    line = "\t".join(row)
    order = (*of_town(int(row[4] or 0)), line)
    return _Listed(order, f"town\t{line}", _traits(row[1], TOWN), _keys((), (row[0],)))


def _traits(country: str, kind: str) -> str:
    return f"{country:<2.2}{shelves.kind_letter(kind)}"


def _keys(codes: Iterable[str], names: Iterable[str], region: str = "", large: str = "") -> Keys:
    """The keys of one place, each as the most telling thing it is to the place.

    Of a name: the whole, without the words that say only what it is, its parts, and its words.
    """
    keys = {_letters(code): shelves.CODE for code in codes if code}
    wholes: list[str] = []
    single: list[str] = words(region) if region else []
    for name in filter(None, names):
        new_wholes, new_words = _of_name(name)
        wholes += new_wholes
        single += new_words
    if large:
        wholes += _of_name(large)[1]
    for whole in wholes:
        keys.setdefault(whole[:LONGEST_KEY], shelves.NAME)
    for word in single:
        keys.setdefault(word[:LONGEST_KEY], shelves.WORD)
    keys.pop("", None)
    return keys


def _letters(code: str) -> str:
    return code.lower() if code.isascii() and code.isalnum() else "".join(words(code))


@lru_cache(MOST_REMEMBERED)
def _of_name(name: str) -> tuple[list[str], list[str]]:
    """The whole name and its parts, in the ways they may be typed, and its words."""
    found = words(name)
    told = [word for word in found if word not in KIND_WORDS]
    wholes = ["".join(found), "".join(told)]
    parts = _PARTS.split(name)
    if len(parts) > 1:
        wholes += ["".join(telling(words(part))) for part in parts]
    return wholes, told


class _Index:
    """All keys in their order, and all their postings one after another."""

    def __init__(self, listed: Sequence[_Listed]) -> None:
        import numpy as np

        found: dict[str, list[int]] = defaultdict(list)
        whats = (shelves.CODE, shelves.NAME, shelves.WORD)
        bases = {what: shelves.posting(0, what) for what in whats}  # a million calls spared
        for number, place in enumerate(listed):
            for key, what in place.keys.items():
                found[key].append(bases[what] + number)
        self.keys = sorted(found)
        lengths = np.fromiter((len(found[key]) for key in self.keys), np.int64, len(self.keys))
        self.ends = np.concatenate(([0], np.cumsum(lengths)))
        every = chain.from_iterable(found[key] for key in self.keys)
        self.postings = np.fromiter(every, np.uint32, int(self.ends[-1]))

    def stretches(self, letters: int) -> Iterator[tuple[str, int, int]]:
        """The keys that share their first letters: these letters, the first key and past the last.

        A shorter key stands for itself; it comes before those that begin with it.
        """
        first = 0
        for beginning, keys in groupby(self.keys, key=lambda key: key[:letters]):
            past = first + sum(1 for _ in keys)
            yield beginning, first, past
            first = past

    def numbers(self, first: int, past: int) -> Numbers:
        """The postings of a stretch of keys."""
        return self.postings[self.ends[first] : self.ends[past]]


def _shelves(listed: Sequence[_Listed], index: _Index) -> dict[Shelf, dict[int, bytes]]:
    lines: dict[int, list[str]] = defaultdict(list)
    for number, place in enumerate(listed):
        lines[number // shelves.A_ROW].append(place.line)
    by_length: dict[int, list[str]] = defaultdict(list)
    for key in index.keys:
        if len(key) >= shelves.SHORTEST_WORD:
            by_length[len(key)].append(key)
    rows = _rows(index)
    return {
        shelves.KEYS: {row: keys for row, (keys, _) in rows.items()},
        shelves.POSTINGS: {row: numbers for row, (_, numbers) in rows.items()},
        shelves.BEST: dict(_best(index)),
        shelves.PLACES: {row: _text(of) for row, of in lines.items()},
        shelves.TRAITS: {0: "".join(place.traits for place in listed).encode("utf-8")},
        shelves.WORDS: {length: _text(of) for length, of in by_length.items()},
    }


def _text(lines: Iterable[str]) -> bytes:
    return "\n".join(lines).encode("utf-8")


def _rows(index: _Index) -> dict[int, tuple[bytes, bytes]]:
    """Keys and postings of each row; letters of other scripts may share the row of plain ones."""
    held: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for beginning, first, past in index.stretches(3):
        held[shelves.key_row(beginning)].append((first, past))
    return {row: _row(index, stretches) for row, stretches in held.items()}


def _row(index: _Index, stretches: Sequence[tuple[int, int]]) -> tuple[bytes, bytes]:
    """Each key of a row with where its postings end, and the postings."""
    lines: list[str] = []
    before = 0
    for first, past in stretches:
        ends = (index.ends[first + 1 : past + 1] - index.ends[first] + before).tolist()
        lines += [f"{key}\t{end}" for key, end in zip(index.keys[first:past], ends, strict=True)]
        before = ends[-1]
    numbers = b"".join(index.numbers(*each).astype("<u4").tobytes() for each in stretches)
    return _text(lines), numbers


def _best(index: _Index) -> Iterator[tuple[int, bytes]]:
    """The first places for each text of one or two letters, ranked as the search ranks them."""
    for letters in (1, 2):
        for text, first, past in index.stretches(letters):
            if len(text) == letters and shelves.has_best(text):
                longer = first + (index.keys[first] == text)
                yield shelves.best_row(text), _ranked(index, first, longer, past)


def _ranked(index: _Index, first: int, longer: int, past: int) -> bytes:
    """The best of the keys from ``first`` on, of which those from ``longer`` on are longer."""
    import numpy as np

    ranks: dict[int, int] = {}
    for is_equal, numbers in (
        (True, index.numbers(first, longer)),
        (False, index.numbers(longer, past)),
    ):
        for what in (shelves.CODE, shelves.NAME, shelves.WORD):
            of_this = numbers[numbers // shelves.MOST_PLACES == what] % shelves.MOST_PLACES
            for number in np.unique(of_this)[: shelves.MOST_BEST].tolist():
                ranks[number] = min(rank(what, is_equal), ranks.get(number, rule.TWO_SLIPS))
    ordered = sorted((ranked, number) for number, ranked in ranks.items())
    best = ordered[: shelves.MOST_BEST]
    return shelves.pack_numbers([shelves.posting(number, ranked) for ranked, number in best])
