"""KML and KMZ read: folders, lines, timed tracks; polygons and links are not."""

from __future__ import annotations

import io
import re

import plots
import pytest
from given_files import BARN, MILL, TOWER, kml, kml_point, kmz

from plotter.errors import FileFault
from plotter.formats.incoming import Contents, Part
from plotter.formats.kml import kml as write_kml
from plotter.formats.kml_in import read_kml, read_kmz
from plotter.messages import message

TRACK = (
    "<Placemark><name>Flown</name><gx:Track xmlns:gx='http://www.google.com/kml/ext/2.2'>"
    "<when>2026-07-04T12:00:00Z</when><when>then</when><when>2026-07-04T12:00:10Z</when>"
    "<gx:coord>-92.41 43.95 500</gx:coord><gx:coord>-92.5 44.0 510</gx:coord>"
    "<gx:coord>-92.75 44.25 520</gx:coord></gx:Track></Placemark>"
)


def read(text: str) -> Contents:
    contents = Contents("demo.kml")
    read_kml(io.BytesIO(text.encode("utf-8")), contents)
    return contents


def line(coordinates: str, name: str = "Way") -> str:
    inside = f"<LineString><coordinates>{coordinates}</coordinates></LineString>"
    return f"<Placemark><name>{name}</name>{inside}</Placemark>"


def test_each_folder_is_a_part() -> None:
    body = (
        kml_point("Loose", BARN)
        + f"<Folder><name>North</name>{kml_point('A', MILL)}"
        + f"<Folder><name>Inner</name>{kml_point('B', TOWER)}</Folder>"
        + f"{kml_point('C', BARN)}</Folder>"
    )
    parts = read(kml("<name>Demo</name>" + body)).parts
    assert [(part.kind, part.name, [p.name for p in part.points]) for part in parts] == [
        ("waypoints", "Demo", ["Loose"]),
        ("waypoints", "North", ["A", "C"]),
        ("waypoints", "Inner", ["B"]),
    ]


def test_a_folder_of_turning_points_is_a_route() -> None:
    folder = f"<Folder><name>Turning points</name>{kml_point('A', MILL)}</Folder>"
    (part,) = read(kml("<name>Sunday</name>" + folder)).parts
    assert (part.kind, part.name) == ("route", "Sunday")


@pytest.mark.parametrize(
    ("description", "note"),
    [
        ("Silo", "Silo"),
        ("<![CDATA[<b>Silo</b><br/>white &amp; tall]]>", "Silo white & tall"),
        ("a &lt;i&gt;silo&lt;/i&gt;", "a silo"),
        ("<![CDATA[" + "<" * 50_000 + "]]>", "<" * 1_999 + "…"),
    ],
)
def test_a_description_without_its_markup_is_the_note(description: str, note: str) -> None:
    inside = f"<description>{description}</description>"
    (part,) = read(kml(kml_point("A", BARN, inside))).parts
    assert part.points[0].note == note


def test_lines_however_their_coordinates_are_spaced() -> None:
    contents = read(kml(line("\n\t-92.41,43.95,300\n   -92.75,44.25\t-92.2,44.5,0 \n")))
    (part,) = contents.parts
    assert (part.kind, part.name, part.count) == ("track", "Way", 3)
    assert list(part.latitudes) == [43.95, 44.25, 44.5]


def test_a_long_line_is_read_in_pieces_without_a_seam() -> None:
    coordinates = " ".join(f"{-92 + i * 1e-5:.6f},{44 + i * 1e-5:.6f}" for i in range(50_000))
    (part,) = read(kml(line(coordinates))).parts
    assert part.count == 50_000
    assert part.faults.count == 0
    assert all(abs(part.longitudes[i] + 92 - i * 1e-5) < 1e-9 for i in range(50_000))


def test_a_timed_track_keeps_its_times_and_its_heights_as_notes() -> None:
    (part,) = read(kml(TRACK)).parts
    points = [part.track_point(index) for index in range(3)]
    assert [point.time and point.time.second for point in points] == [0, None, 10]
    assert points[0].note == "track height 1,640 ft"
    assert points[0].elevation_ft is None
    assert part.left_out.kept == [
        message("file.at", place="line 3", what=message("time.not-iso", typed="then"))
    ]


def test_several_lines_of_one_placemark_are_pieces_of_one_track() -> None:
    pieces = "".join(
        f"<LineString><coordinates>-92,{lat} -91,{lat}</coordinates></LineString>"
        for lat in (44, 45)
    )
    (part,) = read(kml(f"<Placemark><MultiGeometry>{pieces}</MultiGeometry></Placemark>")).parts
    assert (part.count, part.pieces) == (4, 2)


@pytest.mark.parametrize("zero", ["0", "0.0"])
def test_a_height_of_nought_is_no_height(zero: str) -> None:
    point = f"<Placemark><Point><coordinates>-92,44,{zero}</coordinates></Point></Placemark>"
    (part,) = read(kml(point)).parts
    assert part.points[0].elevation_ft is None


def test_an_archive_gives_its_main_document() -> None:
    contents = Contents("demo.kmz")
    read_kmz(io.BytesIO(kmz(kml(kml_point("A", BARN)).encode(), "folder/Any.KML")), contents)
    assert contents.parts[0].points[0].name == "A"


@pytest.mark.parametrize("name", ["Turning points", "Checkpoints"])
def test_a_folder_of_others_keeps_its_words_and_heights_whatever_it_is_called(name: str) -> None:
    point = "<Point><coordinates>-92,44,304.8</coordinates></Point>"
    mark = f"<Placemark><name>A</name><description>silo</description>{point}</Placemark>"
    (part,) = read(kml(f"<Folder><name>{name}</name>{mark}</Folder>")).parts
    assert part.points[0].note == "silo"
    assert part.points[0].elevation_ft == pytest.approx(1000.0)


@pytest.mark.parametrize("figures", ["-92,5,44,5", "-92,5,44,5,0", "-92.5,44.5,0,1"])
def test_a_coordinate_of_more_than_three_numbers_is_a_fault(figures: str) -> None:
    point = f"<Placemark><Point><coordinates>{figures}</coordinates></Point></Placemark>"
    for body in (point, line(f"-92.5,44.5 {figures}")):
        (part,) = read(kml(body)).parts
        assert part.faults.count == 1
        wrong = message("position.numbers", count=figures.count(",") + 1)
        assert part.faults.kept[0]["what"] == wrong


def test_a_timed_coordinate_of_more_than_three_numbers_is_a_fault() -> None:
    (part,) = read(kml(TRACK.replace("-92.5 44.0 510", "-92 5 44 0"))).parts
    assert (part.count, part.faults.count) == (2, 1)
    assert part.faults.kept[0]["what"] == message("position.numbers", count=4)


@pytest.mark.parametrize(
    "inner",
    [
        "<Point><coordinates>170,-10</coordinates></Point>",
        "<LineString><coordinates>170,-10 171,-10</coordinates></LineString>",
        "<LookAt><TimeStamp><when>1999-01-01T00:00:00Z</when></TimeStamp></LookAt>",
    ],
)
def test_extended_data_adds_no_point_and_no_time(inner: str) -> None:
    (part,) = read(kml(kml_point("Barn", BARN, f"<ExtendedData>{inner}</ExtendedData>"))).parts
    assert [(point.position.latitude_deg, point.time) for point in part.points] == [(BARN[0], None)]


def test_a_placemark_inside_another_is_refused() -> None:
    inner = f"<ExtendedData>{kml_point('Other', MILL)}</ExtendedData>"
    with pytest.raises(FileFault, match=r"demo\.kml, line 3: a placemark inside another"):
        read(kml(kml_point("Barn", BARN, inner)))


def test_our_own_elevations_are_values_and_those_of_older_files_words() -> None:
    """A value says 0.1 ft; a file from before there were values is read as it was."""
    plot = plots.short()
    heights = [point.elevation_ft for point in plot.route.waypoints]
    written = write_kml(plot)
    assert [point.elevation_ft for point in route_part(written).points] == heights
    old = re.sub(rb"\s*<ExtendedData>.*?</ExtendedData>", b"", written, flags=re.S)
    assert b"elevation_ft" not in old
    assert [point.elevation_ft for point in route_part(old).points] == heights


def test_words_of_our_own_files_are_not_read_for_figures() -> None:
    altered = write_kml(plots.short()).replace(b"elevation 1,317 ft", b"elevation 9,999 ft")
    assert b"9,999" in altered
    assert route_part(altered).points[0].elevation_ft == 1317.0


def route_part(content: bytes) -> Part:
    (part,) = [each for each in read(content.decode()).parts if each.kind == "route"]
    return part
