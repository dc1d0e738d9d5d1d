"""Places to type instead of words that name none: found by name, several words taken together."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any
from urllib.parse import quote

from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.exports import FORMATS
from plotter.maps import labels
from plotter.places.store import Store
from plotter.route.suggesting import FAR_NM, Suggestion, suggest, suggestion_of

Node = dict[str, Any]
MOST_OFFERED = 4
NO_PLACE = "unknown-identifier"
LIKE_IT = "; did you mean"
"""From here on the message of an unknown word lists its candidates."""


def add_offers(error: Node, store: Store, near: Position | None) -> Node:
    """The faults of a route, each word that names no place with places of that name to type."""
    faults = error.get("all") or [error]
    for run in _runs(faults):
        _offer(run, store, near)
    return error


def _runs(faults: Sequence[Node]) -> Iterator[list[Node]]:
    """Faults of unknown words, those that stand side by side together."""
    run: list[Node] = []
    for fault in faults:
        where = fault["where"]
        if fault["code"] != NO_PLACE or not where or "text" not in where:
            continue
        if run and where["text"][run[-1]["where"]["end"] : where["start"]].strip():
            yield run
            run = []
        run.append(fault)
    if run:
        yield run


def _offer(run: Sequence[Node], store: Store, near: Position | None) -> None:
    """From the last word back: a name of several words takes those before it along."""
    left = list(run)
    while left:
        fault = left.pop()
        fault["offers"] = _places(fault, store, near)
        if fault["offers"]:  # they begin with the candidates: one list, not two
            fault["message"] = fault["message"].partition(LIKE_IT)[0]
        starts = [each["start"] for each in fault["offers"]]
        while left and starts and left[-1]["where"]["start"] >= min(starts):
            left.pop()


def _places(fault: Node, store: Store, near: Position | None) -> list[Node]:
    """What a word may mean; where it ends a name of several words, that alone.

    Identifiers spelled like it come first; where there are any, of other places only what is near.
    """
    where = fault["where"]
    text, start, end = where["text"], where["start"], where["end"]
    before = text[:start]
    found = suggest(store, text[start:end], MOST_OFFERED, near=near, before=before)
    longest = max((each.taken for each in found), default=1)
    if fault["candidates"] and longest == 1:
        found = _one_list(fault["candidates"], found, store, near)
    starts = [*(word.start() for word in re.finditer(r"\S+", before)), start]
    return [
        {
            "type": each.to_type,
            "said": labels.visible(each.words),
            "start": starts[-longest],
            "end": end,
        }
        for each in found
        if each.taken == longest
    ]


def _one_list(
    like: Sequence[str], found: Sequence[Suggestion], store: Store, near: Position | None
) -> tuple[Suggestion, ...]:
    """Identifiers spelled like a word, then places found by it; those near the route first."""

    def is_far(each: Suggestion) -> bool:
        return near is not None and distance_nm(near, each.position) >= FAR_NM

    known = [suggestion_of(store, text) for text in like]
    if None in known:
        return ()  # an own point, of which the store knows nothing: the message lists them all
    spelled = sorted((each for each in known if each), key=is_far)
    typed = {each.to_type for each in spelled}
    rest = [each for each in found if each.to_type not in typed and not (near and is_far(each))]
    return (*spelled, *rest)[:MOST_OFFERED]


# The formats that the page offers: those of the registry, as what kind of file each is.

MEDIA_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".gpx": "application/gpx+xml",
    ".kml": "application/vnd.google-earth.kml+xml",
    ".kmz": "application/vnd.google-earth.kmz",
    ".geojson": "application/geo+json",
    ".gpkg": "application/geopackage+sqlite3",
    ".csv": "text/csv; charset=utf-8",
    ".pdf": "application/pdf",
}
"""Registered by IANA (Media Types registry), ``application/gpx+xml`` apart, which is in use."""


def media_type(suffix: str) -> str:
    """The media type of a file by its suffix.

    >>> media_type(".gpx"), media_type(".new")
    ('application/gpx+xml', 'application/octet-stream')
    """
    return MEDIA_TYPES.get(suffix, "application/octet-stream")


def disposition(name: str) -> str:
    """The header that hands over a file under its name (RFC 6266), letters beyond ASCII too.

    >>> disposition("KRST-KLSE.gpx")
    'attachment; filename="KRST-KLSE.gpx"'
    >>> print(disposition("KRST-é.gpx"))
    attachment; filename="KRST-_.gpx"; filename*=UTF-8''KRST-%C3%A9.gpx
    """
    plain = re.sub(r'[^ -~]|["\\]', "_", name)
    whole = "" if plain == name else f"; filename*=UTF-8''{quote(name, safe='')}"
    return f'attachment; filename="{plain}"{whole}'


def offered() -> list[dict[str, Any]]:
    """Name, suffix, title and what is left out of each format, in the registry's order."""
    return [
        {"name": made.name, "suffix": made.suffix, "title": made.title, "loses": made.loses}
        for made in FORMATS.values()
    ]
