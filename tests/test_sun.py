"""The sun against the Naval Observatory's tables, and where it never rises or never sets."""

from __future__ import annotations

import csv
import datetime as dt
import zoneinfo
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import published

from plotter.earth.position import Position
from plotter.earth.sun import (
    CIVIL_TWILIGHT_DEG,
    RISE_AND_SET_DEG,
    SunDay,
    first_below,
    is_night,
    lights_needed,
    next_crossing,
    passenger_currency_night,
    solar_elevation_deg,
    sun_day,
)
from plotter.errors import InputError

with (Path(__file__).parent / "published" / "usno_sun.csv").open(
    encoding="utf-8", newline=""
) as _file:
    TABLE = list(csv.DictReader(_file))
ROWS = published("sun")
ALMANAC_MIN = 1.0
"""The tables print whole minutes; half of one is their rounding, the rest is ours."""
FORMULA_MIN = 2.0
"""The almanac's worked example is by a short formula of its own."""
MINUTE = dt.timedelta(minutes=1)
SECOND = dt.timedelta(seconds=1)

OMAHA = Position(41.3, -95.9)
CHICAGO_TIME = zoneinfo.ZoneInfo("America/Chicago")
NORTH_POLE = Position(90.0, 0.0)


def at(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(text)


def position_of(row: dict[str, str]) -> Position:
    return Position(float(row["latitude_deg"]), float(row["longitude_deg"]))


def passages(row: dict[str, str]) -> tuple[list[dt.datetime], list[dt.datetime], list[str]]:
    """The table's dates are those of UTC: what falls between one 00Z and the next, of whichever
    solar days that date touches.
    """
    midnight = at(f"{row['date']}T00:00+00:00")
    position = position_of(row)
    days = [sun_day(position, midnight), sun_day(position, midnight + dt.timedelta(days=1))]
    sun = row["event"] == "sun"
    up = [day.sunrise if sun else day.civil_twilight_begin for day in days]
    down = [day.sunset if sun else day.civil_twilight_end for day in days]
    skies = [day.sun if sun else day.twilight for day in days]
    on_it = [[one for one in each if one and one.date() == midnight.date()] for each in (up, down)]
    return on_it[0], on_it[1], list(skies)


def minutes_off(instant: dt.datetime, clock: str) -> float:
    """How far an instant is from a clock time in UTC, whichever the day."""
    hours, minutes = map(int, clock.split(":"))
    ours = instant.hour * 60 + instant.minute + instant.second / 60.0
    return abs((ours - hours * 60 - minutes + 720.0) % 1440.0 - 720.0)


@pytest.mark.parametrize(
    "row", TABLE, ids=lambda row: f"{row['place'][:6]}-{row['event'][:3]}-{row['date']}"
)
def test_naval_observatory(row: dict[str, str]) -> None:
    up, down, skies = passages(row)
    expected = {"NORMAL": "changes", "ALL_DAY": "above all day", "ALL_NIGHT": "below all day"}
    assert expected[row["kind"]] in skies
    for instants, clock in ((up, row["rise_utc"]), (down, row["set_utc"])):
        assert len(instants) == (1 if clock else 0)
        for instant in instants:
            assert minutes_off(instant, clock) <= ALMANAC_MIN
            assert instant.utcoffset() == dt.timedelta(0)


def test_the_tables_hold_every_kind_of_day() -> None:
    kinds = {(row["event"], row["kind"]) for row in TABLE}
    assert kinds == {
        ("sun", "NORMAL"), ("sun", "ALL_DAY"), ("sun", "ALL_NIGHT"),
        ("civil twilight", "NORMAL"), ("civil twilight", "ALL_DAY"),
    }  # fmt: skip


def test_published_example_of_the_almanac() -> None:
    """Almanac for Computers 1990, sunrise at Wayne, New Jersey: 9.441 h UT."""
    row = ROWS["sun-almanac1990"]
    given = row["inputs"]
    zone = dt.timezone(dt.timedelta(hours=given["utc_offset_h"]))
    noon = at(f"{given['date']}T12:00").replace(tzinfo=zone)
    times = sun_day(Position(given["lat"], given["lon"]), noon)
    assert times.sunrise is not None
    midnight = at("1990-06-25T00:00+00:00")
    hours = (times.sunrise - midnight) / dt.timedelta(hours=1)
    assert hours == pytest.approx(row["expected"]["sunrise_ut_h"], abs=FORMULA_MIN / 60.0)
    assert 90.0 - given["zenith_deg"] == pytest.approx(RISE_AND_SET_DEG)


def test_published_definitions() -> None:
    zenith = ROWS["sun-zenith"]["expected"]
    assert pytest.approx(90.0 - zenith["official_deg"]) == RISE_AND_SET_DEG
    assert pytest.approx(90.0 - zenith["civil_deg"]) == CIVIL_TWILIGHT_DEG
    assert "evening civil twilight" in ROWS["cfr-1.1-night"]["expected"]["night"]


def test_every_published_row_is_tried() -> None:
    assert set(ROWS) == {"sun-almanac1990", "sun-zenith", "cfr-1.1-night"}


def test_a_us_evening_after_00z_keeps_its_day() -> None:
    """Sunset of 21 June at Omaha is at 02:00 UTC of the 22nd, and the sunrise before it is its
    own: whichever instant of that day is asked about.
    """
    days = {sun_day(OMAHA, at(f"2026-06-21T{hour:02d}:30-05:00")).sunset for hour in range(2, 24)}
    (sunset,) = days
    assert sunset is not None
    assert sunset.date() == dt.date(2026, 6, 22)
    assert sunset.astimezone(CHICAGO_TIME).date() == dt.date(2026, 6, 21)


INSTANTS = st.datetimes(dt.datetime(2020, 1, 1), dt.datetime(2035, 1, 1), timezones=st.just(dt.UTC))
PLACES = st.builds(
    Position,
    st.floats(min_value=-90.0, max_value=90.0),
    st.floats(min_value=-180.0, max_value=180.0),
)


def in_order(day: SunDay) -> list[dt.datetime]:
    own = (day.civil_twilight_begin, day.sunrise, day.sunset, day.civil_twilight_end)
    return [day.start, *(one for one in own if one), day.end]


@given(PLACES, INSTANTS)
def test_a_solar_day_holds_its_instant_and_its_events_in_order(
    position: Position, instant: dt.datetime
) -> None:
    day = sun_day(position, instant)
    assert day.start <= instant < day.end
    assert in_order(day) == sorted(in_order(day))
    assert sun_day(position, day.start) == day
    assert sun_day(position, day.end).start == day.end


@given(PLACES, INSTANTS)
def test_the_sun_is_lowest_where_a_solar_day_begins_and_highest_at_its_noon(
    position: Position, instant: dt.datetime
) -> None:
    """To 0.13° beside noon: at the poles the sun also moves by the season, 0.4° a day."""
    day = sun_day(position, instant)
    noon = solar_elevation_deg(position, day.noon)
    for hours in (-6, -3, 3, 6):
        other = solar_elevation_deg(position, day.noon + dt.timedelta(hours=hours))
        assert other < noon + 0.13
    for moment in (day.start, day.end):
        assert solar_elevation_deg(position, moment) < noon + 0.26


def test_the_three_clocks_of_an_evening() -> None:
    times = sun_day(OMAHA, at("2026-06-21T12:00-05:00"))
    assert times.sunset is not None
    assert times.civil_twilight_end is not None
    in_twilight = times.sunset + MINUTE
    assert not lights_needed(OMAHA, times.sunset - MINUTE)
    assert lights_needed(OMAHA, in_twilight)
    assert not is_night(OMAHA, in_twilight)
    assert not is_night(OMAHA, times.civil_twilight_end - MINUTE)
    assert is_night(OMAHA, times.civil_twilight_end + MINUTE)
    an_hour_later = times.sunset + dt.timedelta(hours=1)
    assert not passenger_currency_night(OMAHA, an_hour_later - SECOND * 2)
    assert passenger_currency_night(OMAHA, an_hour_later + SECOND * 2)


def test_the_three_clocks_of_a_morning() -> None:
    times = sun_day(OMAHA, at("2026-01-10T12:00-06:00"))
    assert times.sunrise is not None
    assert times.civil_twilight_begin is not None
    an_hour_before = times.sunrise - dt.timedelta(hours=1)
    assert passenger_currency_night(OMAHA, an_hour_before - SECOND * 2)
    assert not passenger_currency_night(OMAHA, an_hour_before + SECOND * 2)
    assert is_night(OMAHA, times.civil_twilight_begin - MINUTE)
    assert not is_night(OMAHA, times.civil_twilight_begin + MINUTE)
    assert lights_needed(OMAHA, times.sunrise - MINUTE)
    assert not lights_needed(OMAHA, times.sunrise + MINUTE)


@pytest.mark.parametrize(
    ("latitude", "asks_for_currency"),
    # On 12 June 2026 the sun is down for 2 h 18 min at 65°N and for 1 h 39 min at 65.5°N.
    [(65.0, True), (65.5, False)],
)
def test_a_night_under_two_hours_is_never_passenger_night(
    latitude: float, asks_for_currency: bool
) -> None:
    north = Position(latitude, -147.0)
    sunset = next_crossing(north, at("2026-06-12T04:00+00:00"), RISE_AND_SET_DEG, rising=False)
    assert sunset is not None
    sunrise = next_crossing(north, sunset + SECOND, RISE_AND_SET_DEG, rising=True)
    assert sunrise is not None
    assert (sunrise - sunset > dt.timedelta(hours=2)) == asks_for_currency
    middle = sunset + (sunrise - sunset) / 2
    assert lights_needed(north, middle)
    assert not is_night(north, middle)
    assert passenger_currency_night(north, middle) == asks_for_currency


def test_a_sun_that_only_peeps_out_is_not_stepped_over() -> None:
    """At Longyearbyen on 15 February 2026 the sun is up for 33 min around noon: down an hour
    before and an hour after its noon, and yet that is no passenger night.
    """
    svalbard = Position(78.2167, 15.6333)
    times = sun_day(svalbard, at("2026-02-15T12:00+00:00"))
    assert times.sunrise is not None
    assert times.sunset is not None
    assert times.sunset - times.sunrise < dt.timedelta(minutes=40)
    noon = times.sunrise + (times.sunset - times.sunrise) / 2
    an_hour = dt.timedelta(hours=1)
    assert lights_needed(svalbard, noon - an_hour)
    assert lights_needed(svalbard, noon + an_hour)
    assert not passenger_currency_night(svalbard, noon)
    before = times.sunrise - dt.timedelta(minutes=20)
    assert lights_needed(svalbard, before - an_hour)
    assert lights_needed(svalbard, before)
    assert lights_needed(svalbard, before + an_hour)
    assert not passenger_currency_night(svalbard, before)
    assert not passenger_currency_night(svalbard, times.sunset + dt.timedelta(minutes=59))
    assert passenger_currency_night(svalbard, times.sunset + dt.timedelta(minutes=61))


@pytest.mark.parametrize(
    ("date", "sun", "twilight"),
    [
        ("2026-06-21", "above all day", "above all day"),
        ("2026-12-21", "below all day", "below all day"),
        ("2026-10-01", "below all day", "above all day"),
    ],
)
def test_the_pole_has_one_day_a_year(date: str, sun: str, twilight: str) -> None:
    times = sun_day(NORTH_POLE, at(f"{date}T12:00+00:00"))
    assert (times.sun, times.twilight) == (sun, twilight)
    assert times.sunrise is times.sunset is None
    noon = at(f"{date}T12:00+00:00")
    assert is_night(NORTH_POLE, noon) == (twilight == "below all day")
    assert lights_needed(NORTH_POLE, noon) == (sun == "below all day")
    assert passenger_currency_night(NORTH_POLE, noon) == (sun == "below all day")


def test_at_the_pole_the_height_of_the_sun_is_its_declination() -> None:
    """23.44° at the solstice, whatever the longitude."""
    for longitude in (-180.0, 0.0, 77.0):
        height = solar_elevation_deg(Position(90.0, longitude), at("2026-06-21T08:25+00:00"))
        assert height == pytest.approx(23.436, abs=0.01)


def test_under_the_sun() -> None:
    """Noon of the equinox on the equator: within the sun's own half degree of the zenith."""
    height = solar_elevation_deg(Position(0.0, 0.0), at("2026-03-20T12:07:30+00:00"))
    assert height == pytest.approx(90.0, abs=0.1)


@given(
    st.floats(min_value=-90.0, max_value=90.0),
    st.floats(min_value=-180.0, max_value=180.0),
    st.datetimes(dt.datetime(2020, 1, 1), dt.datetime(2035, 1, 1)),
    st.booleans(),
)
def test_a_crossing_is_where_the_sun_is_at_that_height(
    latitude: float, longitude: float, when: dt.datetime, rising: bool
) -> None:
    position, after = Position(latitude, longitude), when.replace(tzinfo=dt.UTC)
    crossing = next_crossing(position, after, CIVIL_TWILIGHT_DEG, rising)
    if crossing is None:
        return
    assert after <= crossing <= after + dt.timedelta(days=1)
    assert solar_elevation_deg(position, crossing) == pytest.approx(CIVIL_TWILIGHT_DEG, abs=0.01)
    side = is_night(position, crossing - SECOND), is_night(position, crossing + SECOND)
    assert side == (rising, not rising)


@given(
    st.floats(min_value=-88.0, max_value=88.0),
    st.floats(min_value=-180.0, max_value=180.0),
    st.datetimes(dt.datetime(2020, 1, 1), dt.datetime(2035, 1, 1)),
    st.lists(
        st.tuples(st.floats(-0.5, 0.5), st.floats(-4.0, 4.0), st.floats(0.1, 30.0)), max_size=60
    ),
)
def test_the_first_dark_moment_is_that_of_looking_at_every_one(
    latitude: float, longitude: float, when: dt.datetime, rows: list[tuple[float, float, float]]
) -> None:
    here, instant = Position(latitude, longitude), when.replace(tzinfo=dt.UTC)
    moments = [(here, instant)]
    for north, east, minutes in rows:
        latitude = max(-90.0, min(90.0, here.latitude_deg + north))
        here = Position(latitude, (here.longitude_deg + east + 180.0) % 360.0 - 180.0)
        instant += minutes * MINUTE
        moments.append((here, instant))
    for height_deg in (CIVIL_TWILIGHT_DEG, RISE_AND_SET_DEG):
        below = [k for k, each in enumerate(moments) if solar_elevation_deg(*each) < height_deg]
        assert first_below(moments, height_deg) == next(iter(below), None)


def test_few_of_many_moments_of_a_day_are_computed() -> None:
    noon = at("2026-06-21T18:00+00:00")
    solar_elevation_deg.cache_clear()
    assert first_below([(OMAHA, noon + k * MINUTE) for k in range(480)], RISE_AND_SET_DEG) is None
    assert solar_elevation_deg.cache_info().misses < 30


@given(
    st.floats(min_value=-90.0, max_value=90.0),
    st.floats(min_value=-180.0, max_value=180.0),
    st.datetimes(dt.datetime(2020, 1, 1), dt.datetime(2035, 1, 1)),
)
def test_night_needs_lights(latitude: float, longitude: float, when: dt.datetime) -> None:
    position, instant = Position(latitude, longitude), when.replace(tzinfo=dt.UTC)
    assert lights_needed(position, instant) or not is_night(position, instant)
    assert lights_needed(position, instant) or not passenger_currency_night(position, instant)


def test_the_zone_of_the_instant_does_not_matter() -> None:
    utc = at("2026-06-22T02:30:15+00:00")
    local = utc.astimezone(CHICAGO_TIME)
    assert solar_elevation_deg(OMAHA, local) == solar_elevation_deg(OMAHA, utc)


def test_a_time_without_a_zone_is_refused() -> None:
    with pytest.raises(InputError, match="00 has no offset from UTC") as caught:
        is_night(OMAHA, at("2026-06-21T18:00"))
    assert caught.value.code == "instant"
