"""GPX read: both versions, what belongs to a point and what does not, whose words are whose."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import given_files
import plots
import pytest
from given_files import BARN, MILL, gpx, gpx_point, gpx_route, gpx_track

from plotter.earth.position import Position
from plotter.formats.gpx import gpx as write_gpx
from plotter.formats.gpx_in import read_gpx
from plotter.formats.incoming import Contents, FilePoint
from plotter.formats.unit_limits import Choices
from plotter.messages import message


def read(text: str | bytes) -> Contents:
    contents = Contents("demo.gpx")
    read_gpx(io.BytesIO(text if isinstance(text, bytes) else text.encode("utf-8")), contents)
    return contents


def one(inside: str) -> FilePoint:
    (part,) = read(gpx(f"<rte>{gpx_point('rtept', BARN, inside)}</rte>")).parts
    return part.points[0]


@pytest.mark.parametrize(
    "namespace", ["http://www.topografix.com/GPX/1/0", "http://www.topografix.com/GPX/1/1", ""]
)
def test_both_versions_and_none(namespace: str) -> None:
    body = f"<rte><name>Demo</name>{gpx_point('rtept', BARN)}</rte>"
    (part,) = read(gpx(body, namespace)).parts
    assert (part.kind, part.name, part.count) == ("route", "Demo", 1)


def test_parts_keep_their_order_and_names() -> None:
    body = (
        gpx_point("wpt", BARN, "<name>Barn</name>")
        + f"<rte><name>One</name>{gpx_point('rtept', BARN)}</rte><rte><name>Two</name></rte>"
        + f"<trk><name>Line</name><trkseg>{gpx_point('trkpt', BARN)}</trkseg>"
        + f"<trkseg>{gpx_point('trkpt', MILL)}</trkseg></trk>"
        + gpx_point("wpt", MILL)
    )
    parts = read(gpx("<metadata><name>Not this</name></metadata>" + body)).parts
    assert [(part.kind, part.name, part.count, part.pieces) for part in parts] == [
        ("waypoints", "", 2, 0),
        ("route", "One", 1, 0),
        ("route", "Two", 0, 0),
        ("track", "Line", 2, 2),
    ]


def test_extensions_and_links_are_not_taken_for_the_point() -> None:
    point = one(
        "<name>Barn</name><link href='http://example.invalid/'><text>no</text></link>"
        "<extensions><name>no</name><x:ele xmlns:x='urn:x'>9<x:a>no</x:a></x:ele></extensions>"
    )
    assert (point.name, point.elevation_ft, point.note) == ("Barn", None, "")


@pytest.mark.parametrize(
    ("inside", "note"),
    [
        ("<cmt>silo</cmt>", "silo"),
        ("<desc>roof</desc>", "roof"),
        ("<cmt>silo</cmt><desc>roof</desc>", "silo; roof"),
        ("<cmt>silo</cmt><desc>silo</desc>", "silo"),
        ("<desc><![CDATA[<b>a & b</b>]]></desc>", "<b>a & b</b>"),
    ],
)
def test_notes_of_others(inside: str, note: str) -> None:
    assert one(inside).note == note


@pytest.mark.parametrize(
    ("text", "time"),
    [
        ("2026-07-04T12:00:00Z", "2026-07-04T12:00:00+00:00"),
        ("2026-07-04T12:00:00", "2026-07-04T12:00:00+00:00"),
        ("2026-07-04T07:00:00-05:00", "2026-07-04T12:00:00+00:00"),
        ("2026-07-04T12:00:00.25Z", "2026-07-04T12:00:00.250000+00:00"),
    ],
)
def test_times_are_kept_as_utc(text: str, time: str) -> None:
    found = one(f"<time>{text}</time>").time
    assert found is not None
    assert found.isoformat() == time


@pytest.mark.parametrize(
    "inside",
    [
        "<ele>high</ele>",
        "<ele>1e9</ele>",
        "<time>noon</time>",
        "<time>9999-12-31T23:59:59-23:59</time>",
        "<time>9999-12-31T23:59:59.999999Z</time>",
        "<time>0001-01-01T00:00:00+23:59</time>",
    ],
)
def test_what_cannot_be_read_of_a_point_is_left_out_and_counted(inside: str) -> None:
    (part,) = read(gpx(f"<rte>{gpx_point('rtept', BARN, inside)}</rte>")).parts
    assert part.points[0][2:] == (None, "", None)
    assert part.left_out.count == 1
    assert part.faults.count == 0


def test_a_long_text_is_cut_not_kept() -> None:
    assert len(one(f"<name>{'x' * 500_000}</name><desc>{'y ' * 500_000}</desc>").name) == 300


def test_our_own_words_are_not_taken_for_the_pilots() -> None:
    (part,) = read(write_gpx(plots.short())).parts
    assert [point.note for point in part.points] == ["", "invented for the demo", ""]


def test_our_own_checkpoints_are_not_taken_for_turning_points() -> None:
    plot = plots.short()
    (part,) = read(write_gpx(plot, Choices(gpx_checkpoints=True))).parts
    assert part.count == len(plot.route.waypoints)
    assert part.checkpoints_left_out == len(plot.checkpoints) > 0


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "iso-8859-1", "cp1252"])
def test_other_encodings_that_say_so(encoding: str) -> None:
    text = given_files.gpx_route(BARN, MILL, name="Zürich").replace("UTF-8", encoding)
    assert read(text.encode(encoding)).parts[0].name == "Zürich"


@pytest.mark.parametrize("latitude", ["4_4.5", "٤٤.٥"])
def test_a_figure_is_read_alike_on_a_track_and_on_a_route(latitude: str) -> None:
    """Neither takes for 44.5 what is not written so."""
    points = [BARN, (latitude, -92.2), MILL]
    for text in (gpx_track(*points), gpx_route(*points)):
        (part,) = read(text).parts
        assert (part.count, part.faults.count) == (2, 1)
        assert part.faults.kept[0]["what"] == message(
            "position.not-decimal", angle="latitude", typed=latitude
        )


@pytest.mark.parametrize("tag", ["wpt", "rtept", "trkpt"])
@pytest.mark.parametrize(
    "wrapped", ["<extensions>{}</extensions>", "{}", "<extensions><wpt>{}</wpt></extensions>"]
)
def test_a_point_inside_a_point_replaces_nothing(tag: str, wrapped: str) -> None:
    """Extensions may hold any element (GPX 1.1, extensionsType)."""
    inner = wrapped.format(gpx_point(tag, (-10, 170), "<name>Other</name><ele>9</ele>"))
    body = gpx_point("wpt", BARN, f"<name>Barn</name>{inner}<ele>300</ele>")
    found = read(gpx(body + gpx_point("wpt", MILL, f"{inner}<name>Mill</name>")))
    (part,) = found.parts
    assert [(point.name, point.position) for point in part.points] == [
        ("Barn", Position(*BARN)),
        ("Mill", Position(*MILL)),
    ]
    assert found.passed_over


def test_a_track_keeps_its_points_and_name_beside_extensions() -> None:
    other = f"<trkseg>{gpx_point('trkpt', (-10, 170))}</trkseg>"
    inner = f"<extensions><trk><name>Other</name>{other}</trk></extensions>"
    points = gpx_point("trkpt", BARN, inner) + gpx_point("trkpt", MILL)
    (track,) = read(gpx(f"<trk><name>Line</name><trkseg>{points}</trkseg>{inner}</trk>")).parts
    assert (track.name, track.pieces, list(track.latitudes)) == ("Line", 1, [BARN[0], MILL[0]])


def test_of_a_planned_flight_the_grounds_elevation_is_an_extension() -> None:
    """``ele`` is the planned altitude; the words of the description are not read."""
    plot = plots.short()
    turns = [replace(point, altitude_ft=5500.0) for point in plot.route.waypoints]
    planned = replace(plot, route=replace(plot.route, waypoints=tuple(turns)))
    written = write_gpx(planned)
    meant = [point.elevation_ft for point in plot.route.waypoints]
    for content in (written, written.replace(b"elevation 1,317 ft", b"elevation 9,999 ft")):
        (part,) = read(content).parts
        assert [point.elevation_ft for point in part.points] == meant
    old = re.sub(rb"\s*<extensions>.*?</extensions>", b"", written, flags=re.S)
    (part,) = read(old).parts
    assert [point.elevation_ft for point in part.points] == [None] * len(meant)
