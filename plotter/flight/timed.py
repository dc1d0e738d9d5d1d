"""The plot of a log with the time and altitude at each of its points, for files that hold them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

from plotter.flight.log_values import NavigationLog
from plotter.route.plotting import Plot
from plotter.route.values import Route, Waypoint


class Passing(NamedTuple):
    """When [UTC, to the second] and how high [ft MSL] a point is passed."""

    time: dt.datetime
    altitude_ft: float | None


def _passing(instant: dt.datetime, altitude_ft: float | None) -> Passing:
    whole = (instant + dt.timedelta(microseconds=500_000)).replace(microsecond=0)
    return Passing(whole, altitude_ft)


def timed_plot(log: NavigationLog) -> Plot:
    """The plot of a log, its turning points and checkpoints with planned time and altitude,
    and its cautions.

    Each point has the figures of the row that ends there: a field of landing the altitude at which
    the descent ends over it. The first, still on the ground, has the time of take-off alone.
    """
    plot = log.plot
    points = _timed_points(log)
    legs = tuple(
        replace(leg, start=points[leg.number - 1], end=points[leg.number])
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
    first = _passing(log.sectors[0].take_off, None)
    passed = [first, *(_passing(row.eta, row.altitude_ft) for row in rows)]
    return tuple(
        replace(point, time=passing.time, altitude_ft=passing.altitude_ft)
        for point, passing in zip(points, passed, strict=True)
    )


def _checkpoint_passings(log: NavigationLog) -> Mapping[str, Passing]:
    return {
        row.end.name: _passing(row.eta, row.altitude_ft)
        for row in log.rows
        if row.end.kind == "checkpoint"
    }
