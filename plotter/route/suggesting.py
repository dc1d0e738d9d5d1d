"""Suggestions while a point of a route is being typed."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from plotter import wording
from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.places.airports import FIXED_WING
from plotter.places.folding import words
from plotter.places.importance import class_of
from plotter.places.lookup import resolve
from plotter.places.model import Navaid, Town
from plotter.places.naming import Found, code_of, kind_of, kind_words, region_of
from plotter.places.nearness import near as near_by
from plotter.places.search import Hit, search
from plotter.places.search_rule import MATCHED
from plotter.places.search_shelves import KINDS
from plotter.places.store import Store
from plotter.route.own_points import OwnPoint, OwnPoints
from plotter.route.points import as_typed, may_be_coordinate
from plotter.route.to_type import to_type

MOST = 8
MOST_BEFORE = 3
MOST_WEIGHED = 120
"""Places found among which the near ones are looked for."""
FAR_NM = 600.0
"""Beyond this a place is hardly the next point of a visual flight: our choice."""
BESIDE_NM = 30.0
OWN = "own"


class Suggestion(NamedTuple):
    """One suggestion: what it puts into the route, what it is in words, its kind and position."""

    to_type: str
    words: str
    kind: str
    position: Position
    taken: int = 1
    """How many of the words that were typed it takes the place of."""


def suggest(
    store: Store,
    text: str,
    most: int = MOST,
    own_points: OwnPoints | None = None,
    *,
    kinds: Collection[str] = KINDS,
    near: Position | None = None,
    before: str = "",
) -> tuple[Suggestion, ...]:
    """What a text that is still being typed may become, own points first, then places.

    Places stand in the order of :func:`~plotter.places.search.search`; with ``near``, a point of
    the route, those farther than a flight from it come last, and of equals the nearest first.
    ``before`` are the words that stand before the text: with them it may be a name of several
    words, which a suggestion then takes the place of. A text of which nothing can be made, and a
    position, give none, and no error: the pilot has not finished typing.
    """
    if may_be_coordinate(text):
        return ()
    found = list(_own(text, own_points or OwnPoints()))[:most]
    earlier = before.split()[-MOST_BEFORE:]
    for count in range(len(earlier), -1, -1):
        phrase = " ".join([*earlier[len(earlier) - count :], text])
        hits = _hits(store, phrase, most if near is None else MOST_WEIGHED, kinds, count > 0)
        known = {each.to_type for each in found}
        made = (_place(store, hit.place, count + 1) for hit in _cut(_in_order(hits, near), most))
        found += [each for each in made if each.to_type not in known]
    return tuple(found[:most])


def _hits(
    store: Store, text: str, most: int, kinds: Collection[str], is_phrase: bool
) -> tuple[Hit, ...]:
    """Places by a text; by several words only those whose name or town these are or begin."""
    try:
        found = search(store, text, most, kinds=kinds, slips=not is_phrase)
    except InputError:
        return ()
    return tuple(hit for hit in found if not is_phrase or hit.matched in ("name", "beginning"))


def _in_order(hits: Sequence[Hit], near: Position | None) -> list[Hit]:
    if near is None:
        return list(hits)
    away = [distance_nm(near, hit.place.position) for hit in hits]
    keys = [
        (nm > FAR_NM, MATCHED.index(hit.matched), class_of(hit.place), nm)
        for hit, nm in zip(hits, away, strict=True)
    ]
    return [hits[k] for k in sorted(range(len(hits)), key=lambda k: keys[k])]


def _cut(hits: list[Hit], most: int) -> list[Hit]:
    """The first hits; the last of them gives way to a navaid of that identifier if none is left."""
    beacons = [hit for hit in hits if isinstance(hit.place, Navaid) and hit.matched == MATCHED[0]]
    listed = hits[:most]
    if not beacons or any(hit in listed for hit in beacons):
        return listed
    return [*listed[:-1], beacons[0]]


def _own(text: str, own_points: OwnPoints) -> Iterator[Suggestion]:
    """The own points whose name begins with the text, or has a word that does."""
    typed = words(text)
    for point in own_points if typed else ():
        name = words(point.name)
        whole = "".join(name).startswith("".join(typed))
        if whole or any(word.startswith(typed[0]) for word in name if len(typed) == 1):
            yield _own_point(point)


def _own_point(point: OwnPoint) -> Suggestion:
    said = f"{point.name}, your own point"
    return Suggestion(as_typed(point.name), said, OWN, point.position)


def _place(store: Store, place: Found, taken: int) -> Suggestion:
    code = code_of(place)
    name = f"{code} {place.name}" if code else place.name
    said = f"{name}, {kind_words(place)}, {region_of(place)}"
    if isinstance(place, Town):
        said += _beside(store, place.position)
    return Suggestion(to_type(store, place), said, kind_of(place), place.position, taken)


def suggestion_of(store: Store, text: str) -> Suggestion | None:
    """Return an identifier with the place it names, ``None`` for one that is not in the data."""
    try:
        place = resolve(store, text).place
    except InputError:
        return None
    return _place(store, place, 1)._replace(to_type=text)


@lru_cache(maxsize=1024)
def _beside(store: Store, position: Position) -> str:
    """Which airport a town lies by: the data of towns has no regions, and names come often."""
    found = near_by(store, position, BESIDE_NM, FIXED_WING).found
    if not found:
        return ""
    field = found[0]
    where = f"{code_of(field.place)}, {region_of(field.place)}"
    return f", {wording.distance(field.distance_nm)} from {where}"
