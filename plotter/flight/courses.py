"""The legs of a route as they are flown: one true course and one variation each, as on paper.

They are the parts of the legs (:mod:`plotter.route.parts`). What the pilot typed for a leg
replaces what is computed, and that leg is not cut.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import NamedTuple

from plotter.earth.angles import magnetic_from_true
from plotter.earth.geodesic import Line, along
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.flight.plan.values import LegNotes, Plan
from plotter.route.checkpoints import Checkpoint
from plotter.route.measuring import FlightMagnetism
from plotter.route.parts import LegPart, leg_parts
from plotter.route.values import Leg, Route

SHORTEST_FLOWN_NM = 0.001
"""6 ft: less is one place written twice, and would have no row of its own."""


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
    """Return the courses of a route in order; a leg that is cut is cut at checkpoints if possible.

    Raises InputError, code ``short-leg``, for a leg without length.
    """
    _check_lengths(route)
    made: list[Course] = []
    for part in leg_parts(route, magnetism, checkpoints, plan.unsplit):
        made.append(_course(part, plan, made[-1].end_nm if made else 0.0))
    return tuple(made)


def parts_flown(flown: Iterable[Course], parts: Iterable[LegPart]) -> tuple[LegPart, ...]:
    """Return the parts of a plot with the courses and variations they are flown on."""
    return tuple(
        replace(
            part,
            true_course_deg=course.true_course_deg,
            variation_deg_east=course.variation_deg_east,
        )
        for course, part in zip(flown, parts, strict=True)
    )


def _check_lengths(route: Route) -> None:
    for leg in route.legs:
        if leg.distance_nm < SHORTEST_FLOWN_NM:
            raise InputError(
                "short-leg.none", leg=leg.number, start=leg.start.name, end=leg.end.name
            )


def _course(part: LegPart, plan: Plan, start_nm: float) -> Course:
    """One course, with what the pilot typed for its leg in place of what is computed."""
    notes = plan.notes_of(part.leg.number)
    distance_nm = _first(notes.distance_nm, part.distance_nm)
    return Course(
        part.leg,
        part.number,
        part.count,
        part.line,
        start_nm,
        start_nm + distance_nm,
        _first(notes.true_course_deg, part.true_course_deg),
        _first(notes.variation_deg_east, part.variation_deg_east),
        notes,
    )


def _first(typed: float | None, computed: float) -> float:
    return computed if typed is None else typed
