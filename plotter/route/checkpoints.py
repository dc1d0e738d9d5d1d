"""Checkpoints every N nautical miles along a route, where the pilot confirms position and time.

They are counted from the departure along the whole route, or afresh at each turning point. A
turning point is a checkpoint in its own right, so none is placed close to one.
"""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass
from typing import NamedTuple

from plotter.earth.geodesic import along
from plotter.earth.position import Position
from plotter.errors import CheckpointError
from plotter.route.values import Leg, Route

DEFAULT_EVERY_NM = 10.0
DEFAULT_CLEAR_OF_TURNS_NM = 1.0
MOST_CHECKPOINTS = 5_000
# Two distances along a route closer than this are the same: a leg of exactly 100 NM computes as
# 100.00000000000028, and 2e-6 NM is 4 mm.
SAME_PLACE_NM = 2e-6


@dataclass(frozen=True, slots=True)
class Checkpoint:
    """A point on a leg between turning points; numbered from 1 along the whole route.

    ``time`` [UTC] and ``altitude_ft`` [ft MSL] are those a log plans to pass it at.
    """

    number: int
    name: str
    leg_number: int
    position: Position
    distance_from_start_nm: float
    distance_to_go_nm: float
    time: dt.datetime | None = None
    altitude_ft: float | None = None


class _Spacing(NamedTuple):
    every_nm: float
    clear_nm: float
    restart: bool


def checkpoints(
    route: Route,
    every_nm: float = DEFAULT_EVERY_NM,
    restart: bool = False,
    clear_of_turns_nm: float = DEFAULT_CLEAR_OF_TURNS_NM,
) -> tuple[Checkpoint, ...]:
    """The checkpoints of a route, every ``every_nm`` [NM].

    None stands within ``clear_of_turns_nm`` [NM] along the route of a waypoint: turning point,
    departure or destination. An interval longer than the route gives
    none. Raises :class:`~plotter.errors.CheckpointError` for an interval that is not a positive
    number or would give more than 5,000.
    """
    whole_nm = route.distance_nm
    _check(every_nm, clear_of_turns_nm, whole_nm)
    placed: list[tuple[Leg, float, Position]] = []
    spacing = _Spacing(every_nm, clear_of_turns_nm, restart)
    before_nm = 0.0
    for leg in route.legs:
        wanted = _distances(leg, before_nm, spacing)
        positions = along(leg.line, [distance - before_nm for distance in wanted])
        placed += [(leg, *pair) for pair in zip(wanted, positions, strict=True)]
        before_nm += leg.distance_nm
    return tuple(
        Checkpoint(number, f"CP{number}", leg.number, position, gone, whole_nm - gone)
        for number, (leg, gone, position) in enumerate(placed, start=1)
    )


def _check(every_nm: float, clear_of_turns_nm: float, length_nm: float) -> None:
    if not (math.isfinite(every_nm) and every_nm > 0):
        raise CheckpointError("checkpoint-interval", every_nm=every_nm)
    if not (math.isfinite(clear_of_turns_nm) and clear_of_turns_nm >= 0):
        raise CheckpointError("checkpoint-clearance", clear_nm=clear_of_turns_nm)
    if length_nm / every_nm > MOST_CHECKPOINTS:
        least = math.ceil(10.0 * length_nm / MOST_CHECKPOINTS) / 10.0
        raise CheckpointError(
            "checkpoint-interval.many",
            every_nm=every_nm,
            length_nm=length_nm,
            most=MOST_CHECKPOINTS,
            least_nm=least,
        )


def _distances(leg: Leg, before_nm: float, spacing: _Spacing) -> list[float]:
    """Distances from the departure [NM] of the checkpoints on one leg."""
    origin_nm = before_nm if spacing.restart else 0.0
    clear_nm = max(spacing.clear_nm, SAME_PLACE_NM)
    low, high = before_nm + clear_nm, before_nm + leg.distance_nm - clear_nm
    first = max(1, math.floor((low - origin_nm) / spacing.every_nm))
    last = math.ceil((high - origin_nm) / spacing.every_nm)
    candidates = (origin_nm + step * spacing.every_nm for step in range(first, last + 1))
    return [distance for distance in candidates if low <= distance <= high]
