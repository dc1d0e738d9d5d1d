"""Day and night by the height of the sun: the one home of astral.

astral gives the sun's declination and the equation of time; the height of the sun follows from
them and the position, and every question here is answered by that height. So a summer night that
never comes, a polar night that never ends and an evening after 00Z need no case of their own.

Sources: sunrise and sunset are the centre of the sun 50′ below the horizon, civil twilight ends 6°
below it (US Naval Observatory, Almanac for Computers 1990). All is for sea level and an open
horizon, as almanacs publish it: up in the aircraft the sun sets later.

The trap: astral's own ``sunset(date)`` reads the date as UTC, and in a US evening, when it is
already tomorrow in UTC, answers for the day before. Nothing here asks by a date.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, NamedTuple

from plotter.earth.angles import half_turn, sine_cosine
from plotter.earth.position import Position
from plotter.errors import InputError

RISE_AND_SET_DEG = -50.0 / 60.0
CIVIL_TWILIGHT_DEG = -6.0
PASSENGER_MARGIN = dt.timedelta(hours=1)

Sky = Literal["changes", "above all day", "below all day"]

_DAY = dt.timedelta(days=1)
_DAY_S = 86_400.0
_SECONDS_A_DEGREE = 240.0
"""The earth turns by 360° in a day."""
_EPOCH = dt.datetime(1970, 1, 1, tzinfo=dt.UTC)
_J2000_UNIX_S = 946_728_000.0
_CENTURY_S = 36_525.0 * _DAY_S
_DEGREES_AN_HOUR = 15.0
_MOST_DEGREES_AN_HOUR = 15.1
"""The height of the sun changes no faster at one place: the earth turns 15° an hour, declination
and equation of time add less than 0.02° each."""
_CLOSE_ENOUGH = dt.timedelta(seconds=0.5)
"""An almanac prints whole minutes, and the air alone moves a sunset by more than one."""


_DAYS_REMEMBERED = 256
_INSTANTS_REMEMBERED = 4096
"""While a route is drawn its ends and their day stay, and so do the rows before the change."""


@dataclass(frozen=True, slots=True)
class SunDay:
    """The sun from one solar midnight to the next, as instants in UTC; ``None`` where it does not
    happen in between.

    Those there are stand in this order: the begin of morning civil twilight, sunrise, sunset, the
    end of evening civil twilight. ``sun`` and ``twilight`` tell why one is missing: whether the sun
    (and civil twilight's 6° below) crosses its line at all, or stays above or below.
    """

    start: dt.datetime
    noon: dt.datetime
    end: dt.datetime
    civil_twilight_begin: dt.datetime | None
    sunrise: dt.datetime | None
    sunset: dt.datetime | None
    civil_twilight_end: dt.datetime | None
    sun: Sky
    twilight: Sky


@lru_cache(_INSTANTS_REMEMBERED)
def solar_elevation_deg(position: Position, instant: dt.datetime) -> float:
    """Height [°] of the sun's centre above the horizon, without refraction.

    Raises InputError, code ``instant``, for a time without a zone.

    >>> noon = dt.datetime(2026, 6, 21, 18, 20, tzinfo=dt.UTC)
    >>> round(solar_elevation_deg(Position(41.3, -95.9), noon), 1)
    72.1
    """
    declination, hour_angle = _declination_and_hour_angle(position, instant)
    sin_latitude, cos_latitude = sine_cosine(position.latitude_deg)
    sin_declination, cos_declination = sine_cosine(declination)
    sine = sin_latitude * sin_declination
    sine += cos_latitude * cos_declination * sine_cosine(hour_angle)[1]
    return math.degrees(math.asin(max(-1.0, min(1.0, sine))))


def is_night(position: Position, instant: dt.datetime) -> bool:
    """Whether it is night: from the end of evening to the start of morning civil twilight.

    Source: 14 CFR 1.1, "Night".

    >>> is_night(Position(41.3, -95.9), dt.datetime(2026, 6, 22, 3, 0, tzinfo=dt.UTC))
    True
    """
    return solar_elevation_deg(position, instant) < CIVIL_TWILIGHT_DEG


def lights_needed(position: Position, instant: dt.datetime) -> bool:
    """Whether position lights must be on: from sunset to sunrise.

    Source: 14 CFR 91.209(a). In Alaska that rule has a measure of its own, not used here.

    >>> lights_needed(Position(41.3, -95.9), dt.datetime(2026, 6, 22, 2, 15, tzinfo=dt.UTC))
    True
    """
    return solar_elevation_deg(position, instant) < RISE_AND_SET_DEG


def first_below(
    moments: Iterable[tuple[Position, dt.datetime]], elevation_deg: float
) -> int | None:
    """Return the index of the first place and instant with the sun below a height [°], if any.

    Instants must be in order. Most are skipped, because in the time and distance since the last
    one computed the sun cannot have sunk that far.

    >>> at, noon = Position(41.3, -95.9), dt.datetime(2026, 6, 21, 18, tzinfo=dt.UTC)
    >>> first_below([(at, noon + dt.timedelta(hours=k)) for k in range(12)], -6.0)
    9
    """
    known: tuple[Position, dt.datetime, float] | None = None
    for index, (position, instant) in enumerate(moments):
        if known is not None and _least_deg(known, position, instant) >= elevation_deg:
            continue
        height_deg = solar_elevation_deg(position, instant)
        if height_deg < elevation_deg:
            return index
        known = position, instant, height_deg
    return None


def _least_deg(
    known: tuple[Position, dt.datetime, float], position: Position, instant: dt.datetime
) -> float:
    """The lowest height [°] the sun can have, given one computed before."""
    there, before, height_deg = known
    hours = (instant - before).total_seconds() / 3600.0
    north = abs(position.latitude_deg - there.latitude_deg)
    east = abs(half_turn(position.longitude_deg - there.longitude_deg))
    return height_deg - _MOST_DEGREES_AN_HOUR * hours - north - east


def passenger_currency_night(position: Position, instant: dt.datetime) -> bool:
    """Whether carrying passengers asks for night landings: an hour after sunset to an hour
    before sunrise.

    Source: 14 CFR 61.57(b). The sun must be down from an hour before until an hour after.

    >>> half_past_two = dt.datetime(2026, 6, 22, 2, 30, tzinfo=dt.UTC)
    >>> passenger_currency_night(Position(41.3, -95.9), half_past_two)
    False
    """
    start, end = instant - PASSENGER_MARGIN, instant + PASSENGER_MARGIN
    moments = [start, *_culminations(position, start, end), end]
    return all(lights_needed(position, moment) for moment in moments)


def next_crossing(
    position: Position, after: dt.datetime, elevation_deg: float, rising: bool
) -> dt.datetime | None:
    """The first instant [UTC] in the 24 h after, when the sun rises (or sinks) through a height
    [°]; ``None`` where it does not.

    >>> dusk = next_crossing(
    ...     Position(41.3, -95.9), dt.datetime(2026, 6, 22, 1, tzinfo=dt.UTC), -6.0, rising=False
    ... )
    >>> dusk and dusk.strftime("%d %H:%MZ")
    '22 02:34Z'
    """
    for instant, upward in _crossings(position, after, after + _DAY, elevation_deg):
        if upward == rising:
            return instant
    return None


def sun_day(position: Position, instant: dt.datetime) -> SunDay:
    """Twilight, sunrise and sunset of the solar day an instant lies in.

    The trap: a day by the clock, midnight to midnight, may begin with the end of the evening
    before, and in high latitudes ends before its own evening does; from one solar midnight to
    the next, what belongs together stands together. Raises InputError, code ``instant``, for a
    time without a zone.

    >>> day = sun_day(Position(41.3, -95.9), dt.datetime(2026, 6, 21, 14, tzinfo=dt.UTC))
    >>> day.sunset and day.sunset.strftime("%d %H:%MZ")
    '22 02:00Z'
    """
    _check_zone(instant)
    east_s = position.longitude_deg * _SECONDS_A_DEGREE
    number = math.floor((instant.timestamp() + east_s) / _DAY_S)
    if instant < _solar_midnight(position, number):
        number -= 1
    elif instant >= _solar_midnight(position, number + 1):
        number += 1
    return _numbered_day(position, number)


def _solar_midnight(position: Position, number: int) -> dt.datetime:
    """The instant a solar day begins at, numbered from 1970-01-01 by local mean time."""
    from astral.sun import eq_of_time

    mean_s = number * _DAY_S - position.longitude_deg * _SECONDS_A_DEGREE
    equation_s = eq_of_time((mean_s - _J2000_UNIX_S) / _CENTURY_S) * 60.0
    return _EPOCH + dt.timedelta(seconds=mean_s - equation_s)


@lru_cache(_DAYS_REMEMBERED)
def _numbered_day(position: Position, number: int) -> SunDay:
    start, end = _solar_midnight(position, number), _solar_midnight(position, number + 1)
    sunrise, sunset, sun = _day_of(position, start, end, RISE_AND_SET_DEG)
    begin, finish, twilight = _day_of(position, start, end, CIVIL_TWILIGHT_DEG)
    noon = start + (end - start) / 2
    return SunDay(start, noon, end, begin, sunrise, sunset, finish, sun, twilight)


def _day_of(
    position: Position, start: dt.datetime, end: dt.datetime, elevation_deg: float
) -> tuple[dt.datetime | None, dt.datetime | None, Sky]:
    crossings = _crossings(position, start, end, elevation_deg)
    if not crossings:
        above = solar_elevation_deg(position, start) >= elevation_deg
        return None, None, "above all day" if above else "below all day"
    up = [instant for instant, rising in crossings if rising]
    down = [instant for instant, rising in crossings if not rising]
    return up[0] if up else None, down[-1] if down else None, "changes"


def _crossings(
    position: Position, start: dt.datetime, end: dt.datetime, elevation_deg: float
) -> list[tuple[dt.datetime, bool]]:
    """Every passage through a height, in order, and whether the sun was rising.

    Between one culmination and the next the height only rises or only falls, so a change of side
    is one passage.
    """
    start, end = start.astimezone(dt.UTC), end.astimezone(dt.UTC)
    moments = [start, *_culminations(position, start, end), end]
    above = [solar_elevation_deg(position, moment) >= elevation_deg for moment in moments]
    return [
        (_passage(position, moments[i - 1], moments[i], elevation_deg, above[i]), above[i])
        for i in range(1, len(moments))
        if above[i] != above[i - 1]
    ]


def _passage(
    position: Position, start: dt.datetime, end: dt.datetime, elevation_deg: float, rising: bool
) -> dt.datetime:
    """The passage between two instants on either side of it, by halving."""
    while end - start > _CLOSE_ENOUGH:
        middle = start + (end - start) / 2
        if (solar_elevation_deg(position, middle) >= elevation_deg) == rising:
            end = middle
        else:
            start = middle
    return start + (end - start) / 2


def _culminations(position: Position, start: dt.datetime, end: dt.datetime) -> list[dt.datetime]:
    """The solar noons and midnights between two instants, in order, to half a minute.

    There the height hardly changes, so half a minute is under 0.0001° of it.
    """
    _, hour_angle = _declination_and_hour_angle(position, start)
    wait = dt.timedelta(hours=(-hour_angle % 180.0) / _DEGREES_AN_HOUR)
    moments = []
    while start + wait < end:
        moments.append(start + wait)
        wait += _DAY / 2
    return moments


def _declination_and_hour_angle(position: Position, instant: dt.datetime) -> tuple[float, float]:
    """Declination of the sun [°] and its hour angle [°, west positive, −180 ≤ x < 180]."""
    from astral.sun import eq_of_time, sun_declination

    _check_zone(instant)
    unix_s = instant.timestamp()
    century = (unix_s - _J2000_UNIX_S) / _CENTURY_S
    true_solar_min = unix_s % _DAY_S / 60.0 + eq_of_time(century)
    hour_angle = half_turn(true_solar_min / 4.0 + position.longitude_deg - 180.0)
    return sun_declination(century), hour_angle


def _check_zone(instant: dt.datetime) -> None:
    if instant.tzinfo is None:
        raise InputError("instant", instant=instant.isoformat())


# What light an instant falls into, and what the sun does next: the events that belong together.
#
# By day that is the sunset to come and the end of the twilight that follows it; at night the begin
# of the next twilight and the sunrise after it; in twilight what ends it. A night without darkness
# and a day without a sun fall out of the order of the events and need no case of their own.
#
# Sources: as :mod:`plotter.earth.sun`; which of them a pilot wants to know is common practice.

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
