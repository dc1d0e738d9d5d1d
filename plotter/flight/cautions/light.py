"""Cautions about light: three clocks kept apart.

Night is from the end of evening to the start of morning civil twilight (14 CFR 1.1; ICAO Annex 2,
chapter 1); position lights are needed from sunset to sunrise (91.209; ICAO Annex 2, 3.2.3); to
carry passengers from an hour after sunset to an hour before sunrise asks for recent night landings
(61.57, under US law alone). ICAO's is from memory, and a state may set other hours.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from plotter.earth.position import Position
from plotter.earth.sun import (
    CIVIL_TWILIGHT_DEG,
    RISE_AND_SET_DEG,
    first_below,
    lights_needed,
    next_crossing,
    passenger_currency_night,
)
from plotter.flight.log_values import NavigationLog, Sector
from plotter.flight.sun_clock import UTC, clock, dated_clock, known_zone, local, zone_of
from plotter.flight.whose_rules import law_over
from plotter.messages import message
from plotter.route.values import Caution

# Cautions about clocks: an offset that is not the field's own, a place whose zone is not known.


def clock_cautions(log: NavigationLog) -> Iterator[Caution]:
    """Whether the departure is typed by another clock than the field's, and what clock a place
    without a time zone is given.
    """
    yield from _typed_offset(log)
    points = [log.sectors[0].start, *(sector.end for sector in log.sectors)]
    unknown = dict.fromkeys(point.name for point in points if not known_zone(point))
    zone = dt.timezone(log.plan.departure.utcoffset() or dt.timedelta()).tzname(None)
    for name in unknown:
        yield Caution("NOTE", message("no-time-zone", point=name, zone=zone or UTC), where=name)


def _typed_offset(log: NavigationLog) -> Iterator[Caution]:
    """An offset kept over a change of the clocks, or of another zone; UTC is typed on purpose."""
    departure, start = log.plan.departure, log.sectors[0].start
    zone = zone_of(start, departure)
    typed = departure.utcoffset()
    if not typed or typed == local(departure, zone).utcoffset():
        return
    said = message(
        "departure-offset",
        typed=f"{departure:%Y-%m-%d %H:%M} {dt.timezone(typed).tzname(None)}",
        point=start.name,
        take_off=dated_clock(departure, zone, departure.date()),
        time=f"{departure:%H:%M}",
        instead=f"{departure.replace(tzinfo=None).isoformat()}{_own_offset(log)}",
    )
    yield Caution("CHECK", said, where=start.name)


def _own_offset(log: NavigationLog) -> str:
    """The offset of the field's clock at the time that is typed, as a plan file writes it."""
    departure = log.plan.departure
    zone = local(departure, zone_of(log.sectors[0].start, departure)).tzinfo
    return departure.replace(tzinfo=zone).isoformat()[-6:]


def sun_cautions(log: NavigationLog) -> Iterator[Caution]:
    """Night, lights, passengers, and the pilot's own margin of daylight, sector by sector."""
    for sector in log.sectors:
        yield from _night(sector, log.local_date)
        yield from _lights(sector)
        yield from _passengers(log, sector)
        yield from _margin(sector, log.plan.limits.daylight_margin_min, log.local_date)


def _night(sector: Sector, day: dt.date) -> Iterator[Caution]:
    first = first_below(_moments(sector), CIVIL_TWILIGHT_DEG)
    if first is None:
        return
    if first == 0:
        at = clock(sector.take_off, sector.start_zone, day)
        since = message("night.take-off", point=sector.start.name, at=at)
    else:
        row = sector.rows[first - 1]
        at = clock(row.eta, sector.end_zone, day)
        since = message("night.on-the-way", point=row.end.name, at=at)
    source = sector.law.source("14 CFR 1.1", "ICAO Annex 2, chapter 1")
    yield Caution("CHECK", message("night", since=since), source, sector.end.name)


def _moments(sector: Sector) -> list[tuple[Position, dt.datetime]]:
    """Position and time at take-off and at the end of each row."""
    rows = ((row.end.position, row.eta) for row in sector.rows)
    return [(sector.start.position, sector.take_off), *rows]


def _lights(sector: Sector) -> Iterator[Caution]:
    if first_below(_moments(sector), RISE_AND_SET_DEG) is not None:
        said = message("position-lights", end=sector.end.name)
        source = sector.law.source("14 CFR 91.209(a)", "ICAO Annex 2, 3.2.3")
        yield Caution("NOTE", said, source, sector.end.name)


def _passengers(log: NavigationLog, sector: Sector) -> Iterator[Caution]:
    """Night currency, only where the law of the United States holds: others ask otherwise."""
    for point, instant in (
        (sector.start, sector.take_off),
        (sector.end, sector.landing),
    ):
        law = law_over((point,), log.plan, log.plot.route)
        if law.is_us and passenger_currency_night(point.position, instant):
            said = message("night-currency", point=point.name)
            yield Caution("CHECK", said, "14 CFR 61.57(b)", point.name)


def _margin(sector: Sector, margin_min: float | None, day: dt.date) -> Iterator[Caution]:
    """The pilot's own margin: the sun must be up at landing and so much later."""
    if margin_min is None:
        return
    place, landing = sector.end.position, sector.landing
    values = {
        "point": sector.end.name,
        "at": clock(landing, sector.end_zone, day),
        "limit_min": margin_min,
    }
    sunset = next_crossing(place, landing, RISE_AND_SET_DEG, rising=False)
    if lights_needed(place, landing):
        said = message("daylight-margin.down", **values)
    elif sunset is not None and sunset - landing < dt.timedelta(minutes=margin_min):
        left = (sunset - landing) // dt.timedelta(minutes=1)
        said = message("daylight-margin.short", left_min=left, **values)
    else:
        return
    yield Caution("CHECK", said, where=sector.end.name)
