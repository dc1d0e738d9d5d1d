"""Files from outside: what is refused and in what words; nothing crashes a reader."""

from __future__ import annotations

import tracemalloc
from pathlib import Path

import awkward
import given_files
import pytest
from examples import TIMES
from given_files import BARN, MILL, REFUSED, TOWER, keys_of
from hypothesis import given, settings
from hypothesis import strategies as st

from plotter.errors import FileFault, PlotterError
from plotter.exports import FORMATS
from plotter.formats import incoming, xml_in
from plotter.formats.reading import SUFFIXES, file_route, has_known_suffix, read_file
from plotter.inputs import open_route
from plotter.route.reading.whole import GivenRoute


def written(folder: Path, suffix: str, data: str | bytes) -> Path:
    path = folder / f"demo{suffix}"
    path.write_bytes(data if isinstance(data, bytes) else data.encode("utf-8"))
    return path


def route_of(path: Path, part: str | None = None) -> GivenRoute:
    return file_route(read_file(path), part)


def test_every_format_that_says_it_is_read_has_a_reader_and_no_other() -> None:
    said = {made.suffix for made in FORMATS.values() if made.reads}
    assert said == set(SUFFIXES) - {".json"}


@pytest.mark.parametrize("name", REFUSED)
def test_broken_and_hostile_files_are_refused_in_words(name: str, tmp_path: Path) -> None:
    suffix, make, key = REFUSED[name]
    path = written(tmp_path, suffix, make())
    with pytest.raises(FileFault) as caught:
        route_of(path)
    assert key in keys_of(caught.value.said)
    assert caught.value.message.startswith(str(path))
    assert caught.value.where is not None
    assert caught.value.where.file == str(path)


def test_a_refusal_takes_no_more_memory_than_the_file(tmp_path: Path) -> None:
    path = written(tmp_path, ".kmz", REFUSED["a zip bomb"][1]())
    tracemalloc.start()
    with pytest.raises(FileFault):
        route_of(path)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert most < 2_000_000


@pytest.mark.parametrize(
    ("suffix", "most_mb"), [(".geojson", 8), (".csv", 16), (".gpkg", 32), (".kmz", 64)]
)
def test_a_huge_file_is_refused_without_being_read_whole(
    suffix: str, most_mb: int, tmp_path: Path
) -> None:
    path = written(tmp_path, suffix, b"SQLite format 3\x00" + b"\x00" * 52 + b"GPKG")
    with path.open("r+b") as stream:
        stream.truncate(4_000_000_000)
    with pytest.raises(FileFault, match=f"larger than {most_mb} MB"):
        route_of(path)


def test_xml_over_the_limit_is_refused_as_it_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(xml_in, "MOST_BYTES", 1_000_000)
    text = given_files.gpx_track(*[(44, -92)] * 50_000)
    with pytest.raises(FileFault, match="larger than 1 MB"):
        route_of(written(tmp_path, ".gpx", text))


def test_more_points_than_are_kept_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(incoming, "MOST_TRACK_POINTS", 100)
    monkeypatch.setattr(incoming, "MOST_NAMED_POINTS", 100)
    for text in (given_files.gpx_track, given_files.gpx_route):
        path = written(tmp_path, ".gpx", text(*[(44, -92)] * 101))
        with pytest.raises(FileFault, match="more than 100"):
            route_of(path)


def test_the_track_of_a_day_takes_memory_for_its_numbers_alone(tmp_path: Path) -> None:
    points = [(44 + i / 1e5, -92) for i in range(86_400)]
    path = written(tmp_path, ".gpx", given_files.gpx_track(*points))
    tracemalloc.start()
    contents = read_file(path)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert contents.parts[0].count == 86_400
    assert most < 86_400 * 32 * 1.5 + 1_000_000


@pytest.mark.parametrize("suffix", SUFFIXES)
@pytest.mark.parametrize("name", awkward.FILES)
def test_any_broken_file_under_any_suffix(suffix: str, name: str, tmp_path: Path) -> None:
    path = written(tmp_path, suffix, awkward.FILES[name])
    with pytest.raises(FileFault):
        route_of(path)


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_a_file_that_is_not_there_or_a_folder(suffix: str, tmp_path: Path) -> None:
    for path in (tmp_path / f"missing{suffix}", tmp_path / f"folder{suffix}"):
        if path.stem == "folder":
            path.mkdir()
        with pytest.raises(FileFault, match="cannot be read"):
            read_file(path)


def test_a_kind_that_is_not_read_is_told_which_are(tmp_path: Path) -> None:
    with pytest.raises(FileFault, match=r"\.gpx, \.kml"):
        read_file(written(tmp_path, ".txt", ""))
    assert not has_known_suffix("demo.txt")


def test_every_fault_of_a_route_is_told_at_once(tmp_path: Path) -> None:
    path = written(tmp_path, ".gpx", given_files.gpx_route((91, 0), BARN, (0, 181), ("x", 0)))
    with pytest.raises(FileFault) as caught:
        route_of(path)
    lines = caught.value.message.splitlines()
    assert lines[0].endswith("part 1, route 'Demo route' (4 points), cannot be used:")
    assert lines[1:] == [
        "  line 4 (A): latitude 91 is out of range; enter -90 to 90; "
        "are latitude and longitude exchanged?",
        "  line 6 (C): longitude 181 is out of range; enter -180 to 180",
        "  line 7 (D): latitude 'x' is not in decimal degrees",
    ]


def test_many_faults_are_counted_not_listed(tmp_path: Path) -> None:
    path = written(tmp_path, ".gpx", given_files.gpx_route(*[(91, 0)] * 500))
    with pytest.raises(FileFault) as caught:
        route_of(path)
    assert len(caught.value.message.splitlines()) == 12
    assert "and 490 more" in caught.value.message


def test_a_track_goes_on_without_its_bad_points_and_says_so(tmp_path: Path) -> None:
    path = written(tmp_path, ".gpx", given_files.gpx_track(BARN, ("nan", 0), MILL, TOWER))
    route = route_of(path)
    assert len(route.waypoints) == 3
    (said,) = [caution for caution in route.cautions if caution.code == "file-fault"]
    assert said.rank == "CHECK"
    assert said.said["count"] == 1
    assert keys_of(said.said) >= {"file.at", "position.not-decimal"}


def test_a_track_of_mostly_bad_points_is_refused(tmp_path: Path) -> None:
    path = written(tmp_path, ".gpx", given_files.gpx_track(BARN, (91, 0), (92, 0), (93, 0), MILL))
    with pytest.raises(FileFault, match="cannot be used"):
        route_of(path)


def test_the_faults_of_a_part_that_is_not_used_do_not_matter(tmp_path: Path) -> None:
    bad = given_files.gpx_point("wpt", (95, 0))
    good = given_files.gpx_route(BARN, MILL).replace("<rte>", bad + "<rte>")
    assert len(route_of(written(tmp_path, ".gpx", good)).waypoints) == 2


@settings(max_examples=150 * TIMES, deadline=None)
@given(st.sampled_from(SUFFIXES), st.binary(max_size=300))
def test_any_bytes_give_a_route_or_a_fault(
    tmp_path_factory: pytest.TempPathFactory, suffix: str, data: bytes
) -> None:
    path = written(tmp_path_factory.mktemp("any"), suffix, data)
    try:
        assert isinstance(open_route([str(path)]), GivenRoute)
    except PlotterError as fault:
        assert fault.message


PIECES = st.sampled_from(
    [
        *("<rte>", "</rte>", "<trk>", "</trk>", "<trkseg>", "</trkseg>", "<extensions>"),
        *('<rtept lat="44" lon="-92">', "</rtept>", '<wpt lat="1" lon="2"/>', "<name>A</name>"),
        *('<trkpt lat="x" lon="2"/>', '<trkpt lat="3" lon="4"/>', "<time>2026</time>", "&amp;"),
        *("<ele>high</ele>", "<Placemark>", "</Placemark>", "<Folder>", "</Folder>", "<Point>"),
        *("</Point>", "<coordinates>1,2 3,4", "</coordinates>", "<LineString>", "</LineString>"),
        *("<Track>", "</Track>", "<coord>1 2 3</coord>", "<when>2026-07-04</when>", "<value>"),
    ]
)


@settings(max_examples=200 * TIMES, deadline=None)
@given(st.sampled_from((".gpx", ".kml")), st.lists(PIECES, max_size=30))
def test_any_order_of_elements_gives_a_route_or_a_fault(
    tmp_path_factory: pytest.TempPathFactory, suffix: str, pieces: list[str]
) -> None:
    body = "".join(pieces)
    opened = [piece[1:].split()[0].rstrip(">") for piece in pieces if piece[:2] != "</"]
    closing = "".join(f"</{name}>" for name in reversed(opened))
    for text in (body, body + closing):
        data = given_files.gpx(text) if suffix == ".gpx" else given_files.kml(text)
        path = written(tmp_path_factory.mktemp("any"), suffix, data)
        try:
            assert isinstance(open_route([str(path)]), GivenRoute)
        except PlotterError as fault:
            assert fault.message


def test_notes_are_bounded_in_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(incoming, "MOST_NOTED", 25)
    path = tmp_path / "notes.csv"
    path.write_text("name,latitude,longitude,note\n" + "A,44,-92,0123456789\n" * 3)
    with pytest.raises(FileFault, match="notes of more than 25 characters"):
        read_file(path)
