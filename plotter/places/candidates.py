"""An identifier that means several places: what each is, where, and what to type for it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from plotter import wording
from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.errors import AmbiguousIdentifier
from plotter.places.importance import importance_of
from plotter.places.model import Airport, Navaid, Place

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
    width = max(map(len, typed))
    lines = [
        f"  {text:<{width}}  {described(place, around if near else ())}"
        for text, place in zip(typed, listed, strict=True)
    ]
    if len(places) > MOST_LISTED:
        lines.append(f"  and {len(places) - MOST_LISTED} more; type a position for one of those")
    return AmbiguousIdentifier(
        "\n".join([f"'{code}' means {len(places)} places; type the one you want:", *lines]),
        candidates=typed,
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
