"""Cautions about oxygen: how long a flight is above the pressure altitudes the rule names.

The cabin is taken as unpressurised, so that its pressure altitude is that of the flight: what is
flown, by the altimeter setting that is given.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from plotter.flight.log_values import NavigationLog, Sector
from plotter.flight.rules import VisualRules
from plotter.flight.track import Flown
from plotter.flight.whose_rules import rules_of_flight
from plotter.messages import literal
from plotter.route.values import Caution
from plotter.wording import altitude

MINUTES_ALLOWED = 30.0


class OxygenRule(NamedTuple):
    """From where on who must have oxygen, by cabin pressure altitude [ft].

    Above ``crew_later_ft`` the crew after 30 min, above ``crew_ft`` the crew always, above
    ``everyone_ft`` every occupant too.
    """

    crew_later_ft: float
    crew_ft: float
    everyone_ft: float
    source: str


RULES: dict[VisualRules, OxygenRule] = {
    "US": OxygenRule(12_500.0, 14_000.0, 15_000.0, "14 CFR 91.211(a)"),
    "ICAO": OxygenRule(10_000.0, 13_000.0, 13_000.0, "ICAO Annex 6, Part II"),
}
"""ICAO's figures are from memory: 700 and 620 hPa there, which are 9,880 and 13,000 ft."""


def oxygen_cautions(log: NavigationLog) -> Iterator[Caution]:
    """A CHECK for each sector that asks for oxygen, a note where 30 min are not yet used up."""
    rule = RULES[rules_of_flight(log.plan, log.plot.route)]
    for sector in log.sectors:
        if rule is not RULES["US"] and sector.law.is_icao:
            source = sector.law.source(RULES["US"].source, rule.source)
            yield from _of_sector(sector, rule._replace(source=source))
        else:
            yield from _of_sector(sector, rule)


def minutes_above(sector: Sector, pressure_altitude_ft: float) -> float:
    """How long [min] a sector is flown above a pressure altitude [ft]."""
    flown = (one for row in sector.rows for one in row.flown)
    return sum(_share_above(one, pressure_altitude_ft) * one.minutes for one in flown)


def highest_pressure_altitude_ft(sector: Sector) -> float:
    """The highest pressure altitude of a sector [ft]."""
    return max(max(_ends_ft(one)) for row in sector.rows for one in row.flown)


def _ends_ft(one: Flown) -> tuple[float, float]:
    """Pressure altitudes at start and end of a stretch; the setting is that at its middle."""
    higher_ft = one.air.pressure_altitude_ft - one.air.altitude_ft
    return one.from_ft + higher_ft, one.to_ft + higher_ft


def _share_above(one: Flown, limit_ft: float) -> float:
    """Which part of a stretch, 0…1, is above a pressure altitude; altitude changes evenly."""
    low_ft, high_ft = sorted(_ends_ft(one))
    if low_ft >= limit_ft or high_ft <= limit_ft:
        return float(high_ft > limit_ft)
    return (high_ft - limit_ft) / (high_ft - low_ft)


def _of_sector(sector: Sector, rule: OxygenRule) -> Iterator[Caution]:
    minutes = minutes_above(sector, rule.crew_later_ft)
    if not minutes > 0.0:
        return
    highest_ft = highest_pressure_altitude_ft(sector)
    where = f"{sector.start.name} to {sector.end.name}"
    found = (
        f"{where} reaches a pressure altitude of {altitude(round(highest_ft, -1))} and is above "
        f"{altitude(rule.crew_later_ft)} for {math.ceil(minutes)} min"
    )
    if asks := _asks(highest_ft, minutes, rule):
        words = f"{found}: {asks}. {_assumed(sector)}"
        yield Caution("CHECK", literal("oxygen", words), rule.source, where)
        return
    words = (
        f"{found}: after {MINUTES_ALLOWED:.0f} min there the crew must use oxygen. "
        f"{_assumed(sector)}"
    )
    yield Caution("NOTE", literal("oxygen-later", words), rule.source, where)


def _assumed(sector: Sector) -> str:
    """What is not known here, and what is taken instead."""
    standard = any(note.code == "no-altimeter" for row in sector.rows for note in row.air_notes)
    setting = ", the altimeter setting as standard" if standard else ""
    return f"The cabin is taken as unpressurised{setting}; what oxygen is aboard is not known."


def _asks(highest_ft: float, minutes: float, rule: OxygenRule) -> str:
    """What the rule asks for at such a height for such a time; empty where it asks nothing yet."""
    asked = []
    if highest_ft > rule.crew_ft:
        asked.append(f"the crew must use oxygen all the time above {altitude(rule.crew_ft)}")
    if minutes > MINUTES_ALLOWED:
        asked.append(
            f"{'' if asked else 'the crew must use oxygen '}after {MINUTES_ALLOWED:.0f} min above "
            f"{altitude(rule.crew_later_ft)}"
        )
    if highest_ft > rule.everyone_ft:
        asked.append(f"every occupant must have it above {altitude(rule.everyone_ft)}")
    return ", ".join(asked)
