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
from plotter.messages import Message, message
from plotter.route.values import Caution, Leg
from plotter.wording import altitude, magnetic_whole, whole

# Cautions about ground and obstacles below a leg, as the pilot read them off the chart.

OVER_TOWNS_FT, ELSEWHERE_FT = 1000.0, 500.0
"""The least heights, save for take-off and landing: above the highest obstacle near a congested
area, and above the surface elsewhere (14 CFR 91.119(b), (c); ICAO Annex 2, 4.6, from memory)."""
US_SOURCE, ICAO_SOURCE = "14 CFR 91.119(b), (c)", "ICAO Annex 2, 4.6"


_WITHIN = {
    (True, False): "ground-within-500-ft",
    (True, True): "ground-within-500-ft.helicopter",
    (False, False): "ground-within-1000-ft",
    (False, True): "ground-within-1000-ft.helicopter",
}


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
    legs: dict[tuple[bool, bool], list[int]] = {}
    for leg in log.plot.route.legs:
        notes = log.plan.notes_of(leg.number)
        typed = notes.highest_ground_ft is not None, notes.highest_obstacle_ft is not None
        legs.setdefault(typed, []).append(leg.number)
    if unread := legs.get((False, False)):
        yield Caution("NOTE", message("terrain-not-checked", legs=tuple(unread)))
    for typed, missing in (((True, False), "obstacle"), ((False, True), "ground")):
        if in_part := legs.get(typed):
            said = message("terrain-in-part", legs=tuple(in_part), missing=missing)
            yield Caution("NOTE", said)


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
    if clears_ft < OVER_TOWNS_FT:
        yield _low(log, notes.number, point, clears_ft)
    own_ft = log.plan.limits.ground_clearance_ft
    if own_ft is not None and clears_ft < own_ft:
        clears = _clears(notes.number, point, clears_ft)
        said = message("ground-clearance", clears=clears, limit_ft=own_ft)
        yield Caution("CHECK", said, where=f"leg {notes.number}")
    if clears_ft >= ELSEWHERE_FT:
        yield from _on_the_way(rows, notes.number, point, takes_off, lands)


def _flown_ft(rows: Iterable[LogRow]) -> float:
    """The lowest altitude cruised on a leg, or where nothing is cruised the highest reached."""
    cruised = [row.cruise_altitude_ft for row in rows if row.cruise_altitude_ft is not None]
    if cruised:
        return min(cruised)
    return max(max(row.altitude_ft, row.start_altitude_ft) for row in rows)


def _below(leg: int, flown_ft: float, point: Highest) -> Caution:
    said = message(
        "below-ground", leg=leg, flown_ft=flown_ft, what=point.name, height_ft=point.height_ft
    )
    return Caution("STOP", said, where=f"leg {leg}")


def _clears(leg: int, point: Highest, clears_ft: float) -> Message:
    return message("ground-clearance.clears", leg=leg, what=point.name, clears_ft=clears_ft)


def _low(log: NavigationLog, leg: int, point: Highest, clears_ft: float) -> Caution:
    """Nearer than the rule allows over towns, or anywhere but where nobody is."""
    route = log.plot.route
    flown = route.legs[leg - 1]
    law = law_over((flown.start, flown.end), log.plan, route)
    helicopter = not law.is_icao and log.plan.aircraft_category == "rotorcraft"
    said = message(
        _WITHIN[clears_ft < ELSEWHERE_FT, helicopter],
        clears=_clears(leg, point, clears_ft),
        surface_ft=ELSEWHERE_FT,
        towns_ft=OVER_TOWNS_FT,
    )
    return Caution("CHECK", said, law.source(US_SOURCE, ICAO_SOURCE), f"leg {leg}")


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
    said = message(
        "ground-on-the-way",
        leg=leg,
        altitude_ft=round(min(ends_ft), -1),
        what=point.name,
        height_ft=point.height_ft,
    )
    yield Caution("CHECK", said, where=f"leg {leg}")


TOO_SHORT_NM = 1.0
"""By which a typed distance may fall short: a plotter is read to a mile (common practice)."""
MOST_NAMED = 4
"""Points that are named in one caution; of more the number is told."""


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
        yield Caution("NOTE", message("cruising-altitude-state.icao"), SOURCES["ICAO"])
        return
    legs = [leg for leg in log.plot.route.legs if _table_for(log, leg) is None]
    if legs:
        numbers = tuple(leg.number for leg in legs)
        law = law_over(log.plot.route.waypoints, log.plan, log.plot.route)
        yield Caution(
            "CHECK",
            message("cruising-altitude-state", legs=numbers, why=_outside(legs)),
            f"{'14 CFR 91.703; ' if law.us_registered else ''}ICAO Annex 2, chapter 4",
            f"leg {', '.join(map(str, numbers))}",
        )


def _outside(legs: Sequence[Leg]) -> Message:
    """Which ends of legs are in which other states."""
    points = dict.fromkeys(point for leg in legs for point in (leg.start, leg.end))
    outside = [f"{point.name} ({state_of(point)})" for point in abroad(points)]
    if not outside:
        return message("cruising-altitude-state.unknown")
    more = len(outside) - MOST_NAMED
    return message(
        "cruising-altitude-state.outside-more" if more > 0 else "cruising-altitude-state.outside",
        points=tuple(outside[:MOST_NAMED]),
        count=len(outside),
        more=more,
    )


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
        on_the_line = rule.odd != unrounded.odd
        if not on_the_line and rule.fits(feet):
            continue
        said = message(
            "cruising-altitude.on-the-line" if on_the_line else "cruising-altitude",
            leg=notes.number,
            altitude_ft=feet,
            course_deg=rule.whole_course_deg,
            unrounded_deg=flown.magnetic_course_deg,
            whose="rule" if rules == "US" else "ICAO table",
            requires=rule.words,
            near=_near(rule, feet),
            near_other=_near(unrounded, feet),
        )
        yield Caution("CHECK", said, rule.source, f"leg {notes.number}")
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
    pairs = (
        (notes.true_course_deg, leg.true_course_deg, "typed-figures.course"),
        (notes.distance_nm, leg.distance_nm, "typed-figures.distance"),
        (notes.variation_deg_east, leg.variation.degrees_east, "typed-figures.variation"),
    )
    figures = tuple(
        message(key, typed=typed, computed=computed)
        for typed, computed, key in pairs
        if typed is not None
    )
    if figures:
        said = message("typed-figures", leg=leg.number, figures=figures)
        yield Caution("CHECK", said, where=f"leg {leg.number}")


def _too_short(leg: Leg, notes: LegNotes) -> Iterator[Caution]:
    if notes.distance_nm and leg.distance_nm - notes.distance_nm > TOO_SHORT_NM:
        said = message(
            "typed-too-short",
            leg=leg.number,
            typed_nm=notes.distance_nm,
            distance_nm=leg.distance_nm,
        )
        yield Caution("CHECK", said, where=f"leg {leg.number}")
