"""What the map draws, as plain JSON: legs, points, checkpoints, airports, base.

Longitudes are unrolled along the route, so a route across the antimeridian runs on past ±180
instead of jumping round the world; everything beside it is moved into the same turn.
"""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from plotter.earth.geodesic import Line, densify
from plotter.earth.position import Position
from plotter.maps import labels
from plotter.maps.labels import visible
from plotter.maps.view import View, bounds
from plotter.places.airports import Beside
from plotter.places.model import Airport, OwnShape
from plotter.route.parts import LegPart
from plotter.route.plotting import Plot
from plotter.route.values import Route

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
    of_leg = itertools.groupby(plot.parts, key=lambda part: part.leg.number)
    for leg, points, (_, parts) in zip(plot.route.legs, drawn, of_leg, strict=True):
        middle = points[len(points) // 2][1]
        first, *others = (_labelled(part, middle, sm) for part in parts)
        yield {
            **first,
            "line": _flat_line(points),
            "mid": _beside(leg.middle, middle),
            **({"parts": [first, *others]} if others else {}),
        }


def _labelled(part: LegPart, longitude: float, sm: bool) -> dict[str, Any]:
    """Where the label of a leg or part of one lies, and what it says."""
    labelled: dict[str, Any] = {
        "mid": _beside(part.line.middle, longitude),
        "angle": round(labels.angle_deg(part.line), 1),
        "above": labels.courses(part),
        "below": labels.distances(part.printed_nm, sm=sm),
    }
    if part.count > 1:
        points = _densified(part.line)
        turn = whole_turns(points[0][1], longitude)
        labelled["line"] = _flat_line([(latitude, east + turn) for latitude, east in points])
    return labelled


def _flat_line(points: Iterable[LatLon]) -> list[float]:
    return [round(value, 5) for point in points for value in point]


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


# The pilot's own layers as the map draws them: cut to the view, thinned, within a bound.
#
# A line is thinned to what a wide screen can tell apart, so a layer of a continent costs a map
# little; what does not fit the bound is left out, the smallest first, and said.

TOLERANCE = 1 / 1500.0
"""A part of the view's breadth: about a pixel of a wide screen."""
MOST_PLACES = 12_000
"""Points of all lines and areas together, some 150 kB of the page."""
MOST_POINTS = 400
DIGITS = 4


@dataclass(frozen=True, slots=True)
class OwnDrawing:
    """Lines, areas, points ready for JSON; how many shapes of each kind, and how many left out."""

    lines: tuple[tuple[str, list[float]], ...]
    areas: tuple[list[list[float]], ...]
    points: tuple[tuple[float, float, str], ...]
    counts: tuple[tuple[str, int], ...]
    left_out: int

    @property
    def said(self) -> str:
        """What is drawn, in words; empty where nothing is.

        >>> OwnDrawing((), (), (), (("rivers", 12), ("towers", 3)), 2).said
        'Your own layers: 12 rivers, 3 towers; 2 more are too many for the map'
        """
        if not self.counts:
            return ""
        named = ", ".join(f"{count} {kind}" for kind, count in self.counts)
        more = f"; {self.left_out} more are too many for the map" if self.left_out else ""
        return f"Your own layers: {named}{more}"

    def as_json(self) -> dict[str, Any]:
        """The drawing as plain values: latitude and longitude [°] in turn, lines by their kind."""
        lines: dict[str, list[list[float]]] = {}
        for kind, line in self.lines:
            lines.setdefault(kind, []).append(line)
        return {"lines": lines, "areas": self.areas, "points": self.points}


def own_drawing(shapes: Iterable[OwnShape], view: View) -> OwnDrawing:
    """What of some shapes a view shows, longitudes in the view's own turn of the earth."""
    from shapely.geometry import box

    frame = box(view.west, view.south, view.east, view.north)
    tolerance_deg = view.breadth_deg * TOLERANCE
    found: list[tuple[float, OwnShape, Any]] = []
    for shape in shapes:
        cut = _geometry(shape, view).intersection(frame)
        if not cut.is_empty:
            found.append((cut.area + cut.length, shape, cut.simplify(tolerance_deg)))
    found.sort(key=lambda one: (-one[0], one[1].layer, one[1].number))
    return _within_bounds(found)


def _within_bounds(found: Iterable[tuple[float, OwnShape, Any]]) -> OwnDrawing:
    lines: list[tuple[str, list[float]]] = []
    areas: list[list[list[float]]] = []
    points: list[tuple[float, float, str]] = []
    counts: Counter[str] = Counter()
    places = left_out = 0
    for _, shape, cut in found:
        if shape.family == "point":
            fits = len(points) < MOST_POINTS
            if fits:
                points += [(*_rounded(each), visible(shape.name)) for each in _parts(cut, "Point")]
        else:
            drawn = [_flat(ring) for ring in _rings(shape, cut)]
            fits = places + sum(map(len, drawn)) / 2 <= MOST_PLACES
            if fits and shape.family == "area":
                areas.append(drawn)
            elif fits:
                lines += [(shape.kind, line) for line in drawn]
            places += int(sum(map(len, drawn)) / 2) if fits else 0
        counts[shape.kind] += fits
        left_out += not fits
    kept = tuple((kind, count) for kind, count in sorted(counts.items()) if count)
    return OwnDrawing(tuple(lines), tuple(areas), tuple(points), kept, left_out)


def _geometry(shape: OwnShape, view: View) -> Any:  # noqa: ANN401
    """A shape with its longitudes in the view's turn; rings by the even-odd rule."""
    from shapely.geometry import LineString, MultiLineString, MultiPoint, Polygon

    parts = [list(_turned(part, view)) for part in shape.parts]
    if shape.family == "point":
        return MultiPoint([point for part in parts for point in part])
    if shape.family == "line":
        return MultiLineString([LineString(part) for part in parts if len(part) > 1])
    made: Any = Polygon()
    for part in parts:
        if len(part) > 3:
            made = made.symmetric_difference(Polygon(part).buffer(0))
    return made


def _turned(part: tuple[tuple[float, float], ...], view: View) -> Iterator[tuple[float, float]]:
    """Longitude and latitude of a part, moved by whole turns to lie beside the view's middle."""
    middle = (view.west + view.east) / 2
    turn = 360.0 * round((middle - part[0][1]) / 360.0)
    before: float | None = None
    for latitude, longitude in part:
        x = longitude + turn
        if before is not None:
            x += 360.0 * round((before - x) / 360.0)
        before = x
        yield x, latitude


def _rings(shape: OwnShape, cut: Any) -> Iterator[Any]:  # noqa: ANN401
    if shape.family == "line":
        yield from _parts(cut, "LineString")
        return
    for polygon in _parts(cut, "Polygon"):
        yield polygon.exterior
        yield from polygon.interiors


def _parts(geometry: Any, kind: str) -> Iterator[Any]:  # noqa: ANN401
    """The simple parts of one kind, of a shape or a collection of them."""
    if geometry.geom_type == kind:
        yield geometry
    for part in getattr(geometry, "geoms", ()):
        yield from _parts(part, kind)


def _flat(ring: Any) -> list[float]:  # noqa: ANN401
    return [value for x, y in ring.coords for value in (round(y, DIGITS), round(x, DIGITS))]


def _rounded(point: Any) -> tuple[float, float]:  # noqa: ANN401
    return round(point.y, DIGITS), round(point.x, DIGITS)
