"""Routes built by hand for tests, without store or magnetic model."""

from __future__ import annotations

import datetime as dt
import itertools
from collections.abc import Sequence

from plotter.earth.geodesic import LineKind, measure
from plotter.earth.magnetism import Variation
from plotter.earth.position import Position
from plotter.route.values import Leg, Route, Waypoint

SOME_DAY = dt.date(2026, 7, 4)


def waypoint(position: Position, name: str = "POINT") -> Waypoint:
    return Waypoint(name, name, "position", position)


def route_through(
    positions: Sequence[Position], line: LineKind = "geodesic", degrees_east: float = 0.0
) -> Route:
    points = [waypoint(place, f"P{number}") for number, place in enumerate(positions)]
    pairs = itertools.pairwise(points)
    variation = Variation(degrees_east, "made up", SOME_DAY, "", 0.3)
    legs = [
        Leg(number, start, end, measure(start.position, end.position, line), variation)
        for number, (start, end) in enumerate(pairs, start=1)
    ]
    return Route(tuple(points), tuple(legs), line)
