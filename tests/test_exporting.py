"""All targets are checked first; on a conflict nothing is written."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import awkward
import plots
import pytest

from plotter import exports
from plotter.errors import InputError, NameFault, TargetExists, WriteFault
from plotter.exports import (
    FORMATS,
    export,
    export_cautions,
    format_named,
    map_page,
    name_of,
    own_shapes,
    read_formats,
    read_name,
)
from plotter.files import SCRATCH, write_files
from plotter.formats.gpx import gpx
from plotter.formats.unit_limits import Choices
from plotter.maps.view import View

FILES = ("gpx", "kml", "csv")
ALL = ("map", "gpx", "kml", "kmz", "geojson", "gpkg", "csv")
POSIX_ONLY = pytest.mark.skipif(sys.platform == "win32", reason="no such files or limits")


def state(folder: Path) -> dict[str, tuple[bytes, int]]:
    return {
        path.name: (path.read_bytes(), path.stat().st_mtime_ns)
        for path in folder.iterdir()
        if path.is_file()
    }


def test_files_are_written_under_the_name_of_the_first_and_last_point(tmp_path: Path) -> None:
    plot = plots.short()
    files = export(plot, FILES, tmp_path / "new" / "folder")
    assert list(files) == list(FILES)
    assert [path.name for path in files.values()] == [
        "XDMA-XDMB.gpx",
        "XDMA-XDMB.kml",
        "XDMA-XDMB.csv",
    ]
    assert all(path.is_absolute() and path.stat().st_size > 500 for path in files.values())
    assert sorted(path.name for path in (tmp_path / "new" / "folder").iterdir()) == sorted(
        path.name for path in files.values()
    )


def test_the_map_is_written_as_a_page(tmp_path: Path) -> None:
    files = export(plots.short(), ["map"], tmp_path)
    assert files["map"].name == "XDMA-XDMB.html"
    page = files["map"].read_text(encoding="utf-8")
    assert page == map_page(plots.short(), None)
    assert "<!doctype html>" in page[:200].lower()


def test_every_format_is_written_and_starts_as_its_kind_does(tmp_path: Path) -> None:
    files = export(plots.short(), ALL, tmp_path, "trip")
    assert [path.name for path in files.values()] == [f"trip{FORMATS[n].suffix}" for n in ALL]
    starts = {
        "map": b"<!doctype html>",
        "gpx": b"<?xml",
        "kml": b"<?xml",
        "kmz": b"PK\x03\x04",
        "geojson": b'{"type": "FeatureCollection"',
        "gpkg": b"SQLite format 3\x00",
        "csv": b"row,number,",
    }
    for name, start in starts.items():
        assert files[name].read_bytes()[: len(start)].lower() == start.lower()
    assert len(list(tmp_path.iterdir())) == len(ALL)


def test_the_scratch_of_a_geopackage_is_gone_afterwards(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    scratch = tmp_path / "scratch"
    scratch.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(scratch))
    (scratch / f"{SCRATCH}dead").mkdir()
    (scratch / f"{SCRATCH}dead" / "lock").write_bytes(b"")
    (scratch / f"{SCRATCH}dead" / "plot.gpkg").write_bytes(b"cut")
    export(plots.short(), ["gpkg"], tmp_path / "out")
    assert list(scratch.iterdir()) == []


def test_choices_reach_the_gpx_and_nothing_else(tmp_path: Path) -> None:
    choices = Choices(gpx_checkpoints=True, gpx_as="both", names="6")
    plain = export(plots.short(), ALL, tmp_path / "plain")
    chosen = export(plots.short(), ALL, tmp_path / "chosen", choices=choices)
    assert chosen["gpx"].read_bytes() == gpx(plots.short(), choices)
    differ = [n for n in ALL if plain[n].read_bytes() != chosen[n].read_bytes()]
    assert differ == ["gpx"]


def test_what_is_to_be_said_of_the_files() -> None:
    long = plots.many(60)
    (caution,) = export_cautions(long, ALL)
    assert "61 points" in caution.text
    assert export_cautions(long, ["map", "kml"]) == []
    assert export_cautions(long, ALL, Choices(gpx_as="track")) == []
    assert export_cautions(plots.short(), ALL) == []


def test_paths_are_absolute_also_for_a_relative_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    files = export(plots.short(), ["csv"], Path("exports"), "trip")
    assert files == {"csv": tmp_path / "exports" / "trip.csv"}


def test_a_format_named_twice_is_written_once_and_none_writes_nothing(tmp_path: Path) -> None:
    assert list(export(plots.short(), ["csv", "gpx", "csv"], tmp_path)) == ["csv", "gpx"]
    assert export(plots.short(), [], tmp_path / "untouched") == {}
    assert not (tmp_path / "untouched").exists()


def test_an_identical_file_is_left_alone(tmp_path: Path) -> None:
    export(plots.short(), FILES, tmp_path)
    before = state(tmp_path)
    export(plots.short(), FILES, tmp_path)
    export(plots.short(), FILES, tmp_path, replace=True)
    assert state(tmp_path) == before


def test_a_conflict_names_every_file_and_writes_none(tmp_path: Path) -> None:
    files = export(plots.short(), ["kml", "csv"], tmp_path, "trip")
    before = state(tmp_path)
    with pytest.raises(TargetExists) as caught:
        export(plots.mountain(), FILES, tmp_path, "trip")
    assert caught.value.candidates == tuple(str(files[name]) for name in ("kml", "csv"))
    for name in ("kml", "csv"):
        assert str(files[name]) in caught.value.message
    assert "choose to replace them, or choose another name or folder" in caught.value.message
    assert state(tmp_path) == before


def test_replace_replaces_what_differs(tmp_path: Path) -> None:
    export(plots.short(), FILES, tmp_path, "trip")
    before = state(tmp_path)
    export(plots.mountain(), FILES, tmp_path, "trip", replace=True)
    after = state(tmp_path)
    assert after.keys() == before.keys()
    assert all(after[name][0] != before[name][0] for name in before)


def test_one_file_that_is_there_and_the_same_does_not_stop_the_others(tmp_path: Path) -> None:
    export(plots.short(), ["gpx"], tmp_path)
    assert list(export(plots.short(), FILES, tmp_path)) == list(FILES)


def test_nothing_is_written_when_a_writer_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(job: exports.Job) -> bytes:
        raise ValueError("no")

    broken_format = exports.Format("csv", ".csv", "", broken, "")
    monkeypatch.setattr(exports, "FORMATS", {**FORMATS, "csv": broken_format})
    with pytest.raises(ValueError, match="no"):
        export(plots.short(), FILES, tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_a_file_where_a_folder_should_be(tmp_path: Path) -> None:
    (tmp_path / "exports").write_bytes(b"mine")
    for into in (tmp_path / "exports", tmp_path / "exports" / "deeper"):
        with pytest.raises(
            WriteFault,
            match="is a file where a folder is needed",
        ):
            export(plots.short(), FILES, into)
    assert (tmp_path / "exports").read_bytes() == b"mine"


@pytest.mark.parametrize("replace", [False, True])
def test_a_folder_where_a_file_should_be_is_never_replaced(tmp_path: Path, replace: bool) -> None:
    (tmp_path / "trip.csv").mkdir()
    with pytest.raises(WriteFault, match=r"trip\.csv is a folder"):
        export(plots.short(), FILES, tmp_path, "trip", replace=replace)
    assert [path.name for path in tmp_path.iterdir()] == ["trip.csv"]


@POSIX_ONLY
@pytest.mark.parametrize("replace", [False, True])
def test_a_pipe_is_never_replaced(tmp_path: Path, replace: bool) -> None:
    os.mkfifo(tmp_path / "trip.csv")
    with pytest.raises(WriteFault, match="not an ordinary file"):
        export(plots.short(), FILES, tmp_path, "trip", replace=replace)


@POSIX_ONLY
@pytest.mark.parametrize("dangling", [False, True])
def test_a_link_is_a_different_file_and_is_replaced_not_followed(
    tmp_path: Path, dangling: bool
) -> None:
    inside, outside = tmp_path / "exports", tmp_path / "outside.csv"
    inside.mkdir()
    (good,) = export(plots.short(), ["csv"], tmp_path / "good", "trip").values()
    if not dangling:
        outside.write_bytes(good.read_bytes())
    (inside / "trip.csv").symlink_to(outside)
    with pytest.raises(TargetExists):
        export(plots.short(), ["csv"], inside, "trip")
    export(plots.short(), ["csv"], inside, "trip", replace=True)
    assert not (inside / "trip.csv").is_symlink()
    assert outside.exists() is not dangling


def test_a_folder_that_refuses_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refuse)
    with pytest.raises(
        WriteFault,
        match="you have no permission",
    ):
        write_files({tmp_path / "a.gpx": b"a"}, replace=False)
    assert list(tmp_path.iterdir()) == []


def test_a_disk_that_fills_up_says_what_was_written_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.write

    def filling(handle: int, data: bytes) -> int:
        if len(data) > 10:
            raise OSError(28, "No space left on device")
        return real(handle, data)

    monkeypatch.setattr(os, "write", filling)
    with pytest.raises(WriteFault) as caught:
        write_files({tmp_path / "a": b"small", tmp_path / "b": b"x" * 100}, replace=False)
    assert "the disk is full" in caught.value.message
    assert f"written before it: {tmp_path / 'a'}" in caught.value.message
    assert [path.name for path in tmp_path.iterdir()] == ["a"]


LIMITED = """
import resource, sys
from pathlib import Path
sys.path.insert(0, sys.argv[2])
import plots
from plotter.errors import WriteFault
from plotter.exports import export
resource.setrlimit(resource.RLIMIT_FSIZE, (2_000, 2_000))
try:
    export(plots.many(40), ["gpx", "kml"], Path(sys.argv[1]))
except WriteFault as fault:
    print(fault.message)
"""


@POSIX_ONLY
def test_a_file_size_limit_ends_in_words(tmp_path: Path) -> None:
    here = str(Path(__file__).parent)
    child = subprocess.run(
        [sys.executable, "-c", LIMITED, str(tmp_path), here],
        capture_output=True,
        text=True,
        check=False,
    )
    assert child.returncode == 0, child.stderr
    assert "a file that large is not allowed here" in child.stdout
    assert list(tmp_path.iterdir()) == []


def test_what_a_killed_run_left_is_cleared_also_where_nothing_changes(tmp_path: Path) -> None:
    export(plots.short(), FILES, tmp_path)
    (tmp_path / ".XDMA-XDMB.gpx.partial-1-aa").write_bytes(b"cut")
    export(plots.short(), FILES, tmp_path)
    assert sorted(path.suffix for path in tmp_path.iterdir()) == [".csv", ".gpx", ".kml"]


@pytest.mark.parametrize("name", ["../up", "a/b", "", "..", "con", "x" * 200, "/etc/passwd"])
def test_a_name_that_is_no_file_name_is_refused_before_anything(tmp_path: Path, name: str) -> None:
    with pytest.raises(NameFault):
        export(plots.short(), FILES, tmp_path / "out", name)
    with pytest.raises(NameFault):
        read_name(name)
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("name", awkward.NAMES.values(), ids=awkward.NAMES)
def test_a_default_name_never_leaves_the_folder(name: str, tmp_path: Path) -> None:
    plot = plots.named(name, name)
    (path,) = export(plot, ["csv"], tmp_path / "in").values()
    assert path.parent == tmp_path / "in"
    assert path.resolve().parent == (tmp_path / "in").resolve()
    assert [found.name for found in tmp_path.rglob("*")] == ["in", path.name]
    assert name_of(plot) + ".csv" == path.name


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("map,gpx,kml", ("map", "gpx", "kml")),
        (" GPX , gpx ", ("gpx",)),
        ("none", ()),
        ("csv,", ("csv",)),
    ],
)
def test_formats_as_typed(typed: str, expected: tuple[str, ...]) -> None:
    assert read_formats(typed) == expected


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("gpz", "did you mean gpx?"),
        ("kmll", "did you mean kml?"),
        ("maps", "did you mean map?"),
        ("shapefile", "use map, gpx, kml, kmz, geojson, gpkg, csv"),
        ("geopkg", "did you mean gpkg?"),
        ("none,gpx", "'none' alone"),
        ("", "with commas between"),
        (",", "with commas between"),
    ],
)
def test_formats_that_are_none_are_refused_with_what_to_type(typed: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        read_formats(typed)
    assert words in caught.value.message
    assert caught.value.code == "format"
    assert caught.value.candidates


def test_the_registry_is_whole() -> None:
    assert tuple(FORMATS) == ALL
    for name, made in FORMATS.items():
        assert made.name == name
        assert made.suffix.startswith(".")
        assert made.title
        assert made.loses
        assert format_named(name) is made
    assert len({made.suffix for made in FORMATS.values()}) == len(FORMATS)


def test_progress_runs_from_nought_to_one(tmp_path: Path) -> None:
    told: list[float] = []
    export(plots.short(), FILES, tmp_path, progress=told.append)
    assert told == sorted(told)
    assert (told[0], told[-1]) == (0.0, 1.0)


HEAVY = "numpy shapely folium geopandas rich pyogrio simplekml difflib zipfile tempfile"


def test_importing_the_registry_imports_no_heavy_library() -> None:
    code = (
        "import sys; before = set(sys.modules)\n"
        "import plotter.exports, plotter.formats.document\n"
        f"print(*[name for name in {HEAVY!r}.split() if name in set(sys.modules) - before])"
    )
    child = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert child.stdout.split() == []


@pytest.mark.parametrize(
    ("west", "east", "asked"),
    [
        (170.0, 200.0, (170.0, -160.0)),
        (-60.0, 299.9, (-60.0, -60.1)),
        (-60.0, 300.0, (-180.0, 180.0)),
        (-180.0, 240.0, (-180.0, 180.0)),
    ],
)
def test_a_map_of_the_whole_world_shows_the_whole_of_own_layers(
    monkeypatch: pytest.MonkeyPatch, west: float, east: float, asked: tuple[float, float]
) -> None:
    """The two edges of such a map are one meridian, or have passed each other."""
    boxes: list[tuple[float, ...]] = []
    monkeypatch.setattr("plotter.maps.web_map.view_of", lambda _: View(-40.0, west, 50.0, east))
    monkeypatch.setattr("plotter.datastore.layers.shapes_in", lambda box: boxes.append(box) or [])
    assert own_shapes(plots.short()) == ()
    assert boxes == [pytest.approx((-40.0, asked[0], 50.0, asked[1]))]
