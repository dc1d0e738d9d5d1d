"""What stands beside the route on the page: faults of settings, the departure's clock, stations."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from plotter.errors import InputError, PlotterError
from plotter.flight.sun_clock import clock_offset, known_zone
from plotter.flight.winds_aloft import read_winds_aloft
from plotter.formats.faults import faults_of
from plotter.maps.labels import visible
from plotter.route.route import Waypoint

Node = dict[str, Any]
_SETTINGS = {"checkpoint-interval": "every", "model-date": "date", "altitude": "altitude"}
_CLOCK = re.compile(r"T(\d\d):(\d\d)")


def setting_faults(fault: PlotterError) -> list[Node]:
    """The faults that are those of a setting, not of the route, each with its field's name."""
    return [
        {"field": _SETTINGS[each.code], "words": visible(each.message)}
        for each in faults_of(fault)
        if each.code in _SETTINGS
    ]


def clock_node(start: Waypoint, day: dt.date, plan: Mapping[str, Any] | None) -> Node:
    """The offset of the departure's clock on a day, at the plan's time of day, and whose it is.

    The offset is empty where the data has no clock for that point.
    """
    zone, name = known_zone(start), visible(start.name)
    if not zone:
        return {"offset": "", "words": f"no clock of {name} is in the data: type the offset"}
    offset = clock_offset(dt.datetime.combine(day, _time_of(plan)), zone)
    return {"offset": offset, "words": f"the clock of {name} ({zone})"}


def stations_of(plan: Mapping[str, Any] | None) -> list[str]:
    """The stations of the winds aloft forecast in a plan; none where it cannot be read."""
    table = (plan or {}).get("winds_aloft")
    text = table.get("text") if isinstance(table, dict) else None
    return list(_stations_in(text)) if isinstance(text, str) else []


@lru_cache(maxsize=8)
def _stations_in(text: str) -> tuple[str, ...]:
    try:
        return tuple(visible(each.station) for each in read_winds_aloft(text).stations)
    except InputError:
        return ()


def _time_of(plan: Mapping[str, Any] | None) -> dt.time:
    flight = (plan or {}).get("flight")
    found = _CLOCK.search(str(flight.get("departure"))) if isinstance(flight, dict) else None
    hour, minute = (int(found[1]), int(found[2])) if found else (12, 0)
    return dt.time(hour, minute) if hour < 24 and minute < 60 else dt.time(12)
