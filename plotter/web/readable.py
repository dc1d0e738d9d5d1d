"""What can be drawn of a route that cannot be plotted yet: its points, the legs between them."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, NamedTuple

from plotter.earth.geodesic import LineKind, densify, measure
from plotter.earth.position import Position
from plotter.errors import PlotterError
from plotter.maps import labels
from plotter.maps.sheet import whole_turns
from plotter.route.points import PointReader
from plotter.route.route_text import coincide

Node = dict[str, Any]


class Readable(NamedTuple):
    """A point that can be read by itself: which one, its name, its position."""

    number: int
    name: str
    position: Position


def readable_node(points: Sequence[str], reader: PointReader, line: LineKind) -> Node:
    """Points and legs for the map; a leg only between two points that follow each other."""
    found = list(_readable(points, reader))
    longitudes = list(_unrolled(point.position.longitude_deg for point in found))
    return {
        "points": [_point(*each) for each in zip(found, longitudes, strict=True)],
        "loose_legs": list(_legs(found, longitudes, line)),
    }


def _readable(points: Sequence[str], reader: PointReader) -> Iterator[Readable]:
    for number, text in enumerate(points):
        name, _, body = text.rpartition("=")
        try:
            waypoint = reader.read(body, None).waypoint
        except PlotterError:
            continue
        yield Readable(number, name or waypoint.name, waypoint.position)


def _unrolled(longitudes: Iterable[float]) -> Iterator[float]:
    """Each longitude in the turn of the one before, so that nothing jumps round the world."""
    before: float | None = None
    for longitude in longitudes:
        before = longitude if before is None else longitude + whole_turns(longitude, before)
        yield before


def _point(point: Readable, longitude: float) -> Node:
    at = [round(point.position.latitude_deg, 5), round(longitude, 5)]
    return {"index": point.number, "name": labels.shortened(labels.visible(point.name)), "at": at}


def _legs(found: Sequence[Readable], longitudes: Sequence[float], line: LineKind) -> Iterator[Node]:
    for (start, end), longitude in zip(itertools.pairwise(found), longitudes, strict=False):
        if end.number != start.number + 1 or coincide(start.position, end.position):
            continue
        drawn = densify(measure(start.position, end.position, line))
        shift = longitude - drawn[0][1]
        points = [(latitude, east + shift) for latitude, east in drawn]
        latitude, east = points[len(points) // 2]
        yield {
            "index": start.number,
            "line": [round(value, 5) for point in points for value in point],
            "mid": [round(latitude, 5), round(east, 5)],
        }
