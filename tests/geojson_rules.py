"""The rules of GeoJSON, section by section of RFC 7946, written for the tests alone.

No package of the test extra carries a schema of GeoJSON; each rule here names its section.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

Node = dict[str, Any]
GEOMETRIES = {"Point": 0, "MultiPoint": 1, "LineString": 1, "MultiLineString": 2}
"""How deep the positions of a geometry lie (sections 3.1.2 to 3.1.5); polygons are not written."""


def faults(document: bytes) -> list[str]:
    """Every rule a document breaks; none for a valid FeatureCollection."""
    try:
        whole = json.loads(document.decode("utf-8"), parse_constant=_no_number)
    except ValueError as fault:
        return [f"2: not a JSON text in UTF-8 ({fault})"]
    return list(_collection(whole))


def _no_number(word: str) -> None:
    raise ValueError(f"{word} is not JSON")


def _collection(whole: object) -> Iterator[str]:
    if not isinstance(whole, dict) or whole.get("type") != "FeatureCollection":
        yield "1.4: the text is no FeatureCollection"
        return
    for word in {"coordinates", "geometries", "geometry", "properties"} & whole.keys():
        yield f"7.1: a FeatureCollection has no {word!r}"
    if "crs" in whole:
        yield "4: no other coordinate reference system is to be named"
    features = whole.get("features")
    if not isinstance(features, list):
        yield "3.3: 'features' is no array"
        return
    ids = [repr(feature.get("id")) for feature in features if isinstance(feature, dict)]
    if len(set(ids)) != len(ids):
        yield "3.2: an id is used twice"
    for feature in features:
        yield from _feature(feature)


def _feature(feature: object) -> Iterator[str]:
    if not isinstance(feature, dict) or feature.get("type") != "Feature":
        yield "3.2: an element of 'features' is no Feature"
        return
    if not isinstance(feature.get("id", ""), str | int | float):
        yield "3.2: an id is neither a string nor a number"
    if not isinstance(feature.get("properties", 0), dict | None):
        yield "3.2: 'properties' is missing or no object"
    for word in {"coordinates", "geometries", "features"} & feature.keys():
        yield f"7.1: a Feature has no {word!r}"
    geometry = feature.get("geometry", 0)
    if not isinstance(geometry, dict):
        yield "3.2: 'geometry' is missing or no object"
    elif geometry.get("type") not in GEOMETRIES:
        yield f"1.4: no geometry is called {geometry.get('type')!r}"
    else:
        yield from _geometry(geometry)


def _geometry(geometry: Node) -> Iterator[str]:
    for word in {"geometry", "properties", "features"} & geometry.keys():
        yield f"7.1: a geometry has no {word!r}"
    depth = GEOMETRIES[geometry["type"]]
    lines = geometry.get("coordinates")
    for _ in range(2 - depth):
        lines = [lines]
    if not (isinstance(lines, list) and all(isinstance(line, list) for line in lines)):
        yield "3.1: the coordinates are no arrays of that depth"
        return
    for line in lines:
        wrong = [fault for position in line for fault in _position(position)]
        yield from wrong or (_line(line) if "Line" in geometry["type"] else ())


def _position(position: object) -> Iterator[str]:
    if not isinstance(position, list) or not 2 <= len(position) <= 3:
        yield f"3.1.1: {position!r} is no position of two or three numbers"
        return
    if not all(isinstance(n, int | float) and math.isfinite(n) for n in position):
        yield f"3.1.1: {position!r} holds what is no number"
        return
    if abs(position[0]) > 180 or abs(position[1]) > 90:
        yield f"4: {position!r} is outside longitude ±180, latitude ±90 (longitude first)"


def _line(line: list[Any]) -> Iterator[str]:
    if len(line) < 2:
        yield "3.1.4: a line has fewer than two positions"
    if any(abs(a[0] - b[0]) > 180 for a, b in pairwise(line)):
        yield "3.1.9: a line crosses the antimeridian uncut"
