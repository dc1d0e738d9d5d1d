"""A typed route measured: legs with distance, course and the variation at their middle."""

from __future__ import annotations

import datetime as dt
import itertools
from collections.abc import Sequence

from plotter.earth.geodesic import LineKind, measure
from plotter.earth.magnetism import Variation, variation, variation_array
from plotter.earth.position import Position
from plotter.route.route import Leg, Route, Waypoint

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

    def degrees_east_of(self, places: Sequence[Position]) -> list[float]:
        """The variation at many positions [°, east positive], in one call of the model."""
        if len(places) < _ONE_BY_ONE:
            return [self.degrees_east(place) for place in places]
        latitudes = [place.latitude_deg for place in places]
        longitudes = [place.longitude_deg for place in places]
        found = variation_array(
            latitudes, longitudes, self._date, self._altitude_ft, self._allow_old_model
        )
        return [float(degrees) for degrees in found]


def measure_route(
    waypoints: Sequence[Waypoint], line: LineKind, magnetism: FlightMagnetism
) -> Route:
    """The route through the waypoints, each leg measured on WGS 84.

    One course and one variation a leg, both at mid-leg, as a plotter is laid on the meridian
    nearest the middle (FAA-H-8083-25, chapter "Navigation", measurement of direction).
    """
    legs = []
    pairs = itertools.pairwise(waypoints)
    for number, (start, end) in enumerate(pairs, start=1):
        measured = measure(start.position, end.position, line)
        legs.append(Leg(number, start, end, measured, magnetism.at(measured.middle)))
    return Route(tuple(waypoints), tuple(legs), line)
