"""The rule by which a search ranks places, in one place for the index and for the search.

1. An identifier of the place is the text.
2. Its name, or the town it belongs to, is the text; of a large airport, a word of its name.
3. An identifier, its name or its town begins with the text, or a word of these is the text.
4. Every word of the text begins a word of its name, its town or its region; one of a letter or
   two is a whole word.
5. A key is one slip away, where fewer than three places were found and none by 1 to 3; or two
   slips, where still none.

A village (a town of fewer than 10,000 people) named like the text comes behind the large and
medium airports whose name or town begins so: "roche" is Rochester more often than a village.
Accents, case, dashes and words like "airport" do not matter; "St" is "Saint". Equals stand in
the order of their importance (:mod:`plotter.places.importance`).
"""

from __future__ import annotations

from typing import Literal, get_args

from plotter.places.search_shelves import CODE, NAME, WORD

Matched = Literal["identifier", "name", "beginning", "words", "one slip", "two slips"]
MATCHED: tuple[Matched, ...] = get_args(Matched)
IDENTIFIER, WHOLE_NAME, BEGINNING, WORDS, ONE_SLIP, TWO_SLIPS = range(len(MATCHED))
FEW = 3
"""Where fewer places than this are found, and all of them by words, slips are looked for."""
_EQUAL = {CODE: IDENTIFIER, NAME: WHOLE_NAME, WORD: BEGINNING}
_LONGER = {CODE: BEGINNING, NAME: BEGINNING, WORD: WORDS}


def rank(what: int, is_equal: bool) -> int:
    """The rank of a place by what a key is to it and whether the key is the text or begins so.

    >>> [rank(what, True) for what in (CODE, NAME, WORD)], rank(WORD, False)
    ([0, 1, 2], 3)
    """
    return _EQUAL[what] if is_equal else _LONGER[what]


LAST_TO_FIRST = sorted(
    (
        (rank(what, is_equal), what, is_equal)
        for what in (CODE, NAME, WORD)
        for is_equal in (True, False)
    ),
    reverse=True,
)
"""Rank, what a key is to a place, whether it is the text: the last rank first."""
