"""The legs of a route as they are flown: one true course and one variation each, as on paper.

A leg along which true course or variation changes by 2° or more from end to end is cut at some of
its checkpoints, so that the course turns by less than 2° in each part; each part then has the
course and the variation of its own middle. Without checkpoints that can do it, the parts are
equal. A leg over a pole, where the course turns about at one point, is cut
there and nowhere else. What the pilot typed for a leg replaces what is computed, and that leg
is not cut.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import NamedTuple

from plotter.earth.angles import half_turn, magnetic_from_true
from plotter.earth.geodesic import POLE_WITHIN_DEG, Line, along, beside, measure
from plotter.earth.position import Position
from plotter.errors import InputError, PositionError
from plotter.flight.plan.values import LegNotes, Plan
from plotter.route.checkpoints import Checkpoint
from plotter.route.measuring import FlightMagnetism
from plotter.route.values import Leg, Route

SPLIT_AT_DEG = 2.0
"""The change along a leg at which a plot warns, and as close as a plotter is read."""
SHORTEST_FLOWN_NM = 0.001
"""6 ft: less is one place written twice, and would have no row of its own."""
MOST_PARTS = 60
"""Only within sight of a pole would a leg need more."""
OVER_A_POLE_NM = 0.1
"""The last digit a distance is printed with: a leg nearer to a pole than this is over it."""


class Course(NamedTuple):
    """One leg, or one part of it, flown on one course.

    ``start_nm`` and ``end_nm`` [NM] count from the start of the flight; ``line`` is the ground it
    covers, whose own length differs from ``distance_nm`` where the pilot typed another.
    """

    leg: Leg
    part: int
    parts: int
    line: Line
    start_nm: float
    end_nm: float
    true_course_deg: float
    variation_deg_east: float
    notes: LegNotes

    @property
    def distance_nm(self) -> float:
        """Length [NM]."""
        return self.end_nm - self.start_nm

    @property
    def magnetic_course_deg(self) -> float:
        """Magnetic course [°M]."""
        return magnetic_from_true(self.true_course_deg, self.variation_deg_east)

    def position(self, at_nm: float) -> Position:
        """The position at a distance [NM] from the start of the flight."""
        scale = self.line.distance_nm / self.distance_nm
        return along(self.line, [(at_nm - self.start_nm) * scale])[0]


def courses(
    route: Route,
    plan: Plan,
    magnetism: FlightMagnetism,
    checkpoints: Iterable[Checkpoint] = (),
) -> tuple[Course, ...]:
    """The courses of a route, in order; a leg that is cut is cut at checkpoints where it can be.

    Variation over all points is asked of the model in one call each for ends and middles. Raises
    InputError, code ``short-leg``, for a leg without length.
    """
    _check_lengths(route)
    marked: dict[int, list[float]] = {}
    for mark in checkpoints:
        before_nm = route.legs[mark.leg_number - 1].start_nm
        marked.setdefault(mark.leg_number, []).append(mark.distance_from_start_nm - before_nm)
    at_ends = magnetism.degrees_east_of([point.position for point in route.waypoints])
    cut = [
        _lines(leg, _parts(leg, first, last, plan.notes_of(leg.number)), marked.get(leg.number, []))
        for leg, (first, last) in zip(route.legs, itertools.pairwise(at_ends), strict=True)
    ]
    middles = [line.middle for lines in cut if len(lines) > 1 for line in lines]
    at_middles = iter(magnetism.degrees_east_of(middles))
    made: list[Course] = []
    for leg, lines in zip(route.legs, cut, strict=True):
        for part, line in enumerate(lines, start=1):
            east = leg.variation.degrees_east if len(lines) == 1 else next(at_middles)
            start_nm = made[-1].end_nm if made else 0.0
            made.append(
                _course(leg, line, (part, len(lines)), plan, start_nm=start_nm, computed_east=east)
            )
    return tuple(made)


def _check_lengths(route: Route) -> None:
    for leg in route.legs:
        if leg.distance_nm < SHORTEST_FLOWN_NM:
            raise InputError(
                "short-leg.none", leg=leg.number, start=leg.start.name, end=leg.end.name
            )


def _course(
    leg: Leg,
    line: Line,
    part_of: tuple[int, int],
    plan: Plan,
    *,
    start_nm: float,
    computed_east: float,
) -> Course:
    """One course, with what the pilot typed for its leg in place of what is computed."""
    notes = plan.notes_of(leg.number)
    distance_nm = _first(notes.distance_nm, line.distance_nm)
    return Course(
        leg,
        *part_of,
        line,
        start_nm,
        start_nm + distance_nm,
        _first(notes.true_course_deg, line.true_course_deg),
        _first(notes.variation_deg_east, computed_east),
        notes,
    )


def _first(typed: float | None, computed: float) -> float:
    return computed if typed is None else typed


def _parts(leg: Leg, first_deg_east: float, last_deg_east: float, notes: LegNotes) -> int:
    """How many parts keep course and variation from changing by 2° within one."""
    if notes.replaced:
        return 1
    line = leg.line
    turn = abs(half_turn(line.final_true_course_deg - line.initial_true_course_deg))
    change = max(turn, abs(half_turn(last_deg_east - first_deg_east)))
    return min(MOST_PARTS, int(change / SPLIT_AT_DEG) + 1)


def _lines(leg: Leg, parts: int, marked_nm: Sequence[float]) -> list[Line]:
    """A leg in at least so many parts, more where the course turns unevenly along it.

    Cut at checkpoints, of which ``marked_nm`` are the places along the leg, unless there are too
    few of them.
    """
    if parts == MOST_PARTS and (halves := _at_a_pole(leg.line)):
        return halves
    for count in range(parts, len(marked_nm) + 2) if parts > 1 else ():
        lines = _parts_at(leg, _nearest(leg.distance_nm, count, marked_nm))
        if not any(map(_turns_too_far, lines)):
            return lines
    lines = _equal_parts(leg, parts)
    while len(lines) > 1 and len(lines) < MOST_PARTS and any(map(_turns_too_far, lines)):
        lines = _equal_parts(leg, len(lines) + 1)
    return lines


def _at_a_pole(line: Line) -> list[Line]:
    """The two lines to a pole and from it; none where the leg does not pass over one.

    On each side the course is that of its meridian, and no number of parts takes the turn away.
    """
    if line.kind != "geodesic":
        return []
    pole = Position(math.copysign(90.0, line.middle.latitude_deg), line.start.longitude_deg)
    ((at_nm, off_nm),) = beside(line, [pole])
    if abs(off_nm) > OVER_A_POLE_NM or not 0.0 < at_nm < line.distance_nm:
        return []
    (there,) = along(line, [at_nm])
    ends = (there, there)
    if 90.0 - abs(there.latitude_deg) < POLE_WITHIN_DEG:
        ends = (pole, replace(pole, longitude_deg=line.end.longitude_deg))
    try:
        return [measure(line.start, ends[0]), measure(ends[1], line.end)]
    except PositionError:  # too short to be cut
        return []


def _turns_too_far(line: Line) -> bool:
    turn = half_turn(line.final_true_course_deg - line.initial_true_course_deg)
    return abs(turn) >= SPLIT_AT_DEG


def _equal_parts(leg: Leg, parts: int) -> list[Line]:
    if parts == 1:
        return [leg.line]
    step_nm = leg.distance_nm / parts
    return _parts_at(leg, [step_nm * k for k in range(1, parts)])


def _nearest(length_nm: float, parts: int, marked_nm: Sequence[float]) -> list[float]:
    """The places [NM] that are nearest to where equal parts would end, each once."""
    ends = (length_nm * k / parts for k in range(1, parts))
    return sorted({min(marked_nm, key=lambda at_nm: abs(at_nm - end)) for end in ends})


def _parts_at(leg: Leg, places_nm: Sequence[float]) -> list[Line]:
    """A leg cut at some places [NM] along it."""
    between = along(leg.line, places_nm)
    ends = [leg.line.start, *between, leg.line.end]
    try:
        return [measure(a, b, leg.line.kind) for a, b in itertools.pairwise(ends)]
    except PositionError:  # too short to be cut
        return [leg.line]
