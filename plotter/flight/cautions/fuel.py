"""Cautions about fuel: the reserve, tanks that run dry."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from plotter.flight.log_values import NavigationLog, Sector
from plotter.flight.reserve import ICAO_SOURCES
from plotter.messages import Message, message
from plotter.route.values import Caution
from plotter.wording import zulu_since


def fuel_cautions(log: NavigationLog) -> Iterator[Caution]:
    """Yield a STOP for each sector whose reserve is not met, a note where taxi was left out."""
    for sector in log.sectors:
        if sector.margin_fuel < 0.0:
            yield _not_met(sector)
        if sector.law.is_icao:
            yield _state_decides(sector, ICAO_SOURCES[log.plan.aircraft_category])
    if not log.plan.aircraft.taxi_fuel:
        yield Caution("NOTE", message("no-taxi-fuel"))


def _not_met(sector: Sector) -> Caution:
    reserve = sector.reserve
    said = message(
        "reserve",
        left=_left(sector),
        minutes=reserve.minutes,
        needed=sector.reserve_fuel,
        unit=sector.fuel.unit,
        reading=reserve.reading,
    )
    return Caution("STOP", said, reserve.source, sector.end.name)


def _left(sector: Sector) -> Message:
    """What is on board at the end of a sector, or by how much and from where on it is missing."""
    fuel, end = sector.fuel, sector.end.name
    if fuel.remaining >= 0.0:
        return message("reserve.left", amount=fuel.remaining, unit=fuel.unit, end=end)
    return message(
        "reserve.missing",
        dry=_where_dry(sector),
        amount=-fuel.remaining,
        unit=fuel.unit,
        end=end,
    )


def _state_decides(sector: Sector, source: str) -> Caution:
    end = sector.end.name
    said = message(
        "reserve-state", end=end, minutes=sector.reserve.rule_min, decides=sector.law.own
    )
    return Caution("NOTE", said, source, end)


def _where_dry(sector: Sector) -> Message:
    """In which row, between which points and at what time the tanks of a sector run dry."""
    remaining, minutes = sector.fuel.at_start - sector.fuel.taxi, 0.0
    for row in sector.rows if remaining > 0.0 else ():
        for flown in row.flown:
            if flown.fuel > remaining:
                minutes += flown.minutes * remaining / flown.fuel
                return message(
                    "reserve.dry",
                    time=zulu_since(row.take_off, sector.take_off + dt.timedelta(minutes=minutes)),
                    start=row.start.name,
                    end=row.end.name,
                    row=row.number,
                )
            remaining, minutes = remaining - flown.fuel, minutes + flown.minutes
    return message("reserve.dry-at-take-off", start=sector.start.name)
