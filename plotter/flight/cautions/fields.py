"""Cautions about the fields a flight uses: runway, crosswind, density altitude, elevation."""

from __future__ import annotations

import math
from collections.abc import Iterator

from plotter.flight.fields import field_elevation_ft, is_called, runways_to_use
from plotter.flight.log_values import FieldReport, NavigationLog
from plotter.messages import message
from plotter.places.model import Airport
from plotter.route.values import Caution, Waypoint

DENSITY_ABOVE_FIELD_FT = 1000.0
"""From here on density altitude is worth a line (our choice; the AIM names no figure)."""


def field_cautions(log: NavigationLog) -> Iterator[Caution]:
    """What to know of each field the flight takes off from or lands at."""
    yield from _elevation(log)
    yield from _weather_elevation(log)
    for point in fields_used(log):
        yield from _runway(point, log.plan.limits.runway_ft)
    for report in log.fields:
        yield from _crosswind(log, report)
        yield from _density(report)
    yield from _crosswind_not_tested(log)


def fields_used(log: NavigationLog) -> tuple[Waypoint, ...]:
    """Where the flight takes off and lands, each once, in order."""
    points = [log.sectors[0].start, *(sector.end for sector in log.sectors)]
    return tuple({point.name: point for point in points}.values())


def _elevation(log: NavigationLog) -> Iterator[Caution]:
    """A field whose elevation is not in the data, and what of the flight rests on it."""
    aircraft = log.plan.aircraft
    from_it = {sector.start.name for sector in log.sectors} if aircraft.climb else set()
    to_it = {sector.end.name for sector in log.sectors} if aircraft.descent else set()
    for point in fields_used(log):
        if field_elevation_ft(point) is not None:
            continue
        phases = tuple(
            phase
            for phase, names in (("climb", from_it), ("descent", to_it))
            if point.name in names
        )
        rests = (
            message("no-elevation.phases", phases=phases, count=len(phases))
            if phases
            else message("no-elevation.cruise")
        )
        said = message("no-elevation", point=point.name, rests=rests)
        yield Caution("CHECK", said, where=point.name)


def _weather_elevation(log: NavigationLog) -> Iterator[Caution]:
    for report in log.fields:
        if report.elevation_ft is None:
            said = message("weather-no-elevation", point=report.point)
            yield Caution("CHECK", said, where=report.point)


def _runway(point: Waypoint, limit_ft: float | None) -> Iterator[Caution]:
    if limit_ft is None:
        return
    longest_ft = point.place.longest_runway_ft if isinstance(point.place, Airport) else None
    if longest_ft is None:
        said = message("runway-not-tested", point=point.name, limit_ft=limit_ft)
        yield Caution("CHECK", said, where=point.name)
    elif longest_ft < limit_ft:
        said = message("runway", point=point.name, longest_ft=longest_ft, limit_ft=limit_ft)
        yield Caution("CHECK", said, where=point.name)


def _crosswind(log: NavigationLog, report: FieldReport) -> Iterator[Caution]:
    """The crosswind on the runway that would be used: one of those long enough, if any is."""
    limits = log.plan.limits
    limit_kt = limits.crosswind_kt
    if limit_kt is None or report.crosswind_kt is None or report.crosswind_kt <= limit_kt:
        return
    point = next(one for one in log.plot.route.waypoints if one.name == report.point)
    shorter = len(runways_to_use(point, limits.runway_ft)) < len(runways_to_use(point, None))
    said = message(
        "crosswind.others-shorter" if shorter and limits.runway_ft is not None else "crosswind",
        point=report.point,
        crosswind_kt=_above(report.crosswind_kt, limit_kt),
        side=report.crosswind_from,
        runway=report.runway,
        limit_kt=limit_kt,
        runway_limit_ft=limits.runway_ft,
    )
    yield Caution("CHECK", said, where=report.point)


def _above(figure: float, limit: float) -> str:
    """A figure above a limit, in as many digits as show that it is: 16, or 15.1 for 15.04."""
    whole = round(figure)
    return f"{whole}" if whole > limit else f"{math.ceil(figure * 10.0) / 10.0:.1f}"


def _crosswind_not_tested(log: NavigationLog) -> Iterator[Caution]:
    """A limit of crosswind at fields where wind or runway is not known: never silently met."""
    limit_kt = log.plan.limits.crosswind_kt
    if limit_kt is None:
        return
    tested = {report.point for report in log.fields if report.crosswind_kt is not None}
    windy = [weather.point for weather in log.plan.weather if weather.wind]
    without_wind: list[str] = []
    without_runway: list[str] = []
    for point in fields_used(log):
        if point.name not in tested:
            has_wind = any(is_called(point, name) for name in windy)
            (without_runway if has_wind else without_wind).append(point.name)
    reasons = []
    if without_wind:
        reasons.append(message("crosswind-not-tested.wind", points=tuple(without_wind)))
    if without_runway:
        reasons.append(message("crosswind-not-tested.runway", points=tuple(without_runway)))
    if reasons:
        said = message("crosswind-not-tested", limit_kt=limit_kt, reasons=tuple(reasons))
        yield Caution("CHECK", said, where=", ".join([*without_wind, *without_runway]))


def _density(report: FieldReport) -> Iterator[Caution]:
    density_ft, elevation_ft = report.density_altitude_ft, report.elevation_ft
    if density_ft is None or elevation_ft is None:
        return
    if density_ft - elevation_ft >= DENSITY_ABOVE_FIELD_FT:
        said = message(
            "density-altitude",
            point=report.point,
            density_altitude_ft=round(density_ft, -2),
            elevation_ft=elevation_ft,
        )
        yield Caution("NOTE", said, where=report.point)
