"""The foot of a perpendicular: which point of a line is nearest to a position beside it.

Plain arithmetic on the sphere, for a first guess and for each step of an iteration that its
caller carries out on the ellipsoid: a step from X on the line is judged by the true geodesic
from X to the position, so what remains at the end is the ellipsoid's answer, not the sphere's.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from plotter.earth.angles import half_turn, sine_cosine
from plotter.earth.position import Position
from plotter.earth.units import (
    EQUATORIAL_RADIUS_M,
    FLATTENING,
    MEAN_RADIUS_M,
    SECOND_ECCENTRICITY_SQUARED,
    nm_from_metres,
)
from plotter.errors import InputError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Unit = tuple[Floats, Floats]
    Vectors = NDArray[np.float64]

# Course at mid-leg of many geodesics at once, in closed form on the auxiliary sphere (numpy).
#
# A geodesic of the ellipsoid maps to a great circle with the same azimuths. On it the half-way
# point by distance is half-way in τ, which differs from the arc σ by a short series of sines. From
# the sines and cosines of both ends all the rest is algebra, so this costs half of the direct
# solution it stands in for and agrees with it to 1e-11°.
#
# Source: C. F. F. Karney, "Algorithms for geodesics", J. Geodesy 87 (2013): eq. 5 to 16 for the
# sphere, eq. 18 and 21 for the series, cut after ε⁴ (what is left out is under 1e-12°).

_TINY = 1e-300
"""Keeps a division on the equator from being 0 / 0; there the course does not depend on it."""


def mid_courses(lat1: Floats, first_deg: Floats, lat2: Floats, last_deg: Floats) -> Floats:
    """True courses [°T, 0 ≤ x < 360] half-way, from the latitudes and azimuths [°] of both ends."""
    import numpy as np

    first = np.radians(first_deg)
    sin1, cos1 = _reduced(lat1)
    sin2, cos2 = _reduced(lat2)
    north1, north2 = np.cos(first) * cos1, np.cos(np.radians(last_deg)) * cos2
    tilt = np.sqrt(north1 * north1 + sin1 * sin1)
    start = _unit(north1, sin1)
    end = _unit(north2, sin2)
    half_way_cos = _half_way_cosine(start, end, _expansion(tilt))
    course = np.degrees(np.arctan2(np.sin(first) * cos1, tilt * half_way_cos))
    course += 360.0 * (course < 0.0)
    return course


def _reduced(lat_deg: Floats) -> Unit:
    """Sine and cosine of the reduced latitude."""
    import numpy as np

    lat = np.radians(lat_deg)
    cosine, sine = _unit(np.cos(lat), (1.0 - FLATTENING) * np.sin(lat))
    return sine, cosine


def _unit(x: Floats, y: Floats) -> Unit:
    import numpy as np

    scale = 1.0 / np.sqrt(x * x + y * y + _TINY)
    return x * scale, y * scale


def _expansion(tilt: Floats) -> Floats:
    """Karney's ε of a geodesic whose azimuth at the equator has this cosine."""
    import numpy as np

    root = np.sqrt(1.0 + SECOND_ECCENTRICITY_SQUARED * tilt * tilt)
    return (root - 1.0) / (root + 1.0)


def _half_way_cosine(start: Unit, end: Unit, e: Floats) -> Floats:
    """Cosine of the arc σ half-way by distance between two arcs given as (cosine, sine)."""
    (cos1, sin1), (cos2, sin2) = start, end
    e2 = e * e
    to_tau = (
        e * (3 / 16 * e2 - 1 / 2),
        e2 * (e2 / 32 - 1 / 16),
        e * e2 / -48,
        e2 * e2 * (-5 / 512),
    )
    to_arc = (
        e * (1 / 2 - 9 / 32 * e2),
        e2 * (5 / 16 - 37 / 96 * e2),
        e * e2 * (29 / 96),
        e2 * e2 * (539 / 1536),
    )
    mean = _unit(cos1 + cos2 + (sin2 - sin1), sin1 + sin2 - (cos2 - cos1))
    shift = (_sines(start, to_tau) + _sines(end, to_tau)) / 2.0
    shift += _sines(_turned(mean, shift), to_arc)
    return _turned(mean, shift)[0]


def _sines(arc: Unit, c: tuple[Floats, ...]) -> Floats:
    """Sum of c[k] sin 2(k+1)·arc by Clenshaw's rule."""
    cosine, sine = arc
    x = 2.0 * (cosine * cosine - sine * sine)
    third = c[2] + x * c[3]
    second = c[1] + x * third - c[3]
    return 2.0 * sine * cosine * (c[0] + x * second - third)


def _turned(arc: Unit, by: Floats) -> Unit:
    """An arc lengthened by a small angle [rad, under 0.002], by the series of sine and cosine."""
    cosine, sine = arc
    square = by * by
    cos_by = 1.0 - square * (1 / 2 - square / 24)
    sin_by = by * (1.0 - square * (1 / 6 - square / 120))
    return cosine * cos_by - sine * sin_by, sine * cos_by + cosine * sin_by


Vector = tuple[float, float, float]

MOST_STEPS = 20
"""Two are the rule; more only for positions a quarter of the globe away."""
EVERY_M = 150_000.0
"""Frames stand this far apart, and no step is longer: the search begins in the right valley."""
SETTLED_M = 1e-4
"""A step is the last when what it neglects is under this [m]."""
MARK_TURN_DEG = 4.0
"""Marks along a rhumb line stand no further apart than this [° of longitude]: near a pole it
curves by that much."""
_FOUND_M = 1e-6
"""A foot between two marks is halved down to this [m]."""
_SPHERE_FOR_ELLIPSOID = 0.01
"""Three flattenings: how wrong, of itself, the sphere's second-order term can be."""


class Frame(NamedTuple):
    """A point of the line: metres from the start, unit vector there, unit vector ahead."""

    along_m: float
    here: Vector
    ahead: Vector


class Sight(NamedTuple):
    """A position seen from a point of the line by the geodesic that joins them.

    Its length [m], the angle [°, right +] from the line's course to it, and how fast the line
    turns left of a geodesic there [rad a metre], zero for one that is a geodesic.
    """

    gap_m: float
    turn_deg: float
    bend_per_m: float


class Foot(NamedTuple):
    """Nearest point: along and off [m, right +]; settled when the last step was small enough."""

    along_m: float
    off_m: float
    settled: bool


def frame(along_m: float, lat_deg: float, lon_deg: float, course_deg: float) -> Frame:
    """The frame of a line at a point [°] that it passes on a true course [°T]."""
    sin_lat, cos_lat = sine_cosine(lat_deg)
    sin_lon, cos_lon = sine_cosine(lon_deg)
    east, north = sine_cosine(course_deg)
    ahead = (
        -east * sin_lon - north * sin_lat * cos_lon,
        east * cos_lon - north * sin_lat * sin_lon,
        north * cos_lat,
    )
    return Frame(along_m, (cos_lat * cos_lon, cos_lat * sin_lon, sin_lat), ahead)


def rough_along_m(frames: Sequence[Frame], position: Position) -> float:
    """First guess [m from the start] of the foot, from the frame nearest to the position."""
    lat, lon = math.radians(position.latitude_deg), math.radians(position.longitude_deg)
    flat = math.cos(lat)
    x, y, z = flat * math.cos(lon), flat * math.sin(lon), math.sin(lat)
    nearness, along_m, ahead = -2.0, 0.0, frames[0].ahead
    for candidate in frames:
        u, v, w = candidate.here
        dot = x * u + y * v + z * w
        if dot > nearness:
            nearness, along_m, ahead = dot, candidate.along_m, candidate.ahead
    onward = x * ahead[0] + y * ahead[1] + z * ahead[2]
    step_m = MEAN_RADIUS_M * math.atan2(onward, nearness)
    return along_m + max(-EVERY_M, min(EVERY_M, step_m))


def search(
    frames: Sequence[Frame],
    length_m: float,
    positions: Sequence[Position],
    look: Callable[[list[float], list[int]], list[Sight]],
) -> list[Foot]:
    """The nearest point of a line ``length_m`` long for each position.

    ``look(lengths, which)`` answers with the sights of the positions numbered ``which``, each
    from the point of the line that many metres from its start.
    """
    guesses = (min(max(rough_along_m(frames, p), 0.0), length_m) for p in positions)
    feet = [Foot(guess, 0.0, False) for guess in guesses]
    todo = list(range(len(feet)))
    for _ in range(MOST_STEPS):
        if not todo:
            break
        for i, sight in zip(todo, look([feet[i].along_m for i in todo], todo), strict=True):
            feet[i] = improved(feet[i].along_m, length_m, sight)
        todo = [i for i in todo if not feet[i].settled]
    return feet


def improved(along_m: float, length_m: float, sight: Sight) -> Foot:
    """A better foot, from the sight taken at a point of the line; Napier's rules on the sphere."""
    turn, angle = math.radians(sight.turn_deg), sight.gap_m / MEAN_RADIUS_M
    side = math.sin(angle) * math.sin(turn)
    curving = math.cos(angle) + sight.bend_per_m * MEAN_RADIUS_M * side
    step_m = MEAN_RADIUS_M * math.atan2(math.sin(angle) * math.cos(turn), curving)
    step_m = max(-EVERY_M, min(EVERY_M, step_m))
    to_m = min(max(along_m + step_m, 0.0), length_m)
    if to_m != along_m + step_m:
        return Foot(to_m, math.copysign(sight.gap_m, side), to_m == along_m)
    bent = abs(sight.bend_per_m) * (sight.gap_m + abs(step_m))
    neglected_m = abs(step_m) * (_SPHERE_FOR_ELLIPSOID * angle**2 + bent)
    off = math.asin(side)
    if angle > math.pi / 2:
        off = math.copysign(math.pi, side) - off
    return Foot(to_m, MEAN_RADIUS_M * off, neglected_m < SETTLED_M)


def marks(
    length_m: float, longitudes: Callable[[list[float]], list[float]], most_rounds: int = 60
) -> list[float]:
    """Lengths [m] along a rhumb line, both ends among them, close enough to search between.

    They stand no more than EVERY_M and MARK_TURN_DEG apart; ``longitudes`` gives those [°] of
    the points of the line at the lengths asked for.
    """
    pieces = math.ceil(length_m / EVERY_M)
    lengths = [length_m * k / pieces for k in range(pieces + 1)]
    for _ in range(most_rounds):
        lons = longitudes(lengths)
        between = [
            (a + b) / 2
            for a, b, lon1, lon2 in zip(lengths, lengths[1:], lons, lons[1:], strict=False)
            if abs(half_turn(lon2 - lon1)) > MARK_TURN_DEG and b - a > _FOUND_M
        ]
        if not between:
            break
        lengths = sorted(lengths + between)
    return lengths


def surest(
    marks_m: Sequence[float], sights: Sequence[Sight], look: Callable[[float], Sight]
) -> Foot:
    """The nearest point of a whole line, from the sights at its marks: slow, and never astray.

    Every mark nearer than its neighbours is followed up, unless even the whole way to a
    neighbour and straight towards the position would not make it the nearest.
    """
    gaps = [math.inf, *(sight.gap_m for sight in sights), math.inf]
    ends = [marks_m[0], *marks_m, marks_m[-1]]
    best_m, feet = min(gaps), []
    for k, sight in enumerate(sights, 1):
        low, here, high = ends[k - 1 : k + 2]
        valley = gaps[k - 1] >= gaps[k] <= gaps[k + 1]
        if valley and gaps[k] - max(high - here, here - low) <= best_m:
            feet.append(_halved(*((here, high) if _ahead(sight) else (low, here)), look))
    return min(feet, key=lambda each: abs(each.off_m))


def _halved(low_m: float, high_m: float, look: Callable[[float], Sight]) -> Foot:
    """The foot between two points of a line: the position is ahead of one, astern of the other."""
    while high_m - low_m > _FOUND_M:
        middle_m = (low_m + high_m) / 2
        if _ahead(look(middle_m)):
            low_m = middle_m
        else:
            high_m = middle_m
    end = min((low_m, high_m), key=lambda each: look(each).gap_m)
    sight = look(end)
    return Foot(end, math.copysign(sight.gap_m, sine_cosine(sight.turn_deg)[0]), True)


def _ahead(sight: Sight) -> bool:
    return sine_cosine(sight.turn_deg)[1] > 0.0


# A track of many points made into a few, none of them further off than a tolerance.
#
# The rule: keep the point furthest from the line between two kept ones until none is further off
# than the tolerance (D. Douglas and T. Peucker, "Algorithms for the reduction of the number of
# points required to represent a digitized line", Cartographica 10, 1973). Distances are to the arc
# between the two points, its ends included, so that a track that comes back is not cut short.

MOST_KEPT = 500
"""A flight turns less often; more means that the tolerance is smaller than the track's own noise,
and every point kept costs one pass through the rest."""

# Arcs are reckoned on the sphere whose normals are the ellipsoid's. Its radius is the largest
# radius of curvature there is, the one at the poles (a²/b), so that no distance comes out short.
_RADIUS_NM = nm_from_metres(EQUATORIAL_RADIUS_M / (1.0 - FLATTENING))
_STRAY_PER_NM2 = 1.6e-7
"""A geodesic strays from the arc by less than this times the square of its length [NM], as
measured on 20,000 legs of up to 5,000 NM (at most 1.49e-7; 0.01 NM in 300 NM)."""
_BLOCK = 1 << 16


class Thinned(NamedTuple):
    """The indices kept, the first and the last among them, and the most any other is off [NM]."""

    kept: list[int]
    off_nm: float


def thinned(
    latitudes: Sequence[float], longitudes: Sequence[float], tolerance_nm: float
) -> Thinned:
    """The points that stand for a track, within a tolerance [NM] of the geodesics between them.

    Raises InputError for a tolerance that is none, and where more than 500 points would be kept.

    >>> few = thinned([0.0, 0.001, 0.0, 1.0], [0.0, 0.5, 1.0, 1.0], 0.5)
    >>> few.kept, round(few.off_nm, 2)
    ([0, 2, 3], 0.06)
    """
    if not 0.0 <= tolerance_nm < float("inf"):
        raise InputError("tolerance", tolerance_nm=tolerance_nm)
    vectors = _vectors(latitudes, longitudes)
    kept, off_nm = {0, len(vectors) - 1}, 0.0
    waiting = [(0, len(vectors) - 1)]
    while waiting:
        first, last = waiting.pop()
        if last - first < 2:
            continue
        worst, most_nm = _furthest(vectors, first, last)
        if most_nm <= tolerance_nm:
            off_nm = max(off_nm, most_nm)
            continue
        kept.add(worst)
        waiting += [(first, worst), (worst, last)]
        if len(kept) > MOST_KEPT:
            raise InputError(
                "tolerance.track",
                turns=MOST_KEPT,
                tolerance_nm=tolerance_nm,
                larger_nm=max(1.0, 2 * tolerance_nm),
            )
    return Thinned(sorted(kept), off_nm)


def _vectors(latitudes: Sequence[float], longitudes: Sequence[float]) -> Vectors:
    """The normals of the ellipsoid at the points, made in blocks to spare memory."""
    import numpy as np

    made = np.empty((len(latitudes), 3))
    for begin in range(0, len(latitudes), _BLOCK):
        part = slice(begin, begin + _BLOCK)
        lat, lon = np.radians(latitudes[part]), np.radians(longitudes[part])
        cosine = np.cos(lat)
        made[part] = np.column_stack((cosine * np.cos(lon), cosine * np.sin(lon), np.sin(lat)))
    return made


def _furthest(vectors: Vectors, first: int, last: int) -> tuple[int, float]:
    """The point between two that is furthest from the arc between them, and how far [NM]."""
    import numpy as np

    start, end = vectors[first], vectors[last]
    worst, most = first + 1, -1.0
    for begin in range(first + 1, last, _BLOCK):
        angles = _off(vectors[begin : min(begin + _BLOCK, last)], start, end)
        here = int(np.argmax(angles))
        if angles[here] > most:
            worst, most = begin + here, float(angles[here])
    length_nm = float(_apart(end, start)) * _RADIUS_NM
    return worst, most * _RADIUS_NM + _STRAY_PER_NM2 * length_nm**2


def _off(points: Vectors, start: Vectors, end: Vectors) -> Vectors:
    """The angle between each point and the arc from start to end."""
    import numpy as np

    to_an_end = np.minimum(_apart(points, start), _apart(points, end))
    normal = np.cross(start, end)
    size = float(np.linalg.norm(normal))
    if size < 1e-15:
        return to_an_end
    normal /= size
    abeam = (points @ np.cross(normal, start) >= 0.0) & (points @ np.cross(end, normal) >= 0.0)
    across = np.arcsin(np.minimum(1.0, np.abs(points @ normal)))
    return np.where(abeam, across, to_an_end)


def _apart(points: Vectors, other: Vectors) -> Vectors:
    import numpy as np

    angles: Vectors = 2.0 * np.arcsin(
        np.minimum(1.0, np.linalg.norm(points - other, axis=-1) / 2.0)
    )
    return angles
