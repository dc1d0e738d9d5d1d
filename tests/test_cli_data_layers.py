"""`plotter data add`, `drop`, and how layers are listed, from the command line."""

from __future__ import annotations

import errno
import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from plotter.cli.main import run

Call = Callable[..., tuple[int, str, str]]


@pytest.fixture
def call(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Call:
    monkeypatch.setenv("PLOTTER_HOME", str(tmp_path / "home"))

    def _call(*arguments: str) -> tuple[int, str, str]:
        code = run(arguments)
        out, err = capsys.readouterr()
        return code, out, err

    return _call


def write(folder: Path, longitude: float = -92.5) -> str:
    feature = {
        "type": "Feature",
        "properties": {"name": "Demo Mast"},
        "geometry": {"type": "Point", "coordinates": [longitude, 44.0]},
    }
    path = folder / "demo.geojson"
    path.write_text(
        json.dumps({"type": "FeatureCollection", "features": [feature]}), encoding="utf-8"
    )
    return str(path)


def test_brought_listed_checked_dropped(call: Call, tmp_path: Path) -> None:
    path = write(tmp_path)
    code, out, err = call("data", "add", path, "--as", "towers")
    assert (code, err) == (0, "")
    assert out.startswith("demo: 1 feature as towers, from a file of ")
    assert "nobody has checked" in out
    listed = call("data")[1]
    assert "Own layer" in listed
    row = next(line.split() for line in listed.splitlines() if line.startswith("demo "))
    assert row[:3] == ["demo", "towers", "1"]
    assert row[4:] in (["0", "days"], ["1", "day"])
    assert "own layers are whole" in call("data", "check")[1]
    assert call("data", "drop", "demo") == (0, "The layer demo is gone.\n", "")
    assert "Own layer" not in call("data")[1]
    assert Path(path).exists()


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (["nothing.geojson"], 2, "nothing.geojson: there is no such file"),
        (["FILE", "--as", "ways"], 2, "use --as rivers|lakes"),
        (["FILE", "--as", "roads"], 2, "a Point is none of roads"),
        (["FILE", "--name", "../x"], 2, "cannot be a layer's name"),
    ],
)
def test_what_was_mistyped(
    call: Call, tmp_path: Path, arguments: list[str], code: int, words: str
) -> None:
    path = write(tmp_path)
    found = call("data", "add", *[path if word == "FILE" else word for word in arguments])
    assert found[:2] == (code, "")
    assert words in found[2]
    assert "Traceback" not in found[2]


def test_a_layer_is_replaced_only_when_told_to(call: Call, tmp_path: Path) -> None:
    path = write(tmp_path)
    assert call("data", "add", path)[0] == 0
    code, _, err = call("data", "add", path)
    assert code == 1
    assert "--replace" in err
    assert call("data", "add", path, "--replace")[0] == 0
    code, _, err = call("data", "drop", "masts")
    assert code == 2
    assert "there is demo" in err


def test_a_full_disk_leaves_the_old_layer(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    call("data", "add", write(tmp_path))
    stored = tmp_path / "home" / "layers" / "demo.sqlite"
    before = stored.read_bytes()

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    code, _, err = call("data", "add", write(tmp_path, -91.0), "--replace")
    assert code == 1
    assert "the disk is full" in err
    assert stored.read_bytes() == before
    assert {path.name for path in stored.parent.iterdir()} == {"lock", "demo.sqlite"}


def test_a_damaged_layer_is_reported_by_every_map_until_it_is_added_again(
    call: Call, tmp_path: Path
) -> None:
    path = write(tmp_path)
    call("data", "add", path, "--as", "towers")
    stored = tmp_path / "home" / "layers" / "demo.sqlite"
    stored.write_bytes(stored.read_bytes()[:9000])
    into = tmp_path / "out"
    plot = ("plot", "N4400W09230", "N4400W09200", "--as", "map", "--into", str(into), "--replace")
    for _ in range(2):
        code, out, err = call(*plot)
        assert (code, err) == (0, "")
        assert "Your own layer demo is damaged and not drawn." in " ".join(out.split())
    page = next(into.glob("*.html")).read_text(encoding="utf-8")
    assert "Your own layer demo is damaged and not drawn." in page
    assert "Demo Mast" not in page
    assert "Own layer demo is damaged" in call("data")[1]
    code, _, err = call("data", "check")
    assert code == 1
    assert "own layer demo is damaged" in err
    assert call("data", "add", path, "--as", "towers")[0] == 0
    assert "is damaged" not in call(*plot)[1]
    assert "Demo Mast" in next(into.glob("*.html")).read_text(encoding="utf-8")


def test_a_log_reports_it_beside_its_document(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    call("data", "add", write(tmp_path), "--as", "towers")
    (tmp_path / "home" / "layers" / "demo.sqlite").write_bytes(b"nothing")
    assert call("new", "demo", "--into", ".")[0] == 0
    code, out, err = call("log", "demo.toml", "--as", "map", "--json")
    assert code == 0
    json.loads(out)
    assert "CHECK  Your own layer demo is damaged and not drawn." in err
    assert "own layer" not in call("log", "demo.toml", "--as", "gpx")[2]
