"""Cautions about light: each clock is asked of its own place at its own time."""

from __future__ import annotations

import datetime as dt

import pytest
from flights import plan

from plotter.flight.cautions.light import sun_cautions
from plotter.flight.log import navigation_log
from plotter.places.store import Store


def said(store: Store, hour: int, minute: int) -> list[tuple[str, str]]:
    """Code and place of each, of a flight of 2:14 h on 4 July at that local time."""
    zone = dt.timezone(dt.timedelta(hours=-5))
    departure = dt.datetime(2026, 7, 4, hour, minute, tzinfo=zone)
    log = navigation_log(plan(departure=departure), store)
    return [(one.code, one.where) for one in sun_cautions(log)]


# Rochester, Minnesota, 4 July: sunrise near 5:34, sunset near 20:54 CDT; Duluth: 5:18, 21:06 (an
# almanac's figures, from memory, to some minutes). Civil twilight is about 35 min longer.
@pytest.mark.parametrize(
    ("hour", "minute", "wanted"),
    [
        (3, 30, [("night", "KDLH"), ("position-lights", "KDLH"), ("night-currency", "KRST")]),
        (4, 25, [("night", "KDLH"), ("position-lights", "KDLH"), ("night-currency", "KRST")]),
        (4, 45, [("night", "KDLH"), ("position-lights", "KDLH")]),
        (5, 15, [("position-lights", "KDLH")]),
        (12, 0, []),
        (18, 30, []),
        (19, 10, [("position-lights", "KDLH")]),
        (19, 35, [("night", "KDLH"), ("position-lights", "KDLH")]),
        (20, 10, [("night", "KDLH"), ("position-lights", "KDLH"), ("night-currency", "KDLH")]),
    ],
)
def test_take_off_and_landing_are_each_asked_at_their_own_time(
    real_store: Store, hour: int, minute: int, wanted: list[tuple[str, str]]
) -> None:
    """Out of the dark into the day only the departure needs currency, into the dark only the end:
    at the time of landing it would be dark, or light, at the departure as well."""
    assert said(real_store, hour, minute) == wanted
