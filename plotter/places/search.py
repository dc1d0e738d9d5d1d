"""Places by name, town or identifier, the likeliest first; misspellings are known.

The rule of the order is in :mod:`plotter.places.search`.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import Any, Literal, NamedTuple, get_args

from plotter.errors import InputError
from plotter.places.model import EVERY_KIND, Airport, Town
from plotter.places.naming import NAVAID, TOWN, Found
from plotter.places.spelling import KIND_WORDS, short_forms, slips_allowed, telling, words
from plotter.places.store import Database, Source, Store, Table

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
KINDS = (*EVERY_KIND, NAVAID, TOWN)
CODE, NAME, WORD = range(3)
"""What a key is to a place: an identifier, its whole name or town, a word of these."""


def rank(what: int, is_equal: bool) -> int:
    """The rank of a place by what a key is to it and whether the key is the text or begins so.

    >>> [rank(what, True) for what in (CODE, NAME, WORD)], rank(WORD, False)
    ([0, 1, 2], 3)
    """
    return what if is_equal else max(BEGINNING, what + 1)


RANK = f"CASE key WHEN ? THEN what ELSE max({BEGINNING}, what + 1) END"
"""The same in SQL."""
MOST = 10
MOST_LETTERS = 80
"""A longer text is no name: it is cut, so that no text makes a search slow."""
MOST_WORDS = 8
MOST_SLIPS = 2
SHORTEST_BEGINNING = 3
"""A shorter word of several counts only whole: too many words begin so."""
SHORTEST_SLIPPED = 4
"""Shorter keys are not looked through for slips: everything is like them."""
_LARGER_AIRPORTS = ("large_airport", "medium_airport")
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
        raise InputError("search")
    names = _Names(store.source("search"), countries, kinds)
    hits: list[Hit] = []
    for number, ranked in _villages_later(names, _in_order(names, typed, slips=slips)):
        listed = names.place(number)
        hits.append(Hit(store.place(listed.table, listed.key), MATCHED[ranked]))
        if len(hits) >= most:
            break
    return tuple(hits)


class _Listed(NamedTuple):
    """A place as the search file lists it; ``class_number`` counts in CLASSES."""

    key: str | int
    kind: str
    class_number: int

    @property
    def table(self) -> Table:
        """The table of the store that has the place."""
        return _TABLES.get(self.kind, "airports")


_TABLES: Mapping[str, Table] = {NAVAID: "navaids", TOWN: "towns"}


class _Names:
    """The search file, and which of its places are asked for."""

    def __init__(self, source: Source, countries: Collection[str], kinds: Collection[str]) -> None:
        self._source = source
        self._countries = sorted({_country(country) for country in countries})
        self._kinds = sorted(set(kinds))
        for kind in kinds:
            if kind not in KINDS:
                raise InputError("input.kind", kind=kind, kinds=KINDS)
        self.everything = not countries and len(self._kinds) == len(KINDS)

    def rows(self, query: str, *values: object) -> list[tuple[Any, ...]]:
        """Return the rows of a query; the file is proved before its first answer."""

        def asked(database: Database) -> list[tuple[Any, ...]]:
            database.prove()
            return database.rows(query, *values)

        return self._source.ask(asked)

    def place(self, number: int) -> _Listed:
        """Return the place of a number."""
        query = "SELECT key, kind, class FROM places WHERE number = ?1"
        return _Listed(*self.rows(query, number)[0])

    def best(self, text: str) -> list[tuple[Any, ...]]:
        """Return number and rank of the first places for a text of one or two letters."""
        return self.rows("SELECT place, rank FROM best WHERE beginning = ? ORDER BY at", text)

    def ranked(self, selects: Sequence[str], values: Sequence[object]) -> Ranks:
        """Return the places that are wanted of those the selects find, in their order."""
        query = (
            f"SELECT place, min(rank) AS rank FROM ({' UNION ALL '.join(selects)}) GROUP BY place"
        )
        if not self.everything:
            query = f"SELECT place, rank FROM ({query}) JOIN places ON number = place"
            query += f" WHERE kind IN ({_marks(self._kinds)})"
            if self._countries:
                query += f" AND country IN ({_marks(self._countries)})"
            values = [*values, *self._kinds, *self._countries]
        return dict(self.rows(f"{query} ORDER BY 2, 1", *values))

    def with_word(self, word: str) -> set[int]:
        """Return the places of a word, or of its beginning if it has a few letters."""
        where, values = _with_word(word)
        return {row[0] for row in self.rows(f"SELECT place FROM names WHERE {where}", *values)}

    def slipped(self, word: str, count: int) -> set[int]:
        """Return the places that have a key so many slips away from a word."""
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        if slips_allowed(word) < count:
            return set()
        lengths = (max(SHORTEST_SLIPPED, len(word) - count), len(word) + count)
        found: set[int] = set()
        for (keys,) in self.rows(
            "SELECT keys FROM lengths WHERE letters BETWEEN ?1 AND ?2", *lengths
        ):
            alike = process.extract(
                word, keys.split("\n"), scorer=OSA.distance, score_cutoff=count, limit=None
            )
            for key, _, _ in alike:
                found |= {
                    row[0] for row in self.rows("SELECT place FROM names WHERE key = ?1", key)
                }
        return found


def _marks(values: Sequence[object]) -> str:
    return ", ".join("?" * len(values))


def _beginning(text: str) -> tuple[str, str]:
    """Return the first text that begins so, and one past the last."""
    return text, f"{text}\U0010ffff"


def _with_word(word: str) -> tuple[str, Sequence[str]]:
    """Return the condition for the keys of a word, and its values."""
    if len(word) < SHORTEST_BEGINNING:
        return "key = ?", (word,)
    return "key >= ? AND key < ?", _beginning(word)


def _country(text: str) -> str:
    code = text.strip().upper()
    if not _COUNTRY.fullmatch(code):
        raise InputError("country", country=text)
    return code


def _in_order(names: _Names, typed: Sequence[str], *, slips: bool) -> Iterator[tuple[int, int]]:
    """Return number and rank of every place that is wanted, in the order of the rule."""
    if names.everything and all(map(_has_best, _phrases(typed))):
        yield from names.best("".join(typed))
        return
    found = _matches(names, typed)
    if slips and len(found) < FEW and min(found.values(), default=WORDS) > BEGINNING:
        found = _slips(names, typed) | found
        found = dict(sorted(found.items(), key=lambda each: (each[1], each[0])))
    yield from found.items()


def _has_best(text: str) -> bool:
    """Return whether the first places for a text are ready: for one or two plain letters.

    >>> _has_best("ab"), _has_best("abc"), _has_best("é"), _has_best("")
    (True, False, False, False)
    """
    return 0 < len(text) < 3 and text.isascii() and text.isalnum()


def _villages_later(names: _Names, ordered: Iterator[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    """Return the same, with villages of that name behind larger airports whose name begins so.

    Equals come in the order of importance: after a village all of that name are of less.
    """
    held: list[tuple[int, int]] = []
    for number, ranked in ordered:
        if ranked == WHOLE_NAME and (held or _is_village(names, number)):
            held.append((number, ranked))
            continue
        if held and not _is_larger_airport(names, number, ranked):
            yield from held
            held = []
        yield number, ranked
    yield from held


def _is_village(names: _Names, number: int) -> bool:
    place = names.place(number)
    return place.kind == TOWN and place.class_number == CLASSES.index(TOWN)


def _is_larger_airport(names: _Names, number: int, ranked: int) -> bool:
    return ranked == BEGINNING and names.place(number).kind in _LARGER_AIRPORTS


def _matches(names: _Names, typed: Sequence[str]) -> Ranks:
    """Return the ranks of the places that match without a slip, in their order."""
    selects: list[str] = []
    values: list[object] = []
    for text in _phrases(typed):
        selects.append(f"SELECT place, {RANK} AS rank FROM names WHERE (key >= ? AND key < ?)")
        values += (text, *_beginning(text))
    told = telling(list(typed))
    if len(told) > 1:
        conditions = [_with_word(word) for word in told]
        places = " INTERSECT ".join(
            f"SELECT place FROM names WHERE {where}" for where, _ in conditions
        )
        selects.append(f"SELECT place, {WORDS} AS rank FROM ({places})")
        values += (value for _, of_word in conditions for value in of_word)
    return names.ranked(selects, values)


def _phrases(typed: Sequence[str]) -> Iterable[str]:
    """The text as it may stand at the beginning of a key: with and without its general words."""
    whole, last = list(typed), typed[-1]
    texts = ["".join(whole), "".join(telling(whole))]
    texts += ["".join([*whole[:-1], short]) for short in short_forms(last)]
    return dict.fromkeys(texts)


def _slips(names: _Names, typed: Sequence[str]) -> Ranks:
    """Return the ranks of the places that match but for one slip, or two where one finds none."""
    told = [word for word in typed if word not in KIND_WORDS] or list(typed)
    for count in range(1, MOST_SLIPS + 1):
        found = names.slipped("".join(told), count)
        if len(told) > 1:
            every = [names.with_word(word) or names.slipped(word, count) for word in told]
            found |= set.intersection(*every)
        if found:
            values = ", ".join(f"({number})" for number in sorted(found))
            select = f"SELECT column1 AS place, {WORDS + count} AS rank FROM (VALUES {values})"
            return names.ranked([select], ())
    return {}
