"""The words for the sun at a field: each light, each order of events, and nothing to come."""

from __future__ import annotations

import datetime as dt

import pytest

from plotter.earth.position import Position
from plotter.earth.sun import daylight
from plotter.flight.sun_clock import local_date, sun_said

LA_CROSSE = (Position(43.8793, -91.2566), "America/Chicago")
FORT_YUKON = (Position(66.5715, -145.2503), "America/Anchorage")
SVALBARD = (Position(78.2461, 15.4656), "Arctic/Longyearbyen")


@pytest.mark.parametrize(
    ("place", "landing", "said"),
    [
        (LA_CROSSE, "2026-07-04T11:00-05:00", "up; sunset 20:5#, end of civil twilight 21:2#"),
        (
            LA_CROSSE,
            "2026-07-04T21:00-05:00",
            "down, evening civil twilight; sunset 20:5#, end of civil twilight 21:2#",
        ),
        (
            LA_CROSSE,
            "2026-07-04T23:30-05:00",
            "down, night; beginning of civil twilight 2026-07-05 04:5#, sunrise 2026-07-05 05:2#",
        ),
        (
            LA_CROSSE,
            "2026-07-05T02:00-05:00",
            "down, night; beginning of civil twilight 04:5#, sunrise 05:2#",
        ),
        (LA_CROSSE, "2026-07-05T05:10-05:00", "down, morning civil twilight; sunrise 05:2#"),
        (
            FORT_YUKON,
            "2026-08-08T22:10-08:00",
            "up; sunset 22:4#, end of civil twilight 2026-08-09 00:1#",
        ),
        (
            FORT_YUKON,
            "2026-06-01T23:40-08:00",
            "up; sunset 2026-06-02 00:5#, sunrise 2026-06-02 02:2#, civil twilight until then",
        ),
        (
            FORT_YUKON,
            "2026-06-02T01:20-08:00",
            "down, civil twilight; sunset 00:5#, sunrise 02:2#, civil twilight until then",
        ),
        (SVALBARD, "2026-06-21T02:00+02:00", "up; it does not set in the next 24 hours"),
        (SVALBARD, "2026-12-21T12:00+01:00", "down, night; no civil twilight in the next 24 hours"),
        (
            SVALBARD,
            "2026-11-05T12:00+01:00",
            "down, civil twilight; end of civil twilight 13:5#, no sunrise before it",
        ),
        (
            (Position(90.0, 0.0), "UTC"),
            "2026-10-01T12:00+00:00",
            "down, civil twilight; neither sunrise nor night in the next 24 hours",
        ),
    ],
)
def test_the_words(place: tuple[Position, str], landing: str, said: str) -> None:
    """The minute's last digit and the zones are left to the tables of the Naval Observatory."""
    position, zone = place
    instant = dt.datetime.fromisoformat(landing)
    made = sun_said(daylight(position, instant), zone, local_date(instant, zone))
    assert blurred(made) == said


def blurred(said: str) -> str:
    """Without the last digit of local times, and without zone and UTC."""
    import re

    return re.sub(r"(\d\d:\d)\d \w+ \(\d\d:\d\dZ\)", r"\1#", said)


def test_each_time_is_by_the_local_clock_and_in_utc() -> None:
    position, zone = LA_CROSSE
    noon = dt.datetime(2026, 7, 4, 17, tzinfo=dt.UTC)
    said = sun_said(daylight(position, noon), zone, dt.date(2026, 7, 4))
    first, second = said.split("; ")[1].split(", ")
    for one in (first, second):
        assert " CDT (0" in one
        assert one.endswith("Z)")
