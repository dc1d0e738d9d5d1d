"""GPX 1.1: valid, read back by others, and the same bytes for the same flight."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree as ET

import awkward
import gpxpy
import plots
import pytest
import readers
import schemas

from plotter import wording
from plotter.earth.magnetism import variation
from plotter.earth.units import feet_from_metres
from plotter.formats.descriptions import short_line
from plotter.formats.gpx import NAMESPACE, gpx
from plotter.route.plotting import Plot

N = {"g": NAMESPACE}
HOSTILE = plots.named(*awkward.NAMES.values())


@pytest.fixture(params=plots.GOLDEN)
def plot(request: pytest.FixtureRequest) -> Plot:
    return plots.GOLDEN[request.param]()


def test_it_is_valid(plot: Plot) -> None:
    schemas.validate("gpx.xsd", gpx(plot))


def test_the_schema_refuses_what_the_trap_would_write(plot: Plot) -> None:
    bad = re.sub(rb'lon="[^"]*"', b'lon="180.000000"', gpx(plot), count=1)
    with pytest.raises(AssertionError, match=r"180\.0"):
        schemas.validate("gpx.xsd", bad)


def test_hostile_names_are_valid_and_read_back_by_gdal(tmp_path: Path) -> None:
    path = tmp_path / "hostile.gpx"
    path.write_bytes(gpx(HOSTILE))
    schemas.validate("gpx.xsd", path.read_bytes())
    assert readers.close(
        readers.gdal_points(path, "route_points", "name"), readers.turning_points(HOSTILE)
    )


def test_hostile_names_are_read_back_by_gpxpy() -> None:
    route = gpxpy.parse(gpx(HOSTILE).decode("utf-8")).routes[0]
    assert readers.close(
        [readers.seen(p.name, p.latitude, p.longitude) for p in route.points],
        readers.turning_points(HOSTILE),
    )


def test_gdal_reads_the_route_in_order(plot: Plot, tmp_path: Path) -> None:
    path = tmp_path / "route.gpx"
    path.write_bytes(gpx(plot))
    (route,) = readers.gdal(path, "routes")
    assert route["name"] == plot.name
    assert len(route["geometry"].coords) == len(plot.route.waypoints)
    assert readers.close(
        readers.gdal_points(path, "route_points", "name"), readers.turning_points(plot)
    )
    assert readers.gdal(path, "waypoints") == []
    assert readers.gdal(path, "tracks") == []


def test_gpxpy_reads_names_heights_and_variation() -> None:
    plot = plots.mountain()
    (route,) = gpxpy.parse(gpx(plot).decode("utf-8")).routes
    assert [p.name for p in route.points] == [p.name for p in plot.route.waypoints]
    heights = [None if p.elevation is None else feet_from_metres(p.elevation) for p in route.points]
    assert heights == [pytest.approx(7820, abs=0.2), None, None, pytest.approx(7523, abs=0.2)]
    for read, point in zip(route.points, plot.route.waypoints, strict=True):
        east = variation(point.position, plot.date, plot.altitude_ft).degrees_east
        assert read.magnetic_variation == pytest.approx(east, abs=0.051)


def test_west_variation_is_written_in_0_to_360() -> None:
    points = ET.fromstring(gpx(plots.short())).iterfind(".//g:rtept", N)
    for point in points:
        assert 350.0 < float(point.findtext("g:magvar", "", N)) < 360.0


def test_variation_is_left_out_where_the_compass_is_unreliable() -> None:
    near_the_magnetic_pole = plots.plot_of(
        [plots.at_point("A", 86.0, 140.0), plots.at_point("B", 60.0, 140.0)]
    )
    points = ET.fromstring(gpx(near_the_magnetic_pole)).findall(".//g:rtept", N)
    assert [p.find("g:magvar", N) is not None for p in points] == [False, True]


def test_a_flight_outside_the_model_that_was_let_through_is_written() -> None:
    late = replace(plots.short(), date=dt.date(2031, 1, 1))
    schemas.validate("gpx.xsd", gpx(late))


@pytest.mark.parametrize("longitude", [180.0, -180.0, 179.99999996])
def test_the_antimeridian_is_minus_180(longitude: float) -> None:
    plot = plots.plot_of([plots.at_point("A", 1.0, 179.0), plots.at_point("B", 1.0, longitude)])
    written = gpx(plot)
    schemas.validate("gpx.xsd", written)
    assert b'lon="-180.000000"' in written


def test_no_exponent_no_minus_nought_and_six_decimals() -> None:
    plot = plots.plot_of(
        [
            plots.at_point("A", 1e-7, -1e-9),
            plots.at_point("B", -0.0, 0.5),
            plots.at_point("C", 1, 1),
        ]
    )
    written = gpx(plot).decode("utf-8")
    schemas.validate("gpx.xsd", written.encode("utf-8"))
    for _, value in re.findall(r'(lat|lon)="([^"]*)"', written):
        assert re.fullmatch(r"-?\d{1,3}\.\d{6}", value)
        assert value != "-0.000000"


def test_cautions_and_data_dates_are_in_it(plot: Plot) -> None:
    root = ET.fromstring(gpx(plot))
    text = root.findtext("g:metadata/g:desc", "", N)
    for line in wording.STANDING:
        assert line in text
    for date in (plot.data.airports, plot.data.navaids, plot.data.magnetic_model_valid_to):
        assert date in text
    for caution in plot.cautions:
        assert caution.text in text
    assert root.findtext("g:rte/g:desc", "", N) == short_line(plot)


def test_the_full_name_of_a_place_and_the_next_leg_are_in_the_description() -> None:
    first, second, last = ET.fromstring(gpx(plots.short())).findall(".//g:rtept", N)
    assert "Demo Prairie Field" in first.findtext("g:desc", "", N)
    assert "Leg 1: 333°T" in first.findtext("g:desc", "", N)
    assert "invented for the demo" in second.findtext("g:desc", "", N)
    assert last.findtext("g:desc", "", N) == "Demo River Airport; elevation not in the data"


def test_there_is_no_time_of_writing(plot: Plot) -> None:
    assert b"<time" not in gpx(plot)
