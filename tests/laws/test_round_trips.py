"""Law: what a plot says of its turning points comes back from every file that is read.

Names, order, positions to six decimals, notes and times come back as they were; elevations as
finely as the format has them (GPX 0.1 m, KML and CSV whole feet, GeoJSON 0.1 ft).
"""

from __future__ import annotations

import datetime as dt

import awkward
import plots
import pytest
from examples import TIMES
from hypothesis import given, settings
from hypothesis import strategies as st

from plotter.earth.position import Position
from plotter.exports import FORMATS, Job
from plotter.formats.names import clean_name, clean_text, shown_name
from plotter.formats.reading import file_route, read_file
from plotter.route.plotting import Plot
from plotter.route.values import Waypoint

READ = [name for name, made in FORMATS.items() if made.reads]
FINENESS_FT = {"gpx": 0.2, "kml": 0.51, "kmz": 0.51, "geojson": 0.051, "gpkg": 0.0, "csv": 0.51}
HALF_A_LAST_PLACE_DEG = 5.1e-7

TEXT = st.one_of(
    st.text(max_size=40),
    st.sampled_from(list(awkward.NAMES.values())),
)
NAME = TEXT.filter(lambda text: bool(clean_name(text)))
TIME = st.datetimes(dt.datetime(1980, 1, 1), dt.datetime(2100, 1, 1), timezones=st.just(dt.UTC))
POINT = st.tuples(
    NAME,
    st.floats(0.1, 0.9),
    st.one_of(st.none(), st.floats(-1_000.0, 29_000.0)),
    TEXT,
    st.one_of(st.none(), TIME),
)
CORNER = st.tuples(st.integers(-80, 79), st.integers(-180, 178))


@st.composite
def flights(draw: st.DrawFn) -> Plot:
    """A few points, each in a box of its own so that no two are one place."""
    south, west = draw(CORNER)
    points = [
        Waypoint(
            name,
            name,
            "position",
            Position(south + across, west + (number + across) / 4),
            elevation_ft=elevation_ft,
            note=note,
            time=time,
        )
        for number, (name, across, elevation_ft, note, time) in enumerate(
            draw(st.lists(POINT, min_size=2, max_size=5))
        )
    ]
    return plots.plot_of(points, name=draw(NAME), every_nm=1e6)


def close(read: Waypoint, meant: Waypoint, fineness_ft: float) -> bool:
    if (read.elevation_ft is None) != (meant.elevation_ft is None):
        return False
    apart = abs((read.elevation_ft or 0.0) - (meant.elevation_ft or 0.0))
    lat = abs(read.position.latitude_deg - meant.position.latitude_deg)
    lon = abs(read.position.longitude_deg - meant.position.longitude_deg) % 360.0
    return apart <= fineness_ft and max(lat, lon) <= HALF_A_LAST_PLACE_DEG


@pytest.mark.parametrize("name", READ)
@settings(max_examples=40 * TIMES, deadline=None)
@given(plot=flights())
def test_a_file_brings_back_what_was_put_into_it(
    name: str, plot: Plot, tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.mktemp("trip") / f"flight{FORMATS[name].suffix}"
    path.write_bytes(FORMATS[name].write(Job(plot)))
    back = file_route(read_file(path))
    meant = plot.route.waypoints
    assert [point.name for point in back.waypoints] == [shown_name(each.name) for each in meant]
    assert [point.note for point in back.waypoints] == [clean_text(each.note) for each in meant]
    assert [point.time for point in back.waypoints] == [each.time for each in meant]
    for read, each in zip(back.waypoints, meant, strict=True):
        assert close(read, each, FINENESS_FT[name])
    assert not [caution for caution in back.cautions if caution.rank != "NOTE"]


@pytest.mark.parametrize("name", READ)
@settings(max_examples=15 * TIMES, deadline=None)
@given(plot=flights())
def test_the_second_trip_changes_nothing(
    name: str, plot: Plot, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("trip")
    path = folder / f"flight{FORMATS[name].suffix}"
    path.write_bytes(FORMATS[name].write(Job(plot)))
    once = file_route(read_file(path))
    again = plots.plot_of(once.waypoints, name=once.name or plot.name, every_nm=1e6)
    path.write_bytes(FORMATS[name].write(Job(again)))
    twice = file_route(read_file(path))
    assert [point.name for point in twice.waypoints] == [point.name for point in once.waypoints]
    for first, second in zip(once.waypoints, twice.waypoints, strict=True):
        assert close(second, first, FINENESS_FT[name] / 10 + 1e-6)
        assert (second.note, second.time) == (first.note, first.time)
