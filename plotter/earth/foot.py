"""The foot of a perpendicular: which point of a line is nearest to a position beside it.

Plain arithmetic on the sphere, for a first guess and for each step of an iteration that its
caller carries out on the ellipsoid: a step from X on the line is judged by the true geodesic
from X to the position, so what remains at the end is the ellipsoid's answer, not the sphere's.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from plotter.earth.angles import half_turn, sine_cosine
from plotter.earth.ellipsoid import MEAN_RADIUS_M
from plotter.earth.position import Position

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
