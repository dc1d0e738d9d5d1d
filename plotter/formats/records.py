"""Legs, turning points and checkpoints as plain records, the same keys in every table of them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import accumulate
from typing import Any

from plotter.earth.angles import course_360
from plotter.formats.figures import utc
from plotter.formats.names import clean_name, clean_text, shown_name
from plotter.route.plot import Plot

Record = dict[str, Any]
TIME, ALTITUDE = "time", "planned_altitude_ft"


def leg_records(plot: Plot) -> Iterator[Record]:
    """One record a leg: ends, distance [NM], courses [°T, °M], variation [°, east positive]."""
    for leg in plot.route.legs:
        yield {
            "number": leg.number,
            "start": shown_name(leg.start.name),
            "end": shown_name(leg.end.name),
            "distance_nm": leg.distance_nm,
            "true_course_deg": course_360(leg.true_course_deg),
            "variation_deg_east": leg.variation.degrees_east,
            "magnetic_course_deg": course_360(leg.magnetic_course_deg),
        }


def point_records(plot: Plot) -> Iterator[Record]:
    """One record a turning point: what it is, elevation [ft] or ``None``, how far along [NM]."""
    whole, timed, planned = plot.route.distance_nm, has_times(plot), has_altitudes(plot)
    gone = accumulate((leg.distance_nm for leg in plot.route.legs), initial=0.0)
    for number, (point, gone_nm) in enumerate(zip(plot.route.waypoints, gone, strict=True), 1):
        yield {
            "number": number,
            "name": shown_name(point.name),
            "kind": point.kind,
            "ident": clean_name(point.ident or ""),
            "place": clean_name(point.place.name) if point.place else "",
            "elevation_ft": point.elevation_ft,
            "distance_from_start_nm": gone_nm,
            "distance_to_go_nm": max(0.0, whole - gone_nm),
            "note": clean_text(point.note),
            **({TIME: utc(point.time) if point.time else None} if timed else {}),
            **({ALTITUDE: point.altitude_ft} if planned else {}),
        }


def has_times(plot: Plot) -> bool:
    """Whether a turning point has a time [UTC]; only then is there a ``time`` in its records."""
    return any(point.time for point in plot.route.waypoints)


def has_altitudes(plot: Plot) -> bool:
    """Whether a log planned at what altitude [ft MSL] and when [UTC] each point is passed."""
    return any(point.altitude_ft is not None for point in plot.route.waypoints)


def checkpoint_records(plot: Plot) -> Iterator[Record]:
    """One record a checkpoint: its leg, how far gone and to go [NM], what a log plans for it."""
    planned = has_altitudes(plot)
    for mark in plot.checkpoints:
        yield {
            "number": mark.number,
            "name": shown_name(mark.name),
            "leg": mark.leg_number,
            "distance_from_start_nm": mark.distance_from_start_nm,
            "distance_to_go_nm": mark.distance_to_go_nm,
            **({TIME: utc(mark.time) if mark.time else None} if planned else {}),
            **({ALTITUDE: mark.altitude_ft} if planned else {}),
        }
