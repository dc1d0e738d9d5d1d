"""Cautions about fuel: the reserve, tanks that run dry."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from plotter.flight.log_values import NavigationLog, Sector
from plotter.messages import literal
from plotter.route.values import Caution
from plotter.wording import fuel_left, fuel_used, zulu_since


def fuel_cautions(log: NavigationLog) -> Iterator[Caution]:
    """A STOP for each sector whose reserve is not met, a note where taxi was left out."""
    for sector in log.sectors:
        if sector.margin_fuel < 0.0:
            yield _not_met(sector)
    if not log.plan.aircraft.taxi_fuel:
        yield Caution(
            "NOTE",
            literal("no-taxi-fuel", "No taxi_fuel is given: none is taken off before take-off."),
        )


def _not_met(sector: Sector) -> Caution:
    fuel, reserve = sector.fuel, sector.reserve
    unit = fuel.unit
    left = (
        f"{_where_dry(sector)}, {fuel_used(-fuel.remaining)} {unit} are missing to "
        f"{sector.end.name}"
        if fuel.remaining < 0.0
        else f"{fuel_left(fuel.remaining)} {unit} are left at {sector.end.name}"
    )
    return Caution(
        "STOP",
        literal(
            "reserve",
            f"The reserve is not met: {left}. {reserve.minutes:.0f} min need "
            f"{fuel_used(sector.reserve_fuel)} {unit} ({reserve.reading}). Take more fuel, a shorter "
            "way or a stop.",
        ),
        reserve.source,
        sector.end.name,
    )


def _where_dry(sector: Sector) -> str:
    """In which row, between which points and at what time the tanks of a sector run dry."""
    remaining, minutes = sector.fuel.at_start - sector.fuel.taxi, 0.0
    for row in sector.rows if remaining > 0.0 else ():
        for flown in row.flown:
            if flown.fuel > remaining:
                minutes += flown.minutes * remaining / flown.fuel
                at = zulu_since(row.take_off, sector.take_off + dt.timedelta(minutes=minutes))
                return (
                    f"the tanks run dry at {at} between {row.start.name} and {row.end.name} "
                    f"(row {row.number})"
                )
            remaining, minutes = remaining - flown.fuel, minutes + flown.minutes
    return f"the tanks are dry at take-off from {sector.start.name}"
