"""GPX as the pilot chose it: checkpoints in the route, a track, short names, a count to mind."""

from __future__ import annotations

import re
from itertools import pairwise, product
from pathlib import Path
from xml.etree import ElementTree as ET

import awkward
import gpxpy
import plots
import pytest
import readers
import schemas

from plotter.earth.geodesic import beside, distance_nm
from plotter.earth.position import Position
from plotter.formats.descriptions import short_line
from plotter.formats.gpx import NAMESPACE, ROUTE_POINTS_NOTED, gpx, gpx_cautions
from plotter.formats.unit_limits import GPX_AS, NAME_PROFILES, Choices, GpxAs
from plotter.route.plotting import Plot

N = {"g": NAMESPACE}
HOSTILE = plots.named(*awkward.NAMES.values())
EVERY_CHOICE = [Choices(*each) for each in product((False, True), GPX_AS, NAME_PROFILES)]
WITH_CHECKPOINTS = Choices(gpx_checkpoints=True)
TRACK, BOTH = Choices(gpx_as="track"), Choices(gpx_as="both")


@pytest.fixture(params=plots.GOLDEN)
def plot(request: pytest.FixtureRequest) -> Plot:
    return plots.GOLDEN[request.param]()


def flown(plot: Plot) -> list[readers.Seen]:
    """Turning points and checkpoints in the order they are passed, as a reader should see them."""
    turns, marks = readers.turning_points(plot), readers.checkpoints(plot)
    seen = [turns[0]]
    for leg in plot.route.legs:
        seen += [
            mark
            for check, mark in zip(plot.checkpoints, marks, strict=True)
            if check.leg_number == leg.number
        ]
        seen.append(turns[leg.number])
    return seen


def written(tmp_path: Path, plot: Plot, choices: Choices) -> Path:
    path = tmp_path / "route.gpx"
    path.write_bytes(gpx(plot, choices))
    return path


@pytest.mark.parametrize("choices", EVERY_CHOICE, ids=str)
def test_every_choice_is_valid_also_with_hostile_names(choices: Choices) -> None:
    for plot in (plots.short(), plots.across_180(), HOSTILE):
        schemas.validate("gpx.xsd", gpx(plot, choices))


@pytest.mark.parametrize("choices", EVERY_CHOICE, ids=str)
def test_no_number_has_an_exponent_or_more_than_six_decimals(choices: Choices) -> None:
    tiny = plots.plot_of([plots.at_point("A", 1e-7, -1e-9), plots.at_point("B", 0.3, 0.5)])
    far = plots.plot_of([plots.at_point("A", -0.0, 179.3), plots.at_point("B", 0.3, 180.0)])
    text = (gpx(tiny, choices) + gpx(far, choices)).decode("utf-8")
    for _, value in re.findall(r'(lat|lon)="([^"]*)"', text):
        assert re.fullmatch(r"-?\d{1,3}\.\d{6}", value)
    for value in re.findall(r"<(?:ele|magvar)>([^<]*)<", text):
        assert re.fullmatch(r"\d+\.\d", value)


def test_the_defaults_are_turning_points_as_a_route(plot: Plot) -> None:
    assert gpx(plot) == gpx(plot, Choices())
    root = ET.fromstring(gpx(plot))
    assert len(root.findall("g:rte/g:rtept", N)) == len(plot.route.waypoints)
    assert not root.findall("g:wpt", N) + root.findall("g:trk", N)


def test_checkpoints_stand_between_the_turning_points(plot: Plot, tmp_path: Path) -> None:
    path = written(tmp_path, plot, WITH_CHECKPOINTS)
    assert readers.close(readers.gdal_points(path, "route_points", "name"), flown(plot))
    (route,) = gpxpy.parse(path.read_text(encoding="utf-8")).routes
    read = [readers.seen(p.name, p.latitude, p.longitude) for p in route.points]
    assert readers.close(read, flown(plot))


def test_a_checkpoint_says_what_it_is() -> None:
    root = ET.fromstring(gpx(plots.short(), WITH_CHECKPOINTS))
    first = root.findall("g:rte/g:rtept", N)[1]
    assert first.findtext("g:name", "", N) == "CP1"
    assert first.findtext("g:type", "", N) == "checkpoint"
    assert first.findtext("g:desc", "", N) == "Leg 1: 10.0 NM gone, 41.6 NM to go"
    assert first.find("g:ele", N) is None
    assert 350.0 < float(first.findtext("g:magvar", "", N)) < 360.0


@pytest.mark.parametrize(
    ("gpx_as", "routes", "tracks", "waypoints"),
    [("route", 1, 0, 0), ("track", 0, 1, 3), ("both", 1, 1, 0)],
)
def test_the_line_is_a_route_a_track_or_both(
    gpx_as: GpxAs, routes: int, tracks: int, waypoints: int, tmp_path: Path
) -> None:
    path = written(tmp_path, plots.short(), Choices(gpx_as=gpx_as))
    found = [len(readers.gdal(path, layer)) for layer in ("routes", "tracks", "waypoints")]
    assert found == [routes, tracks, waypoints]


def test_of_a_track_the_turning_points_keep_their_names(plot: Plot, tmp_path: Path) -> None:
    path = written(tmp_path, plot, TRACK)
    assert readers.close(
        readers.gdal_points(path, "waypoints", "name"), readers.turning_points(plot)
    )
    path = written(tmp_path, plot, Choices(gpx_as="track", gpx_checkpoints=True))
    assert readers.close(readers.gdal_points(path, "waypoints", "name"), flown(plot))


def test_a_place_passed_twice_is_one_waypoint_but_two_points_of_a_route() -> None:
    there = plots.at_airport("XDMA", "Demo Prairie Field", 43.9, -92.5)
    back = plots.plot_of([there, plots.at_point("Barn", 44.1, -92.5), there])
    names = [e.text for e in ET.fromstring(gpx(back, TRACK)).iterfind("g:wpt/g:name", N)]
    assert names == ["XDMA", "Barn"]
    names = [e.text for e in ET.fromstring(gpx(back, BOTH)).iterfind("g:rte/g:rtept/g:name", N)]
    assert names == ["XDMA", "Barn", "XDMA"]


def segments(document: bytes) -> list[list[Position]]:
    return [
        [Position(float(p.get("lat", "")), float(p.get("lon", ""))) for p in segment]
        for segment in ET.fromstring(document).iterfind("g:trk/g:trkseg", N)
    ]


@pytest.mark.parametrize("build", [plots.short, plots.mountain, plots.far_north, plots.rhumb])
def test_a_track_is_one_segment_that_follows_the_line(build: type[Plot]) -> None:
    plot = build()
    (track,) = segments(gpx(plot, TRACK))
    ends = [point.position for point in plot.route.waypoints]
    assert distance_nm(track[0], ends[0]) < 1e-4
    assert distance_nm(track[-1], ends[-1]) < 1e-4
    assert len(set(track)) == len(track), "the joint of two legs stands once"
    length = sum(distance_nm(a, b) for a, b in pairwise(track))
    assert length == pytest.approx(plot.route.distance_nm, rel=1e-5)
    for point in track:
        off = [abs(beside(leg.line, [point])[0][1]) for leg in plot.route.legs]
        assert min(off) < 1e-3


def test_the_curve_of_a_long_leg_is_in_the_track() -> None:
    (track,) = segments(gpx(plots.far_north(), TRACK))
    assert len(track) > 10
    assert max(point.latitude_deg for point in track) > 76.0


def test_a_track_over_180_is_cut_and_no_segment_jumps(tmp_path: Path) -> None:
    plot = plots.across_180()
    tracks = segments(gpx(plot, TRACK))
    longitudes = [[point.longitude_deg for point in track] for track in tracks]
    assert [(line[0], line[-1]) for line in longitudes] == [
        (178.5, 179.999999),
        (-180.0, -180.0),
        (179.999999, 179.5),
    ]
    for line in longitudes:
        assert max(abs(a - b) for a, b in pairwise(line)) < 3.0
    for before, after in pairwise(tracks):
        assert distance_nm(before[-1], after[0]) < 1e-4
    (read,) = readers.gdal(written(tmp_path, plot, TRACK), "tracks")
    assert len(read["geometry"].geoms) == 3


def test_beyond_180_the_legs_run_on_in_one_segment() -> None:
    longitudes = (178.3, -118.3, -117.7, -112.7)
    points = [plots.at_point(f"P{i}", 1.1 + 0.1 * i, x) for i, x in enumerate(longitudes)]
    tracks = segments(gpx(plots.plot_of(points), TRACK))
    assert len(tracks) == 2
    for track in tracks:
        assert len(set(track)) == len(track)


@pytest.mark.parametrize("longitudes", [(180.0, -179.0), (-180.0, -179.0), (179.0, 180.0)])
def test_a_route_that_touches_180_is_one_valid_segment(longitudes: tuple[float, float]) -> None:
    plot = plots.plot_of([plots.at_point(f"P{x}", 1.0, x) for x in longitudes])
    document = gpx(plot, BOTH)
    schemas.validate("gpx.xsd", document)
    (track,) = segments(document)
    assert max(abs(a.longitude_deg - b.longitude_deg) for a, b in pairwise(track)) < 1.1


@pytest.mark.parametrize("profile", ["10", "6"])
def test_short_names_are_plain_and_the_full_name_opens_the_description(profile: str) -> None:
    plot = plots.mountain()
    choices = Choices(names=profile)  # type: ignore[arg-type]
    points = ET.fromstring(gpx(plot, choices)).findall("g:rte/g:rtept", N)
    names = [point.findtext("g:name", "", N) for point in points]
    assert (
        names
        == {
            "10": ["XDMD", "PASSLAKE", "THENOTCH", "XDME"],
            "6": ["XDMD", "PASSLA", "THENOT", "XDME"],
        }[profile]
    )
    first_lines = [point.findtext("g:desc", "", N).splitlines()[0] for point in points]
    assert first_lines[1:3] == ["Pass & lake", 'The "Notch"']
    assert first_lines[0].startswith("Demo Mesa Airport"), "a name that is kept is not repeated"


@pytest.mark.parametrize("gpx_as", GPX_AS)
@pytest.mark.parametrize("profile", ["10", "6"])
def test_hostile_names_come_out_short_and_different(gpx_as: GpxAs, profile: str) -> None:
    choices = Choices(True, gpx_as, profile)  # type: ignore[arg-type]
    root = ET.fromstring(gpx(HOSTILE, choices))
    names = [
        e.text or "" for tag in ("wpt", "rtept") for e in root.iterfind(f".//g:{tag}/g:name", N)
    ]
    assert len(names) == len(HOSTILE.route.waypoints) + len(HOSTILE.checkpoints)
    assert len(set(names)) == len(names)
    lines = [e.text or "" for tag in ("rte", "trk") for e in root.iterfind(f"g:{tag}/g:name", N)]
    for name in names + lines:
        assert re.fullmatch(rf"[A-Z0-9]{{1,{profile}}}", name)


def test_the_name_of_the_line_is_short_too_and_its_full_name_is_kept() -> None:
    plot = plots.plot_of(
        [plots.at_point("A", 1.0, 1.0), plots.at_point("B", 1.0, 1.5)], name="機場 – Old mill"
    )
    root = ET.fromstring(gpx(plot, Choices(gpx_as="both", names="6")))
    for tag in ("rte", "trk"):
        assert root.findtext(f"g:{tag}/g:name", "", N) == "OLDMIL"
        assert root.findtext(f"g:{tag}/g:desc", "", N) == short_line(plot, plot.name)
    assert root.findtext("g:metadata/g:name", "", N) == plot.name
    unspeakable = plots.plot_of([*map(plots.at_point, "AB", (1.0, 2.0), (1.0, 2.0))], name="機場")
    root = ET.fromstring(gpx(unspeakable, Choices(gpx_as="both", names="6")))
    assert [root.findtext(f"g:{tag}/g:name", "", N) for tag in ("rte", "trk")] == ["ROUTE", "TRACK"]


def test_more_route_points_than_every_unit_holds_are_told_with_the_figure() -> None:
    assert gpx_cautions(plots.many(ROUTE_POINTS_NOTED - 1)) == []
    (caution,) = gpx_cautions(plots.many(ROUTE_POINTS_NOTED))
    assert (caution.rank, caution.where) == ("CHECK", "GPX")
    assert f"has {ROUTE_POINTS_NOTED + 1} points" in caution.text
    assert "leave the checkpoints" not in caution.text
    assert gpx_cautions(plots.many(ROUTE_POINTS_NOTED), TRACK) == []


def test_checkpoints_count_as_route_points_where_they_are_some() -> None:
    plot = plots.plot_of(
        [plots.at_point("A", 44.0, -92.0), plots.at_point("B", 45.0, -92.0)], every_nm=1.0
    )
    assert len(plot.checkpoints) > ROUTE_POINTS_NOTED
    assert gpx_cautions(plot) == []
    (caution,) = gpx_cautions(plot, WITH_CHECKPOINTS)
    assert f"has {2 + len(plot.checkpoints)} points" in caution.text
    assert "leave the checkpoints out of it" in caution.text


def test_the_count_is_told_in_the_file_itself() -> None:
    plot = plots.many(60)
    (caution,) = gpx_cautions(plot)
    assert caution.text in ET.fromstring(gpx(plot)).findtext("g:metadata/g:desc", "", N)
    assert caution.text.encode() not in gpx(plot, TRACK)
