"""Clocks of the fields of a flight: midnight, daylight saving, other zones, polar days."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from flights import all_cruise, plan

from plotter.flight.cautions_of_sun import clock
from plotter.flight.log import navigation_log
from plotter.flight.log_values import Sector
from plotter.flight.sun_clock import iso_instant, local
from plotter.places.store import Store


def sector(store: Store, departure: str, **changes: Any) -> Sector:
    made = plan(departure=dt.datetime.fromisoformat(departure), **changes)
    return navigation_log(made, store).sectors[0]


def landing(one: Sector) -> str:
    return clock(one.landing, one.end_zone)


def test_a_flight_past_midnight_lands_on_the_next_day(real_store: Store) -> None:
    one = sector(real_store, "2026-07-04T23:50:00-05:00")
    assert local(one.take_off, one.start_zone).date() == dt.date(2026, 7, 4)
    assert local(one.landing, one.end_zone).date() == dt.date(2026, 7, 5)
    assert one.end_sun.local_date == dt.date(2026, 7, 5)


def test_the_hour_that_comes_twice_is_told_apart(real_store: Store) -> None:
    """Daylight saving ends on 1 November 2026 at 02:00 (US Energy Policy Act of 2005): 00:30 CDT
    and 2 h 15 min are 01:45 CST.
    """
    one = sector(real_store, "2026-11-01T00:30:00-05:00")
    assert clock(one.take_off, one.start_zone) == "00:30 CDT (05:30Z)"
    assert landing(one) == "01:45 CST (07:45Z)"
    assert one.landing - one.take_off == dt.timedelta(minutes=one.ete_min)


def test_the_hour_that_is_left_out_is_not_flown(real_store: Store) -> None:
    """Daylight saving begins on 8 March 2026: 01:30 CST and 2 h 15 min are 04:45 CDT."""
    one = sector(real_store, "2026-03-08T01:30:00-06:00")
    assert clock(one.take_off, one.start_zone) == "01:30 CST (07:30Z)"
    assert landing(one) == "04:45 CDT (09:45Z)"


def test_new_year_is_crossed_by_both_clocks_each_in_its_time(real_store: Store) -> None:
    one = sector(real_store, "2026-12-31T17:30:00-06:00")
    assert iso_instant(one.landing).startswith("2027-01-01T01:4")
    assert local(one.landing, one.end_zone).date() == dt.date(2026, 12, 31)


def test_each_field_has_its_own_zone(real_store: Store) -> None:
    """Sioux Falls keeps Central, Rapid City Mountain time."""
    plane = all_cruise(fuel_on_board=53.0)
    one = sector(real_store, "2026-07-04T09:00:00-05:00", route="KFSD KRAP", aircraft=plane)
    assert (one.start_zone, one.end_zone) == ("America/Chicago", "America/Denver")
    assert clock(one.landing, one.start_zone).split()[1] == "CDT"
    assert landing(one).split()[1] == "MDT"
    assert landing(one).split()[2] == clock(one.landing, one.start_zone).split()[2]


def test_across_the_date_line_the_local_day_changes_and_time_goes_on(real_store: Store) -> None:
    """Samoa is a day ahead of American Samoa, 50 to 100 NM away."""
    one = sector(
        real_store,
        "2026-07-04T09:00:00-11:00",
        route="NSTU NSFA",
        aircraft=all_cruise(),
        cruise_altitudes_ft=(4500.0,),
    )
    assert local(one.take_off, one.start_zone).date() == dt.date(2026, 7, 4)
    assert local(one.landing, one.end_zone).date() == dt.date(2026, 7, 5)
    assert one.landing - one.take_off < dt.timedelta(hours=1)


@pytest.mark.parametrize(
    ("departure", "words", "minutes"),
    [
        ("2026-06-20T23:00:00+00:00", "above all day", 30.0),
        ("2026-12-20T11:00:00+00:00", "below all day", 45.0),
    ],
)
def test_polar_day_and_night(real_store: Store, departure: str, words: str, minutes: float) -> None:
    """Svalbard: midnight sun in June, polar night in December, also at noon."""
    one = sector(real_store, departure, route="ENSB ENAS", cruise_altitudes_ft=(5500.0,))
    assert one.end_sun.sun == words
    assert one.end_sun.sunset is None
    assert one.reserve.minutes == minutes


def test_day_turns_to_night_within_the_last_three_quarters_of_an_hour(real_store: Store) -> None:
    """Landing by day, and night before a night reserve would be used up: 45 min are kept."""
    one = sector(real_store, "2026-07-04T19:30:00-05:00")
    assert one.reserve.night_at_eta is False
    assert one.reserve.night_later is True
    assert one.reserve.minutes == 45.0
