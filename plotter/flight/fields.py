"""The fields a flight uses, and what the weather at each means: altitudes and runway wind."""

from __future__ import annotations

from collections.abc import Iterator

from plotter.earth.atmosphere import density_altitude_ft, pressure_altitude_ft
from plotter.errors import InputError, Where
from plotter.flight.air.sky import Reported
from plotter.flight.log_values import FieldReport
from plotter.flight.plan.values import Plan, Weather
from plotter.flight.wind import RunwayWind, Wind, runway_wind
from plotter.places.model import Airport, Runway
from plotter.route.measuring import FlightMagnetism
from plotter.route.values import Route, Waypoint


def is_called(waypoint: Waypoint, name: str) -> bool:
    """Whether a plan's word for a point means this one, whatever the case of its letters."""
    wanted = name.strip().casefold()
    place = waypoint.place
    codes = place.codes if isinstance(place, Airport) else (waypoint.ident or "",)
    names = (waypoint.name, waypoint.text, *codes)
    return wanted in {each.casefold() for each in names if each}


def field_elevation_ft(waypoint: Waypoint) -> float | None:
    """Elevation [ft MSL] of a point of the route, ``None`` where it is not in the data."""
    if waypoint.elevation_ft is not None:
        return waypoint.elevation_ft
    return waypoint.place.elevation_ft if waypoint.place else None


def reports_of(plan: Plan, route: Route) -> tuple[Reported, ...]:
    """The plan's weather with where it was made.

    Raises InputError, code ``weather``, for a point that is not on the route.
    """
    return tuple(
        Reported(weather, point.position, field_elevation_ft(point))
        for row, weather in enumerate(plan.weather, start=1)
        for point in [_point_of(weather, route, row)]
    )


def weather_faults(plan: Plan, route: Route) -> Iterator[InputError]:
    """The weather that is of no point of the route."""
    for row, weather in enumerate(plan.weather, start=1):
        try:
            _point_of(weather, route, row)
        except InputError as fault:
            yield fault


def field_reports(plan: Plan, route: Route, magnetism: FlightMagnetism) -> tuple[FieldReport, ...]:
    """What the weather means at each point that has some, in the order of the plan."""
    return tuple(
        _report(weather, _point_of(weather, route, row), magnetism, plan.limits.runway_ft)
        for row, weather in enumerate(plan.weather, start=1)
    )


def _point_of(weather: Weather, route: Route, row: int) -> Waypoint:
    for point in route.waypoints:
        if is_called(point, weather.point):
            return point
    names = [point.name for point in route.waypoints]
    raise InputError(
        "weather",
        where=Where(key=f"weather.{row}.point"),
        candidates=names,
        name="[[weather]] point",
        point=weather.point,
        names=tuple(names),
    )


def _report(
    weather: Weather, point: Waypoint, magnetism: FlightMagnetism, runway_ft: float | None
) -> FieldReport:
    elevation_ft = field_elevation_ft(point)
    pressure_ft = density_ft = None
    if weather.altimeter_hpa is not None and elevation_ft is not None:
        pressure_ft = pressure_altitude_ft(elevation_ft, weather.altimeter_hpa)
        if weather.temperature_c is not None:
            density_ft = density_altitude_ft(pressure_ft, weather.temperature_c)
    report = FieldReport(point.name, elevation_ft, pressure_ft, density_ft)
    if weather.wind is None:
        return report
    wind = weather.wind.true_wind(magnetism.degrees_east(point.position))
    best = _best_runway(point, wind, runway_ft)
    if best is None:
        return report
    name, on_it = best
    return FieldReport(
        point.name,
        elevation_ft,
        pressure_ft,
        density_ft,
        name,
        on_it.headwind_kt,
        on_it.crosswind_kt,
        on_it.crosswind_from,
    )


def _best_runway(
    point: Waypoint, wind: Wind, runway_ft: float | None
) -> tuple[str, RunwayWind] | None:
    """Of the runways that are long enough the one with the most headwind, and so the least across.

    The data's headings are true.
    """
    ends = [
        (name, heading)
        for runway in runways_to_use(point, runway_ft)
        for name, heading in (
            (runway.end_1, runway.heading_1_true_deg),
            (runway.end_2, runway.heading_2_true_deg),
        )
        if name and heading is not None
    ]
    winds = [(name, runway_wind(heading, wind)) for name, heading in ends]
    return max(winds, key=lambda pair: pair[1].headwind_kt, default=None)


def runways_to_use(point: Waypoint, runway_ft: float | None) -> tuple[Runway, ...]:
    """The open runways of a field that have the length asked for [ft]; where none has, all."""
    if not isinstance(point.place, Airport):
        return ()
    runways = point.place.open_runways
    if runway_ft is None:
        return runways
    return tuple(one for one in runways if one.length_ft and one.length_ft >= runway_ft) or runways
