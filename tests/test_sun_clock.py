"""Clocks of the fields of a flight: midnight, daylight saving, other zones, polar days."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from flights import all_cruise, plan, printed_rows

from plotter.earth.position import Position
from plotter.flight.columns import COLUMNS
from plotter.flight.log import navigation_log
from plotter.flight.log_values import Sector
from plotter.flight.sun_clock import clock, clock_days, dated_clock, iso_instant, local, zone_of
from plotter.places.store import Store
from plotter.route.values import Waypoint


def sector(store: Store, departure: str, **changes: Any) -> Sector:
    made = plan(departure=dt.datetime.fromisoformat(departure), **changes)
    return navigation_log(made, store).sectors[0]


def landing(one: Sector) -> str:
    return clock(one.landing, one.end_zone)


def test_a_flight_past_midnight_lands_on_the_next_day(real_store: Store) -> None:
    one = sector(real_store, "2026-07-04T23:50:00-05:00")
    assert local(one.take_off, one.start_zone).date() == dt.date(2026, 7, 4)
    assert local(one.landing, one.end_zone).date() == dt.date(2026, 7, 5)
    assert local(one.end_sun.day.noon, one.end_zone).date() == dt.date(2026, 7, 5)


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
    ("departure", "light", "words", "minutes"),
    [
        ("2026-06-20T23:00:00+00:00", "day", "above all day", 30.0),
        ("2026-12-20T11:00:00+00:00", "night", "below all day", 45.0),
    ],
)
def test_polar_day_and_night(
    real_store: Store, departure: str, light: str, words: str, minutes: float
) -> None:
    """Svalbard: midnight sun in June, polar night in December, also at noon."""
    one = sector(real_store, departure, route="ENSB ENAS", cruise_altitudes_ft=(5500.0,))
    assert one.end_sun.light == light
    assert one.end_sun.events == ()
    assert one.end_sun.day.sun == words
    assert one.end_sun.day.sunset is None
    assert one.reserve.minutes == minutes


def test_day_turns_to_night_within_the_last_three_quarters_of_an_hour(real_store: Store) -> None:
    """Landing by day, and night before a night reserve would be used up: 45 min are kept."""
    one = sector(real_store, "2026-07-04T19:30:00-05:00")
    assert one.reserve.night_at_eta is False
    assert one.reserve.night_later is True
    assert one.reserve.minutes == 45.0


def clocks(one: Sector) -> tuple[str, str]:
    """Take-off and landing as a log prints them."""
    return (
        dated_clock(one.take_off, one.start_zone, dt.date.min),
        dated_clock(one.landing, one.end_zone, one.local_date),
    )


def test_the_date_of_take_off_is_that_of_its_clock(real_store: Store) -> None:
    one = sector(real_store, "2026-08-14T17:45:00-07:00", route="KPDX KSLE")
    take_off, landing = clocks(one)
    assert take_off == "2026-08-14 17:45 PDT (2026-08-15 00:45Z)"
    assert landing.startswith("18:")
    assert "(2026-08-15 01:" in landing
    assert clock_days(one.take_off, one.landing, "UTC") == 0


def test_a_landing_on_another_date_says_it(real_store: Store) -> None:
    take_off, landing = clocks(sector(real_store, "2026-07-04T23:50:00-05:00"))
    assert take_off == "2026-07-04 23:50 CDT (2026-07-05 04:50Z)"
    assert landing.startswith("2026-07-05 02:")
    assert "(0" in landing


def test_a_landing_the_day_before_says_it(real_store: Store) -> None:
    """Eastward over the date line: American Samoa is a day behind Samoa."""
    plane = all_cruise()
    one = sector(real_store, "2026-07-04T10:00:00+13:00", route="NSFA NSTU", aircraft=plane)
    take_off, landing = clocks(one)
    assert take_off == "2026-07-04 10:00 UTC+13 (2026-07-03 21:00Z)"
    assert landing.startswith("2026-07-03 10:")
    assert "SST (21:" in landing


def test_times_after_midnight_in_utc_are_marked(real_store: Store) -> None:
    departure = dt.datetime.fromisoformat("2026-07-04T18:00:00-05:00")
    log = navigation_log(plan(departure=departure, clock="utc"), real_store)
    (one,) = log.sectors
    assert clock_days(one.take_off, one.landing, "UTC") == 1
    assert one.rows[0].take_off == one.take_off
    half = dt.timedelta(seconds=30)
    marks = [
        (COLUMNS["eta"].printed(made), (made.row.eta + half).day) for made in printed_rows(log)
    ]
    assert {day for _, day in marks} == {4, 5}
    assert all(printed.endswith("Z+1d" if day == 5 else "Z") for printed, day in marks)


def test_a_place_without_a_zone_has_the_offset_that_is_typed(real_store: Store) -> None:
    one = sector(real_store, "2026-07-04T18:30:00-05:00", route="KRST 44.5,-93.0")
    assert one.end_zone == "UTC-05:00"
    assert landing(one).split()[1] == "UTC-05:00"
    sunset, ends = one.end_sun.events
    said = clock(sunset.instant, one.end_zone, one.local_date)
    assert said == "21:00 UTC-05:00 (02:00Z)"
    assert dt.timedelta() < ends.instant - sunset.instant < dt.timedelta(hours=1)


@pytest.mark.parametrize(
    ("hours", "zone"),
    [(-5.0, "UTC-05:00"), (5.75, "UTC+05:45"), (0.0, "UTC")],
)
def test_an_offset_is_a_zone_of_its_own(hours: float, zone: str) -> None:
    typed = dt.datetime(2026, 7, 4, 9, tzinfo=dt.timezone(dt.timedelta(hours=hours)))
    barn = Waypoint("BARN", "44,-92", "position", Position(44.0, -92.0))
    assert zone_of(barn, typed) == zone
    assert local(typed, zone).isoformat() == typed.isoformat()
