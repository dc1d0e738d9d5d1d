"""Cautions about the ground below a leg, as the pilot read it off the chart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

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


def unread_ground(log: NavigationLog) -> Iterator[Caution]:
    """The legs nothing is typed for."""
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


def ground_cautions(
    log: NavigationLog, rows: Sequence[LogRow], notes: LegNotes, takes_off: bool, lands: bool
) -> Iterator[Caution]:
    """What the ground typed for one leg asks of it, by rule and by the pilot's own limit."""
    ground_ft = notes.highest_ground_ft
    if ground_ft is None:
        return
    flown_ft = _flown_ft(rows)
    if flown_ft <= ground_ft:
        yield _below(notes.number, flown_ft, ground_ft)
        return
    clears_ft = flown_ft - ground_ft
    if clears_ft < OVER_TOWNS_FT:
        yield _low(log, notes.number, clears_ft)
    own_ft = log.plan.limits.ground_clearance_ft
    if own_ft is not None and clears_ft < own_ft:
        yield _own_limit(notes.number, clears_ft, own_ft)
    if clears_ft >= ELSEWHERE_FT:
        yield from _on_the_way(rows, notes.number, ground_ft, takes_off, lands)


def _flown_ft(rows: Iterable[LogRow]) -> float:
    """The lowest altitude cruised on a leg, or where nothing is cruised the highest reached."""
    cruised = [row.altitude_ft for row in rows if row.phase == "cruise"]
    if cruised:
        return min(cruised)
    return max(max(row.altitude_ft, row.start_altitude_ft) for row in rows)


def _below(leg: int, flown_ft: float, ground_ft: float) -> Caution:
    return Caution(
        "STOP",
        "below-ground",
        f"Leg {leg} is flown at {altitude(flown_ft)}, and its highest ground is "
        f"{altitude(ground_ft)}: choose a higher altitude or another way.",
        where=f"leg {leg}",
    )


def _low(log: NavigationLog, leg: int, clears_ft: float) -> Caution:
    """Nearer to the ground than the rule allows over towns, or anywhere but where nobody is."""
    rules = rules_of_flight(log.plan, log.plot.route)
    found = f"Leg {leg} clears its highest ground by {altitude(clears_ft)}"
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


def _own_limit(leg: int, clears_ft: float, own_ft: float) -> Caution:
    return Caution(
        "CHECK",
        "ground-clearance",
        f"Leg {leg} clears its highest ground by {altitude(clears_ft)}, "
        f"less than your limit of {altitude(own_ft)}.",
        where=f"leg {leg}",
    )


def _on_the_way(
    rows: Sequence[LogRow], leg: int, ground_ft: float, takes_off: bool, lands: bool
) -> Iterator[Caution]:
    """A leg entered in the climb, or left in the descent, less than 500 ft above its ground.

    On the leg of take-off or landing that must be so; on others the ground may stand anywhere.
    """
    ends_ft = [
        *([] if takes_off else [rows[0].start_altitude_ft]),
        *([] if lands else [rows[-1].altitude_ft]),
    ]
    if not ends_ft or min(ends_ft) >= ground_ft + ELSEWHERE_FT:
        return
    yield Caution(
        "CHECK",
        "ground-on-the-way",
        f"Leg {leg} is entered or left at {altitude(round(min(ends_ft), -1))} in climb or "
        f"descent, and its highest ground is {altitude(ground_ft)}: see on the chart where it "
        "stands, and climb before the turning point if need be.",
        where=f"leg {leg}",
    )
