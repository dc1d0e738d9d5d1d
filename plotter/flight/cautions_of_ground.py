"""Cautions about ground and obstacles below a leg, as the pilot read them off the chart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from plotter.flight.log_values import LogRow, NavigationLog
from plotter.flight.plan import LegNotes
from plotter.flight.rules import VisualRules
from plotter.flight.whose_rules import rules_of_flight
from plotter.route.cautions import Caution
from plotter.wording import altitude

OVER_TOWNS_FT, ELSEWHERE_FT = 1000.0, 500.0
"""The least heights, save for take-off and landing: above the highest obstacle near a congested
area, and above the surface elsewhere (14 CFR 91.119(b), (c); ICAO Annex 2, 4.6, from memory)."""
SOURCES: dict[VisualRules, str] = {"US": "14 CFR 91.119(b), (c)", "ICAO": "ICAO Annex 2, 4.6"}
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
            "terrain-not-checked",
            f"Leg {', '.join(unread)}: terrain not checked. Read the highest ground and the "
            "highest obstacle off the chart and give them as highest_ground_ft and "
            "highest_obstacle_ft.",
        )
    for typed, missing in (((True, False), "obstacle"), ((False, True), "ground")):
        if in_part := legs.get(typed):
            yield Caution(
                "NOTE",
                "terrain-in-part",
                f"Leg {', '.join(in_part)}: no highest {missing} is typed. Read it off the chart "
                f"too and give it as highest_{missing}_ft.",
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
    cruised = [row.altitude_ft for row in rows if row.phase == "cruise"]
    if cruised:
        return min(cruised)
    return max(max(row.altitude_ft, row.start_altitude_ft) for row in rows)


def _below(leg: int, flown_ft: float, point: Highest) -> Caution:
    return Caution(
        "STOP",
        "below-ground",
        f"Leg {leg} is flown at {altitude(flown_ft)}, and its highest {point.name} is "
        f"{altitude(point.height_ft)}: choose a higher altitude or another way.",
        where=f"leg {leg}",
    )


def _low(log: NavigationLog, leg: int, found: str, clears_ft: float) -> Caution:
    """Nearer than the rule allows over towns, or anywhere but where nobody is."""
    rules = rules_of_flight(log.plan, log.plot.route)
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
    if rules == "US" and log.plan.aircraft_category == "rotorcraft":
        words += HELICOPTER
    return Caution("CHECK", code, words, SOURCES[rules], f"leg {leg}")


def _own_limit(leg: int, found: str, own_ft: float) -> Caution:
    return Caution(
        "CHECK",
        "ground-clearance",
        f"{found}, less than your limit of {altitude(own_ft)}.",
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
        "ground-on-the-way",
        f"Leg {leg} is entered or left at {altitude(round(min(ends_ft), -1))} in climb or "
        f"descent, and its highest {point.name} is {altitude(point.height_ft)}: see on the chart "
        "where it stands, and climb before the turning point if need be.",
        where=f"leg {leg}",
    )
