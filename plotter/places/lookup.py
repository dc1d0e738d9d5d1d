"""Which place an identifier means, and what to type where it could mean several.

Precedence, for an identifier in any case:

1. ``airport:XXX`` and ``navaid:XXX`` look among airports or navaids only; ``key:XXX`` takes the
   dataset's own key (an airport's ident, a navaid's key), which is unique.
2. A location indicator wins: the ICAO code, or, where no airport has it as that, the GPS code of
   four letters.
3. Else every meaning counts alike: national identifier (local and GPS code), IATA code, dataset
   ident, navaid ident. One place known by several of them is one place, and if it is the only
   one it is meant.
4. Of airports that share the identifier an open one goes before closed ones.
5. Of navaids alone (no airport) one that is near the neighbouring point of the route is meant,
   if every other is far from it.
6. Anything else is refused, with what to type for each place: those nearest to the neighbouring
   points first, or the most important where no neighbour is known.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import NamedTuple

from plotter import wording
from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.errors import AmbiguousIdentifier, UnknownIdentifier
from plotter.messages import Message, message
from plotter.places.model import Airport, Navaid, Place
from plotter.places.search import importance_of
from plotter.places.store import Match, Store

# An identifier that means several places: what each is, where, and what to type for it.

MOST_LISTED = 10
"""An ident that twenty beacons carry would fill the screen; nearest first, the rest counted."""

Chosen = Callable[[str, str], str | None]
"""The key of the place that a prefix and a code lead to, if they lead to one."""


def ambiguous(
    code: str,
    places: Sequence[Place],
    near: Position | None,
    beside: Sequence[Position],
    chosen: Chosen,
) -> AmbiguousIdentifier:
    """Return the error for an identifier of several places, in the order of :func:`in_order`.

    ``near`` is a neighbouring point of the route, ``beside`` what else helps to order the list:
    the point on the other side, or where neighbours that are ambiguous too may lie. Distances
    are printed only where ``near`` is known.
    """
    around = beside if near is None else (near, *beside)
    listed = _with_a_navaid(in_order(places, around))
    typed = [what_to_type(place, code, chosen) for place in listed]
    lines = tuple(
        (text, described(place, around if near else ()))
        for text, place in zip(typed, listed, strict=True)
    )
    more = len(places) - MOST_LISTED
    return AmbiguousIdentifier(
        "ambiguous-identifier.more" if more > 0 else "ambiguous-identifier",
        candidates=typed,
        text=code,
        count=len(places),
        places=lines,
        more=more,
    )


def in_order(places: Sequence[Place], around: Sequence[Position]) -> list[Place]:
    """Return the places nearest to any of these positions first, or the most important first.

    The order alone: nothing is chosen.
    """
    if around:
        return sorted(places, key=lambda place: _nearest_nm(place, around))
    return sorted(places, key=importance_of)


def _nearest_nm(place: Place, around: Sequence[Position]) -> float:
    return min(distance_nm(place.position, each) for each in around)


def _with_a_navaid(ordered: list[Place]) -> list[Place]:
    """The first places; the last of them gives way to a navaid if there would be none."""
    listed, rest = ordered[:MOST_LISTED], ordered[MOST_LISTED:]
    beacon = next((place for place in rest if isinstance(place, Navaid)), None)
    if beacon is None or any(isinstance(place, Navaid) for place in listed):
        return listed
    return [*listed[:-1], beacon]


def what_to_type(place: Place, code: str, chosen: Chosen) -> str:
    """A text that leads to this place and no other.

    The code itself behind ``airport:`` or ``navaid:``, else another code of the place (a
    navaid's key is one), else the dataset's key behind ``key:``.
    """
    if isinstance(place, Airport):
        prefix, key, codes = "airport", place.ident, (code, *place.codes)
    else:
        prefix, key, codes = "navaid", place.key, (code, place.key)
    own = (each for each in codes if chosen(prefix, each) == key)
    found = next(own, None)
    return f"{prefix}:{found}" if found else f"key:{key}"


def described(place: Place, around: Sequence[Position] = ()) -> str:
    """Return what a place is, where, and how far from the nearest neighbouring point."""
    if isinstance(place, Airport):
        kind = "closed airport" if place.closed else place.kind.replace("_", " ")
        region = place.region or place.country
    else:
        kind, region = place.kind, place.country
    words = f"{kind} {place.name}, {region}, {wording.position(place.position)}"
    return f"{words}, {wording.distance(_nearest_nm(place, around))} away" if around else words


# Which of several navaids of one ident a pilot means.

NEAR_NM = 150.0
"""A navaid within this distance [NM] may be meant, and any other must be farther. The largest
standard service volume of a VOR reaches 130 NM (FAA AIM 1-1-8; figure from memory), rounded up."""
TIMES_FARTHER = 3.0
"""How many times farther than the one that is meant the next must be at least."""


class Nearest(NamedTuple):
    """The one navaid that is near, its distance and that of the next of the same ident [NM]."""

    navaid: Navaid
    distance_nm: float
    next_nm: float


def the_near_one(navaids: Sequence[Navaid], near: Position) -> Nearest | None:
    """The navaid near a position, if it is the only one; ``None`` where that is not plain.

    >>> here = Position(40.0, -90.0)
    >>> def beacon(key, latitude):
    ...     where = Position(latitude, -90.0)
    ...     return Navaid(key, "ABC", "Demo", "NDB", where, None, 350.0, "ZZ", None)
    >>> the_near_one([beacon("A", 41.0), beacon("B", 50.0)], here).navaid.key
    'A'
    >>> the_near_one([beacon("A", 41.0), beacon("B", 42.0)], here) is None
    True
    """
    distances = {navaid.key: distance_nm(navaid.position, near) for navaid in navaids}
    ordered = sorted(navaids, key=lambda navaid: (distances[navaid.key], navaid.key))
    nearest_nm, next_nm = (distances[navaid.key] for navaid in ordered[:2])
    if nearest_nm > NEAR_NM or next_nm <= max(NEAR_NM, TIMES_FARTHER * nearest_nm):
        return None
    return Nearest(ordered[0], nearest_nm, next_nm)


PREFIXES = ("airport", "navaid", "key")
_REMEMBERED = 1024
"""What was typed comes again with every change of a route that is drawn."""
MOST_SUGGESTIONS = 3
MOST_COMPARED = 40
"""Codes like a mistyped one, among which those of the kind asked for are looked for."""


class Found(NamedTuple):
    """The place an identifier means; ``settled_by`` says why that one if there are several."""

    place: Place
    settled_by: Message | None = None


def resolve(
    store: Store, text: str, near: Position | None = None, beside: Sequence[Position] = ()
) -> Found:
    """The place an identifier means; ``near`` is the neighbouring point of the route.

    ``beside`` are other positions on the route: they order a list of several places, no more.

    Raises :class:`~plotter.errors.UnknownIdentifier` with codes like it, and
    :class:`~plotter.errors.AmbiguousIdentifier` with what to type for each place.
    """
    prefix, code = parted(text)
    matches = _matches(store, prefix, code)
    if not matches:
        raise _unknown(store, prefix, code, near)
    found = _settled(code, matches, near)
    if found is None:
        places = [match.place for match in matches]
        raise ambiguous(code, places, near, beside, chooser(store, near))
    return found


def positions_of(store: Store, text: str) -> list[Position]:
    """Where the places lie that an identifier may mean."""
    return [match.place.position for match in _matches(store, *parted(text))]


def parted(text: str) -> tuple[str, str]:
    """The prefix, empty where there is none, and the code in capitals.

    >>> parted("Airport: kaaa"), parted("kaaa"), parted("helipad:kaaa")
    (('airport', 'KAAA'), ('', 'KAAA'), ('', 'HELIPAD:KAAA'))
    """
    prefix, colon, rest = text.partition(":")
    if colon and prefix.strip().lower() in PREFIXES:
        return prefix.strip().lower(), _capitals(rest)
    return "", _capitals(text)


def _capitals(text: str) -> str:
    """Trimmed, in capitals; other alphabets stay, lest the capitals of a ligature be a code."""
    return text.strip().upper() if text.isascii() else text.strip()


def key_of(place: Place) -> str:
    """The dataset's own key of a place."""
    return place.ident if isinstance(place, Airport) else place.key


@lru_cache(_REMEMBERED)
def _matches(store: Store, prefix: str, code: str) -> tuple[Match, ...]:
    return tuple(match for match in store.by_code(code) if _allowed(prefix, code, match.place))


def _allowed(prefix: str, code: str, place: Place) -> bool:
    if prefix == "key":
        return key_of(place).upper() == code
    return prefix in ("", _kind(place))


def _settled(code: str, matches: Sequence[Match], near: Position | None) -> Found | None:
    """What is meant by rules 2 to 5; ``None`` where they leave it open."""
    indicated = _indicated(code, matches)
    meant = _without_closed([match.place for match in indicated or matches])
    if len(meant) == 1:
        return Found(meant[0], _why(code, meant[0], matches, bool(indicated)))
    navaids = [place for place in meant if isinstance(place, Navaid)]
    if near is None or len(navaids) < len(meant):
        return None
    return _near_one(code, navaids, near)


def _indicated(code: str, matches: Sequence[Match]) -> list[Match]:
    """The airports whose location indicator this is."""
    by_icao = [match for match in matches if "icao" in match.columns]
    if by_icao or not re.fullmatch("[A-Z]{4}", code):
        return by_icao
    return [match for match in matches if "gps" in match.columns]


def _without_closed(places: list[Place]) -> list[Place]:
    airports = [place for place in places if isinstance(place, Airport)]
    if all(airport.closed for airport in airports):
        return places
    return [place for place in places if not (isinstance(place, Airport) and place.closed)]


def _why(code: str, place: Place, matches: Sequence[Match], indicated: bool) -> Message | None:
    """Return why the code means this place, where it has other meanings."""
    others = [match.place for match in matches if key_of(match.place) != key_of(place)]
    if not others:
        return None
    if all(isinstance(other, Airport) and other.closed for other in others):
        key = "settled.open"
    else:
        key = "settled.indicator" if indicated else "settled"
    return message(key, text=code, place=place.name, others=_named(others))


def _named(places: Sequence[Place]) -> Message:
    first, more = places[0], len(places) - 1
    key = "place.and-more" if more else "place"
    return message(key, name=first.name, country=first.country, more=more)


def _near_one(code: str, navaids: Sequence[Navaid], near: Position) -> Found | None:
    """Rule 5: the navaid that is near, if all others are far."""
    nearest = the_near_one(navaids, near)
    if nearest is None:
        return None
    meant = nearest.navaid
    return Found(
        meant,
        message(
            "settled.near",
            text=code,
            kind=meant.kind,
            place=_named([meant]),
            distance_nm=nearest.distance_nm,
            next_nm=nearest.next_nm,
        ),
    )


def chooser(store: Store, near: Position | None = None) -> Chosen:
    """The key of what a prefix and a code lead to beside the same neighbouring point."""

    def chosen(prefix: str, code: str) -> str | None:
        found = _settled(code, _matches(store, prefix, code), near)
        return key_of(found.place) if found else None

    return chosen


def _unknown(store: Store, prefix: str, code: str, near: Position | None) -> UnknownIdentifier:
    if not code:
        return UnknownIdentifier("unknown-identifier.none")
    what = prefix if prefix in ("airport", "navaid") else "place"
    other = _of_the_other_kind(store, prefix, code)
    if other:
        typed = f"{_kind(other)}:{code}"
        return UnknownIdentifier(
            "unknown-identifier.other-kind",
            candidates=[typed],
            what=what,
            text=code,
            place=_named([other]),
            typed=typed,
        )
    like = [
        f"{prefix}:{each}" if prefix else each
        for each in store.suggestions(code, MOST_COMPARED, near)
        if _matches(store, prefix, each)
    ][:MOST_SUGGESTIONS]
    key = "unknown-identifier.like" if like else "unknown-identifier"
    return UnknownIdentifier(key, candidates=like, what=what, text=code, like=tuple(like))


def _of_the_other_kind(store: Store, prefix: str, code: str) -> Place | None:
    """What a code means when it is no airport but a navaid, or the other way round."""
    matches = _matches(store, "", code) if prefix in ("airport", "navaid") else ()
    return matches[0].place if matches else None


def _kind(place: Place) -> str:
    return "airport" if isinstance(place, Airport) else "navaid"
