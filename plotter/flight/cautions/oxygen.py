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
from plotter.messages import Message, message
from plotter.route.values import Caution

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
    requirements = _requirements(highest_ft, minutes, rule)
    values = {
        "where": where,
        "highest_ft": round(highest_ft, -1),
        "above_ft": rule.crew_later_ft,
        "minutes": math.ceil(minutes),
        "allowed_min": MINUTES_ALLOWED,
        "assumed": message("oxygen.assumed-standard" if _is_standard(sector) else "oxygen.assumed"),
    }
    if requirements:
        said = message("oxygen", requirements=requirements, **values)
        yield Caution("CHECK", said, rule.source, where)
    else:
        yield Caution("NOTE", message("oxygen-later", **values), rule.source, where)


def _is_standard(sector: Sector) -> bool:
    """Whether the standard altimeter setting is assumed anywhere along a sector."""
    return any(note.code == "no-altimeter" for row in sector.rows for note in row.air_notes)


def _requirements(highest_ft: float, minutes: float, rule: OxygenRule) -> tuple[Message, ...]:
    """What the rule requires at such a height for such a time; empty where nothing yet."""
    limits = (
        (highest_ft > rule.crew_ft, "oxygen.crew", rule.crew_ft),
        (minutes > MINUTES_ALLOWED, "oxygen.crew-later", rule.crew_later_ft),
        (highest_ft > rule.everyone_ft, "oxygen.everyone", rule.everyone_ft),
    )
    return tuple(
        message(key, above_ft=above_ft, allowed_min=MINUTES_ALLOWED)
        for applies, key, above_ft in limits
        if applies
    )
