"""Places by name, town or identifier, the likeliest first; misspellings are known.

The rule of the order is in :mod:`plotter.places.search_rule`.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import NamedTuple

from plotter.errors import InputError
from plotter.places import search_rule as rule
from plotter.places.folding import KIND_WORDS, short_forms, telling, words
from plotter.places.importance import CLASSES, class_of
from plotter.places.model import Town
from plotter.places.naming import TOWN, Found
from plotter.places.search_index import SearchIndex
from plotter.places.search_shelves import KINDS, MOST_PLACES, has_best, kind_letter, parted, posting
from plotter.places.spelling import slips_allowed
from plotter.places.store import Store

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
    matched: rule.Matched


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
            hits.append(Hit(place, rule.MATCHED[ranked]))
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
    if slips and len(found) < rule.FEW and min(found.values(), default=rule.WORDS) > rule.BEGINNING:
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
        if ranked == rule.WHOLE_NAME and (held or _is_village(index, number)):
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
    return ranked == rule.BEGINNING and index.trait(number)[2] in _LARGER_AIRPORTS


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
        found = dict.fromkeys(set.intersection(*every), rule.WORDS)
    listed = [index.beginning_with(text) for text in _phrases(typed)]
    for ranked, what, is_equal in rule.LAST_TO_FIRST:
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
            return dict.fromkeys(found, rule.WORDS + count)
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
