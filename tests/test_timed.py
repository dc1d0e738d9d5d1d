"""A log in the files that hold times and altitudes, read back by independent readers."""

from __future__ import annotations

import datetime as dt
import re

import gpxpy
import pytest
from fastkml import kml as fastkml
from flights import plan

from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import Stop
from plotter.flight.timed import timed_plot
from plotter.formats.gpx import gpx
from plotter.formats.kml import kml
from plotter.formats.unit_limits import Choices
from plotter.places.store import Store

FEET = 0.3048


@pytest.fixture(scope="module")
def log(real_store: Store) -> NavigationLog:
    return navigation_log(plan(stops=(Stop("KEAU", 30.0, 5.0),)), real_store)


def ends(log: NavigationLog) -> dict[str, tuple[dt.datetime, float]]:
    """Arrival and altitude [ft] at the end of each row, by the name of its mark."""
    return {row.end.name: (row.eta, row.altitude_ft) for row in log.rows}


def test_points_have_the_time_of_the_log_to_the_second(log: NavigationLog) -> None:
    timed = timed_plot(log)
    at = ends(log)
    for point in [*timed.route.waypoints[1:], *timed.checkpoints]:
        assert point.time is not None
        assert abs(point.time - at[point.name][0]) <= dt.timedelta(seconds=0.5)
        assert point.time.microsecond == 0
    assert timed.route.waypoints[0].time == log.sectors[0].take_off


def test_points_have_the_altitude_of_the_log_and_the_first_is_on_the_ground(
    log: NavigationLog,
) -> None:
    heights = {point.name: point.altitude_ft for point in timed_plot(log).route.waypoints}
    assert heights == {"KRST": None, "KLSE": 6500.0, "KEAU": 1913.0, "KDLH": 2428.0}


def test_legs_join_the_same_points(log: NavigationLog) -> None:
    timed = timed_plot(log)
    assert [leg.start for leg in timed.route.legs] == list(timed.route.waypoints[:-1])
    assert timed.route.distance_nm == log.plot.route.distance_nm
    assert timed.cautions == log.told


def test_a_gpx_reader_finds_times_and_altitudes(log: NavigationLog) -> None:
    read = gpxpy.parse(gpx(timed_plot(log), Choices(gpx_checkpoints=True)).decode("utf-8"))
    at = ends(log)
    points = read.routes[0].points
    assert len(points) == len(log.plot.route.waypoints) + len(log.plot.checkpoints)
    for point in points[1:]:
        assert point.time is not None
        assert abs(point.time - at[point.name][0]) <= dt.timedelta(seconds=0.5)
    tower = next(point for point in points if point.name == "KLSE")
    assert tower.elevation == pytest.approx(6500.0 * FEET, abs=0.06)
    assert "planned" in tower.description


def test_a_kml_reader_finds_them_too(log: NavigationLog) -> None:
    made = kml(timed_plot(log)).decode("utf-8")
    read = fastkml.KML.from_string(made.partition("?>")[2])
    (document,) = read.features
    folders = {folder.name: list(folder.features) for folder in document.features}
    turn = next(mark for mark in folders["Turning points"] if mark.name == "KLSE")
    assert turn.geometry.z == pytest.approx(6500.0 * FEET, abs=0.06)
    assert turn.times.timestamp.dt.replace(tzinfo=dt.UTC) == timed_plot(log).route.waypoints[1].time
    assert len(re.findall("<altitudeMode>absolute", made)) == len(folders["Checkpoints"]) + 3


def test_without_a_log_nothing_is_planned(log: NavigationLog) -> None:
    assert b"<time>" not in gpx(log.plot)
    assert b"absolute" not in kml(log.plot)
