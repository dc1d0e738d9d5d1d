"""Cautions leg by leg: cruising altitude, what was typed or measured by hand, splits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from plotter.earth.angles import half_turn
from plotter.flight.cautions_of_ground import ground_cautions, unread_ground
from plotter.flight.courses import Course
from plotter.flight.fields import field_elevation_ft
from plotter.flight.log_values import LogRow, NavigationLog
from plotter.flight.plan import LegNotes
from plotter.flight.rows import part_name
from plotter.flight.rules import (
    SOURCES,
    VisualRules,
    cruising_rule,
    rule_applies,
)
from plotter.flight.whose_rules import abroad, in_the_united_states, state_of
from plotter.route.cautions import Caution
from plotter.route.route import Leg
from plotter.wording import altitude, course, distance, variation

COURSE_BY_HAND_DEG = 2.0
"""A plotter is read to about a degree or two (common practice)."""
DISTANCE_BY_HAND_NM = 1.0
"""And to about a mile on a sectional chart (common practice)."""
MOST_NAMED = 4
"""Points that are named in one caution; of more the number is told."""
STATES_DIFFER = "some divide the circle at 090° and 270°"
"""New Zealand and Italy among them (from memory); the AIP of the state is the source."""


def leg_cautions(log: NavigationLog) -> Iterator[Caution]:
    """The cautions of every leg, in the order of the route."""
    yield from unread_ground(log)
    yield from _state_table(log)
    takes_off = {sector.rows[0].course.leg.number for sector in log.sectors}
    lands = {sector.rows[-1].course.leg.number for sector in log.sectors}
    of_leg: dict[int, list[LogRow]] = {}
    for row in log.rows:
        of_leg.setdefault(row.course.leg.number, []).append(row)
    for leg in log.plot.route.legs:
        rows = of_leg[leg.number]
        notes = log.plan.notes_of(leg.number)
        yield from ground_cautions(log, rows, notes, leg.number in takes_off, leg.number in lands)
        if (rules := _table_for(log, leg)) is not None:
            yield from _cruising_altitude(rules, rows, notes)
        yield from _typed(leg, notes)
        yield from _too_short(leg, notes)
        yield from _by_hand(leg, notes)
        yield from _split(rows)


def _table_for(log: NavigationLog, leg: Leg) -> VisualRules | None:
    """The table of cruising altitudes a leg is held against; ``None`` where it is another state's.

    That of the US holds in the US; where nothing tells where a leg lies, the pilot must say so.
    """
    asked = log.plan.visual_rules
    if asked == "ICAO":
        return asked
    inside = in_the_united_states(leg, log.plot.route)
    return "US" if inside or (inside is None and asked == "US") else None


def _state_table(log: NavigationLog) -> Iterator[Caution]:
    """Where a state's own table of cruising altitudes decides, and whether any was asked here."""
    if log.plan.visual_rules == "ICAO":
        yield Caution(
            "NOTE",
            "cruising-altitude-state",
            "Cruising altitudes are held against the table of ICAO. A state's own table (its AIP) "
            f"comes first: {STATES_DIFFER}.",
            SOURCES["ICAO"],
        )
        return
    legs = [leg for leg in log.plot.route.legs if _table_for(log, leg) is None]
    if legs:
        numbers = ", ".join(str(leg.number) for leg in legs)
        yield Caution(
            "CHECK",
            "cruising-altitude-state",
            f"Leg {numbers}: {_lie(legs)}, so no altitude was held against a table. The state's "
            'own table decides (its AIP): many use that of ICAO, which visual_rules = "ICAO" '
            f"asks; {STATES_DIFFER}.",
            "14 CFR 91.703; ICAO Annex 2, chapter 4",
            f"leg {numbers}",
        )


def _lie(legs: Sequence[Leg]) -> str:
    """Which ends of legs lie in which other states."""
    points = dict.fromkeys(point for leg in legs for point in (leg.start, leg.end))
    outside = [f"{point.name} ({state_of(point)})" for point in abroad(points)]
    if not outside:
        return "the data does not say in which state it lies"
    named, more = ", ".join(outside[:MOST_NAMED]), len(outside) - MOST_NAMED
    others = f" and {more} more" if more > 0 else ""
    return f"{named}{others} {'lies' if len(outside) == 1 else 'lie'} outside the US"


def _cruising_altitude(
    rules: VisualRules, rows: Iterable[LogRow], notes: LegNotes
) -> Iterator[Caution]:
    cruised = {(row.course.part, row.altitude_ft): row for row in rows if row.phase == "cruise"}
    for row in cruised.values():
        magnetic = row.course.magnetic_course_deg
        rule = cruising_rule(rules, magnetic)
        if not rule_applies(rules, row.altitude_ft, _lowest_surface_ft(row.course.leg)):
            continue
        if not rule.fits(row.altitude_ft):
            near = " or ".join(altitude(feet) for feet in rule.nearest_ft(row.altitude_ft))
            yield Caution(
                "CHECK",
                "cruising-altitude",
                f"Leg {notes.number}: {altitude(row.altitude_ft)} on {course(magnetic, 'M')}; the "
                f"{'rule' if rules == 'US' else 'table of ICAO'} asks for {rule.words}: {near}.",
                rule.source,
                f"leg {notes.number}",
            )
            return


def _lowest_surface_ft(leg: Leg) -> float:
    """The lowest surface [ft MSL] that a leg may pass: sea level, or a field of it below that.

    The rule binds wherever the surface is more than 3,000 ft below. The highest ground that is
    typed does not count, because the rest of the leg lies lower and because it may be an obstacle.
    """
    return min(0.0, *(field_elevation_ft(point) or 0.0 for point in (leg.start, leg.end)))


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
            f"{variation(first.variation_deg_east)} to {variation(last.variation_deg_east)}. The "
            f"second begins at {part_name(first.leg.number, 2)} of the log.",
            where=f"leg {first.leg.number}",
        )
