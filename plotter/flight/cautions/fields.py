"""Cautions about the fields a flight uses: runway, crosswind, density altitude, elevation."""

from __future__ import annotations

import math
from collections.abc import Iterator

from plotter.flight.fields import field_elevation_ft, is_called, runways_to_use
from plotter.flight.log_values import FieldReport, NavigationLog
from plotter.messages import literal
from plotter.places.model import Airport
from plotter.route.values import Caution, Waypoint
from plotter.wording import altitude

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
        phases = [
            phase
            for phase, names in (("climb", from_it), ("descent", to_it))
            if point.name in names
        ]
        rests = (
            f"{' and '.join(phases)} {'are' if len(phases) > 1 else 'is'} figured from sea level"
            if phases
            else "whether the cruising altitude is above it is not checked"
        )
        yield Caution(
            "CHECK",
            literal(
                "no-elevation",
                f"The elevation of {point.name} is not in the data: {rests}. Look it up.",
            ),
            where=point.name,
        )


def _weather_elevation(log: NavigationLog) -> Iterator[Caution]:
    for report in log.fields:
        if report.elevation_ft is None:
            yield Caution(
                "CHECK",
                literal(
                    "weather-no-elevation",
                    f"The elevation of {report.point} is not in the data: its weather gives no "
                    "pressure or density altitude, and no temperature aloft.",
                ),
                where=report.point,
            )


def _runway(point: Waypoint, limit_ft: float | None) -> Iterator[Caution]:
    if limit_ft is None:
        return
    longest_ft = point.place.longest_runway_ft if isinstance(point.place, Airport) else None
    if longest_ft is None:
        yield Caution(
            "CHECK",
            literal(
                "runway-not-tested",
                f"The length of the runways at {point.name} is not in the data, so your limit of "
                f"{altitude(limit_ft)} is not tested: look it up.",
            ),
            where=point.name,
        )
    elif longest_ft < limit_ft:
        yield Caution(
            "CHECK",
            literal(
                "runway",
                f"The longest runway at {point.name} has {altitude(longest_ft)}, less than your limit "
                f"of {altitude(limit_ft)}.",
            ),
            where=point.name,
        )


def _crosswind(log: NavigationLog, report: FieldReport) -> Iterator[Caution]:
    """The crosswind on the runway that would be used: one of those long enough, if any is."""
    limits = log.plan.limits
    limit_kt = limits.crosswind_kt
    if limit_kt is None or report.crosswind_kt is None or report.crosswind_kt <= limit_kt:
        return
    point = next(one for one in log.plot.route.waypoints if one.name == report.point)
    shorter = len(runways_to_use(point, limits.runway_ft)) < len(runways_to_use(point, None))
    others = (
        f" Its other runways are shorter than your {altitude(limits.runway_ft)}, or of a length "
        "not in the data."
        if shorter and limits.runway_ft is not None
        else ""
    )
    yield Caution(
        "CHECK",
        literal(
            "crosswind",
            f"The crosswind at {report.point} is {_above(report.crosswind_kt, limit_kt)} kt from the "
            f"{report.crosswind_from} on runway {report.runway}, above your limit of {limit_kt:g} kt."
            f"{others}",
        ),
        where=report.point,
    )


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
    reasons = [
        f"at {', '.join(names)} {why}"
        for names, why in (
            (without_wind, "no wind is given in [[weather]]"),
            (without_runway, "the heading of a runway you can use is not in the data"),
        )
        if names
    ]
    if reasons:
        yield Caution(
            "CHECK",
            literal(
                "crosswind-not-tested",
                f"Your crosswind limit of {limit_kt:g} kt is not tested: {'; '.join(reasons)}. Look "
                "it up.",
            ),
            where=", ".join([*without_wind, *without_runway]),
        )


def _density(report: FieldReport) -> Iterator[Caution]:
    density_ft, elevation_ft = report.density_altitude_ft, report.elevation_ft
    if density_ft is None or elevation_ft is None:
        return
    if density_ft - elevation_ft >= DENSITY_ABOVE_FIELD_FT:
        yield Caution(
            "NOTE",
            literal(
                "density-altitude",
                f"Density altitude at {report.point} is {altitude(round(density_ft, -2))}, the field "
                f"lies at {altitude(elevation_ft)}: take-off and climb take longer than there.",
            ),
            where=report.point,
        )
