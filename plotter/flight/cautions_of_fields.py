"""Cautions about the fields a flight uses: runway, crosswind, density altitude, elevation."""

from __future__ import annotations

from collections.abc import Iterator

from plotter.flight.fields import field_elevation_ft
from plotter.flight.log_values import FieldReport, NavigationLog
from plotter.places.model import Airport
from plotter.route.cautions import Caution
from plotter.route.route import Waypoint
from plotter.wording import altitude

DENSITY_ABOVE_FIELD_FT = 1000.0
"""From here on density altitude is worth a line (our choice; the AIM names no figure)."""


def field_cautions(log: NavigationLog) -> Iterator[Caution]:
    """What to know of each field the flight takes off from or lands at."""
    for point in fields_used(log):
        yield from _elevation(point)
    yield from _weather_elevation(log)
    for point in fields_used(log):
        yield from _runway(point, log.plan.limits.runway_ft)
    for report in log.fields:
        yield from _crosswind(report, log.plan.limits.crosswind_kt)
        yield from _density(report)


def fields_used(log: NavigationLog) -> tuple[Waypoint, ...]:
    """Where the flight takes off and lands, each once, in order."""
    points = [log.sectors[0].start, *(sector.end for sector in log.sectors)]
    return tuple({point.name: point for point in points}.values())


def _elevation(point: Waypoint) -> Iterator[Caution]:
    if field_elevation_ft(point) is None:
        yield Caution(
            "CHECK",
            "no-elevation",
            f"The elevation of {point.name} is not in the data: climb and descent are figured "
            "from sea level.",
            where=point.name,
        )


def _weather_elevation(log: NavigationLog) -> Iterator[Caution]:
    for report in log.fields:
        if report.elevation_ft is None:
            yield Caution(
                "CHECK",
                "weather-no-elevation",
                f"The elevation of {report.point} is not in the data: its weather gives no "
                "pressure or density altitude, and no temperature aloft.",
                where=report.point,
            )


def _runway(point: Waypoint, limit_ft: float | None) -> Iterator[Caution]:
    if limit_ft is None:
        return
    longest_ft = point.place.longest_runway_ft if isinstance(point.place, Airport) else None
    if longest_ft is None:
        text = f"The length of the runways at {point.name} is not in the data: look it up."
    elif longest_ft < limit_ft:
        text = (
            f"The longest runway at {point.name} has {altitude(longest_ft)}, less than your limit "
            f"of {altitude(limit_ft)}."
        )
    else:
        return
    yield Caution("CHECK", "runway", text, where=point.name)


def _crosswind(report: FieldReport, limit_kt: float | None) -> Iterator[Caution]:
    if limit_kt is None or report.crosswind_kt is None or report.crosswind_kt <= limit_kt:
        return
    yield Caution(
        "CHECK",
        "crosswind",
        f"The crosswind at {report.point} is {report.crosswind_kt:.0f} kt from the "
        f"{report.crosswind_from} on runway {report.runway}, above your limit of {limit_kt:g} kt.",
        where=report.point,
    )


def _density(report: FieldReport) -> Iterator[Caution]:
    density_ft, elevation_ft = report.density_altitude_ft, report.elevation_ft
    if density_ft is None or elevation_ft is None:
        return
    if density_ft - elevation_ft >= DENSITY_ABOVE_FIELD_FT:
        yield Caution(
            "NOTE",
            "density-altitude",
            f"Density altitude at {report.point} is {altitude(round(density_ft, -2))}, the field "
            f"lies at {altitude(elevation_ft)}: take-off and climb take longer than there.",
            where=report.point,
        )
