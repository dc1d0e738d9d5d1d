"""The plot of a log with the time and altitude at each of its points, for files that hold them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

from plotter.flight.fields import field_elevation_ft
from plotter.flight.log_values import NavigationLog
from plotter.route.plot import Plot
from plotter.route.route import Leg, Route, Waypoint


class Passing(NamedTuple):
    """When [UTC, to the second] and how high [ft MSL] a point is passed."""

    time: dt.datetime
    altitude_ft: float


def _passing(instant: dt.datetime, altitude_ft: float) -> Passing:
    whole = (instant + dt.timedelta(microseconds=500_000)).replace(microsecond=0)
    return Passing(whole, altitude_ft)


def timed_plot(log: NavigationLog) -> Plot:
    """The plot of a log, its turning points and checkpoints with planned time and altitude,
    and its cautions.

    A field the flight takes off from or lands at has its own elevation, and the time of take-off
    or, after it, of landing.
    """
    plot = log.plot
    points = _timed_points(log)
    legs = tuple(
        Leg(leg.number, points[leg.number - 1], points[leg.number], leg.line, leg.variation)
        for leg in plot.route.legs
    )
    by_name = _checkpoint_passings(log)
    marks = tuple(
        replace(mark, time=by_name[mark.name].time, altitude_ft=by_name[mark.name].altitude_ft)
        if mark.name in by_name
        else mark
        for mark in plot.checkpoints
    )
    route = Route(points, legs, plot.route.line)
    return replace(plot, route=route, checkpoints=marks, cautions=log.told)


def _timed_points(log: NavigationLog) -> tuple[Waypoint, ...]:
    points = log.plot.route.waypoints
    rows = [row for row in log.rows if row.end.kind == "waypoint"]
    first = _passing(log.sectors[0].take_off, log.rows[0].start_altitude_ft)
    passed = [first, *(_passing(row.eta, row.altitude_ft) for row in rows)]
    fields = {0} | {sector.rows[-1].course.leg.number for sector in log.sectors}
    return tuple(
        _timed(point, passing, index in fields)
        for index, (point, passing) in enumerate(zip(points, passed, strict=True))
    )


def _timed(point: Waypoint, passing: Passing, is_field: bool) -> Waypoint:
    elevation_ft = field_elevation_ft(point) if is_field else None
    altitude_ft = passing.altitude_ft if elevation_ft is None else elevation_ft
    return replace(point, time=passing.time, altitude_ft=altitude_ft)


def _checkpoint_passings(log: NavigationLog) -> Mapping[str, Passing]:
    return {
        row.end.name: _passing(row.eta, row.altitude_ft)
        for row in log.rows
        if row.end.kind == "checkpoint"
    }
