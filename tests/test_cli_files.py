"""`plotter plot` and the files it writes: every format, the choices for a GPS unit, the help."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

import gpxpy
import pytest

from plotter.cli.main import run
from plotter.exports import FORMATS

Call = Callable[..., tuple[int, str, str]]
ROUTE = ("plot", "KRST", "KLSE", "KEAU", "--date", "2026-07-04")
MANY = ("plot", "KRST", "KDLH", "--every", "2", "--date", "2026-07-04")


@pytest.fixture
def call(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Call:
    monkeypatch.chdir(tmp_path)

    def _call(*arguments: str) -> tuple[int, str, str]:
        code = run(arguments)
        out, err = capsys.readouterr()
        return code, out, err

    return _call


def gpx_of(call: Call, *more: str, route: tuple[str, ...] = ROUTE) -> gpxpy.gpx.GPX:
    code, out, err = call(*route, "--as", "gpx", "--json", *more)
    assert (code, err) == (0, "")
    return gpxpy.parse(Path(json.loads(out)["files"]["gpx"]).read_text(encoding="utf-8"))


def test_every_format_of_the_registry_is_written(call: Call, tmp_path: Path) -> None:
    code, out, err = call(*ROUTE, "--as", ",".join(FORMATS), "--name", "trip")
    assert (code, err) == (0, "")
    written = {path.name for path in (tmp_path / "exports").iterdir()}
    assert written == {f"trip{made.suffix}" for made in FORMATS.values()}
    listed = re.findall(r"^  (\w+) +(\S+)$", out.partition("Files:\n")[2], re.M)
    assert [(name, Path(path).name) for name, path in listed] == [
        (name, f"trip{made.suffix}") for name, made in FORMATS.items()
    ]
    columns = {out.rpartition(path)[0].rpartition("\n")[2] for _, path in listed}
    assert len({len(start) for start in columns}) == 1, "the paths stand below each other"


def test_the_help_lists_the_formats_of_the_registry(call: Call) -> None:
    out = call("plot", "--help")[1]
    listed = dict(re.findall(r"^ +(\w+) +(\S.*)$", out.partition("Formats:")[2], re.M))
    assert {name: listed[name] for name in FORMATS} == {
        name: made.title for name, made in FORMATS.items()
    }
    words = " ".join(out.split())
    assert "from the list below, or none" in words


@pytest.mark.parametrize("option", ["--gpx-checkpoints", "--gpx-as", "--names"])
def test_the_choices_are_explained(call: Call, option: str) -> None:
    out = call("plot", "--help")[1]
    (line,) = (line for line in out.splitlines() if line.strip().startswith(f"{option} "))
    assert len(line.split()) > 2


def test_the_default_is_turning_points_under_full_names(call: Call) -> None:
    read = gpx_of(call)
    assert [point.name for point in read.routes[0].points] == ["KRST", "KLSE", "KEAU"]
    assert (read.tracks, read.waypoints) == ([], [])


def test_checkpoints_a_track_and_short_names_on_request(call: Call) -> None:
    names = [p.name for p in gpx_of(call, "--gpx-checkpoints").routes[0].points]
    assert names[:2] == ["KRST", "CP1"]
    assert len(names) > 10
    read = gpx_of(call, "--gpx-as", "track", "--replace")
    assert (read.routes, len(read.tracks)) == ([], 1)
    assert [point.name for point in read.waypoints] == ["KRST", "KLSE", "KEAU"]
    read = gpx_of(call, "--gpx-as", "both", "--replace")
    assert (len(read.routes), len(read.tracks), read.waypoints) == (1, 1, [])
    named = ("plot", "Old mill=43.95,-92.41", "KONA", "--date", "2026-07-04")
    read = gpx_of(call, "--names", "6", route=named)
    first = read.routes[0].points[0]
    assert first.name == "OLDMIL"
    assert first.description.splitlines()[0] == "Old mill"


def test_a_route_of_many_points_is_told_with_the_figure(call: Call) -> None:
    code, out, _ = call(*MANY, "--as", "gpx", "--gpx-checkpoints")
    assert code == 0
    points = len(gpx_of(call, "--gpx-checkpoints", route=MANY).routes[0].points)
    assert points > 50
    assert f"The GPX route has {points} points" in " ".join(out.split())
    document = json.loads(call(*MANY, "--as", "gpx", "--gpx-checkpoints", "--json")[1])
    ranks = [caution["rank"] for caution in document["cautions"]]
    assert "gpx-route-points" in [caution["code"] for caution in document["cautions"]]
    assert ranks == sorted(ranks, key=["STOP", "CHECK", "NOTE"].index)


@pytest.mark.parametrize(
    "arguments", [("--as", "none", "--gpx-checkpoints"), ("--as", "kml"), ("--as", "gpx")]
)
def test_where_no_unit_gets_so_many_points_nothing_is_said(
    call: Call, arguments: tuple[str, ...]
) -> None:
    assert "GPX route has" not in call(*MANY, *arguments)[1]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--gpx-as", "line"), "both"),
        (("--names", "8"), "10"),
        (("--names", "short"), "full"),
        (("--gpx-chekpoints",), "--gpx-checkpoints"),
        (("--as", "shp"), "gpkg"),
    ],
)
def test_what_is_typed_wrong_is_told_and_nothing_is_written(
    call: Call, tmp_path: Path, arguments: tuple[str, ...], words: str
) -> None:
    code, out, err = call(*ROUTE, *arguments)
    assert (code, out) == (2, "")
    assert words in err
    assert list(tmp_path.iterdir()) == []


def test_isogonic_lines_are_drawn_when_asked_with_the_same_bytes_again(
    call: Call, tmp_path: Path
) -> None:
    made = []
    for name in ("one", "two"):
        assert call(*ROUTE, "--as", "map", "--name", "x", "--into", name, "--isogonic")[0] == 0
        made.append((tmp_path / name / "x.html").read_bytes())
    assert b"isogonic line: variation every degree" in made[0]
    assert made[0] == made[1]
