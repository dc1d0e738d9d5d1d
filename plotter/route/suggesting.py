"""Suggestions while a point of a route is being typed."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import NamedTuple

from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.places.folding import words
from plotter.places.naming import Found, code_of, kind_of, kind_words, region_of
from plotter.places.search import search
from plotter.places.search_shelves import KINDS
from plotter.places.store import Store
from plotter.route.own_points import OwnPoint, OwnPoints
from plotter.route.points import as_typed
from plotter.route.to_type import to_type

MOST = 8
OWN = "own"


class Suggestion(NamedTuple):
    """One suggestion: what it puts into the route, what it is in words, its kind and position."""

    to_type: str
    words: str
    kind: str
    position: Position


def suggest(
    store: Store,
    text: str,
    most: int = MOST,
    own_points: OwnPoints | None = None,
    kinds: Collection[str] = KINDS,
) -> tuple[Suggestion, ...]:
    """What a text that is still being typed may become, own points first, then places.

    Places stand in the order of :func:`~plotter.places.search.search`. A text of which nothing
    can be made gives none, and no error: the pilot has not finished typing.
    """
    found = list(_own(text, own_points or OwnPoints()))[:most]
    try:
        hits = search(store, text, most - len(found), kinds=kinds) if len(found) < most else ()
    except InputError:
        hits = ()
    return (*found, *(_place(store, hit.place) for hit in hits))


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


def _place(store: Store, place: Found) -> Suggestion:
    code = code_of(place)
    name = f"{code} {place.name}" if code else place.name
    said = f"{name}, {kind_words(place)}, {region_of(place)}"
    return Suggestion(to_type(store, place), said, kind_of(place), place.position)
