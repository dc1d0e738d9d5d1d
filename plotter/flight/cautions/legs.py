"""Cautions leg by leg: cruising altitude, what was typed or measured by hand, splits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from plotter.flight.by_hand import by_hand_cautions
from plotter.flight.courses import Course
from plotter.flight.fields import field_elevation_ft
from plotter.flight.log_values import LogRow, NavigationLog
from plotter.flight.plan.values import LegNotes
from plotter.flight.rules import (
    SOURCES,
    CruisingRule,
    VisualRules,
    cruising_rule,
    rule_applies,
)
from plotter.flight.whose_rules import abroad, in_the_united_states, law_over, state_of
from plotter.messages import literal, message
from plotter.route.values import Caution, Leg
from plotter.wording import altitude, course, distance, magnetic_whole, variation, whole

# Cautions about ground and obstacles below a leg, as the pilot read them off the chart.

OVER_TOWNS_FT, ELSEWHERE_FT = 1000.0, 500.0
"""The least heights, save for take-off and landing: above the highest obstacle near a congested
area, and above the surface elsewhere (14 CFR 91.119(b), (c); ICAO Annex 2, 4.6, from memory)."""
US_SOURCE, ICAO_SOURCE = "14 CFR 91.119(b), (c)", "ICAO Annex 2, 4.6"
HELICOPTER = " A helicopter may be lower where that endangers nobody (91.119(d))."


class Highest(NamedTuple):
    """The highest point of a leg [ft MSL], and whether it is ground or an obstacle."""

    height_ft: float
    name: str


def highest(notes: LegNotes) -> Highest | None:
    """Return the higher of the ground and the obstacle typed for a leg; ``None`` without either.

    >>> highest(LegNotes(1, highest_ground_ft=1450.0, highest_obstacle_ft=1890.0))
    Highest(height_ft=1890.0, name='obstacle')
    """
    typed = (("ground", notes.highest_ground_ft), ("obstacle", notes.highest_obstacle_ft))
    points = [Highest(feet, name) for name, feet in typed if feet is not None]
    return max(points, key=lambda point: point.height_ft, default=None)


def unread_ground(log: NavigationLog) -> Iterator[Caution]:
    """The legs nothing is typed for, and those with ground or obstacle alone."""
    legs: dict[tuple[bool, bool], list[str]] = {}
    for leg in log.plot.route.legs:
        notes = log.plan.notes_of(leg.number)
        typed = notes.highest_ground_ft is not None, notes.highest_obstacle_ft is not None
        legs.setdefault(typed, []).append(str(leg.number))
    if unread := legs.get((False, False)):
        yield Caution(
            "NOTE",
            message("terrain-not-checked", legs=tuple(unread), count=len(unread)),
        )
    for typed, missing in (((True, False), "obstacle"), ((False, True), "ground")):
        if in_part := legs.get(typed):
            yield Caution(
                "NOTE",
                message(
                    "terrain-in-part", legs=tuple(in_part), count=len(in_part), missing=missing
                ),
            )


def ground_cautions(
    log: NavigationLog, rows: Sequence[LogRow], notes: LegNotes, takes_off: bool, lands: bool
) -> Iterator[Caution]:
    """What ground and obstacle of one leg ask of it, by rule and by the pilot's own limit."""
    point = highest(notes)
    if point is None:
        return
    flown_ft = _flown_ft(rows)
    if flown_ft <= point.height_ft:
        yield _below(notes.number, flown_ft, point)
        return
    clears_ft = flown_ft - point.height_ft
    found = f"Leg {notes.number} clears its highest {point.name} by {altitude(clears_ft)}"
    if clears_ft < OVER_TOWNS_FT:
        yield _low(log, notes.number, found, clears_ft)
    own_ft = log.plan.limits.ground_clearance_ft
    if own_ft is not None and clears_ft < own_ft:
        yield _own_limit(notes.number, found, own_ft)
    if clears_ft >= ELSEWHERE_FT:
        yield from _on_the_way(rows, notes.number, point, takes_off, lands)


def _flown_ft(rows: Iterable[LogRow]) -> float:
    """The lowest altitude cruised on a leg, or where nothing is cruised the highest reached."""
    cruised = [row.cruise_altitude_ft for row in rows if row.cruise_altitude_ft is not None]
    if cruised:
        return min(cruised)
    return max(max(row.altitude_ft, row.start_altitude_ft) for row in rows)


def _below(leg: int, flown_ft: float, point: Highest) -> Caution:
    return Caution(
        "STOP",
        literal(
            "below-ground",
            f"Leg {leg} is flown at {altitude(flown_ft)}, and its highest {point.name} is "
            f"{altitude(point.height_ft)}: choose a higher altitude or another way.",
        ),
        where=f"leg {leg}",
    )


def _low(log: NavigationLog, leg: int, found: str, clears_ft: float) -> Caution:
    """Nearer than the rule allows over towns, or anywhere but where nobody is."""
    route = log.plot.route
    flown = route.legs[leg - 1]
    law = law_over((flown.start, flown.end), log.plan, route)
    if clears_ft < ELSEWHERE_FT:
        code = "ground-within-500-ft"
        words = (
            f"{found}: too low to be lawful over land where anybody lives. The rule asks for "
            f"{altitude(ELSEWHERE_FT)} above the surface, {altitude(OVER_TOWNS_FT)} above the "
            "highest obstacle over towns. Choose a higher altitude or another way."
        )
    else:
        code = "ground-within-1000-ft"
        words = (
            f"{found}. Over a town or another congested area the rule asks for "
            f"{altitude(OVER_TOWNS_FT)} above the highest obstacle: see on the chart what lies "
            "below, and choose a higher altitude if in doubt."
        )
    if not law.is_icao and log.plan.aircraft_category == "rotorcraft":
        words += HELICOPTER
    return Caution("CHECK", literal(code, words), law.source(US_SOURCE, ICAO_SOURCE), f"leg {leg}")


def _own_limit(leg: int, found: str, own_ft: float) -> Caution:
    return Caution(
        "CHECK",
        literal("ground-clearance", f"{found}, less than your limit of {altitude(own_ft)}."),
        where=f"leg {leg}",
    )


def _on_the_way(
    rows: Sequence[LogRow], leg: int, point: Highest, takes_off: bool, lands: bool
) -> Iterator[Caution]:
    """A leg entered in the climb, or left in the descent, less than 500 ft above its highest
    point.

    On the leg of take-off or landing that must be so; on others the ground may stand anywhere.
    """
    ends_ft = [
        *([] if takes_off else [rows[0].start_altitude_ft]),
        *([] if lands else [rows[-1].altitude_ft]),
    ]
    if not ends_ft or min(ends_ft) >= point.height_ft + ELSEWHERE_FT:
        return
    yield Caution(
        "CHECK",
        literal(
            "ground-on-the-way",
            f"Leg {leg} is entered or left at {altitude(round(min(ends_ft), -1))} in climb or "
            f"descent, and its highest {point.name} is {altitude(point.height_ft)}: see on the chart "
            "where it stands, and climb before the turning point if need be.",
        ),
        where=f"leg {leg}",
    )


TOO_SHORT_NM = 1.0
"""By which a typed distance may fall short: a plotter is read to a mile (common practice)."""
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
    by_hand = by_hand_cautions(log.plan, log.plot.route)
    yield from by_hand.together
    for leg in log.plot.route.legs:
        rows = of_leg[leg.number]
        notes = log.plan.notes_of(leg.number)
        yield from ground_cautions(log, rows, notes, leg.number in takes_off, leg.number in lands)
        if (rules := _table_for(log, leg)) is not None:
            yield from _cruising_altitude(rules, rows, notes)
        yield from _typed(leg, notes)
        yield from _too_short(leg, notes)
        yield from by_hand.of_leg.get(leg.number, [])


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
            literal(
                "cruising-altitude-state",
                "Cruising altitudes are held against the table of ICAO. A state's own table (its AIP) "
                f"comes first: {STATES_DIFFER}.",
            ),
            SOURCES["ICAO"],
        )
        return
    legs = [leg for leg in log.plot.route.legs if _table_for(log, leg) is None]
    if legs:
        numbers = ", ".join(str(leg.number) for leg in legs)
        law = law_over(log.plot.route.waypoints, log.plan, log.plot.route)
        yield Caution(
            "CHECK",
            literal(
                "cruising-altitude-state",
                f"Leg {numbers}: {_lie(legs)}, so no altitude was held against a table. The state's "
                'own table decides (its AIP): many use that of ICAO, which visual_rules = "ICAO" '
                f"asks; {STATES_DIFFER}.",
            ),
            f"{'14 CFR 91.703; ' if law.us_registered else ''}ICAO Annex 2, chapter 4",
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
    cruised = {
        (row.course.part, row.cruise_altitude_ft): row.course
        for row in rows
        if row.cruise_altitude_ft is not None
    }
    for (_, feet), flown in cruised.items():
        if feet is None or not rule_applies(rules, feet, _lowest_surface_ft(flown.leg)):
            continue
        rule = cruising_rule(rules, _printed_magnetic(flown))
        unrounded = cruising_rule(rules, flown.magnetic_course_deg, rounded=False)
        said = f"Leg {notes.number}: {altitude(feet)} on {course(rule.whole_course_deg, 'M')}"
        whose = "rule" if rules == "US" else "table of ICAO"
        if rule.odd != unrounded.odd:
            words = (
                f"{said}, unrounded {flown.magnetic_course_deg:.2f}°M: the course lies where the "
                f"{whose} changes. It asks for {_near(rule, feet)} on the one side and "
                f"{_near(unrounded, feet)} on the other. Measure the course again and choose."
            )
        elif not rule.fits(feet):
            words = f"{said}; the {whose} asks for {rule.words}: {_near(rule, feet)}."
        else:
            continue
        yield Caution(
            "CHECK", literal("cruising-altitude", words), rule.source, f"leg {notes.number}"
        )
        return


def _printed_magnetic(flown: Course) -> int:
    """The magnetic course as print has it: whole true course less whole variation."""
    return magnetic_whole(whole(flown.true_course_deg), whole(flown.variation_deg_east))


def _near(rule: CruisingRule, altitude_ft: float) -> str:
    return " or ".join(altitude(feet) for feet in rule.nearest_ft(altitude_ft))


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
            literal("typed-figures", f"Leg {leg.number} uses your own figures: {', '.join(said)}."),
            where=f"leg {leg.number}",
        )


def _too_short(leg: Leg, notes: LegNotes) -> Iterator[Caution]:
    if notes.distance_nm and leg.distance_nm - notes.distance_nm > TOO_SHORT_NM:
        yield Caution(
            "CHECK",
            literal(
                "typed-too-short",
                f"Leg {leg.number}: {distance(notes.distance_nm)} is typed, and its ends are "
                f"{distance(leg.distance_nm)} apart. Time and fuel come out too small: measure again.",
            ),
            where=f"leg {leg.number}",
        )
