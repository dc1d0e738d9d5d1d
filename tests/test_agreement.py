"""What is read here is what independent readers see: GDAL, gpxpy, fastkml; and what GDAL writes."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import fastkml
import geopandas
import given_files
import gpxpy
import plots
import pytest
import readers
import shapely
from examples import TIMES
from hypothesis import given, settings
from hypothesis import strategies as st

from plotter.earth.units import feet_from_metres
from plotter.exports import FORMATS, Job
from plotter.formats.incoming import FilePoint, Part
from plotter.formats.reading import read_file

LATITUDE = st.floats(-90.0, 90.0).map(lambda value: round(value, 9))
LONGITUDE = st.floats(-180.0, 179.9).map(lambda value: round(value, 9))
NAME = st.from_regex(r"[A-Za-zé&<'\"]{1,12}", fullmatch=True)
TIME = st.datetimes(dt.datetime(1990, 1, 1), dt.datetime(2090, 1, 1)).map(
    lambda time: time.replace(microsecond=0)
)
MARK = st.tuples(LATITUDE, LONGITUDE, NAME, st.floats(-400, 9000), TIME)
MARKS = st.lists(MARK, min_size=2, max_size=6, unique_by=lambda mark: mark[:2])
Mark = tuple[float, float, str, float, dt.datetime]


def escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;")


def gpx_of(marks: list[Mark]) -> str:
    def points(tag: str) -> str:
        return "".join(
            given_files.gpx_point(
                tag,
                (lat, lon),
                f"<ele>{height:.3f}</ele><time>{time.isoformat()}Z</time>"
                f"<name>{escaped(name)}</name><extensions><x:name xmlns:x='urn:x'>no</x:name>"
                "</extensions>",
            )
            for lat, lon, name, height, time in marks
        )

    return given_files.gpx(
        points("wpt") + f"<rte>{points('rtept')}</rte><trk><trkseg>{points('trkpt')}</trkseg></trk>"
    )


def told(points: list[FilePoint]) -> list[tuple[str, float, float, float | None, object]]:
    return [
        (
            point.name,
            point.position.latitude_deg,
            point.position.longitude_deg,
            None if point.elevation_ft is None else round(point.elevation_ft, 3),
            point.time,
        )
        for point in points
    ]


def part(path: Path, kind: str) -> Part:
    return next(each for each in read_file(path).parts if each.kind == kind)


def ways_of_gpxpy(document: gpxpy.gpx.GPX) -> dict[str, list[object]]:
    return {
        "waypoints": document.waypoints,
        "route": document.routes[0].points,
        "track": document.tracks[0].segments[0].points,
    }


@settings(max_examples=15 * TIMES, deadline=None)
@given(marks=MARKS)
def test_gpxpy_and_gdal_see_the_same_gpx(
    marks: list[Mark], tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.mktemp("agree") / "demo.gpx"
    path.write_text(gpx_of(marks), encoding="utf-8")
    by_gpxpy = ways_of_gpxpy(gpxpy.parse(path.read_text(encoding="utf-8")))
    for kind in ("waypoints", "route"):
        ours = told(part(path, kind).points)
        theirs = [
            (
                point.name,
                point.latitude,
                point.longitude,
                round(feet_from_metres(point.elevation), 3),
                point.time,
            )
            for point in by_gpxpy[kind]
        ]
        assert ours == theirs
    by_gdal = readers.gdal_points(path, "route_points", "name")
    assert readers.close(
        by_gdal, [readers.seen(*each[:3]) for each in told(part(path, "route").points)]
    )


@settings(max_examples=15 * TIMES, deadline=None)
@given(marks=MARKS)
def test_gpxpy_sees_the_same_track(
    marks: list[Mark], tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.mktemp("agree") / "demo.gpx"
    path.write_text(gpx_of(marks), encoding="utf-8")
    track = part(path, "track")
    theirs = gpxpy.parse(path.read_text(encoding="utf-8")).tracks[0].segments[0].points
    assert list(track.latitudes) == [point.latitude for point in theirs]
    assert list(track.longitudes) == [point.longitude for point in theirs]
    for index, point in enumerate(theirs):
        assert track.heights_ft[index] == pytest.approx(feet_from_metres(point.elevation))
        assert track.track_point(index).time == point.time


def kml_of(marks: list[Mark]) -> str:
    points = "".join(
        given_files.kml_point(
            escaped(name), (lat, lon), f"<TimeStamp><when>{t.isoformat()}Z</when></TimeStamp>"
        )
        for lat, lon, name, _, t in marks
    )
    line = " ".join(f"{lon},{lat},{height:.3f}" for lat, lon, _, height, _ in marks)
    return given_files.kml(
        f"<Folder><name>Marks</name>{points}</Folder><Placemark><name>Way</name><LineString>"
        f"<coordinates>\n {line}\n</coordinates></LineString></Placemark>"
    )


@settings(max_examples=15 * TIMES, deadline=None)
@given(marks=MARKS)
def test_fastkml_and_gdal_see_the_same_kml(
    marks: list[Mark], tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.mktemp("agree") / "demo.kml"
    path.write_text(kml_of(marks), encoding="utf-8")
    (document,) = fastkml.KML.parse(path).features
    folder, way = document.features
    points, line = part(path, "waypoints"), part(path, "track")
    assert points.name == folder.name
    assert [(p.name, p.position.longitude_deg, p.position.latitude_deg) for p in points.points] == [
        (mark.name, mark.geometry.x, mark.geometry.y) for mark in folder.features
    ]
    assert [p.time for p in points.points] == [mark.time_stamp.dt for mark in folder.features]
    assert list(zip(line.longitudes, line.latitudes, strict=True)) == [
        point[:2] for point in way.geometry.coords
    ]
    by_gdal = readers.gdal_points(path, "Marks", "Name")
    assert by_gdal == [readers.seen(*each[:3]) for each in told(points.points)]


@pytest.mark.parametrize("driver", ["GPKG", "GeoJSON"])
def test_what_gdal_writes_is_read(driver: str, tmp_path: Path) -> None:
    path = tmp_path / {"GPKG": "demo.gpkg", "GeoJSON": "demo.geojson"}[driver]
    where = [shapely.Point(-92.41, 43.95, 300.0), shapely.Point(-92.75, 44.25, 310.5)]
    frame = geopandas.GeoDataFrame(
        {"Name": ["Red barn", "Mill"], "note": ["silo", None]}, geometry=where, crs="EPSG:4326"
    )
    frame.to_file(path, driver=driver)
    points = part(path, "waypoints").points
    assert [(point.name, point.note) for point in points] == [("Red barn", "silo"), ("Mill", "")]
    assert points[0].position.latitude_deg == 43.95
    assert points[1].elevation_ft == pytest.approx(feet_from_metres(310.5))


def test_gdal_sees_the_same_lines_in_our_geopackage(tmp_path: Path) -> None:
    path = tmp_path / "demo.gpkg"
    plot = plots.across_180()
    path.write_bytes(FORMATS["gpkg"].write(Job(plot)))
    tracks = [each for each in read_file(path).parts if each.kind == "track"]
    rows = readers.gdal(path, "legs")
    assert len(tracks) == len(rows) == len(plot.route.legs)
    for track, row in zip(tracks, rows, strict=True):
        coords = shapely.get_coordinates(row["geometry"])
        assert list(track.longitudes) == list(coords[:, 0])
        assert list(track.latitudes) == list(coords[:, 1])
