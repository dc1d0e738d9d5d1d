"""Cautions leg by leg: ground, cruising altitude, what was typed or measured by hand, splits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from plotter.earth.angles import half_turn
from plotter.flight.courses import Course
from plotter.flight.log_values import LogRow, NavigationLog
from plotter.flight.plan import LegNotes, Plan
from plotter.flight.rules import APPLIES_ABOVE_SURFACE_FT, cruising_rule, rule_applies
from plotter.route.cautions import Caution
from plotter.route.route import Leg
from plotter.wording import altitude, course, distance, variation

COURSE_BY_HAND_DEG = 2.0
"""A plotter is read to about a degree or two (common practice)."""
DISTANCE_BY_HAND_NM = 1.0
"""And to about a mile on a sectional chart (common practice)."""


def leg_cautions(log: NavigationLog) -> Iterator[Caution]:
    """The cautions of every leg, in the order of the route."""
    yield from _unread_ground(log)
    takes_off = {sector.rows[0].course.leg.number for sector in log.sectors}
    lands = {sector.rows[-1].course.leg.number for sector in log.sectors}
    of_leg: dict[int, list[LogRow]] = {}
    for row in log.rows:
        of_leg.setdefault(row.course.leg.number, []).append(row)
    for leg in log.plot.route.legs:
        rows = of_leg[leg.number]
        notes = log.plan.notes_of(leg.number)
        yield from _ground(rows, notes, log.plan.limits.ground_clearance_ft)
        yield from _cruising_altitude(log.plan, rows, notes)
        yield from _on_the_way(rows, notes, leg.number in takes_off, leg.number in lands)
        yield from _typed(leg, notes)
        yield from _too_short(leg, notes)
        yield from _by_hand(leg, notes)
        yield from _split(rows)


def _unread_ground(log: NavigationLog) -> Iterator[Caution]:
    legs = [
        str(leg.number)
        for leg in log.plot.route.legs
        if log.plan.notes_of(leg.number).highest_ground_ft is None
    ]
    if legs:
        yield Caution(
            "NOTE",
            "terrain-not-checked",
            f"Leg {', '.join(legs)}: terrain not checked. Read the highest ground or obstacle off "
            "the chart and give it as highest_ground_ft.",
        )


def _ground(
    rows: Iterable[LogRow], notes: LegNotes, clearance_ft: float | None
) -> Iterator[Caution]:
    """The altitude cruised on a leg, or the highest reached on it, over the ground typed for it."""
    ground_ft = notes.highest_ground_ft
    if ground_ft is None:
        return
    cruised = [row.altitude_ft for row in rows if row.phase == "cruise"]
    flown_ft = (
        min(cruised)
        if cruised
        else max(max(row.altitude_ft, row.start_altitude_ft) for row in rows)
    )
    where = f"leg {notes.number}"
    if flown_ft <= ground_ft:
        yield Caution(
            "STOP",
            "below-ground",
            f"Leg {notes.number} is flown at {altitude(flown_ft)}, and its highest ground is "
            f"{altitude(ground_ft)}: choose a higher altitude or another way.",
            where=where,
        )
    elif clearance_ft is not None and flown_ft < ground_ft + clearance_ft:
        yield Caution(
            "CHECK",
            "ground-clearance",
            f"Leg {notes.number} clears its highest ground by {altitude(flown_ft - ground_ft)}, "
            f"less than your limit of {altitude(clearance_ft)}.",
            where=where,
        )


def _on_the_way(
    rows: Sequence[LogRow], notes: LegNotes, takes_off: bool, lands: bool
) -> Iterator[Caution]:
    """A leg entered in the climb, or left in the descent, below the ground typed for it.

    On the leg of take-off or landing that must be so; on others the ground may stand anywhere.
    """
    ground_ft = notes.highest_ground_ft
    ends_ft = [
        *([] if takes_off else [rows[0].start_altitude_ft]),
        *([] if lands else [rows[-1].altitude_ft]),
    ]
    if ground_ft is None or not ends_ft or min(ends_ft) > ground_ft:
        return
    if any(row.phase == "cruise" and row.altitude_ft <= ground_ft for row in rows):
        return  # a STOP says so already
    yield Caution(
        "CHECK",
        "ground-on-the-way",
        f"Leg {notes.number} is entered or left at {altitude(round(min(ends_ft), -1))} in climb or "
        f"descent, and its highest ground is {altitude(ground_ft)}: see on the chart where it "
        "stands, and climb before the turning point if need be.",
        where=f"leg {notes.number}",
    )


def _cruising_altitude(plan: Plan, rows: Iterable[LogRow], notes: LegNotes) -> Iterator[Caution]:
    cruised = {(row.course.part, row.altitude_ft): row for row in rows if row.phase == "cruise"}
    for row in cruised.values():
        magnetic = row.course.magnetic_course_deg
        rule = cruising_rule(plan.visual_rules, magnetic)
        applies = rule_applies(plan.visual_rules, row.altitude_ft, notes.highest_ground_ft)
        if applies is False or row.altitude_ft <= APPLIES_ABOVE_SURFACE_FT:
            continue
        if not rule.fits(row.altitude_ft):
            near = " or ".join(altitude(feet) for feet in rule.nearest_ft(row.altitude_ft))
            yield Caution(
                "CHECK",
                "cruising-altitude",
                f"Leg {notes.number}: {altitude(row.altitude_ft)} on {course(magnetic, 'M')}; the "
                f"rule asks for {rule.words}: {near}.",
                rule.source,
                f"leg {notes.number}",
            )
            return


def _typed(leg: Leg, notes: LegNotes) -> Iterator[Caution]:
    said = []
    if notes.true_course_deg is not None:
        computed = course(leg.true_course_deg, "T")
        said.append(f"{course(notes.true_course_deg, 'T')} typed for {computed} computed")
    if notes.distance_nm is not None:
        said.append(f"{distance(notes.distance_nm)} typed for {distance(leg.distance_nm)} computed")
    if notes.variation_deg_east is not None:
        computed = variation(leg.variation.degrees_east)
        said.append(f"{variation(notes.variation_deg_east)} typed for {computed} computed")
    if said:
        yield Caution(
            "CHECK",
            "typed-figures",
            f"Leg {leg.number} uses your own figures: {', '.join(said)}.",
            where=f"leg {leg.number}",
        )


def _too_short(leg: Leg, notes: LegNotes) -> Iterator[Caution]:
    if notes.distance_nm and leg.distance_nm - notes.distance_nm > DISTANCE_BY_HAND_NM:
        yield Caution(
            "CHECK",
            "typed-too-short",
            f"Leg {leg.number}: {distance(notes.distance_nm)} is typed, and its ends are "
            f"{distance(leg.distance_nm)} apart. Time and fuel come out too small: measure again.",
            where=f"leg {leg.number}",
        )


def _by_hand(leg: Leg, notes: LegNotes) -> Iterator[Caution]:
    """Figures measured on the chart that differ from the computed ones; agreement is a note."""
    said, differs = [], False
    if notes.measured_course_deg is not None:
        true = notes.measured_course_reference == "true"
        computed = leg.true_course_deg if true else leg.magnetic_course_deg
        letter = "T" if true else "M"
        off = half_turn(notes.measured_course_deg - computed)
        differs |= abs(off) > COURSE_BY_HAND_DEG
        said.append(
            f"course {course(notes.measured_course_deg, letter)}, computed "
            f"{course(computed, letter)}"
        )
    if notes.measured_nm is not None:
        differs |= abs(notes.measured_nm - leg.distance_nm) > DISTANCE_BY_HAND_NM
        said.append(f"{distance(notes.measured_nm)}, computed {distance(leg.distance_nm)}")
    if not said:
        return
    found = f"Leg {leg.number} measured by hand: {'; '.join(said)}."
    where = f"leg {leg.number}"
    if differs:
        yield Caution(
            "CHECK",
            "measured-differs",
            f"{found} Measure it again: 'plotter measure' with this plan asks what explains it.",
            where=where,
        )
    else:
        yield Caution("NOTE", "measured-agrees", found, where=where)


def _split(rows: Iterable[LogRow]) -> Iterator[Caution]:
    parts: list[Course] = [row.course for row in rows]
    if parts and parts[0].parts > 1:
        first, last = parts[0], parts[-1]
        line_from, line_to = first.line.initial_true_course_deg, last.line.final_true_course_deg
        yield Caution(
            "NOTE",
            "leg-split",
            f"Leg {first.leg.number} is split into {first.parts} parts: along it the true course "
            f"goes from {course(line_from, 'T')} to {course(line_to, 'T')}, variation from "
            f"{variation(first.variation_deg_east)} to {variation(last.variation_deg_east)}.",
            where=f"leg {first.leg.number}",
        )
