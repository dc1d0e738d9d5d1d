"""A file on the command line, as a pilot gives it."""

from __future__ import annotations

import json
from pathlib import Path

import given_files
import pytest
from click.testing import CliRunner

from plotter import api
from plotter.cli.main import run

ROUTE = given_files.gpx_route((43.9083, -92.5), (44.25, -92.75), (44.5, -92.2), name="Sunday")


@pytest.fixture
def trip(tmp_path: Path) -> Path:
    path = tmp_path / "trip.gpx"
    path.write_text(ROUTE, encoding="utf-8")
    return path


def plot(*arguments: str) -> list[str]:
    return ["plot", *arguments, "--date", "2026-07-04", "--as", "none"]


def test_a_file_is_plotted(trip: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(plot(str(trip))) == 0
    out = capsys.readouterr().out
    assert out.startswith("Sunday: ")
    assert "NOTE   Read from the file: route 'Sunday' (3 points)." in out
    assert str(trip.parent) not in out


def test_the_document_has_the_caution(trip: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run([*plot(str(trip)), "--json"]) == 0
    made = json.loads(capsys.readouterr().out)
    assert [point["name"] for point in made["points"]] == ["A", "B", "C"]
    assert "file-part" in [caution["code"] for caution in made["cautions"]]


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["--part", "track"], "has no part 'track'; choose from 1 = route 'Sunday' (3 points)"),
        (["KRST"], "give it alone"),
    ],
)
def test_what_cannot_be_is_said(
    trip: Path, more: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(plot(str(trip), *more)) == 2
    assert words in capsys.readouterr().err


@pytest.mark.parametrize("name", given_files.REFUSED)
def test_no_broken_file_gives_a_traceback(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    suffix, make, _ = given_files.REFUSED[name]
    made = make()
    path = tmp_path / f"broken{suffix}"
    path.write_bytes(made if isinstance(made, bytes) else made.encode("utf-8"))
    assert run(plot(str(path))) == 2
    err = capsys.readouterr().err
    assert err.startswith(f"Error: {path}")


def test_the_options_are_explained() -> None:
    from plotter.cli.main import plotter

    text = CliRunner().invoke(plotter, ["plot", "--help"]).output
    assert "--part PART" in text
    assert "--track-tolerance NM" in text
    assert "plotter plot sunday.gpx" in text


def test_from_python(trip: Path) -> None:
    flight = api.plot(str(trip), date="2026-07-04")
    assert [leg.start.name for leg in flight.legs] == ["A", "B"]
    assert api.plot(str(trip), date="2026-07-04", part="route").plot == flight.plot
