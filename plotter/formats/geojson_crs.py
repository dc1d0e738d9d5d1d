"""What a GeoJSON text says of its positions beyond RFC 7946: a ``crs``, more than three numbers.

The ``crs`` is old: positions are WGS 84, whatever a file says of them.

RFC 7946 took the member out (appendix B.1) and fixed every position to longitude and latitude on
WGS 84 (section 4). One that names WGS 84 is passed over; a file with any other is refused, because
its positions are either on another system or not known to be on this one.
"""

from __future__ import annotations

import json
import re
from bisect import bisect_left
from collections.abc import Iterator
from itertools import islice
from mmap import mmap
from typing import Any

from plotter.formats.names import clean_name
from plotter.messages import Message, message

MOST_LETTERS = 40
_MEMBER = re.compile(rb'"(?:c|\\u00[46]3)(?:r|\\u00[57]2)(?:s|\\u00[57]3)"\s*:\s*', re.IGNORECASE)
"""The member however it is written: GDAL takes ``CRS`` and escaped letters for it too."""
_WGS_84 = re.compile(
    r"(urn:ogc:def:crs:)?(EPSG:([\d.]*:)?4326|OGC:([\d.]*:)?CRS84h?)"
    r"|https?://www\.opengis\.net/def/crs/(EPSG/[\d.]+/4326|OGC/[\d.]+/CRS84h?)",
    re.IGNORECASE | re.ASCII,
)
"""OGC 07-092r3 (urns) and 11-135r2 (addresses): EPSG's WGS 84, and the same longitude first."""
_TOKEN = re.compile(rb'"((?:[^"\\]|\\.)*+)"(\s*:)?|[{\[]|[}\]]', re.DOTALL)
_NUMBER = rb"\s*-?[0-9.]++(?:[eE][+-]?[0-9]++)?\s*"
_LONG = re.compile(rb'(?:"coordinates"\s*:|[\[,])\s*\[' + rb",".join([_NUMBER] * 4))
_MOST_LOOKED_AT = 100_000
_FAR = 4_000
"""No member that can be passed over is longer [bytes]."""


def foreign_crs(content: bytes | mmap) -> Message | None:
    """Return what is wrong with the ``crs`` of a GeoJSON text (UTF-8), or ``None``.

    The trap: an attribute (a key inside ``properties``) of that name may have any value.

    >>> foreign_crs(b'{"crs": {"type": "name", "properties": {"name": "EPSG:4326"}}}')
    >>> foreign_crs(b'{"crs": {"type": "name", "properties": {"name": "EPSG:3857"}}}')["crs"]
    'EPSG:3857'
    """
    found = {match.start(): _value(content, match.end()) for match in _MEMBER.finditer(content)}
    others = {place for place, value in found.items() if not _is_wgs_84(value)}
    members = sorted(outside_attributes(content, others))
    if not members:
        return None
    name = _name(found[members[0]])
    if not name:
        return message("file.crs-unnamed")
    return message("file.crs", crs=clean_name(str(name), MOST_LETTERS))


def long_position(content: bytes | mmap) -> Message | None:
    """Return what is wrong where a position has more than three numbers, or ``None``.

    RFC 7946 (3.1.1) knows longitude, latitude and height; a fourth is a decimal comma, most often.
    A ``bbox`` has four or six numbers, an attribute any.

    >>> long_position(b'{"type": "Point", "coordinates": [-92, 5, 44, 5]}').key
    'file.long-position'
    >>> long_position(b'{"bbox": [-92, 43, -91, 44], "coordinates": [-92.5, 44.5]}')
    """
    found = {match.start() for match in islice(_LONG.finditer(content), _MOST_LOOKED_AT)}
    places = outside_attributes(content, found)
    if not places:
        return None
    shown = content[min(places) : min(places) + 80].partition(b"[")[2].decode(errors="replace")
    return message("file.long-position", numbers=clean_name(shown, MOST_LETTERS))


def _value(content: bytes | mmap, start: int) -> Any:  # noqa: ANN401
    """The value that begins there; a text that is no JSON stands for itself."""
    text = content[start : start + _FAR].decode("utf-8", errors="replace")
    try:
        return json.JSONDecoder().raw_decode(text)[0]
    except (ValueError, RecursionError):
        return text


def _is_wgs_84(value: object) -> bool:
    name = _name(value)
    return isinstance(name, str) and _WGS_84.fullmatch(name.strip()) is not None


def _name(value: object) -> object:
    """The name of a named system; ``None`` for any other."""
    if not isinstance(value, dict) or value.get("type") != "name":
        return None
    properties = value.get("properties")
    return properties.get("name") if isinstance(properties, dict) else None


def outside_attributes(content: bytes | mmap, places: set[int]) -> set[int]:
    """Of some places in a GeoJSON text, those that lie in no ``properties``."""
    spans = list(_attributes(content)) if places else []
    starts = [start for start, _ in spans]
    around = {place: bisect_left(starts, place) - 1 for place in places}
    return {at for at, span in around.items() if span < 0 or at > spans[span][1]}


def _attributes(content: bytes | mmap) -> Iterator[tuple[int, int]]:
    """Where each ``properties`` begins and ends."""
    depth, opened, start, is_next = 0, None, 0, False
    for token in _TOKEN.finditer(content):
        letter = token[0][:1]
        if letter == b'"':
            is_next = token[1] == b"properties" and token[2] is not None
            continue
        if letter in b"{[":
            if is_next and opened is None:
                opened, start = depth, token.start()
            depth += 1
        else:
            depth -= 1
            if depth == opened:
                yield start, token.start()
                opened = None
        is_next = False
