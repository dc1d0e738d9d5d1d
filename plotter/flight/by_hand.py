"""What was measured by hand for the legs of a flight, judged as every other reading is.

The log and ``plotter measure`` ask the same function, so that they cannot differ.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from plotter.errors import InputError
from plotter.flight.plan.values import LegNotes, Plan
from plotter.messages import Message, message
from plotter.places.store import Store
from plotter.route.checks import model_caution
from plotter.route.measuring import FlightMagnetism, measure_route
from plotter.route.plotting import Wishes, read_or_given
from plotter.route.reading.whole import GivenRoute
from plotter.route.values import Caution, Leg, Route
from plotter.wording import course, magnetic_whole, whole

if TYPE_CHECKING:
    from plotter.chart.agreement import Compared
    from plotter.chart.asking import Measured
    from plotter.chart.measurement import Answer, Judgement
    from plotter.chart.readings import Desk, MeasuredLeg


def measure_plan(
    plan: Plan, store: Store, wishes: Wishes, desk: Desk, given: GivenRoute | None = None
) -> Measured:
    """Judge what was measured by hand for the legs of a planned flight.

    ``given`` is the route where the plan names a file of one. Raises RouteError for the route,
    InputError, code ``reading``, where nothing was measured.
    """
    from plotter.chart.asking import measured_with, off_the_sheets

    magnetism = FlightMagnetism(wishes.date, wishes.altitude_ft, wishes.allow_old_model)
    read = read_or_given(given or plan.route, store, wishes, magnetism)
    route = measure_route(read.waypoints, plan.line, magnetism)
    plan.check_legs(len(route.legs))
    legs = measured_in_plan(plan.legs, route)
    if not legs:
        raise InputError("reading.plan")
    cautions = [*read.cautions, *model_caution(route)]
    cautions += [each for leg in legs for each in off_the_sheets(leg)]
    return measured_with(legs, _with_middle(desk, plan), cautions, store)


def _with_middle(desk: Desk, plan: Plan) -> Desk:
    """The desk with the middle of the chart that the plan names, unless it names one itself."""
    named = desk.chart_middle_deg is not None or plan.chart_middle is None
    return desk if named else replace(desk, chart_middle_deg=plan.chart_middle)


def measured_in_plan(notes: Sequence[LegNotes], route: Route) -> list[MeasuredLeg]:
    """The legs of a planned route for which the plan has a hand measurement.

    Digits as they were typed are not in a plan: a whole figure counts as read to the whole.
    """
    from plotter.chart.asking import measured_leg
    from plotter.chart.readings import CourseReading, Reading

    legs = {leg.number: leg for leg in route.legs}
    return [
        measured_leg(
            legs[each.number],
            None if each.measured_nm is None else Reading(f"{each.measured_nm:.6g}"),
            None
            if each.measured_course_deg is None
            else CourseReading(
                f"{round(each.measured_course_deg, 3):03g}",
                "T" if each.measured_course_reference == "true" else "M",
            ),
        )
        for each in notes
        if each.number in legs and _is_measured(each)
    ]


def _is_measured(notes: LegNotes) -> bool:
    return notes.measured_nm is not None or notes.measured_course_deg is not None


@dataclass(frozen=True, slots=True)
class ByHand:
    """The cautions of what was measured by hand: of each leg by its number, and of all of them."""

    of_leg: dict[int, list[Caution]]
    together: tuple[Caution, ...]


def by_hand_cautions(plan: Plan, route: Route) -> ByHand:
    """Whether what was measured for the legs of a plan agrees with them; agreement is a note."""
    of_leg: defaultdict[int, list[Caution]] = defaultdict(list)
    measured = [notes for notes in plan.legs if _is_measured(notes)]
    if not measured:
        return ByHand({}, ())
    from plotter.chart.measurement import judge
    from plotter.chart.readings import Desk

    try:
        judgement = judge(measured_in_plan(measured, route), _with_middle(Desk(), plan))
    except InputError as fault:
        return ByHand({}, (_not_judged(fault),))
    legs = {leg.number: leg for leg in route.legs}
    there = [notes for notes in measured if notes.number in legs]
    for notes, nm, degrees in zip(there, judgement.distances, judgement.courses, strict=True):
        of_leg[notes.number].append(_of_leg(legs[notes.number], notes, nm, degrees))
    return ByHand(of_leg, tuple(_together(judgement)))


def _not_judged(fault: InputError) -> Caution:
    return Caution(
        "CHECK",
        message("measured-not-judged", reason=fault.said),
    )


def _of_leg(leg: Leg, notes: LegNotes, nm: Compared | None, degrees: Compared | None) -> Caution:
    """What was measured for a leg beside what is computed, and whether the two agree."""
    compared: list[Message] = []
    beyond: list[Message] = []
    if notes.measured_course_deg is not None and degrees is not None:
        true = notes.measured_course_reference == "true"
        letter, east = ("T", 0.0) if true else ("M", leg.variation.degrees_east)
        computed = magnetic_whole(whole(leg.true_course_deg), whole(east))
        typed = course(notes.measured_course_deg, letter)
        compared.append(message("measured.course", typed=typed, computed=course(computed, letter)))
        if not degrees.agrees:
            beyond.append(message("measured.allowed-deg", allowed_deg=degrees.allowed))
    if notes.measured_nm is not None and nm is not None:
        compared.append(
            message("measured.distance", typed_nm=notes.measured_nm, computed_nm=leg.distance_nm)
        )
        if not nm.agrees:
            beyond.append(message("measured.allowed-mm", allowed_mm=nm.allowed))
    where, pairs = f"leg {leg.number}", tuple(compared)
    if not beyond:
        agreed = message("measured-agrees", leg=leg.number, compared=pairs)
        return Caution("NOTE", agreed, where=where)
    said = message("measured-differs", leg=leg.number, compared=pairs, allowed=tuple(beyond))
    return Caution("CHECK", said, where=where)


def _together(judgement: Judgement) -> Iterator[Caution]:
    """Yield a caution where each leg agrees by itself, and all of them lean the same way."""
    if _lean(judgement.distance):
        yield Caution("CHECK", message("measured-together"))
    if _lean(judgement.course):
        yield Caution("CHECK", message("measured-together.courses"))


def _lean(answer: Answer | None) -> bool:
    return answer is not None and answer.outside == 0 and not answer.agrees
