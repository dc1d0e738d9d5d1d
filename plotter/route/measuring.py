"""A typed route measured: legs with distance, course and the variation at their middle."""

from __future__ import annotations

import datetime as dt
import itertools
from collections.abc import Sequence

from plotter.earth.geodesic import LineKind, measure
from plotter.earth.magnetism import Variation, variation, variations
from plotter.earth.position import Position
from plotter.route.values import Leg, Route, Waypoint

_ONE_BY_ONE = 16
"""For fewer positions than this one call of arrays takes longer than one call a position."""


class FlightMagnetism:
    """The magnetic model asked for one date and altitude [ft]."""

    def __init__(self, date: dt.date, altitude_ft: float, allow_old_model: bool) -> None:
        self._date = date
        self._altitude_ft = altitude_ft
        self._allow_old_model = allow_old_model

    def at(self, where: Position) -> Variation:
        """The variation at a position; raises ModelDateError outside the model's years."""
        return variation(where, self._date, self._altitude_ft, self._allow_old_model)

    def degrees_east(self, where: Position) -> float:
        """The variation at a position [°, east positive]."""
        return self.at(where).degrees_east

    def at_all(self, places: Sequence[Position]) -> list[Variation]:
        """The variation at many positions, in one call of the model."""
        if len(places) < _ONE_BY_ONE:
            return [self.at(place) for place in places]
        return variations(places, self._date, self._altitude_ft, self._allow_old_model)

    def degrees_east_of(self, places: Sequence[Position]) -> list[float]:
        """The variation at many positions [°, east positive], in one call of the model."""
        return [found.degrees_east for found in self.at_all(places)]


def measure_route(
    waypoints: Sequence[Waypoint], line: LineKind, magnetism: FlightMagnetism
) -> Route:
    """The route through the waypoints, each leg measured on WGS 84.

    One course and one variation a leg, both at mid-leg, as a plotter is laid on the meridian
    nearest the middle (FAA-H-8083-25, chapter "Navigation", measurement of direction).
    """
    pairs = list(itertools.pairwise(waypoints))
    lines = [measure(start.position, end.position, line) for start, end in pairs]
    found = magnetism.at_all([measured.middle for measured in lines])
    starts = itertools.accumulate((measured.distance_nm for measured in lines[:-1]), initial=0.0)
    legs = [
        Leg(number, start, end, measured, variation, start_nm)
        for number, ((start, end), measured, variation, start_nm) in enumerate(
            zip(pairs, lines, found, starts, strict=True), start=1
        )
    ]
    return Route(tuple(waypoints), tuple(legs), line)
