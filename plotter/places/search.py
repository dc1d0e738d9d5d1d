"""Places by name, town or identifier, the likeliest first; misspellings are known.

The rule of the order is in :mod:`plotter.places.search`.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import Literal, NamedTuple, get_args

from plotter.errors import InputError
from plotter.places.model import Airport, Town
from plotter.places.naming import NAVAID, TOWN, Found
from plotter.places.search_index import (
    CODE,
    KINDS,
    MOST_PLACES,
    NAME,
    WORD,
    SearchIndex,
    has_best,
    kind_letter,
    parted,
    posting,
)
from plotter.places.spelling import KIND_WORDS, short_forms, slips_allowed, telling, words
from plotter.places.store import Store

# Which of several places of one name is more likely meant: the order of equals in a search.
#
# Classes from the most to the least important; within one, airports by their longest runway, towns
# by their people. Where the classes begin is our choice: a town of 10,000 is better known than most
# strips.

CLASSES = (
    "large_airport",
    "medium_airport",
    "city",
    "larger_town",
    "small_airport",
    NAVAID,
    TOWN,
    "seaplane_base",
    "heliport",
    "balloonport",
    "closed",
)
CITY_PEOPLE, LARGER_TOWN_PEOPLE = 100_000, 10_000
_CLASS = {name: number for number, name in enumerate(CLASSES)}
Importance = tuple[int, float]
"""Sorts the more important first."""


def of_airport(kind: str, longest_runway_ft: float | None) -> Importance:
    """The importance of an airport; a runway that is not in the data counts as the shortest.

    >>> of_airport("large_airport", 12_000.0) < of_airport("large_airport", None)
    True
    """
    return _CLASS[kind], -(longest_runway_ft or 0.0)


def importance_of(place: Found) -> Importance:
    """Return the importance of a place.

    >>> from plotter.earth.position import Position
    >>> here = Position(0, 0)
    >>> importance_of(Town("Demo", "ZZ", here, 9)) < importance_of(Town("Demo", "ZZ", here, 8))
    True
    """
    if isinstance(place, Town):
        return of_town(place.population or 0)
    if isinstance(place, Airport):
        return of_airport(place.kind, place.longest_runway_ft)
    return of_navaid()


def class_of(place: Found) -> int:
    """The class of a place by itself, the most important 0.

    >>> from plotter.earth.position import Position
    >>> class_of(Town("Demo", "ZZ", Position(0, 0), 200_000)) == CLASSES.index("city")
    True
    """
    return importance_of(place)[0]


def of_navaid() -> Importance:
    """The importance of a beacon; they are all alike."""
    return _CLASS[NAVAID], 0.0


def of_town(people: int) -> Importance:
    """The importance of a town; 0 people is "not in the data"."""
    name = "city" if people >= CITY_PEOPLE else TOWN
    if LARGER_TOWN_PEOPLE <= people < CITY_PEOPLE:
        name = "larger_town"
    return _CLASS[name], -float(people)


# The rule by which a search ranks places, in one place for the index and for the search.
#
# 1. An identifier of the place is the text.
# 2. Its name, or the town it belongs to, is the text; of a large airport, a word of its name.
# 3. An identifier, its name or its town begins with the text, or a word of these is the text.
# 4. Every word of the text begins a word of its name, its town or its region; one of a letter or
#    two is a whole word.
# 5. A key is one slip away, where fewer than three places were found and none by 1 to 3; or two
#    slips, where still none.
#
# A village (a town of fewer than 10,000 people) named like the text comes behind the large and
# medium airports whose name or town begins so: "roche" is Rochester more often than a village.
# Accents, case, dashes and words like "airport" do not matter; "St" is "Saint". Equals stand in
# the order of their importance (:mod:`plotter.places.search`).

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

MOST = 10
MOST_LETTERS = 80
"""A longer text is no name: it is cut, so that no text makes a search slow."""
MOST_WORDS = 8
MOST_SLIPS = 2
SHORTEST_BEGINNING = 3
"""A shorter word of several counts only whole: too many words begin so."""
_LARGER_AIRPORTS = frozenset(map(kind_letter, ("large_airport", "medium_airport")))
_COUNTRY = re.compile("[A-Z]{2}")
Ranks = dict[int, int]
"""The rank of each place found, by its number."""


class Hit(NamedTuple):
    """A place that was found, and how it matched the text."""

    place: Found
    matched: Matched


def search(
    store: Store,
    text: str,
    most: int = MOST,
    countries: Collection[str] = (),
    kinds: Collection[str] = KINDS,
    *,
    slips: bool = True,
) -> tuple[Hit, ...]:
    """The places a text may mean, the likeliest first.

    ``countries`` are ISO 3166 codes of two letters, none for all; ``kinds`` those of airports,
    ``navaid`` and ``town``; without ``slips`` a text is found as it is or not at all. Raises
    InputError for a text without a letter or figure, and for a country or kind that cannot be.
    """
    typed = words(text[:MOST_LETTERS])[:MOST_WORDS]
    if not any(letter.isalnum() for word in typed for letter in word):
        raise InputError("nothing to search for; type a name or an identifier", code="search")
    wanted = _Wanted(countries, kinds)
    index = SearchIndex(store.search_rows())
    hits: list[Hit] = []
    for number, ranked in _villages_later(index, _in_order(index, typed, wanted, slips=slips)):
        place = _place(store, index, number)
        if place:
            hits.append(Hit(place, MATCHED[ranked]))
        if len(hits) >= most:
            break
    return tuple(hits)


class _Wanted:
    """Which places are asked for, told from their traits alone."""

    def __init__(self, countries: Collection[str], kinds: Collection[str]) -> None:
        self._countries = frozenset(_country(country) for country in countries)
        for kind in kinds:
            if kind not in KINDS:
                raise InputError(f"no kind of place is called '{kind}'; use {', '.join(KINDS)}")
        self._kinds = frozenset(map(kind_letter, kinds))
        self.everything = not self._countries and len(self._kinds) == len(KINDS)

    def __call__(self, trait: str) -> bool:
        return trait[2] in self._kinds and (not self._countries or trait[:2] in self._countries)


def _country(text: str) -> str:
    code = text.strip().upper()
    if not _COUNTRY.fullmatch(code):
        raise InputError(
            f"'{text}' is no country; use its two letters of ISO 3166, as in US or NZ",
            code="country",
        )
    return code


def _in_order(
    index: SearchIndex, typed: Sequence[str], wanted: _Wanted, *, slips: bool
) -> Iterator[tuple[int, int]]:
    """Number and rank of every place that is wanted, in the order of the rule."""
    if wanted.everything and all(map(has_best, _phrases(typed))):
        best = map(parted, index.best("".join(typed)))
        yield from ((number, ranked) for ranked, number in best)
        return
    found = _kept(index, _matches(index, typed), wanted)
    if slips and len(found) < FEW and min(found.values(), default=WORDS) > BEGINNING:
        found = _kept(index, _slips(index, typed), wanted) | found
    for both in sorted(posting(number, ranked) for number, ranked in found.items()):
        ranked, number = parted(both)
        yield number, ranked


def _villages_later(
    index: SearchIndex, ordered: Iterator[tuple[int, int]]
) -> Iterator[tuple[int, int]]:
    """The same, but villages of that name behind the larger airports whose name begins so.

    Equals come in the order of importance: after a village all of that name are of less.
    """
    held: list[tuple[int, int]] = []
    for number, ranked in ordered:
        if ranked == WHOLE_NAME and (held or _is_village(index, number)):
            held.append((number, ranked))
            continue
        if held and not _is_larger_airport(index, number, ranked):
            yield from held
            held = []
        yield number, ranked
    yield from held


def _is_village(index: SearchIndex, number: int) -> bool:
    place = index.place(number)
    return isinstance(place, Town) and class_of(place) == CLASSES.index(TOWN)


def _is_larger_airport(index: SearchIndex, number: int, ranked: int) -> bool:
    return ranked == BEGINNING and index.trait(number)[2] in _LARGER_AIRPORTS


def _kept(index: SearchIndex, ranks: Ranks, wanted: _Wanted) -> Ranks:
    if wanted.everything:
        return ranks
    return {number: ranked for number, ranked in ranks.items() if wanted(index.trait(number))}


def _matches(index: SearchIndex, typed: Sequence[str]) -> Ranks:
    """The ranks of the places that match without a slip: from the last rank to the first."""
    told = telling(list(typed))
    found: Ranks = {}
    if len(told) > 1:
        every = [_numbers(index, word) for word in told]
        found = dict.fromkeys(set.intersection(*every), WORDS)
    listed = [index.beginning_with(text) for text in _phrases(typed)]
    for ranked, what, is_equal in LAST_TO_FIRST:
        least, past = posting(0, what), posting(0, what + 1)
        for each in listed:
            given = each.equal if is_equal else each.longer
            numbers = [one - least for one in given if least <= one < past]
            found.update(dict.fromkeys(numbers, ranked))
    return found


def _phrases(typed: Sequence[str]) -> Iterable[str]:
    """The text as it may stand at the beginning of a key: with and without its general words."""
    whole, last = list(typed), typed[-1]
    texts = ["".join(whole), "".join(telling(whole))]
    texts += ["".join([*whole[:-1], short]) for short in short_forms(last)]
    return dict.fromkeys(texts)


def _numbers(index: SearchIndex, word: str) -> set[int]:
    """The numbers of the places that a word leads to, or the beginning of one if it is longer."""
    if len(word) < SHORTEST_BEGINNING:
        return {one % MOST_PLACES for one in index.equal_to(word)}
    listed = index.beginning_with(word)
    return {one % MOST_PLACES for one in (*listed.equal, *listed.longer)}


def _slips(index: SearchIndex, typed: Sequence[str]) -> Ranks:
    """The ranks of the places that match but for one slip, or for two where one finds none."""
    told = [word for word in typed if word not in KIND_WORDS] or list(typed)
    for count in range(1, MOST_SLIPS + 1):
        found = _slipped(index, "".join(told), count)
        if len(told) > 1:
            every = [_numbers(index, word) or _slipped(index, word, count) for word in told]
            found |= set.intersection(*every)
        if found:
            return dict.fromkeys(found, WORDS + count)
    return {}


def _slipped(index: SearchIndex, word: str, count: int) -> set[int]:
    """The numbers of the places with a key so many slips away from a word."""
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    if slips_allowed(word) < count:
        return set()
    found: set[int] = set()
    for keys in index.words_of(range(len(word) - count, len(word) + count + 1)):
        alike = process.extract(word, keys, scorer=OSA.distance, score_cutoff=count, limit=None)
        for key, _, _ in alike:
            found |= {one % MOST_PLACES for one in index.equal_to(key)}
    return found


def _place(store: Store, index: SearchIndex, number: int) -> Found | None:
    listed = index.place(number)
    return listed if isinstance(listed, Town) else store.place(listed)
