"""Which part of a file is flown, and what is said of it."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from given_files import BARN, MILL, TOWER, feature, geojson, gpx, gpx_point, gpx_route, gpx_track

from plotter.errors import FileFault, InputError
from plotter.formats.incoming import Contents, Part, Raw
from plotter.formats.reading import MOST_POINTS, file_route, read_file
from plotter.messages import message, text
from plotter.route.reading.whole import GivenRoute


def points(tag: str, *names: str) -> str:
    where = dict(zip("ABC", (BARN, MILL, TOWER), strict=True))
    return "".join(gpx_point(tag, where[name[0]], f"<name>{name}</name>") for name in names)


FULL = gpx(
    points("wpt", "A1", "B1", "C1")
    + f"<rte><name>Short</name>{points('rtept', 'A2')}</rte>"
    + f"<rte><name>First</name>{points('rtept', 'A3', 'B3')}</rte>"
    + f"<rte><name>Second</name>{points('rtept', 'B4', 'C4')}</rte>"
    + f"<trk><name>Flown</name><trkseg>{points('trkpt', 'A5', 'C5')}</trkseg></trk>"
)


@pytest.fixture
def full(tmp_path: Path) -> Contents:
    path = tmp_path / "full.gpx"
    path.write_text(FULL, encoding="utf-8")
    return read_file(path)


def names(route: GivenRoute) -> list[str]:
    return [waypoint.name for waypoint in route.waypoints]


def said(route: GivenRoute, code: str) -> str:
    return "".join(caution.text for caution in route.cautions if caution.code == code)


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        (None, ["A3", "B3"]),
        ("route", ["A3", "B3"]),
        ("Second", ["B4", "C4"]),
        ("second ", ["B4", "C4"]),
        ("track", ["P1", "P2"]),
        ("Waypoints", ["A1", "B1", "C1"]),
        ("4", ["B4", "C4"]),
    ],
)
def test_the_part_that_is_asked_for(full: Contents, wanted: str | None, found: list[str]) -> None:
    assert names(file_route(full, wanted)) == found


def test_what_was_used_and_what_else_there_is_is_said(full: Contents) -> None:
    (read,) = [each for each in file_route(full).cautions if each.code == "file-part"]
    assert text(read.said, "console") == (
        "Read from the file: route 'First' (2 points). Parts of the file, for --part: "
        "1 = waypoints (3 points), 2 = route 'Short' (1 point), 3 = route 'First' (2 points), "
        "4 = route 'Second' (2 points), 5 = track 'Flown' (2 points)."
    )
    assert file_route(full).name == "First"


@pytest.mark.parametrize("wanted", ["", "Third", "0", "6", "-1", "x" * 1_000])
def test_a_part_that_is_not_there(full: Contents, wanted: str) -> None:
    with pytest.raises(InputError, match="3 = route 'First'") as caught:
        file_route(full, wanted)
    assert caught.value.code == "part"


def test_a_part_of_one_point(full: Contents) -> None:
    with pytest.raises(FileFault, match="no two different places"):
        file_route(full, "2")


def test_the_one_part_of_a_kind_is_meant_by_its_kind_however_few_its_points(
    tmp_path: Path,
) -> None:
    path = tmp_path / "lone.gpx"
    path.write_text(
        gpx(points("wpt", "A1") + f"<rte><name>Sunday</name>{points('rtept', 'A2', 'B2')}</rte>"),
        encoding="utf-8",
    )
    lone = read_file(path)
    for wanted in ("waypoints", "Waypoints", "1"):
        with pytest.raises(FileFault) as caught:
            file_route(lone, wanted)
        assert (
            "part 1, waypoints (1 point), has no two different places, and a route needs two"
            in caught.value.message
        )
        assert caught.value.message.endswith("; choose from 2 = route 'Sunday' (2 points)")


def test_a_name_goes_before_a_kind_of_too_few_points(tmp_path: Path) -> None:
    path = tmp_path / "named.gpx"
    named = f"<rte><name>waypoints</name>{points('rtept', 'A2', 'B2')}</rte>"
    path.write_text(gpx(points("wpt", "A1") + named), encoding="utf-8")
    assert names(file_route(read_file(path), "waypoints")) == ["A2", "B2"]


def test_waypoints_are_flown_in_the_files_order_and_that_is_doubted(full: Contents) -> None:
    assert "order of the file" in said(file_route(full, "waypoints"), "file-order")


def read(tmp_path: Path, name: str, text: str) -> Contents:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return read_file(path)


def test_a_track_says_how_many_points_stand_for_it(tmp_path: Path) -> None:
    north = [(44 + i / 1000, -92 + (i % 2) / 1000) for i in range(500)]
    contents = read(tmp_path, "t.gpx", gpx_track(*north, (44.5, -91.0)))
    route = file_route(contents)
    assert len(route.waypoints) == 3
    assert said(route, "track-thinned").startswith("3 of 501 track points are kept: no other")
    assert (
        "no other is more than 0.04 NM off the geodesic between two of them (tolerance 0.5 NM)"
        in said(route, "track-thinned")
    )
    assert len(file_route(contents, tolerance_nm=30.0).waypoints) == 2


def test_points_of_one_place_are_one_point_and_said(tmp_path: Path) -> None:
    route = file_route(read(tmp_path, "r.gpx", gpx_route(BARN, BARN, MILL)))
    assert names(route) == ["A", "C"]
    assert said(route, "file-repeated") == "B is at the same position as A; one of them is used."


def test_polygons_beside_points_are_said(tmp_path: Path) -> None:
    text = geojson(
        feature("MultiPoint", [[-92, 44], [-92, 45]]),
        feature("Polygon", [[[0, 0], [0, 1], [1, 1], [0, 0]]]),
        {"type": "Feature", "geometry": None},
        3,
    )
    route = file_route(read(tmp_path, "a.geojson", text))
    assert said(route, "file-passed-over") == "Not read: 1 polygon, 2 features without a geometry."


def test_what_was_left_out_is_said(tmp_path: Path) -> None:
    inside = "<ele>high</ele><time>noon</time>"
    body = gpx_point("rtept", BARN, inside) + gpx_point("rtept", MILL)
    words = said(file_route(read(tmp_path, "a.gpx", gpx(f"<rte>{body}</rte>"))), "file-left-out")
    assert words.startswith("Left out: line 3: elevation 'high' is not a number; line 3: time")


def test_more_points_than_a_route_can_have(tmp_path: Path) -> None:
    route = gpx_route(*((44 + i / 1e4, -92) for i in range(MOST_POINTS + 1)))
    with pytest.raises(
        FileFault,
        match=r"has 10,001 points, and a route can have 10,000",
    ):
        file_route(read(tmp_path, "a.gpx", route))


def test_outputs_do_not_tell_where_the_file_lay(full: Contents) -> None:
    assert {caution.where for caution in file_route(full).cautions} == {"full.gpx"}


def test_a_point_keeps_its_note_time_and_elevation() -> None:
    contents, noon = Contents("demo.csv"), dt.datetime(2026, 7, 4, 12, tzinfo=dt.UTC)
    part = contents.begin("route")
    contents.take(part, Raw(44, -92, "Barn", "silo", "304.8", "", "2026-07-04T12:00Z"))
    contents.take(part, Raw(45, -92))
    barn, other = file_route(contents).waypoints
    assert (barn.kind, barn.note, barn.time) == ("file", "silo", noon)
    assert barn.elevation_ft == pytest.approx(1000.0)
    assert (other.name, other.elevation_ft, other.time) == ("P2", None, None)


def test_faults_past_those_kept_are_counted() -> None:
    part = Part("route")
    for number in range(25):
        part.faults.add(f"line {number}", "demo")
    assert len(part.faults.messages()) == 11
    assert part.faults.messages()[-1] == message("file.more", count=15)
    assert part.met == 25
