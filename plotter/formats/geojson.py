"""GeoJSON (RFC 7946): legs, turning points and checkpoints as features of one collection.

A leg is its densified line, cut where it crosses 180° (section 3.1.9) and then a MultiLineString.
Coordinates are WGS 84, longitude first, six decimals (sections 4, 3.1.1 and 11.2); no third one is
written, because GeoJSON's heights are above the ellipsoid and an airport's is above the sea.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from plotter.earth.position import Position
from plotter.formats.antimeridian import LatLon, split_at_180
from plotter.formats.descriptions import standing_lines
from plotter.formats.figures import DEGREE_PLACES, direction
from plotter.formats.names import shown_name
from plotter.formats.records import Record, checkpoint_records, leg_records, point_records
from plotter.formats.strokes import strokes
from plotter.route.plot import Plot
from plotter.route.route import Leg

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
