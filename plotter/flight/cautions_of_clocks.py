"""Cautions about clocks: an offset that is not the field's own, a place whose zone is not known."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from plotter.flight.log_values import NavigationLog
from plotter.flight.sun_clock import UTC, dated_clock, known_zone, local, zone_of
from plotter.route.cautions import Caution


def clock_cautions(log: NavigationLog) -> Iterator[Caution]:
    """Whether the departure is typed by another clock than the field's, and what clock a place
    without a time zone is given.
    """
    yield from _typed_offset(log)
    points = [log.sectors[0].start, *(sector.end for sector in log.sectors)]
    unknown = dict.fromkeys(point.name for point in points if not known_zone(point))
    zone = dt.timezone(log.plan.departure.utcoffset() or dt.timedelta()).tzname(None)
    clock = "in UTC" if zone == UTC else f"by {zone}"
    for name in unknown:
        yield Caution(
            "NOTE",
            "no-time-zone",
            f"No time zone is known for {name}: its times are printed {clock}, as the departure "
            "is typed.",
            where=name,
        )


def _typed_offset(log: NavigationLog) -> Iterator[Caution]:
    """An offset kept over a change of the clocks, or of another zone; UTC is typed on purpose."""
    departure, start = log.plan.departure, log.sectors[0].start
    zone = zone_of(start, departure)
    typed = departure.utcoffset()
    if not typed or typed == local(departure, zone).utcoffset():
        return
    as_typed = f"{departure:%Y-%m-%d %H:%M} {dt.timezone(typed).tzname(None)}"
    yield Caution(
        "CHECK",
        "departure-offset",
        f"The departure is typed as {as_typed}, which is not the clock of {start.name} then: take-"
        f"off is {dated_clock(departure, zone, departure.date())}. Where {departure:%H:%M} is the "
        f"local time, write {departure.replace(tzinfo=None).isoformat()}{_own_offset(log)}.",
        where=start.name,
    )


def _own_offset(log: NavigationLog) -> str:
    """The offset of the field's clock at the time that is typed, as a plan file writes it."""
    departure = log.plan.departure
    zone = local(departure, zone_of(log.sectors[0].start, departure)).tzinfo
    return departure.replace(tzinfo=zone).isoformat()[-6:]
