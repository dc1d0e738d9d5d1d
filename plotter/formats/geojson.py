"""GeoJSON (RFC 7946): legs, turning points and checkpoints as features of one collection.

A leg is its densified line, cut where it crosses 180° (section 3.1.9) and then a MultiLineString.
Coordinates are WGS 84, longitude first, six decimals (sections 4, 3.1.1 and 11.2); no third one is
written, because GeoJSON's heights are above the ellipsoid and an airport's is above the sea.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from plotter.earth.position import Position
from plotter.formats.descriptions import standing_lines
from plotter.formats.geojson_crs import foreign_crs
from plotter.formats.incoming import (
    Contents,
    Part,
    PartKind,
    Raw,
    Source,
    first_three,
    read_text,
    skipped_geometry,
)
from plotter.formats.names import shown_name
from plotter.formats.records import (
    DEGREE_PLACES,
    Record,
    checkpoint_records,
    direction,
    leg_records,
    point_records,
)
from plotter.formats.strokes import LatLon, split_at_180, strokes
from plotter.messages import message
from plotter.route.plotting import Plot
from plotter.route.values import Leg

Node = dict[str, Any]
_NM_PLACES = 3
_FT_PLACES = 1
_ANGLE_PLACES = 2


def geojson(plot: Plot) -> bytes:
    """The GeoJSON of a plot, UTF-8, one feature a line.

    ``part`` among the properties says what a feature is: ``leg``, ``turning point`` or
    ``checkpoint``. Units are in the names: [NM] three decimals, [°T], [°M] and variation [°, east
    positive] two, [ft] one; ``null`` is "not in the data". The members ``name``, ``date`` and
    ``notes`` (the cautions and the data's dates) are foreign ones (section 6.1).
    """
    import json

    def line(node: Node) -> str:
        return json.dumps(node, ensure_ascii=False, allow_nan=False)

    head = {
        "type": "FeatureCollection",
        "name": shown_name(plot.name),
        "date": plot.date.isoformat(),
        "notes": standing_lines(plot),
    }
    features = ",\n".join(line(feature) for feature in _features(plot))
    return f'{line(head)[:-1]}, "features": [\n{features}\n]}}\n'.encode()


def _features(plot: Plot) -> Iterator[Node]:
    for leg, record in zip(plot.route.legs, leg_records(plot), strict=True):
        yield _feature("leg", record, _line(leg))
    for point, record in zip(plot.route.waypoints, point_records(plot), strict=True):
        yield _feature("turning point", record, _point(point.position))
    for mark, record in zip(plot.checkpoints, checkpoint_records(plot), strict=True):
        yield _feature("checkpoint", record, _point(mark.position))


def _feature(part: str, record: Record, geometry: Node) -> Node:
    """One feature; its id is made of its part and number and stays the same."""
    return {
        "type": "Feature",
        "id": f"{part.replace(' ', '-')}-{record['number']}",
        "geometry": geometry,
        "properties": {"part": part} | {key: _rounded(key, record[key]) for key in record},
    }


def _rounded(key: str, value: object) -> object:
    """A value as the file has it, by the unit in its name."""
    if not isinstance(value, float):
        return value
    if key.endswith("course_deg"):
        return float(direction(value, _ANGLE_PLACES))
    places = {"nm": _NM_PLACES, "ft": _FT_PLACES}.get(key.rpartition("_")[2], _ANGLE_PLACES)
    return round(value, places) + 0.0


def _line(leg: Leg) -> Node:
    pieces = [_coordinates(piece) for piece in split_at_180(strokes(leg.line))]
    if len(pieces) == 1:
        return {"type": "LineString", "coordinates": pieces[0]}
    return {"type": "MultiLineString", "coordinates": pieces}


def _point(where: Position) -> Node:
    (coordinates,) = _coordinates([(where.latitude_deg, where.longitude_deg)])
    return {"type": "Point", "coordinates": coordinates}


def _coordinates(points: Sequence[LatLon]) -> list[list[float]]:
    return [
        [round(longitude, DEGREE_PLACES) + 0.0, round(latitude, DEGREE_PLACES) + 0.0]
        for latitude, longitude in points
    ]


# GeoJSON (RFC 7946) read: points and lines of a collection, longitude first.
#
# Points this program marked as ``turning point`` are a route, any other points are waypoints in
# their order; each line is a track. Polygons are passed over, and a file on another reference
# system is refused (:mod:`geojson_crs`). A third coordinate is taken as a height in metres. The
# document is read whole, which takes ten times its size in memory, and some thirty times if it is
# made of nothing but empty lists: hence the limit.

_OF_OWN: dict[str, tuple[PartKind, str]] = {
    "turning point": ("route", ""),
    "checkpoint": ("waypoints", "Checkpoints"),
}
MOST_BYTES = 8_000_000
"""Some 300,000 points of a line; the worst case, empty lists, takes a quarter of a GB."""
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
        raise contents.fault(message("file.deep-json")) from None
    except ValueError as fault:
        line = getattr(fault, "lineno", None)
        raise contents.fault(message("file.not-json"), line) from None
    _GeoJson(contents).read(whole)


class _GeoJson:
    """The features of one document, sorted into parts."""

    def __init__(self, contents: Contents) -> None:
        self._contents = contents
        self._points: dict[str, Part] = {}
        self._name = ""

    def read(self, whole: object) -> None:
        if not isinstance(whole, dict):
            raise self._contents.fault(message("file.not-geojson"))
        self._name = _text(whole.get("name"))
        for number, feature in enumerate(self._features(whole), start=1):
            if isinstance(feature, dict):
                self._feature(feature, f"feature {number:,}")
            else:
                self._contents.pass_over("skipped.no-geometry")

    def _features(self, whole: dict[str, Any]) -> Iterator[object]:
        features = whole.get("features")
        if isinstance(features, list):
            return iter(features)
        if whole.get("type") == "Feature":
            return iter([whole])
        if "coordinates" in whole:
            return iter([{"geometry": whole}])
        raise self._contents.fault(message("file.not-geojson"))

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
            self._contents.pass_over(skipped_geometry(kind))
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
    """Longitude, latitude and height of one position (RFC 7946, 3.1.1: three numbers at most)."""
    return first_three(coordinates if isinstance(coordinates, list) else [])


def _text(value: object) -> str:
    return value if isinstance(value, str) else "" if value is None else str(value)
