"""Lines over the earth on WGS 84: how long, which way, where along, how far beside.

The one home of pyproj for geodesics. A geodesic is the shortest line, what a string on a globe
or, nearly, a straight pencil line on a Lambert conformal chart gives; a rhumb line keeps one
true course.
Accuracy: C. F. F. Karney, "Algorithms for geodesics", J. Geodesy 87 (2013): 15 nanometres.

Two traps live here and nowhere else: pyproj wants longitude first, and its second azimuth points
back unless told otherwise.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache, partial
from typing import TYPE_CHECKING, Literal, get_args

from plotter.earth import lines, rhumb
from plotter.earth.angles import course_360, half_turn, longitude_change
from plotter.earth.lines import mid_courses
from plotter.earth.position import Position
from plotter.earth.units import METRES_PER_NM, metres_from_nm, nm_from_metres
from plotter.earth.web_mercator import Station, refined
from plotter.errors import InputError, PositionError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray
    from pyproj import Geod

    Floats = NDArray[np.float64]

LineKind = Literal["geodesic", "rhumb"]

SHORTEST_NM = 1e-9
"""Two points closer than this [NM] are one point. A geodesic is known to 15 nanometres, so
below 1.7 µm its direction is not known to half a degree, and a course is printed in degrees."""
AMBIGUOUS_WITHIN_NM = 40.0
"""Ends this near [NM] to antipodal have no trustworthy course. On this ellipsoid up to four
geodesics run to a point within 67 km of the antipode (Karney 2013, section 3), and at 40 NM
moving the end by 1 NM turns the initial course by 1.4°."""
POLE_WITHIN_DEG = 1e-9
"""A computed middle this near [°, 0.1 mm] to a pole is the pole: its longitude is rounding."""
_LINES_REMEMBERED = 1024
"""While a point of a route is moved all legs but two stay as they are."""
_CHUNK = 4096
"""Legs taken at once, so that the arrays in between stay in the processor's cache."""


@dataclass(frozen=True, slots=True)
class Line:
    """One measured line: length [NM] and true courses [°T, 0 ≤ x < 360] at start, middle, end.

    ``true_course_deg`` is the course at mid-leg, the one a plotter laid on the nearest meridian
    reads. At a pole a course is reckoned from the meridian that the pole's own longitude names,
    as just beside the pole: from (90, 0) the point (80, 30) bears 150. A line whose middle is
    the pole keeps its initial course there.
    """

    start: Position
    end: Position
    kind: LineKind
    distance_nm: float
    initial_true_course_deg: float
    true_course_deg: float
    final_true_course_deg: float
    middle: Position

    def __post_init__(self) -> None:
        if self.kind not in get_args(LineKind):
            raise InputError("line-kind", kind=self.kind)
        if not SHORTEST_NM <= self.distance_nm < math.inf:
            raise PositionError("zero-length")

    @property
    def ambiguous(self) -> bool:
        """Whether a hair's breadth decides which way the line goes round the earth.

        True for a geodesic whose ends are within 40 NM of antipodal, and for a rhumb line between
        opposite meridians; the line given is still a shortest one and always the same one.

        >>> measure(Position(0.0, 0.0), Position(0.3, 179.8)).ambiguous
        True
        """
        change = abs(longitude_change(self.start.longitude_deg, self.end.longitude_deg))
        if self.kind == "rhumb":
            return change == 180.0 and not (self.start.is_pole or self.end.is_pole)
        opposite = half_turn(self.start.longitude_deg + 180.0)
        antipode = Position(-self.start.latitude_deg, opposite)
        return distance_nm(antipode, self.end) < AMBIGUOUS_WITHIN_NM


@lru_cache(_LINES_REMEMBERED)
def measure(start: Position, end: Position, kind: LineKind = "geodesic") -> Line:
    """The line between two positions, measured.

    Raises PositionError, code ``zero-length``, where both are one point. Exactly antipodal ends
    get the geodesic over the pole nearer to the start, from the equator the north pole.

    >>> line = measure(Position(0.0, 0.0), Position(0.0, 1.0))
    >>> round(line.distance_nm, 6), line.true_course_deg
    (60.107716, 90.0)
    >>> measure(Position(41.0, 180.0), Position(41.0, -180.0))
    Traceback (most recent call last):
    plotter.errors.PositionError: both ends of the leg are the same point; remove one
    """
    first, last, length_m = _inverse(start, end, kind)
    if nm_from_metres(length_m) < SHORTEST_NM:
        raise PositionError("zero-length")
    (lat,), (lon,), (course,) = _run(_origin(start, end, kind), first, [length_m / 2], kind)
    if 90.0 - abs(lat) < POLE_WITHIN_DEG:
        lat, lon, course = math.copysign(90.0, lat), start.longitude_deg, first
    return Line(
        start=start,
        end=end,
        kind=kind,
        distance_nm=nm_from_metres(length_m),
        initial_true_course_deg=course_360(first),
        true_course_deg=course_360(course),
        final_true_course_deg=course_360(last),
        middle=Position(lat, lon),
    )


def distance_nm(a: Position, b: Position) -> float:
    """The shortest distance [NM] between two positions; zero where they are one.

    >>> round(distance_nm(Position(0.0, 0.0), Position(90.0, 0.0)), 3)
    5400.629
    """
    return nm_from_metres(_inverse(a, b, "geodesic")[2])


def seen_from(start: Position, places: Sequence[Position]) -> list[tuple[float, float]]:
    """Distance [NM] and initial true course [°T, 0 ≤ x < 360] from one position to many.

    For a thousand places 2 ms. The trap: to the start itself, and to its antipode, any course
    leads; the one given says nothing. From a pole it is reckoned from the pole's own longitude.

    >>> [(round(d, 1), round(c)) for d, c in seen_from(Position(0.0, 0.0), [Position(0.0, -1.0)])]
    [(60.1, 270)]
    """
    count = len(places)
    courses, _, lengths_m = _geod().inv(
        [start.longitude_deg] * count,
        [start.latitude_deg] * count,
        [place.longitude_deg for place in places],
        [place.latitude_deg for place in places],
    )
    return [
        (nm_from_metres(length_m), course_360(course))
        for length_m, course in zip(lengths_m, courses, strict=True)
    ]


def destination(start: Position, true_course_deg: float, distance_nm: float) -> Position:
    """Where a geodesic leads that leaves on a true course [°T] for a distance [NM].

    Raises PositionError where course or distance is not a finite number.

    >>> destination(Position(40.0, 30.0), 90.0, 0.0)
    Position(latitude_deg=40.0, longitude_deg=30.0)
    """
    if not (math.isfinite(true_course_deg) and math.isfinite(distance_nm)):
        raise PositionError(
            "position.not-numbers", course_deg=true_course_deg, distance_nm=distance_nm
        )
    run = _run(start, true_course_deg, [metres_from_nm(distance_nm)], "geodesic")
    return Position(run[0][0], run[1][0])


def along(line: Line, distances_nm: Sequence[float]) -> list[Position]:
    """The positions at distances [NM] from the start of a line; a geodesic may be overrun.

    Each is computed from the start, so that k × N stands at k × N: nothing adds up on the way.

    >>> line = measure(Position(40.0, -90.0), Position(41.0, -92.0))
    >>> [round(distance_nm(line.start, place), 6) for place in along(line, [10.0, 20.0])]
    [10.0, 20.0]
    """
    lats, lons, _ = _stations(line, [metres_from_nm(each) for each in distances_nm])
    return [Position(lat, lon) for lat, lon in zip(lats, lons, strict=True)]


def densify(line: Line, tolerance_nm: float = 0.05) -> list[tuple[float, float]]:
    """Latitude and unrolled longitude [°] of points that draw a line on a Web Mercator map.

    Straight strokes between them stay within the tolerance [NM over the ground] of the true line.
    Longitudes run on from the start without a jump and may pass ±180; a pole is drawn on the
    meridian the line reaches it by. Beyond 85.06° the map ends and strokes are not refined.

    >>> densify(measure(Position(40.0, 179.5), Position(41.0, 179.5)))
    [(40.0, 179.5), (41.0, 179.5)]
    >>> densify(measure(Position(0.0, 179.5), Position(0.0, -179.5)))
    [(0.0, 179.5), (0.0, 180.5)]
    """
    if not tolerance_nm > 0.0:
        raise InputError("tolerance", tolerance_nm=tolerance_nm)
    base = _base_longitude(line)
    last = base if line.end.is_pole else _unrolled(line, line.end.longitude_deg)
    start = Station(0.0, line.start.latitude_deg, base, line.initial_true_course_deg)
    length_m = metres_from_nm(line.distance_nm)
    end = Station(length_m, line.end.latitude_deg, last, line.final_true_course_deg)
    strokes = refined(start, end, metres_from_nm(tolerance_nm), partial(_station, line))
    return [(each.latitude_deg, each.longitude_deg) for each in (start, *strokes)]


def beside(line: Line, positions: Sequence[Position]) -> list[tuple[float, float]]:
    """How far along the line [NM] and off it [NM, right +, left −] each position lies.

    The nearest point of the line, on the ellipsoid to a millimetre (a position more than
    3,000 NM off a geodesic may get another point as near to the eye). A position before the
    start or past the end is measured to that end: along is 0 or the length, off the distance to
    the end with the sign of the side of the line produced. Some 15 µs a position, a millisecond
    or two if it is off a rhumb line by more than half that line's distance from the pole: make a
    rough cut first.

    >>> line = measure(Position(0.0, 0.0), Position(0.0, 1.0))
    >>> [(round(a, 3), round(b, 3)) for a, b in beside(line, [Position(0.1, 0.5)])]
    [(30.054, -5.971)]
    """
    length_m = metres_from_nm(line.distance_nm)

    def look(lengths_m: list[float], which: list[int]) -> list[lines.Sight]:
        return _sights(line, _stations(line, lengths_m), [positions[i] for i in which])

    feet = lines.search(_frames(line, length_m), length_m, positions, look)
    if line.kind == "rhumb":
        feet = _made_sure(line, length_m, positions, feet)
    return [
        # Clamped, because metres turned back to NM can end a rounding beyond the line.
        (min(nm_from_metres(each.along_m), line.distance_nm), nm_from_metres(each.off_m))
        for each in feet
    ]


def leg_arrays(
    lat1: ArrayLike, lon1: ArrayLike, lat2: ArrayLike, lon2: ArrayLike
) -> tuple[Floats, Floats]:
    """Lengths [NM] and true courses at mid-leg [°T] of many geodesics at once, from degrees.

    For a million legs: 1.3 times one ``Geod.inv`` on the same arrays. A leg without length has
    no course: NaN. Raises PositionError, naming the first pair, where a latitude is outside
    −90…90 or a number is not finite; longitudes may be unrolled.

    >>> [x.tolist() for x in leg_arrays([0.0], [0.0], [0.0], [1.0])]
    [[60.10771641105484], [90.0]]
    """
    import numpy as np

    given = [np.ravel(np.asarray(each, dtype=np.float64)) for each in (lat1, lon1, lat2, lon2)]
    distances, courses = np.empty(given[0].size), np.empty(given[0].size)
    for begin in range(0, distances.size, _CHUNK):
        part = slice(begin, begin + _CHUNK)
        distances[part], courses[part] = _leg_chunk(*(each[part] for each in given))
    if not np.isfinite(distances).all():
        first = int(np.flatnonzero(~np.isfinite(distances))[0])
        raise PositionError("position.array", pair=first)
    courses[distances < SHORTEST_NM] = np.nan
    return distances, courses


@cache
def _geod() -> Geod:
    from pyproj import Geod

    return Geod(ellps="WGS84")


def _inverse(a: Position, b: Position, kind: LineKind) -> tuple[float, float, float]:
    """First and last true course [°T, −180…180] and length [m]."""
    ends = a.latitude_deg, a.longitude_deg, b.latitude_deg, b.longitude_deg
    if kind == "rhumb":
        course, length_m = rhumb.inverse(*ends)
        return course, course, length_m
    lat1, lon1, lat2, lon2 = ends
    first, last, length_m = _geod().inv(lon1, lat1, lon2, lat2, return_back_azimuth=False)
    return first, last, length_m


def _run(
    start: Position, course_deg: float, lengths_m: list[float], kind: LineKind
) -> tuple[list[float], list[float], list[float]]:
    """Latitudes, longitudes [°] and courses [°T] at lengths [m] along a line from a position."""
    lat, lon = start.latitude_deg, start.longitude_deg
    if kind == "rhumb":
        ends = [rhumb.direct(lat, lon, course_deg, each) for each in lengths_m]
        return (
            [end[0] for end in ends],
            [half_turn(end[1]) for end in ends],
            [course_deg] * len(ends),
        )
    count = len(lengths_m)
    lons, lats, courses = _geod().fwd(
        [lon] * count, [lat] * count, [course_deg] * count, lengths_m, return_back_azimuth=False
    )
    return lats, lons, courses


def _origin(start: Position, end: Position, kind: LineKind) -> Position:
    """Where to compute a line from: a rhumb line leaves a pole along its end's meridian."""
    if kind == "rhumb" and start.is_pole:
        return Position(start.latitude_deg, end.longitude_deg)
    return start


def _stations(line: Line, lengths_m: list[float]) -> tuple[list[float], list[float], list[float]]:
    origin = _origin(line.start, line.end, line.kind)
    return _run(origin, line.initial_true_course_deg, lengths_m, line.kind)


def _unrolled(line: Line, longitude_deg: float) -> float:
    """A longitude [°] on the line, counted on from its start without a jump.

    No line here spans more than half a turn, so the side its end is on decides.
    """
    base = _base_longitude(line)
    change = half_turn(longitude_deg - base)
    eastward = longitude_change(base, line.end.longitude_deg) >= 0.0
    if eastward and change < -90.0:
        change += 360.0
    elif not eastward and change > 90.0:
        change -= 360.0
    return base + change


def _base_longitude(line: Line) -> float:
    return line.end.longitude_deg if line.start.is_pole else line.start.longitude_deg


def _station(line: Line, length_m: float) -> Station:
    (lat,), (lon,), (course,) = _stations(line, [length_m])
    return Station(length_m, lat, _unrolled(line, lon), course)


def _frames(line: Line, length_m: float) -> list[lines.Frame]:
    """Frames along the line, close enough that the nearest one gives a good first guess."""
    pieces = math.ceil(length_m / lines.EVERY_M)
    middles = [length_m * (i + 0.5) / pieces for i in range(pieces)]
    return [lines.frame(m, *at) for m, *at in zip(middles, *_stations(line, middles), strict=True)]


def _made_sure(
    line: Line, length_m: float, positions: Sequence[Position], feet: list[lines.Foot]
) -> list[lines.Foot]:
    """The feet on a rhumb line, with those the quick search may have missed found slowly.

    A rhumb line goes at most half round a pole and curves no tighter than its distance from it,
    so that within half that distance no second point can be as near.
    """
    lat = max(line.start.latitude_deg, line.end.latitude_deg, key=abs)
    sure_m = abs(rhumb.meridian_change_m(lat, math.copysign(90.0, lat))) / 2
    doubtful = [i for i, each in enumerate(feet) if not (each.settled and abs(each.off_m) < sure_m)]
    if not doubtful:
        return feet
    marks = lines.marks(length_m, lambda lengths_m: _stations(line, lengths_m)[1])
    stations, sure = _stations(line, marks), list(feet)
    for i in doubtful:
        look = partial(_sight, line, positions[i])
        sights = _sights(line, stations, [positions[i]] * len(marks))
        sure[i] = lines.surest(marks, sights, look)
    return sure


def _sight(line: Line, position: Position, length_m: float) -> lines.Sight:
    return _sights(line, _stations(line, [length_m]), [position])[0]


def _sights(
    line: Line,
    stations: tuple[list[float], list[float], list[float]],
    positions: Sequence[Position],
) -> list[lines.Sight]:
    """How each position is seen from its own station of the line."""
    lats, lons, courses = stations
    to_lons = [each.longitude_deg for each in positions]
    to_lats = [each.latitude_deg for each in positions]
    bearings, _, gaps = _geod().inv(lons, lats, to_lons, to_lats)
    bends = _bends(line, lats, courses)
    return [
        lines.Sight(gap, bearing - course, bend)
        for gap, bearing, course, bend in zip(gaps, bearings, courses, bends, strict=True)
    ]


def _bends(line: Line, lats: list[float], courses: list[float]) -> list[float]:
    if line.kind == "geodesic":
        return [0.0] * len(lats)
    return [rhumb.bend_per_m(lat, course) for lat, course in zip(lats, courses, strict=True)]


def _leg_chunk(lat1: Floats, lon1: Floats, lat2: Floats, lon2: Floats) -> tuple[Floats, Floats]:
    first, last, length_m = _geod().inv(lon1, lat1, lon2, lat2, return_back_azimuth=False)
    length_m /= METRES_PER_NM
    return length_m, mid_courses(lat1, first, lat2, last)
