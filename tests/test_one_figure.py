"""Each point says one time and one altitude: those of its row, in every file that holds them."""

from __future__ import annotations

import datetime as dt
import json
import re
from collections.abc import Iterator
from dataclasses import replace

import gpxpy
import pytest
from fastkml import kml as fastkml
from flights import TAKE_OFF, aircraft, plan, printed_rows, wind

from plotter.flight.columns import cell
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import Plan, Stop
from plotter.flight.sun_clock import iso_instant
from plotter.flight.timed import timed_plot
from plotter.formats.geojson import geojson
from plotter.formats.gpx import gpx
from plotter.formats.kml import kml
from plotter.formats.unit_limits import Choices
from plotter.places.store import Store

PLANNED = re.compile(r"planned (\d\d:\d\dZ) at (-?[\d,]+) ft")
FEET = 0.3048
FLIGHTS: dict[str, Plan] = {
    "one sector": plan(),
    "a stop": plan(stops=(Stop("KEAU", 30.0, 5.0),)),
    "two stops, one a touch-and-go": plan(
        stops=(Stop("KLSE", full_stop=False), Stop("KEAU", 17.5, 3.0))
    ),
    "steps between legs": plan(cruise_altitudes_ft=(5500.0, 8500.0, 4500.0)),
    "there and back": plan(route="KRST KLSE KRST", cruise_altitudes_ft=(3500.0,)),
    "never level": plan(route="KRST KLSE", cruise_altitudes_ft=(11_500.0,)),
    "a pattern of its own": plan(aircraft=aircraft(pattern_height_ft=740.0)),
    "down to the field": plan(aircraft=aircraft(pattern_height_ft=0.0)),
    "no climb or descent": plan(aircraft=aircraft(climb=None, descent=None)),
    "every six minutes": plan(every_min=6.0),
    "points that are no fields": plan(route="KRST 4400N09140W KEAU", winds=(wind(10.0, 33.0),)),
    **{
        f"take-off {seconds} s after the minute": plan(
            departure=TAKE_OFF + dt.timedelta(seconds=seconds), winds=(wind(200.0, seconds / 3),)
        )
        for seconds in (7, 13, 22.5, 29.6, 41, 58.7)
    },
}


@pytest.fixture(scope="module", params=FLIGHTS, ids=list(FLIGHTS))
def log(request: pytest.FixtureRequest, real_store: Store) -> NavigationLog:
    return navigation_log(replace(FLIGHTS[request.param], clock="utc"), real_store)


Row = tuple[str, str, str, float]


def rows_of(log: NavigationLog) -> list[Row]:
    """The name, the printed and the written time, the altitude where a row ends at a point."""
    return [
        (made.row.end.name, cell(made, "eta")[:6], iso_instant(made.row.eta), made.row.altitude_ft)
        for made in printed_rows(log)
        if made.row.end.kind in ("waypoint", "checkpoint")
    ]


def printed_of(log: NavigationLog) -> list[tuple[str, str, str]]:
    """The name, ETA and altitude that the log prints at each point."""
    return [
        (made.row.end.name, cell(made, "eta")[:6], cell(made, "altitude_ft"))
        for made in printed_rows(log)
        if made.row.end.kind in ("waypoint", "checkpoint")
    ]


def said(name: str, words: str) -> tuple[str, str, str]:
    (found,) = PLANNED.findall(words)
    return (name, *found)


def test_gpx_says_what_the_log_prints(log: NavigationLog) -> None:
    written = gpx(timed_plot(log), Choices(gpx_checkpoints=True)).decode("utf-8")
    first, *points = gpxpy.parse(written).routes[0].points
    assert not PLANNED.search(first.description)
    assert [said(p.name, p.description) for p in points] == printed_of(log)
    for point, (_, _, instant, altitude_ft) in zip(points, rows_of(log), strict=True):
        assert f"{point.time:%Y-%m-%dT%H:%M:%SZ}" == instant
        assert point.elevation == pytest.approx(altitude_ft * FEET, abs=0.06)


def test_kml_says_it_too(log: NavigationLog) -> None:
    written = kml(timed_plot(log)).decode("utf-8").partition("?>")[2]
    (document,) = fastkml.KML.from_string(written).features
    folders = {folder.name: list(folder.features) for folder in document.features}
    first, *turns = folders["Turning points"]
    assert not PLANNED.search(first.description)
    marks = [*turns, *folders.get("Checkpoints", [])]
    assert sorted(said(m.name, m.description) for m in marks) == sorted(printed_of(log))
    expected = sorted((name, at, altitude_ft) for name, _, at, altitude_ft in rows_of(log))
    held = sorted((m.name, iso_instant(_utc(m)), m.geometry.z / FEET) for m in marks)
    for found, wanted in zip(held, expected, strict=True):
        assert found[:2] == wanted[:2]
        assert found[2] == pytest.approx(wanted[2], abs=0.2)


def _utc(mark: fastkml.Placemark) -> dt.datetime:
    stamp = mark.times.timestamp.dt
    return stamp if stamp.tzinfo else stamp.replace(tzinfo=dt.UTC)


def test_geojson_says_it_too(log: NavigationLog) -> None:
    held = [feature["properties"] for feature in json.loads(geojson(timed_plot(log)))["features"]]
    points = [each for each in held if each["part"] != "leg"]
    assert points[0]["planned_altitude_ft"] is None
    found = sorted((p["name"], p["time"], p["planned_altitude_ft"]) for p in points[1:])
    assert found == sorted((n, at, pytest.approx(ft, abs=0.06)) for n, _, at, ft in rows_of(log))


def test_a_route_has_one_short_line_in_gpx(real_store: Store) -> None:
    flight = FLIGHTS["a stop"]
    notes = replace(flight.notes_of(1), measured_nm=71.0)
    log = navigation_log(replace(flight, legs=(notes,)), real_store)
    assert any(caution.code == "measured-differs" for caution in log.cautions)
    written = gpx(timed_plot(log), Choices(gpx_as="both")).decode("utf-8")
    (line,) = set(_descriptions(written))
    assert line == "236.3 NM, 2026-07-04. Planning aid only: check charts, NOTAMs and weather."
    for caution in log.told:
        assert written.count(caution.text) == 1


def _descriptions(written: str) -> Iterator[str]:
    read = gpxpy.parse(written)
    yield from (line.description for line in (*read.routes, *read.tracks))
