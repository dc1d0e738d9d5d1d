"""Cautions about fuel: the reserve, tanks that run dry."""

from __future__ import annotations

from collections.abc import Iterator

from plotter.flight.log_values import NavigationLog, Sector
from plotter.route.cautions import Caution


def fuel_cautions(log: NavigationLog) -> Iterator[Caution]:
    """A STOP for each sector whose reserve is not met, a note where taxi was left out."""
    for sector in log.sectors:
        if sector.margin_fuel < 0.0:
            yield _not_met(sector)
    if not log.plan.aircraft.taxi_fuel:
        yield Caution(
            "NOTE",
            "no-taxi-fuel",
            "No taxi_fuel is given: none is taken off before take-off.",
        )


def _not_met(sector: Sector) -> Caution:
    fuel, reserve = sector.fuel, sector.reserve
    unit = fuel.unit
    left = (
        f"the tanks run dry {-fuel.remaining:.1f} {unit} before {sector.end.name}"
        if fuel.remaining < 0.0
        else f"{fuel.remaining:.1f} {unit} are left at {sector.end.name}"
    )
    return Caution(
        "STOP",
        "reserve",
        f"The reserve is not met: {left}, and {reserve.minutes:.0f} min need "
        f"{sector.reserve_fuel:.1f} {unit} ({reserve.reading}). Take more fuel, a shorter "
        "way or a stop.",
        reserve.source,
        sector.end.name,
    )
