"""An identifier that means several places: what each is, where, and what to type for it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from plotter import wording
from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.errors import AmbiguousIdentifier
from plotter.places.model import Airport, Place

MOST_LISTED = 10
"""An ident that twenty beacons carry would fill the screen; nearest first, the rest counted."""

Chosen = Callable[[str, str], str | None]
"""The key of the place that a prefix and a code lead to, if they lead to one."""


def ambiguous(
    code: str, places: Sequence[Place], near: Position | None, chosen: Chosen
) -> AmbiguousIdentifier:
    """The error for an identifier of several places, nearest first where ``near`` is known."""
    if near is not None:
        places = sorted(places, key=lambda place: distance_nm(place.position, near))
    listed = places[:MOST_LISTED]
    typed = [what_to_type(place, code, chosen) for place in listed]
    width = max(map(len, typed))
    lines = [
        f"  {text:<{width}}  {described(place, near)}"
        for text, place in zip(typed, listed, strict=True)
    ]
    if len(places) > MOST_LISTED:
        lines.append(f"  and {len(places) - MOST_LISTED} more; type a position for one of those")
    return AmbiguousIdentifier(
        "\n".join([f"'{code}' means {len(places)} places; type the one you want:", *lines]),
        candidates=typed,
    )


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


def described(place: Place, near: Position | None) -> str:
    """What a place is, where it is, and how far from the neighbouring point."""
    if isinstance(place, Airport):
        kind = "closed airport" if place.closed else place.kind.replace("_", " ")
        region = place.region or place.country
    else:
        kind, region = place.kind, place.country
    words = f"{kind} {place.name}, {region}, {wording.position(place.position)}"
    if near is None:
        return words
    return f"{words}, {wording.distance(distance_nm(place.position, near))} away"
