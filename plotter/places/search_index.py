"""The search index of names and identifiers; every row is checked as it is read."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import chain
from typing import NamedTuple

from plotter.places import search_shelves as shelves
from plotter.places.model import Town
from plotter.places.packing import Entry, unpack_town
from plotter.places.store import CheckedRows


class Listed(NamedTuple):
    """Postings of the key that is a text, and those of the keys that are longer."""

    equal: tuple[int, ...]
    longer: tuple[int, ...]


class SearchIndex:
    """Keys, postings, traits and places of the index; one may be shared by all threads."""

    def __init__(self, rows: CheckedRows) -> None:
        self._rows = rows
        self._words: dict[int, Sequence[str]] = {}
        self._traits = ""

    def beginning_with(self, text: str) -> Listed:
        """The postings of all keys that begin with a text."""
        found = [self._in_row(row, text) for row in shelves.rows_of(text)]
        equal, longer = zip(*found, strict=True)
        return Listed(tuple(chain.from_iterable(equal)), tuple(chain.from_iterable(longer)))

    def equal_to(self, text: str) -> tuple[int, ...]:
        """The postings of the key that is a text."""
        return self._in_row(shelves.key_row(text), text).equal

    def _in_row(self, row: int, text: str) -> Listed:
        keys = self._rows.text(shelves.KEYS, row)
        first, past, after = _stretch(keys.split("\n"), text) if keys else (0, 0, 0)
        if first == after:
            return Listed((), ())
        numbers = shelves.unpack_numbers(self._rows.content(shelves.POSTINGS, row))
        return Listed(numbers[first:past], numbers[past:after])

    def best(self, text: str) -> tuple[int, ...]:
        """The ranked places for a text of one or two letters, as the search ranks them."""
        return shelves.unpack_numbers(self._rows.content(shelves.BEST, shelves.best_row(text)))

    def trait(self, number: int) -> str:
        """The country and the kind letter of a place."""
        if not self._traits:
            self._traits = self._rows.text(shelves.TRAITS, 0)
        start = number * shelves.TRAIT
        return self._traits[start : start + shelves.TRAIT]

    def place(self, number: int) -> Town | Entry:
        """A town itself, or where in the store an airport or navaid stands."""
        row, at = divmod(number, shelves.A_ROW)
        what, rest = self._rows.text(shelves.PLACES, row).split("\n")[at].split("\t", 1)
        if what == "town":
            return unpack_town(rest)
        key, cell = rest.split("\t")
        return Entry("", what, key, int(cell), ())

    def words_of(self, lengths: range) -> Iterator[Sequence[str]]:
        """All keys of these lengths, those of one length at a time."""
        for length in lengths:
            if shelves.SHORTEST_WORD <= length < shelves.WORDS.count:
                if length not in self._words:
                    self._words[length] = self._rows.text(shelves.WORDS, length).split("\n")
                yield self._words[length]


def _stretch(lines: Sequence[str], text: str) -> tuple[int, int, int]:
    """Where in a row the postings begin of the key that is a text, end, and end of longer keys.

    Each line is a key and where its postings end; they stand in the order of the keys.
    """
    first = bisect_left(lines, text + "\t")
    after = bisect_left(lines, text + "\U0010ffff", first)
    begin = _end(lines[first - 1]) if first else 0
    if first == after:
        return begin, begin, begin
    is_equal = lines[first].startswith(text + "\t")
    past = _end(lines[first]) if is_equal else begin
    return begin, past, _end(lines[after - 1])


def _end(line: str) -> int:
    return int(line.rpartition("\t")[2])
