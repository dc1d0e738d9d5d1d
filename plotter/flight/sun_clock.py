"""The sun at the fields of a flight, by their own clocks."""

from __future__ import annotations

import datetime as dt
import zoneinfo

from plotter.earth.sun import SunTimes, sun_times
from plotter.places.model import Airport
from plotter.route.route import Waypoint

UTC = "UTC"


def zone_of(waypoint: Waypoint) -> str:
    """The name of a point's time zone; UTC where the data has none for it."""
    place = waypoint.place
    name = place.time_zone if isinstance(place, Airport) else ""
    return name if name and _zone(name) is not dt.UTC else UTC


def local(instant: dt.datetime, zone_name: str) -> dt.datetime:
    """An instant by the clock of a time zone.

    >>> local(dt.datetime(2026, 7, 4, 14, tzinfo=dt.UTC), "America/Chicago").isoformat()
    '2026-07-04T09:00:00-05:00'
    """
    return instant.astimezone(_zone(zone_name))


def sun_of_day(waypoint: Waypoint, instant: dt.datetime, zone_name: str) -> SunTimes:
    """Sunrise, sunset and twilight on the local day of an instant at a point."""
    zone = _zone(zone_name)
    return sun_times(waypoint.position, instant.astimezone(zone).date(), zone)


def iso_instant(instant: dt.datetime) -> str:
    """An instant in UTC as ISO 8601 writes it, to the second.

    >>> iso_instant(dt.datetime(2026, 7, 4, 9, tzinfo=dt.timezone(dt.timedelta(hours=-5))))
    '2026-07-04T14:00:00Z'
    """
    whole = instant.astimezone(dt.UTC) + dt.timedelta(microseconds=500_000)
    return f"{whole:%Y-%m-%dT%H:%M:%SZ}"


def _zone(name: str) -> dt.tzinfo:
    try:
        return zoneinfo.ZoneInfo(name)
    except (zoneinfo.ZoneInfoNotFoundError, ValueError):
        return dt.UTC
