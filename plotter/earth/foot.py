"""The foot of a perpendicular: which point of a line is nearest to a position beside it.

Plain arithmetic on the sphere, for a first guess and for each step of an iteration that its
caller carries out on the ellipsoid: a step from X on the line is judged by the true geodesic
from X to the position, so what remains at the end is the ellipsoid's answer, not the sphere's.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from plotter.earth.angles import sine_cosine
from plotter.earth.ellipsoid import MEAN_RADIUS_M
from plotter.earth.position import Position

Vector = tuple[float, float, float]

MOST_STEPS = 20
"""Two are the rule; more only for positions a quarter of the globe away."""
EVERY_M = 150_000.0
"""Frames stand this far apart, and no step is longer: the search begins in the right valley."""
SETTLED_M = 1e-4
"""A step is the last when what it neglects is under this [m]."""
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
    return Foot(to_m, MEAN_RADIUS_M * math.asin(side), neglected_m < SETTLED_M)
