"""What the map draws, as plain JSON: legs, points, checkpoints, airports, base.

Longitudes are unrolled along the route, so a route across the antimeridian runs on past ±180
instead of jumping round the world; everything beside it is moved into the same turn.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import Any

from plotter.earth.geodesic import Line, densify
from plotter.earth.position import Position
from plotter.maps import labels
from plotter.maps.view import View, bounds
from plotter.places.airports import Beside
from plotter.places.model import Airport
from plotter.route.plot import Plot
from plotter.route.route import Route

LatLon = tuple[float, float]
_LINES_REMEMBERED = 512
MOST_AIRPORTS = 400
"""Airports drawn at most; a thousand legs pass thousands, and a map of dots tells nothing."""
BEYOND = (
    "Part of this route lies beyond 85° of latitude, where the projection of this map ends: "
    "it is not drawn there. The tables hold for the whole route."
)
SIGNS = {"heliport": "heliport", "seaplane_base": "seaplane", "balloonport": "balloon"}
RANKS = {"large_airport": 3, "medium_airport": 2, "small_airport": 1}


def drawn_legs(route: Route) -> list[list[LatLon]]:
    """Each leg as (latitude, unrolled longitude) points; one leg starts where the last ended."""
    drawn: list[list[LatLon]] = []
    for leg in route.legs:
        points = _densified(leg.line)
        turn = whole_turns(points[0][1], drawn[-1][-1][1]) if drawn else 0.0
        drawn.append([(latitude, longitude + turn) for latitude, longitude in points])
    return drawn


@lru_cache(_LINES_REMEMBERED)
def _densified(line: Line) -> tuple[LatLon, ...]:
    return tuple(densify(line))


def route_bounds(drawn: Sequence[Sequence[LatLon]]) -> View:
    """The box round all that is drawn of a route."""
    return bounds(point for leg in drawn for point in leg)


def sheet(plot: Plot, drawn: list[list[LatLon]], *, sm: bool) -> dict[str, Any]:
    """All the map's script reads, ready for JSON."""
    box = route_bounds(drawn)
    return {
        "view": [round(edge, 5) for edge in (box.south, box.west, box.north, box.east)],
        "legs": list(_legs(plot, drawn, sm)),
        "points": list(_points(plot, drawn)),
        "checkpoints": list(_checkpoints(plot, drawn)),
        "airports": list(_airports(plot, drawn)),
    }


def _legs(plot: Plot, drawn: list[list[LatLon]], sm: bool) -> Iterator[dict[str, Any]]:
    for leg, points in zip(plot.route.legs, drawn, strict=True):
        yield {
            "line": [round(value, 5) for point in points for value in point],
            "mid": _beside(leg.middle, points[len(points) // 2][1]),
            "angle": round(labels.angle_deg(leg), 1),
            "above": labels.courses(leg),
            "below": labels.distances(leg.distance_nm, sm=sm),
        }


def _points(plot: Plot, drawn: list[list[LatLon]]) -> Iterator[dict[str, Any]]:
    ends = [drawn[0][0], *(leg[-1] for leg in drawn)]
    for point, (latitude, longitude) in zip(plot.route.waypoints, ends, strict=True):
        yield {
            "name": labels.shortened(point.name),
            "at": [round(latitude, 5), round(longitude, 5)],
            **({"more": _more(point.place)} if isinstance(point.place, Airport) else {}),
        }


def _checkpoints(plot: Plot, drawn: list[list[LatLon]]) -> Iterator[dict[str, Any]]:
    starts = [0.0]
    for leg in plot.route.legs:
        starts.append(starts[-1] + leg.distance_nm)
    for mark in plot.checkpoints:
        leg, points = plot.route.legs[mark.leg_number - 1], drawn[mark.leg_number - 1]
        share = (mark.distance_from_start_nm - starts[mark.leg_number - 1]) / leg.distance_nm
        near = points[round(max(0.0, min(1.0, share)) * (len(points) - 1))][1]
        yield {"n": mark.number, "leg": mark.leg_number, "at": _beside(mark.position, near)}


def shown_airports(plot: Plot) -> tuple[Beside, ...]:
    """The airports that are drawn and listed: all, or the nearest of too many, in flying order."""
    if len(plot.near) <= MOST_AIRPORTS:
        return plot.near
    nearest = sorted(plot.near, key=lambda field: abs(field.off_nm))[:MOST_AIRPORTS]
    return tuple(sorted(nearest, key=lambda field: (field.along_nm, field.airport.ident)))


def _airports(plot: Plot, drawn: list[list[LatLon]]) -> Iterator[dict[str, Any]]:
    turned_at = {p.place.ident for p in plot.route.waypoints if isinstance(p.place, Airport)}
    for field in shown_airports(plot):
        airport, line = field.airport, drawn[field.leg_number - 1]
        code, kind, turn, more = _mark(airport)
        yield {
            "code": code,
            "at": _beside(airport.position, line[len(line) // 2][1]),
            "sign": kind,
            "turn": turn,
            "rank": 9 if airport.ident in turned_at else RANKS.get(airport.kind, 0),
            "more": more,
        }


@lru_cache(labels.AIRPORTS_REMEMBERED)
def _mark(airport: Airport) -> tuple[str, str, int | None, list[list[str]]]:
    """Code, sign, way of the longest runway [°] and what else is known of an airport."""
    code = labels.shortened(labels.code(airport), 8)
    return code, sign(airport), _runway_deg(airport), _more(airport)


def sign(airport: Airport) -> str:
    """Which of the map's signs an airport is drawn with."""
    return "closed" if airport.closed else SIGNS.get(airport.kind, "airport")


def _runway_deg(airport: Airport) -> int | None:
    strips = [r for r in airport.open_runways if r.heading_1_true_deg is not None]
    if not strips:
        return None
    longest = max(strips, key=lambda strip: strip.length_ft or 0.0)
    return round(longest.heading_1_true_deg or 0.0) % 180


def _more(airport: Airport) -> list[list[str]]:
    """Runways and frequencies in words; an empty list is "not in the data"."""
    return [
        [labels.runway(strip) for strip in airport.runways],
        [labels.frequency(radio) for radio in airport.frequencies],
    ]


def _beside(position: Position, longitude: float) -> list[float]:
    turned = position.longitude_deg + whole_turns(position.longitude_deg, longitude)
    return [round(position.latitude_deg, 5), round(turned, 5)]


def whole_turns(longitude: float, beside: float) -> float:
    """Whole turns [°] that bring a longitude beside another.

    >>> whole_turns(-179.0, 178.0), whole_turns(10.0, 12.0)
    (360.0, 0.0)
    """
    return 360.0 * round((beside - longitude) / 360.0)


def beyond_the_map(drawn: Iterable[Sequence[LatLon]], limit_deg: float) -> bool:
    """Whether some of a route lies where the projection of the map has already ended."""
    return any(abs(latitude) > limit_deg for leg in drawn for latitude, _ in leg)
