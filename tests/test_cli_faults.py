"""What is told of a fault on a terminal: no text of a file or of the command line steers it."""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Callable
from pathlib import Path

import pytest
from given_files import BARN, geopackage, gpkg_mark, gpx

from plotter.cli.faults import report
from plotter.cli.main import run
from plotter.errors import PlotterError, SeveralFaults, Where

STEERING = "\x1b[31m\x9b2J\u202e\r\x07"
DAY = ("--date", "2026-07-04")
Call = Callable[..., tuple[int, str, str]]


@pytest.fixture
def call(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Call:
    monkeypatch.chdir(tmp_path)

    def _call(*arguments: str) -> tuple[int, str, str]:
        return run(arguments), *capsys.readouterr()

    return _call


def steers(text: str) -> set[str]:
    return {c for c in text if unicodedata.category(c) in ("Cc", "Cf", "Zl", "Zp", "Cs")} - {"\n"}


def of_geopackage(folder: Path) -> tuple[str, ...]:
    statement = f"UPDATE gpkg_spatial_ref_sys SET organization = 'X{STEERING}'"
    geopackage(folder / "trip.gpkg", [gpkg_mark("Barn", *BARN), statement])
    return ("plot", "trip.gpkg", *DAY)


def of_xml(folder: Path) -> tuple[str, ...]:
    (folder / "trip.gpx").write_text(gpx("", namespace="x\x9by\u202e"), encoding="utf-8")
    return ("plot", "trip.gpx", *DAY)


def of_points(folder: Path) -> tuple[str, ...]:
    (folder / "own.csv").write_text(
        f"name,latitude,longitude\nA{STEERING}B,44.0{STEERING},-92.0\n", encoding="utf-8"
    )
    return ("plot", "KRST", "KLSE", "--points", "own.csv", *DAY)


def of_date(folder: Path) -> tuple[str, ...]:
    return ("plot", "KRST", "KLSE", "--date", f"2026{STEERING}")


def of_word(folder: Path) -> tuple[str, ...]:
    return ("plot", "KRST", f"K{STEERING}Q", "KLSE", *DAY)


def of_option(folder: Path) -> tuple[str, ...]:
    return ("plot", "KRST", "KLSE", f"--{STEERING}", *DAY)


@pytest.mark.parametrize(
    "given",
    [of_geopackage, of_xml, of_points, of_date, of_word, of_option],
    ids=lambda f: f.__name__,
)
def test_a_fault_does_not_steer_the_terminal(
    given: Callable[[Path], tuple[str, ...]], tmp_path: Path, call: Call
) -> None:
    arguments = given(tmp_path)
    code, out, err = call(*arguments)
    assert (code, out) == (2, "")
    assert err.startswith("Error: ")
    assert steers(err) == set()
    code, _, told = call(*arguments, "--json")
    assert code == 2
    assert steers(told) == set()
    assert json.loads(told)["error"]["message"]


def test_every_line_is_cleaned_and_carets_stay_below(capsys: pytest.CaptureFixture[str]) -> None:
    first = PlotterError("one\x1b[1m\nand more", where=Where("KRST K\x85Q", 5, 8))
    report(SeveralFaults([first, PlotterError("two\u2028lines")]), as_json=False)
    assert capsys.readouterr().err == (
        "Error: one [1m\nand more\n  KRST K Q\n       ^^^\n\nError: two lines\n"
    )
