"""``--dry-run`` and ``--unit``: what would be written and changed, and that nothing is."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from plotter.cli.main import run

ROUTE = ["plot", "KRST", "Water tower=44.25,-92.75", "KLSE", "--date", "2026-07-04"]


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_nothing_is_written_and_all_is_said(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    unit = "name-length=6,route-points=2,elevations=no"
    assert run([*ROUTE, "--as", "gpx,csv", "--unit", unit, "--dry-run"]) == 0
    out = capsys.readouterr().out
    assert list(folder.iterdir()) == []
    assert "Nothing was written. Files:" in out
    assert f"{folder}/exports/KRST-KLSE.gpx would be written" in out
    changed = out.partition("Changed for the unit:")[2]
    assert "Name: Water tower becomes WATERT." in changed
    assert "split into 2 parts" in changed
    assert "Elevations are left out of 2 points." in changed
    assert "CHECK  The GPX route is split into 2 parts" in out


def test_files_that_are_there_are_told_apart(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    there = [*ROUTE, "--as", "gpx,csv", "--into", ".", "--name", "trip"]
    assert run(there) == 0
    (folder / "trip.csv").write_text("mine", encoding="utf-8")
    capsys.readouterr()
    assert run([*there, "--dry-run"]) == 0
    out = capsys.readouterr().out
    assert "trip.gpx is already the same" in out
    assert "trip.csv differs and would need --replace" in out
    assert out.rstrip().endswith("nothing")
    assert (folder / "trip.csv").read_text(encoding="utf-8") == "mine"


def test_the_document_of_a_dry_run_has_no_files(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run([*ROUTE, "--as", "gpx", "--unit", "route-points=2", "--dry-run", "--json"]) == 0
    made = json.loads(capsys.readouterr().out)
    assert made["files"] == {}
    assert "unit-split" in [caution["code"] for caution in made["cautions"]]
    assert list(folder.iterdir()) == []


@pytest.mark.parametrize(
    ("unit", "words"),
    [("route-point=3", "did you mean route-points?"), ("missing.toml", "no such file")],
)
def test_a_wrong_limit_stops_before_anything_is_written(
    unit: str, words: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run([*ROUTE, "--unit", unit]) == 2
    assert words in capsys.readouterr().err
    assert list(folder.iterdir()) == []


def test_what_cannot_fit_stops_before_anything_is_written(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run([*ROUTE, "--as", "csv,gpx", "--unit", "route-points=2,routes=1"]) == 2
    assert "over=thin" in capsys.readouterr().err
    assert list(folder.iterdir()) == []
