"""The pilot's own layers as the map draws them: cut to the view, thinned, within a bound.

A line is thinned to what a wide screen can tell apart, so a layer of a continent costs a map
little; what does not fit the bound is left out, the smallest first, and said.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from plotter.maps.labels import visible
from plotter.maps.view import View
from plotter.places.own_layers import OwnShape

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
