"""What light an instant falls into, and what the sun does next: the events that belong together.

By day that is the sunset to come and the end of the twilight that follows it; at night the begin of
the next twilight and the sunrise after it; in twilight what ends it. A night without darkness and a
day without a sun fall out of the order of the events and need no case of their own.

Sources: as :mod:`plotter.earth.sun`; which of them a pilot wants to know is common practice.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from typing import Literal, NamedTuple

from plotter.earth.position import Position
from plotter.earth.sun import SunDay, is_night, lights_needed, sun_day

Light = Literal["day", "evening twilight", "twilight", "morning twilight", "night"]
"""``twilight`` alone is that of a night without darkness or of a day without a sunrise."""
EventName = Literal["civil twilight begins", "sunrise", "sunset", "civil twilight ends"]


class SunEvent(NamedTuple):
    """One passage of the sun through the horizon or through 6° below it [UTC]."""

    name: EventName
    instant: dt.datetime


class Daylight(NamedTuple):
    """The light at an instant, what the sun does next, and the solar day it is in.

    ``events`` are in order; the first is past only in the evening, whose sunset is told too. They
    reach to the end of the next solar day: none there means none within 24 h.
    """

    light: Light
    events: tuple[SunEvent, ...]
    day: SunDay


def daylight(position: Position, instant: dt.datetime) -> Daylight:
    """The light at a place, and the events of the sun that end it.

    Raises InputError, code ``instant``, for a time without a zone.

    >>> evening = dt.datetime(2026, 6, 22, 1, tzinfo=dt.UTC)
    >>> light, events, _ = daylight(Position(41.3, -95.9), evening)
    >>> light, [f"{one.name} {one.instant:%H:%MZ}" for one in events]
    ('day', ['sunset 02:00Z', 'civil twilight ends 02:34Z'])
    """
    day = sun_day(position, instant)
    known = [*_events(day), *_events(sun_day(position, day.end))]
    ahead = tuple(event for event in known if event.instant > instant)
    if not lights_needed(position, instant):
        return Daylight("day", ahead[:2], day)
    if is_night(position, instant):
        return Daylight("night", ahead[:2], day)
    since = tuple(event for event in _events(day) if event.instant <= instant)
    return _twilight(since[-1:], ahead[:1], day)


def _twilight(since: tuple[SunEvent, ...], ahead: tuple[SunEvent, ...], day: SunDay) -> Daylight:
    began, ends = (one[0].name if one else None for one in (since, ahead))
    if began == "sunset":
        return Daylight("evening twilight" if ends != "sunrise" else "twilight", since + ahead, day)
    if ends == "sunrise":
        return Daylight("morning twilight" if began else "twilight", ahead, day)
    return Daylight("twilight", ahead, day)


def _events(day: SunDay) -> Iterator[SunEvent]:
    named: tuple[tuple[EventName, dt.datetime | None], ...] = (
        ("civil twilight begins", day.civil_twilight_begin),
        ("sunrise", day.sunrise),
        ("sunset", day.sunset),
        ("civil twilight ends", day.civil_twilight_end),
    )
    return (SunEvent(name, instant) for name, instant in named if instant is not None)
