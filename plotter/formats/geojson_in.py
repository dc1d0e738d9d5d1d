"""GeoJSON (RFC 7946) read: points and lines of a collection, longitude first.

Points this program marked as ``turning point`` are a route, any other points are waypoints in
their order; each line is a track. Polygons are passed over, and a file on another reference system
is refused (:mod:`geojson_crs`). A third coordinate is taken as a height in metres. The document is
read whole, which takes ten times its size in memory, and some thirty times if it is made of nothing
but empty lists: hence the limit.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from plotter.formats.geojson_crs import foreign_crs
from plotter.formats.incoming import Contents, Part, PartKind, Raw, Source
from plotter.formats.text_in import read_text

_OF_OWN: dict[str, tuple[PartKind, str]] = {
    "turning point": ("route", ""),
    "checkpoint": ("waypoints", "Checkpoints"),
}
MOST_BYTES = 16_000_000
"""Some 600,000 points of a line."""
_NOTES = ("note", "description", "desc")


def read_geojson(stream: Source, contents: Contents) -> None:
    """Read a whole GeoJSON file into its contents; raises FileFault for what is none."""
    import json

    text = read_text(stream, contents, MOST_BYTES)
    if wrong := foreign_crs(text.encode()):
        raise contents.fault(wrong)
    try:
        whole = json.loads(text, parse_int=float)
    except RecursionError:
        raise contents.fault("is nested too deep to be GeoJSON") from None
    except ValueError as fault:
        line = getattr(fault, "lineno", None)
        words = "is not JSON; check that the file is whole"
        raise contents.fault(words, line) from None
    _GeoJson(contents).read(whole)


class _GeoJson:
    """The features of one document, sorted into parts."""

    def __init__(self, contents: Contents) -> None:
        self._contents = contents
        self._points: dict[str, Part] = {}
        self._name = ""

    def read(self, whole: object) -> None:
        if not isinstance(whole, dict):
            raise self._contents.fault("is JSON, but not GeoJSON")
        self._name = _text(whole.get("name"))
        for number, feature in enumerate(self._features(whole), start=1):
            if isinstance(feature, dict):
                self._feature(feature, f"feature {number:,}")
            else:
                self._contents.pass_over("feature without a geometry")

    def _features(self, whole: dict[str, Any]) -> Iterator[object]:
        features = whole.get("features")
        if isinstance(features, list):
            return iter(features)
        if whole.get("type") == "Feature":
            return iter([whole])
        if "coordinates" in whole:
            return iter([{"geometry": whole}])
        raise self._contents.fault("is JSON, but not GeoJSON: it has no features")

    def _feature(self, feature: dict[str, Any], place: str) -> None:
        geometry, properties = feature.get("geometry"), feature.get("properties")
        geometry = geometry if isinstance(geometry, dict) else {}
        known = {
            key.lower(): value
            for key, value in (properties if isinstance(properties, dict) else {}).items()
        }
        kind, coordinates = geometry.get("type"), geometry.get("coordinates")
        shapes = {"Point": [coordinates], "LineString": [coordinates]}
        several = coordinates if isinstance(coordinates, list) else []
        shapes |= {"MultiPoint": several, "MultiLineString": several}
        if not isinstance(kind, str) or kind not in shapes:
            what = kind.lower() if isinstance(kind, str) else "feature without a geometry"
            self._contents.pass_over(what[:40])
        elif kind.endswith("Point"):
            for each in shapes[kind]:
                self._point(each, known, place)
        else:
            self._line(shapes[kind], known, place)

    def _point(self, coordinates: object, known: dict[str, Any], place: str) -> None:
        longitude, latitude, height = _figures(coordinates)
        mark = _text(known.get("part"))
        raw = Raw(
            latitude,
            longitude,
            _text(known.get("name")),
            next((_text(known[key]) for key in _NOTES if known.get(key)), ""),
            known.get("elevation_m", height),
            known.get("elevation_ft", ""),
            _text(known.get("time")),
            place,
        )
        self._contents.take(self._part(mark), raw)

    def _part(self, mark: str) -> Part:
        if mark not in self._points:
            kind, name = _OF_OWN.get(mark, ("waypoints", ""))
            mark = mark if mark in _OF_OWN else ""
            if mark not in self._points:
                self._points[mark] = self._contents.begin(kind, name or self._name)
        return self._points[mark]

    def _line(self, lines: list[Any], known: dict[str, Any], place: str) -> None:
        name = _text(known.get("name"))
        if known.get("part") == "leg":
            name = f"{_text(known.get('start'))} – {_text(known.get('end'))}"
        track = self._contents.begin("track", name)
        for line in lines:
            track.pieces += 1
            for point in line if isinstance(line, list) else []:
                longitude, latitude, height = _figures(point)
                self._contents.take_fix(track, lambda: place, latitude, longitude, height_m=height)


def _figures(coordinates: object) -> tuple[object, object, object]:
    """Longitude, latitude and height of one position, whatever of them is there."""
    given = coordinates if isinstance(coordinates, list) else []
    longitude, latitude, height, *_ = [*given[:3], None, None, None]
    return longitude, latitude, height


def _text(value: object) -> str:
    return value if isinstance(value, str) else "" if value is None else str(value)
