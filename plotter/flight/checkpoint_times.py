"""Checkpoints every so many minutes of flying, placed once the speed of each stretch is known."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence

from plotter.errors import CheckpointError
from plotter.flight.track import Flown
from plotter.route.checkpoints import (
    DEFAULT_CLEAR_OF_TURNS_NM,
    MOST_CHECKPOINTS,
    Checkpoint,
)
from plotter.route.route import Route


def timed_checkpoints(
    route: Route, sectors: Sequence[Sequence[Flown]], every_min: float, restart: bool = False
) -> tuple[Checkpoint, ...]:
    """The checkpoints of a route, every ``every_min`` [min] of flying from each take-off.

    With ``restart`` they count afresh from each turning point. None stands within 1 NM of a
    turning point. Distances are those of the plotted route, as for checkpoints by distance.
    Raises CheckpointError for an interval that would give more than 5,000.
    """
    total_min = math.fsum(one.minutes for flown in sectors for one in flown)
    if total_min / every_min > MOST_CHECKPOINTS:
        raise CheckpointError(
            f"checkpoints_every_min {every_min:g} would be more than {MOST_CHECKPOINTS:,} "
            f"checkpoints; write {math.ceil(10 * total_min / MOST_CHECKPOINTS) / 10:g} or more"
        )
    starts = dict(zip(range(1, len(route.legs) + 1), plotted_starts(route), strict=True))
    made: list[Checkpoint] = []
    for flown in sectors:
        bounds = _leg_bounds(flown)
        for one, at_nm in _places(flown, bounds, every_min, restart):
            leg = one.course.leg
            first_nm, last_nm = bounds[leg.number]
            gone_nm = starts[leg.number] + leg.distance_nm * (at_nm - first_nm) / (
                last_nm - first_nm
            )
            made.append(_checkpoint(len(made) + 1, one, at_nm, gone_nm, route.distance_nm))
    return tuple(made)


def _checkpoint(
    number: int, one: Flown, at_nm: float, gone_nm: float, length_nm: float
) -> Checkpoint:
    return Checkpoint(
        number=number,
        name=f"CP{number}",
        leg_number=one.course.leg.number,
        position=one.course.position(at_nm),
        distance_from_start_nm=gone_nm,
        distance_to_go_nm=length_nm - gone_nm,
    )


def plotted_starts(route: Route) -> list[float]:
    """How far from the start of the route [NM] each leg begins."""
    return list(itertools.accumulate((leg.distance_nm for leg in route.legs[:-1]), initial=0.0))


def _places(
    flown: Sequence[Flown],
    legs: Mapping[int, tuple[float, float]],
    every_min: float,
    restart: bool,
) -> Iterator[tuple[Flown, float]]:
    """Where each interval ends, as the stretch and the distance from the start of the flight."""
    elapsed_min, leg_number = 0.0, flown[0].course.leg.number
    for one in flown:
        if restart and one.course.leg.number != leg_number:
            elapsed_min, leg_number = 0.0, one.course.leg.number
        first_nm, last_nm = legs[one.course.leg.number]
        count = math.floor(elapsed_min / every_min) + 1
        while count * every_min <= elapsed_min + one.minutes:
            share = (count * every_min - elapsed_min) / one.minutes
            at_nm = one.start_nm + share * one.distance_nm
            clear_nm = min(at_nm - first_nm, last_nm - at_nm)
            if clear_nm >= DEFAULT_CLEAR_OF_TURNS_NM:
                yield one, at_nm
            count += 1
        elapsed_min += one.minutes


def _leg_bounds(flown: Sequence[Flown]) -> dict[int, tuple[float, float]]:
    """Start and end [NM] of each leg."""
    bounds: dict[int, tuple[float, float]] = {}
    for one in flown:
        number = one.course.leg.number
        first_nm = bounds[number][0] if number in bounds else one.start_nm
        bounds[number] = (first_nm, one.end_nm)
    return bounds
