"""The log on the page: rows, sums and cautions as text, in the order they must be read."""

from __future__ import annotations

import datetime as dt
import re

import pytest
from flights import aircraft, plan

from plotter.exports import map_page
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import GivenWind, Stop, Weather
from plotter.maps.log_tables import log_notes, log_sections
from plotter.places.store import Store
from plotter.wording import STANDING


@pytest.fixture(scope="module")
def log(real_store: Store) -> NavigationLog:
    made = plan(
        stops=(Stop("KEAU", 20.0),),
        weather=(Weather("KEAU", 1013.25, 30.0, GivenWind(240.0, "true", 12.0)),),
        quiet={"cruising-altitude": "<i>invented</i> reason"},
        aircraft=aircraft(fuel_on_board=14.0),
    )
    return navigation_log(made, real_store)


def test_every_row_and_sector_stands_on_the_page(log: NavigationLog) -> None:
    page = log_sections(log)
    assert page.count('<tr data-lights="leg-') == len(log.rows)
    assert page.count('<section class="log">') == len(log.sectors) + 1
    for row in log.rows:
        assert f'<th scope="row">{row.number}</th>' in page


def test_what_must_stop_the_flight_stands_before_the_rows(log: NavigationLog) -> None:
    page = log_sections(log)
    assert page.index("Reserve not met") < page.index("<table")
    assert "short" in re.findall(r"<dt>Margin</dt><dd>([^<]*)</dd>", page)[0]


def test_notes_and_silenced_cautions_stand_behind_as_text(log: NavigationLog) -> None:
    notes = log_notes(log)
    assert "terrain not checked" in notes
    assert "&lt;i&gt;invented&lt;/i&gt; reason" in notes
    assert "<i>" not in notes


def test_the_page_of_a_log_has_map_log_and_cautions(log: NavigationLog) -> None:
    page = map_page(log.plot, None, False, log)
    assert page.index('id="map_route"') < page.index('id="log-table-1"') < page.index('id="legs"')
    for words in STANDING:
        assert words in page
    assert "Weather at the fields" in page


def test_dates_on_the_page_are_those_of_the_clocks_beside_them(real_store: Store) -> None:
    """At 19:30 in Minnesota it is already tomorrow in UTC."""
    zone = dt.timezone(dt.timedelta(hours=-5))
    late = plan(departure=dt.datetime(2026, 7, 4, 19, 30, tzinfo=zone))
    made = navigation_log(late, real_store)
    page = map_page(made.plot, None, False, made)
    assert "<dt>Date</dt><dd>2026-07-04 (2026-07-05 in UTC)</dd>" in page
    assert "route of 2026-07-04</title>" in page
    assert "variation there on 2026-07-04 (2026-07-05 in UTC)" in page
    assert "<dt>Take-off</dt><dd>2026-07-04 19:30 CDT (2026-07-05 00:30Z)</dd>" in page
    assert "ETA +1d" not in page


def test_an_eta_on_another_date_is_marked_and_the_mark_is_explained(real_store: Store) -> None:
    zone = dt.timezone(dt.timedelta(hours=-5))
    evening = plan(departure=dt.datetime(2026, 7, 4, 18, 0, tzinfo=zone), clock="utc")
    made = navigation_log(evening, real_store)
    page = log_sections(made)
    midnight = dt.datetime(2026, 7, 5, tzinfo=dt.UTC)
    after = [row for row in made.rows if row.eta >= midnight - dt.timedelta(seconds=30)]
    assert page.count("Z+1d</td>") == len(after) > 0
    assert "<dt>ETA +1d</dt><dd>the day after take-off</dd>" in page


def test_the_sun_stands_under_its_sector(real_store: Store) -> None:
    zone = dt.timezone(dt.timedelta(hours=-5))
    for hour, terms in (
        (9, ["Sun at landing", "Sunset", "End of civil twilight"]),
        (1, ["Sun at take-off", "Sun at landing", "Beginning of civil twilight", "Sunrise"]),
    ):
        made = plan(departure=dt.datetime(2026, 7, 4, hour, tzinfo=zone))
        page = log_sections(navigation_log(made, real_store))
        found = re.findall(r"<dt>([^<]*)</dt>", page)
        assert found[-len(terms) :] == terms


def test_a_page_without_a_log_carries_nothing_of_one(log: NavigationLog) -> None:
    page = map_page(log.plot, None)
    assert "log-table" not in page
    assert ".log table" not in page
