"""Suggestions while a word of the route is being typed."""

from __future__ import annotations

from typing import Any

from plotter.maps import labels
from plotter.places.candidates import described
from plotter.places.lookup import key_of
from plotter.places.model import Navaid, Place
from plotter.places.snapping import typed_for
from plotter.places.store import Store

MOST_SUGGESTED = 20
MOST_LOOKED_AT = 240
"""Codes that begin as the word does; beyond so many it is too short to mean anything yet."""
_ORDER = ("large_airport", "medium_airport", "small_airport")


def suggested(store: Store, text: str, most: int) -> list[dict[str, Any]]:
    """Places whose code is the text, begins with it, or is like it; each once, likeliest first."""
    wanted = text.strip().upper()
    if not wanted:
        return []
    found: dict[str, Place] = {}
    for code in _codes(store, wanted):
        for match in store.by_code(code):
            found.setdefault(f"{type(match.place).__name__}:{key_of(match.place)}", match.place)
    ranked = sorted(found.values(), key=lambda place: _rank(place, wanted))
    return [
        {
            "type": typed_for(store, place),
            "name": labels.visible(place.name),
            "said": labels.visible(described(place, None)),
        }
        for place in ranked[:most]
    ]


def _rank(place: Place, wanted: str) -> tuple[bool, int, str]:
    """The code itself first, then airports by their size, then beacons, then the rest."""
    if isinstance(place, Navaid):
        return wanted != place.ident, len(_ORDER), place.ident
    size = _ORDER.index(place.kind) if place.kind in _ORDER else len(_ORDER) + 1
    return wanted not in place.codes, size, place.codes[0]


def _codes(store: Store, wanted: str) -> list[str]:
    begin = [code for code in store.codes() if code.startswith(wanted)]
    begin.sort(key=lambda code: (len(code), code))
    return begin[:MOST_LOOKED_AT] or list(store.suggestions(wanted, MOST_SUGGESTED))
