"""What is said of the sun at a field: up or down, and what it does next, by the field's clock."""

from __future__ import annotations

import datetime as dt

from plotter.earth.daylight import Daylight, EventName, Light
from plotter.flight.sun_clock import clock

TERMS: dict[EventName, str] = {
    "civil twilight begins": "Begin of civil twilight",
    "sunrise": "Sunrise",
    "sunset": "Sunset",
    "civil twilight ends": "End of civil twilight",
}
_LIGHTS: dict[Light, str] = {
    "day": "up",
    "evening twilight": "down, evening civil twilight",
    "twilight": "down, civil twilight",
    "morning twilight": "down, morning civil twilight",
    "night": "down, night",
}
_NOTHING_AHEAD: dict[Light, str] = {
    "day": "it does not set in the next 24 hours",
    "night": "no civil twilight in the next 24 hours",
}
_NEITHER = "neither sunrise nor night in the next 24 hours"


def light_said(sun: Daylight) -> str:
    """Whether the sun is up, and where nothing is to come, that.

    >>> from plotter.earth.daylight import daylight
    >>> from plotter.earth.position import Position
    >>> light_said(daylight(Position(78.2, 15.6), dt.datetime(2026, 6, 21, tzinfo=dt.UTC)))
    'up; it does not set in the next 24 hours'
    """
    said = _LIGHTS[sun.light]
    return said if sun.events else f"{said}; {_NOTHING_AHEAD.get(sun.light, _NEITHER)}"


def events_said(sun: Daylight, zone: str, day: dt.date) -> list[tuple[str, str]]:
    """What the sun does next, each with its time; with the local date where that is not ``day``.

    >>> from plotter.earth.daylight import daylight
    >>> from plotter.earth.position import Position
    >>> june = daylight(Position(66.6, -145.3), dt.datetime(2026, 6, 1, 7, 40, tzinfo=dt.UTC))
    >>> events_said(june, "America/Anchorage", dt.date(2026, 5, 31))[1]
    ('Sunrise', '2026-06-01 02:28 AKDT (10:28Z), civil twilight until then')
    """
    times = [clock(event.instant, zone, day) for event in sun.events]
    if times:
        times[-1] += _between(sun)
    return [(TERMS[event.name], time) for event, time in zip(sun.events, times, strict=True)]


def _between(sun: Daylight) -> str:
    """What must be known of events that do not follow each other in the ordinary way."""
    names = [event.name for event in sun.events]
    if names == ["sunset", "sunrise"]:
        return ", civil twilight until then"
    if names == ["civil twilight begins", "civil twilight ends"]:
        return ", no sunrise before it"
    if names == ["civil twilight ends"] and sun.light == "twilight":
        return ", no sunrise before it"
    return ", civil twilight for more than a day after it" if names == ["sunset"] else ""


def sun_said(sun: Daylight, zone: str, day: dt.date) -> str:
    """All of it in one line."""
    events = [f"{term[0].lower()}{term[1:]} {time}" for term, time in events_said(sun, zone, day)]
    return "; ".join([light_said(sun), *([", ".join(events)] if events else [])])
