"""A leg's line as the files hold it: straight strokes in latitude and longitude that stay on it.

The web map has strokes of its own, straight on its projection. A file's are taken for straight in
latitude and longitude (RFC 7946, section 3.1.1) or for great circles, and both must hold.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, cos, floor, hypot, radians, tan

from plotter.earth.geodesic import Line, along
from plotter.earth.position import Position

# Lines cut where they cross 180°, for formats whose longitudes may not run past it.

LatLon = tuple[float, float]


def split_at_180(unrolled: Sequence[LatLon]) -> list[list[LatLon]]:
    """A line of (latitude, unrolled longitude) [°] as pieces within −180…180.

    The crossing is put on 180° on one side and on −180° on the other, at the latitude where the
    straight stretch between the two neighbours meets it (RFC 7946, section 3.1.9, does the same);
    a line that only touches 180° is not cut.

    >>> split_at_180([(10.0, 179.0), (12.0, 181.0)])
    [[(10.0, 179.0), (11.0, 180.0)], [(11.0, -180.0), (12.0, -179.0)]]
    >>> split_at_180([(10.0, 179.0), (12.0, 180.0)])
    [[(10.0, 179.0), (12.0, 180.0)]]
    """
    pieces: list[list[LatLon]] = []
    world: int | None = None
    for a, b in pairwise(unrolled):
        for start, end in _within_worlds(a, b):
            home = _world(min(start[1], end[1]))
            if home != world:
                pieces.append([_rolled(start, home)])
                world = home
            pieces[-1].append(_rolled(end, home))
    return pieces


def _within_worlds(a: LatLon, b: LatLon) -> Iterator[tuple[LatLon, LatLon]]:
    """The stretch from ``a`` to ``b``, cut at every odd multiple of 180° strictly between."""
    low, high = sorted((a[1], b[1]))
    seams = [360.0 * turn - 180.0 for turn in range(_world(low) + 1, _world(high) + 1)]
    if seams and seams[-1] == high:
        seams.pop()
    cuts = [_at(a, b, seam) for seam in (seams if a[1] <= b[1] else reversed(seams))]
    yield from pairwise([a, *cuts, b])


def _at(a: LatLon, b: LatLon, longitude: float) -> LatLon:
    share = (longitude - a[1]) / (b[1] - a[1])
    return (a[0] + share * (b[0] - a[0]), longitude)


def _world(longitude: float) -> int:
    """Which turn of the earth a longitude lies in, −180 itself and 180 not.

    Half a turn is added for a guess only: at 179.99999999999997° the sum rounds to a whole turn.
    """
    world = floor((longitude + 180) / 360)
    return world - (longitude - 360 * world < -180) + (longitude - 360 * world >= 180)


def _rolled(point: LatLon, world: int) -> LatLon:
    return (point[0], point[1] - 360.0 * world)


# Finer than the line of a pencil on a chart of 1:500,000 (0.2 mm are 0.054 NM), and than any
# aircraft is held on it by eye.
TOLERANCE_NM = 0.05
_LONGEST_STROKE_NM = 100.0
# Beside a pole no stroke is straight enough; there the length of a stroke ends the search.
_SHORTEST_STROKE_NM = 1.0
_NM_IN_A_DEGREE = 60.0
_RADIUS_NM = 3440.0


def strokes(line: Line) -> list[LatLon]:
    """Latitude and unrolled longitude [°] of points evenly along a line, both ends included.

    Strokes between them, straight or great circles, stay within 0.05 NM of the line. Longitudes
    run on from the start without a jump and may pass ±180; a pole has that of the point beside it.

    >>> from plotter.earth.geodesic import measure
    >>> from plotter.earth.position import Position
    >>> strokes(measure(Position(40.0, 179.5), Position(40.25, -179.75)))
    [(40.0, 179.5), (40.25, 180.25)]
    """
    count = ceil(line.distance_nm / _LONGEST_STROKE_NM)
    while True:
        points = _evenly(line, 2 * count)
        stroke_nm = line.distance_nm / count
        sag_nm = _sag_nm(stroke_nm, points) if line.kind == "rhumb" else 0.0
        if max(_worst_nm(points), sag_nm) <= TOLERANCE_NM or stroke_nm <= _SHORTEST_STROKE_NM:
            return points[::2]
        count *= 2


def _evenly(line: Line, parts: int) -> list[LatLon]:
    between = along(line, [line.distance_nm * part / parts for part in range(1, parts)])
    places = [line.start, *between, line.end]
    longitudes = [places[1 if line.start.is_pole else 0].longitude_deg]
    for place in places[1:]:
        longitudes.append(longitudes[-1] if place.is_pole else _next(longitudes[-1], place))
    return [(place.latitude_deg, x) for place, x in zip(places, longitudes, strict=True)]


def _next(longitude_deg: float, place: Position) -> float:
    """The longitude [°] of a place in the turn of the earth that is nearest to another."""
    turns = round((longitude_deg - place.longitude_deg) / 360.0)
    return place.longitude_deg + 360.0 * turns


def _worst_nm(points: Sequence[LatLon]) -> float:
    """How far [NM] the line is from its strokes at their middles: every second point is one."""
    starts, middles, ends = points[:-2:2], points[1::2], points[2::2]
    return max(map(_off_nm, starts, middles, ends))


def _sag_nm(stroke_nm: float, points: Sequence[LatLon]) -> float:
    """How far [NM] great circles bow, at most, from a rhumb line's strokes of that length.

    Along a parallel the two courses turn against each other by tan(latitude) / radius a mile, and
    an arc of curvature k over a chord c has a sagitta of k c² / 8; on other courses it is less.
    """
    steepest = max(abs(latitude) for latitude, _ in points)
    return stroke_nm**2 * tan(radians(steepest)) / (8.0 * _RADIUS_NM)


def _off_nm(start: LatLon, middle: LatLon, end: LatLon) -> float:
    """The distance [NM] of a point from the stroke it belongs to, on a small flat map."""
    shrink = cos(radians(middle[0]))
    dy, dx = end[0] - start[0], (end[1] - start[1]) * shrink
    y, x = middle[0] - start[0], (middle[1] - start[1]) * shrink
    return abs(x * dy - y * dx) / hypot(dx, dy) * _NM_IN_A_DEGREE
