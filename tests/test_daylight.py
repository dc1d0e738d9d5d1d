"""What the sun does next, against the Naval Observatory's tables and in nights without darkness."""

from __future__ import annotations

import csv
import datetime as dt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.earth.position import Position
from plotter.earth.sun import (
    CIVIL_TWILIGHT_DEG,
    RISE_AND_SET_DEG,
    Daylight,
    daylight,
    is_night,
    lights_needed,
    solar_elevation_deg,
)
from plotter.errors import InputError

with (Path(__file__).parent / "published" / "usno_sun.csv").open(
    encoding="utf-8", newline=""
) as _file:
    TABLE = list(csv.DictReader(_file))
ALMANAC_MIN = 1.0
"""The tables print whole minutes; half of one is their rounding, the rest is ours."""
HOUR = dt.timedelta(hours=1)
FORT_YUKON = Position(66.5715, -145.2503)
SVALBARD = Position(78.2461, 15.4656)


def at(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(text)


def told(row: dict[str, str], key: str) -> dt.datetime:
    return at(f"{row['date']}T{row[key]}+00:00")


def both_tables() -> list[tuple[dict[str, str], dict[str, str]]]:
    """The days of which the tables have the sun and civil twilight, both."""
    sun = {(row["place"], row["date"]): row for row in TABLE if row["event"] == "sun"}
    others = (row for row in TABLE if row["event"] == "civil twilight")
    return [
        (sun[row["place"], row["date"]], row)
        for row in others
        if (row["place"], row["date"]) in sun
    ]


BOTH = both_tables()
DARK = [pair for pair in BOTH if pair[1]["kind"] == "NORMAL"]
WHITE = [pair for pair in BOTH if pair[1]["kind"] == "ALL_DAY"]


def assert_events(light: Daylight, *expected: tuple[str, dt.datetime]) -> None:
    assert [event.name for event in light.events] == [name for name, _ in expected]
    for event, (_, instant) in zip(light.events, expected, strict=True):
        assert abs(event.instant - instant) <= dt.timedelta(minutes=ALMANAC_MIN)


def of(row: dict[str, str]) -> Position:
    return Position(float(row["latitude_deg"]), float(row["longitude_deg"]))


@pytest.mark.parametrize(("sun", "twilight"), DARK, ids=lambda row: row["date"])
def test_naval_observatory_a_sunset_and_the_twilight_that_follows_it(
    sun: dict[str, str], twilight: dict[str, str]
) -> None:
    sets, ends = told(sun, "set_utc"), told(twilight, "set_utc")
    begins, rises = told(twilight, "rise_utc"), told(sun, "rise_utc")
    assert sets < ends
    assert begins < rises
    evening = ("sunset", sets), ("civil twilight ends", ends)
    morning = ("civil twilight begins", begins), ("sunrise", rises)
    by_day = daylight(of(sun), sets - HOUR / 4)
    assert by_day.light == "day"
    assert_events(by_day, *evening)
    dusk = daylight(of(sun), sets + (ends - sets) / 2)
    assert dusk.light == "evening twilight"
    assert_events(dusk, *evening)
    night = daylight(of(sun), begins - HOUR / 4)
    assert night.light == "night"
    assert_events(night, *morning)
    dawn = daylight(of(sun), begins + (rises - begins) / 2)
    assert dawn.light == "morning twilight"
    assert_events(dawn, morning[1])


@pytest.mark.parametrize(("sun", "twilight"), WHITE, ids=lambda row: row["date"])
def test_naval_observatory_a_night_without_darkness(
    sun: dict[str, str], twilight: dict[str, str]
) -> None:
    """Anchorage in June: after the sunset comes the sunrise, and no end of twilight between."""
    sets, rises = told(sun, "set_utc"), told(sun, "rise_utc")
    night = ("sunset", sets), ("sunrise", rises)
    by_day = daylight(of(sun), sets - HOUR)
    assert by_day.light == "day"
    assert_events(by_day, *night)
    before_midnight = daylight(of(sun), sets + HOUR / 2)
    assert before_midnight.light == "twilight"
    assert_events(before_midnight, *night)
    after_midnight = daylight(of(sun), rises - HOUR / 2)
    assert after_midnight.light == "twilight"
    assert_events(after_midnight, night[1])


def test_the_tables_hold_evenings_of_both_kinds() -> None:
    assert len(DARK) > 20
    assert len(WHITE) == 2


def test_an_evening_past_midnight_keeps_its_own_twilight() -> None:
    """Fort Yukon, 8 August 2026: sunset before midnight by the clock, dark after it, and on that
    date by the clock another evening's twilight ended too.
    """
    light, (sunset, ends), _ = daylight(FORT_YUKON, at("2026-08-08T22:10-08:00"))
    assert (light, sunset.name, ends.name) == ("day", "sunset", "civil twilight ends")
    assert sunset.instant.astimezone(at("2026-08-08T22:10-08:00").tzinfo).day == 8
    assert ends.instant.astimezone(at("2026-08-08T22:10-08:00").tzinfo).day == 9
    for share in (0.25, 0.5, 0.75):
        between = sunset.instant + share * (ends.instant - sunset.instant)
        assert CIVIL_TWILIGHT_DEG < solar_elevation_deg(FORT_YUKON, between) < RISE_AND_SET_DEG


@pytest.mark.parametrize(
    ("where", "instant", "light", "events"),
    [
        # Longyearbyen: the sun is up all of June and below -6° all of December (US Naval
        # Observatory for the sun; its height at noon, 90° - latitude + declination, for -6°).
        (SVALBARD, "2026-06-21T00:00+00:00", "day", []),
        (SVALBARD, "2026-12-21T11:00+00:00", "night", []),
        # There at noon of 5 November the sun stands at 90 - 78.2 - 15.8 = -4.0°.
        (
            *(SVALBARD, "2026-11-05T06:00+00:00", "night"),
            ["civil twilight begins", "civil twilight ends"],
        ),
        (SVALBARD, "2026-11-05T11:00+00:00", "twilight", ["civil twilight ends"]),
        (Position(90.0, 0.0), "2026-10-01T12:00+00:00", "twilight", []),
    ],
)
def test_polar_days(where: Position, instant: str, light: str, events: list[str]) -> None:
    made = daylight(where, at(instant))
    assert made.light == light
    assert [event.name for event in made.events] == events


@given(
    st.builds(Position, st.floats(-90.0, 90.0), st.floats(-180.0, 180.0)),
    st.datetimes(dt.datetime(2020, 1, 1), dt.datetime(2035, 1, 1), timezones=st.just(dt.UTC)),
)
def test_the_light_is_that_of_the_rules_and_what_comes_next_comes_next(
    position: Position, instant: dt.datetime
) -> None:
    light, events, day = daylight(position, instant)
    assert (light == "day") == (not lights_needed(position, instant))
    assert (light == "night") == is_night(position, instant)
    assert day.start <= instant < day.end
    instants = [event.instant for event in events]
    assert instants == sorted(instants)
    assert len(events) <= 2
    evening_before = light != "day" and events[:1] and events[0].name == "sunset"
    assert all((one > instant) == (not evening_before) for one in instants[:1])
    assert all(one > instant for one in instants[1:])


def test_a_time_without_a_zone_is_refused() -> None:
    with pytest.raises(InputError, match="has no offset from UTC"):
        daylight(FORT_YUKON, at("2026-08-08T22:10"))
