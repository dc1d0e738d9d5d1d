"""The search index of names and identifiers; every row is checked as it is read."""

from __future__ import annotations

import string
import struct
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import chain
from typing import NamedTuple

from plotter.places.airports import EVERY_KIND
from plotter.places.model import Town
from plotter.places.naming import NAVAID, TOWN
from plotter.places.packing import Entry, unpack_town
from plotter.places.shelves import Shelf
from plotter.places.store import CheckedRows

# The shelves of the search index, and which rows answer for the beginning of a name.
#
# Every name, word of a name and identifier is a key, in plain letters without spaces. Keys of the
# same first three letters share a row, so that those that begin with a text stand together: in one
# row, or in a run of them where the text is shorter. Each key has postings: the numbers of the
# places it leads to, with what it is to them. Places are numbered from the most to the least
# important.

_LETTERS = {letter: at for at, letter in enumerate(string.ascii_lowercase + string.digits, start=1)}
_ACROSS = len(_LETTERS) + 1
"""Letters that may stand at one place, or none there."""

KEYS = Shelf("search_keys", _ACROSS**3)
POSTINGS = Shelf("search_postings", _ACROSS**3)
BEST = Shelf("search_best", _ACROSS**2)
PLACES = Shelf("search_places", 2**15)
TRAITS = Shelf("search_traits", 1)
WORDS = Shelf("search_words", 64)
SEARCH_SHELVES = (KEYS, POSTINGS, BEST, PLACES, TRAITS, WORDS)

A_ROW = 32
"""Places in one row of PLACES."""
MOST_PLACES = 2**20
"""More cannot be numbered; the tables hold a fifth of it."""
MOST_BEST = 400
"""Places kept for each text of one or two letters."""
SHORTEST_WORD = 4
"""Shorter words are not looked through for slips: everything is like them."""

CODE, NAME, WORD = 0, 1, 2
"""What a key is to a place: an identifier, its whole name or town, a word of these."""

KINDS = (*EVERY_KIND, NAVAID, TOWN)
TRAIT = 3
"""Letters that TRAITS has for each place: its country and one for its kind."""


def posting(number: int, what: int) -> int:
    """The number of a place and what a key is to it, in one number."""
    return what * MOST_PLACES + number


def parted(given: int) -> tuple[int, int]:
    """What a key is to a place, and the number of the place.

    >>> parted(posting(7, WORD))
    (2, 7)
    """
    return divmod(given, MOST_PLACES)


def key_row(key: str) -> int:
    """The row of KEYS and POSTINGS that a key stands in.

    >>> key_row("a"), key_row("ab"), key_row("abc"), key_row("abcd")
    (1369, 1443, 1446, 1446)
    """
    return rows_of(key[:3]).start


def rows_of(text: str) -> range:
    """The rows in which keys stand that begin with a text.

    >>> rows_of("ab"), rows_of("abcd")
    (range(1443, 1480), range(1446, 1447))
    """
    first, count = 0, KEYS.count
    for letter in text[:3]:
        count //= _ACROSS
        first += _place(letter) * count
    return range(first, first + count)


def has_best(text: str) -> bool:
    """Whether a text has a row of its own in BEST: one or two plain letters.

    >>> has_best("ab"), has_best("abc"), has_best("é"), has_best("")
    (True, False, False, False)
    """
    return 0 < len(text) < 3 and all(letter in _LETTERS for letter in text)


def best_row(text: str) -> int:
    """The row of BEST for a text of one or two letters."""
    return _place(text[0]) * _ACROSS + (_place(text[1]) if len(text) > 1 else 0)


def _place(letter: str) -> int:
    """Letters of other scripts share the places of the plain ones."""
    return _LETTERS.get(letter) or 1 + ord(letter) % len(_LETTERS)


def pack_numbers(numbers: Sequence[int]) -> bytes:
    """Whole numbers as a row holds them."""
    return struct.pack(f"<{len(numbers)}I", *numbers)


def unpack_numbers(body: bytes) -> tuple[int, ...]:
    """The whole numbers of a row.

    >>> unpack_numbers(pack_numbers([1, 70000]))
    (1, 70000)
    """
    return struct.unpack(f"<{len(body) // 4}I", body)


def kind_letter(kind: str) -> str:
    """The letter TRAITS has for a kind of place."""
    return string.ascii_lowercase[KINDS.index(kind)]


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
        found = [self._in_row(row, text) for row in rows_of(text)]
        equal, longer = zip(*found, strict=True)
        return Listed(tuple(chain.from_iterable(equal)), tuple(chain.from_iterable(longer)))

    def equal_to(self, text: str) -> tuple[int, ...]:
        """The postings of the key that is a text."""
        return self._in_row(key_row(text), text).equal

    def _in_row(self, row: int, text: str) -> Listed:
        keys = self._rows.text(KEYS, row)
        first, past, after = _stretch(keys.split("\n"), text) if keys else (0, 0, 0)
        if first == after:
            return Listed((), ())
        numbers = unpack_numbers(self._rows.content(POSTINGS, row))
        return Listed(numbers[first:past], numbers[past:after])

    def best(self, text: str) -> tuple[int, ...]:
        """The ranked places for a text of one or two letters, as the search ranks them."""
        return unpack_numbers(self._rows.content(BEST, best_row(text)))

    def trait(self, number: int) -> str:
        """The country and the kind letter of a place."""
        if not self._traits:
            self._traits = self._rows.text(TRAITS, 0)
        start = number * TRAIT
        return self._traits[start : start + TRAIT]

    def place(self, number: int) -> Town | Entry:
        """A town itself, or where in the store an airport or navaid stands."""
        row, at = divmod(number, A_ROW)
        what, rest = self._rows.text(PLACES, row).split("\n")[at].split("\t", 1)
        if what == "town":
            return unpack_town(rest)
        key, cell = rest.split("\t")
        return Entry("", what, key, int(cell), ())

    def words_of(self, lengths: range) -> Iterator[Sequence[str]]:
        """All keys of these lengths, those of one length at a time."""
        for length in lengths:
            if SHORTEST_WORD <= length < WORDS.count:
                if length not in self._words:
                    self._words[length] = self._rows.text(WORDS, length).split("\n")
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
