"""The clocks of a flight: those of its fields, and the plan's own where a place has none."""

from __future__ import annotations

import datetime as dt
import zoneinfo

from plotter.places.model import Airport
from plotter.route.route import Waypoint
from plotter.wording import HALF_A_MINUTE

UTC = "UTC"
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


def _zone(name: str) -> dt.tzinfo:
    offset = name.removeprefix(UTC)
    try:
        if offset != name and offset:
            return dt.datetime.fromisoformat(f"1970-01-01T00:00{offset}").tzinfo or dt.UTC
        return zoneinfo.ZoneInfo(name)
    except (zoneinfo.ZoneInfoNotFoundError, ValueError):
        return dt.UTC
