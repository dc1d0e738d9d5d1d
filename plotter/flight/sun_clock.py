"""The clocks of a flight: those of its fields, and the plan's own where a place has none."""

from __future__ import annotations

import datetime as dt
import zoneinfo
from functools import lru_cache

from plotter.earth.sun import Daylight, EventName, Light
from plotter.places.model import Airport
from plotter.route.values import Waypoint
from plotter.wording import HALF_A_MINUTE

UTC = "UTC"
_ZONES_REMEMBERED = 64
ALWAYS = dt.date.min
"""No flight's date: with it the local date is always printed."""


def zone_of(waypoint: Waypoint, departure: dt.datetime) -> str:
    """The name of a point's time zone; where the data has none, the offset the departure is typed
    with, as ``UTC-05:00``.
    """
    return known_zone(waypoint) or dt.timezone(departure.utcoffset() or dt.timedelta()).tzname(None)


def known_zone(waypoint: Waypoint) -> str:
    """The name of a point's time zone; empty where the data has none that can be used."""
    place = waypoint.place
    name = place.time_zone if isinstance(place, Airport) else ""
    return name if name and _zone(name) is not dt.UTC else ""


def local(instant: dt.datetime, zone_name: str) -> dt.datetime:
    """An instant by the clock of a time zone, or of an offset as :func:`zone_of` names it.

    >>> local(dt.datetime(2026, 7, 4, 14, tzinfo=dt.UTC), "America/Chicago").isoformat()
    '2026-07-04T09:00:00-05:00'
    >>> local(dt.datetime(2026, 7, 4, 14, tzinfo=dt.UTC), "UTC-05:00").isoformat()
    '2026-07-04T09:00:00-05:00'
    """
    return instant.astimezone(_zone(zone_name))


def local_date(instant: dt.datetime, zone_name: str) -> dt.date:
    """The date that is printed of an instant, to the minute, by the clock of a time zone.

    >>> evening = dt.datetime(2026, 8, 15, 0, 45, tzinfo=dt.UTC)
    >>> local_date(evening, "America/Los_Angeles").isoformat()
    '2026-08-14'
    """
    return local(instant + HALF_A_MINUTE, zone_name).date()


def clock(instant: dt.datetime, zone: str, day: dt.date | None = None) -> str:
    """A time by the local clock and in UTC, to the minute; the local date first where it is not
    ``day``.

    >>> clock(dt.datetime(2026, 7, 4, 14, 7, 40, tzinfo=dt.UTC), "America/Chicago")
    '09:08 CDT (14:08Z)'
    >>> late = dt.datetime(2026, 7, 5, 5, 10, tzinfo=dt.UTC)
    >>> clock(late, "America/Chicago", dt.date(2026, 7, 4))
    '2026-07-05 00:10 CDT (05:10Z)'
    """
    there = local(instant + HALF_A_MINUTE, zone)
    return f"{_date(there, day)}{_hours(there)} ({there.astimezone(dt.UTC):%H:%M}Z)"


def dated_clock(instant: dt.datetime, zone: str, day: dt.date | None = None) -> str:
    """As :func:`clock`, with the date in UTC too where that is not the local one.

    >>> dated_clock(
    ...     dt.datetime(2026, 8, 15, 0, 45, tzinfo=dt.UTC), "America/Los_Angeles", dt.date.min
    ... )
    '2026-08-14 17:45 PDT (2026-08-15 00:45Z)'
    """
    there = local(instant + HALF_A_MINUTE, zone)
    utc = there.astimezone(dt.UTC)
    return f"{_date(there, day)}{_hours(there)} ({_date(utc, there.date())}{utc:%H:%M}Z)"


def _date(moment: dt.datetime, known: dt.date | None) -> str:
    return "" if known in (None, moment.date()) else f"{moment:%Y-%m-%d} "


def _hours(moment: dt.datetime) -> str:
    """The time and the name of its zone; a zone that has only a number is that of UTC."""
    zone = f"{moment:%Z}"
    return f"{moment:%H:%M} {'UTC' if zone[0] in '+-' else ''}{zone}"


def clock_hours(instant: dt.datetime, zone_name: str, named: bool = False) -> str:
    """An instant to the minute by a clock, ``Z`` behind it in UTC; ``named`` adds the zone.

    >>> noon = dt.datetime(2026, 7, 4, 17, tzinfo=dt.UTC)
    >>> clock_hours(noon, "America/Chicago"), clock_hours(noon, "UTC")
    ('12:00', '17:00Z')
    >>> clock_hours(noon, "America/New_York", named=True)
    '13:00 EDT'
    """
    there = local(instant + HALF_A_MINUTE, zone_name)
    if zone_name == UTC:
        return f"{there:%H:%M}Z"
    return _hours(there) if named else f"{there:%H:%M}"


def clock_days(before: dt.datetime, after: dt.datetime, zone_name: str) -> int:
    """How many midnights of a clock lie between two instants as they are printed.

    >>> late = dt.datetime(2026, 7, 5, 4, 50, tzinfo=dt.UTC)
    >>> clock_days(late, late + dt.timedelta(minutes=20), "America/Chicago")
    1
    """
    return (local_date(after, zone_name) - local_date(before, zone_name)).days


def clock_name(instant: dt.datetime, zone_name: str) -> str:
    """What a clock is called at an instant.

    >>> clock_name(dt.datetime(2026, 7, 4, tzinfo=dt.UTC), "America/Chicago")
    'CDT'
    """
    return _hours(local(instant, zone_name)).partition(" ")[2]


def clock_offset(wall: dt.datetime, zone_name: str) -> str:
    """The offset from UTC of a clock that shows this, as ISO 8601 writes it; the first of two.

    Raises ValueError for a time that says its offset already.

    >>> clock_offset(dt.datetime(2026, 11, 20, 9), "America/Chicago")
    '-06:00'
    >>> clock_offset(dt.datetime(2026, 7, 4, 9), "Europe/Berlin")
    '+02:00'
    """
    if wall.tzinfo is not None:
        raise ValueError(f"{wall} says its offset already")
    offset = wall.replace(tzinfo=_zone(zone_name)).strftime("%z")
    return f"{offset[:3]}:{offset[3:5]}" if offset.strip("+-0") else "Z"


def iso_instant(instant: dt.datetime) -> str:
    """An instant in UTC as ISO 8601 writes it, to the second.

    >>> iso_instant(dt.datetime(2026, 7, 4, 9, tzinfo=dt.timezone(dt.timedelta(hours=-5))))
    '2026-07-04T14:00:00Z'
    """
    whole = instant.astimezone(dt.UTC) + dt.timedelta(microseconds=500_000)
    return f"{whole:%Y-%m-%dT%H:%M:%SZ}"


@lru_cache(_ZONES_REMEMBERED)
def _zone(name: str) -> dt.tzinfo:
    offset = name.removeprefix(UTC)
    try:
        if offset != name and offset:
            return dt.datetime.fromisoformat(f"1970-01-01T00:00{offset}").tzinfo or dt.UTC
        return zoneinfo.ZoneInfo(name)
    except (zoneinfo.ZoneInfoNotFoundError, ValueError):
        return dt.UTC


# What is said of the sun at a field: up or down, and what it does next, by the field's clock.

TERMS: dict[EventName, str] = {
    "civil twilight begins": "Beginning of civil twilight",
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

    >>> from plotter.earth.sun import daylight
    >>> from plotter.earth.position import Position
    >>> light_said(daylight(Position(78.2, 15.6), dt.datetime(2026, 6, 21, tzinfo=dt.UTC)))
    'up; it does not set in the next 24 hours'
    """
    said = _LIGHTS[sun.light]
    return said if sun.events else f"{said}; {_NOTHING_AHEAD.get(sun.light, _NEITHER)}"


def events_said(sun: Daylight, zone: str, day: dt.date) -> list[tuple[str, str]]:
    """What the sun does next, each with its time; with the local date where that is not ``day``.

    >>> from plotter.earth.sun import daylight
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
