"""`plotter airport`, `plotter data`, and the front door."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest

from plotter import __version__
from plotter.cli.main import run

Call = Callable[..., tuple[int, str, str]]


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Call:
    def _call(*arguments: str) -> tuple[int, str, str]:
        code = run(arguments)
        out, err = capsys.readouterr()
        return code, out, err

    return _call


def test_an_airport_with_runways_and_frequencies(call: Call) -> None:
    code, out, err = call("airport", "krst")
    assert (code, err) == (0, "")
    for words in ("Rochester International", "KRST", "43°54", "13/31", "MHz", "°T", "two sources"):
        assert words in out, words


def test_an_absence_is_not_in_the_data(call: Call) -> None:
    out = call("airport", "00AA")[1]
    assert "not in the data" in out
    assert "none" not in out.lower()


def test_a_navaid(call: Call) -> None:
    code, out, _ = call("airport", "navaid:ODI")
    assert code == 0
    assert "VOR" in out


def test_an_airport_as_json(call: Call) -> None:
    code, out, _ = call("airport", "KRST", "--json")
    document = json.loads(out)
    assert code == 0
    assert document["schema"] == "place-1"
    assert document["ident"] == "KRST"
    assert document["runways"][0]["length_ft"] > 1000
    assert -93 < document["longitude_deg"] < -92
    assert document["data"]["airports"]["date"] == "2025-12-02"


@pytest.mark.parametrize("ident", ["KRSQQ", "", "BOS", "airport:", "airport:ODI"])
def test_an_identifier_that_does_not_do(call: Call, ident: str) -> None:
    code, out, err = call("airport", ident)
    assert (code, out) == (2, "")
    assert "Traceback" not in err


def test_the_datasets_are_listed_with_dates_and_counts(call: Call) -> None:
    code, out, _ = call("data")
    assert code == 0
    for words in ("airports", "navaids", "2025-12-02", "public domain", "years", "note"):
        assert words in out.lower(), words


def test_the_data_check(call: Call) -> None:
    assert call("data", "check")[:2] == (0, "Tables, store and own layers are whole.\n")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [(("plto", "KRST"), "plotter plot"), (("KRST", "KONA"), "plotter plot"), (("--jsn",), "--jsn")],
)
def test_a_command_that_is_none(call: Call, arguments: tuple[str, ...], words: str) -> None:
    code, out, err = call(*arguments)
    assert (code, out) == (2, "")
    assert words in err


def test_help_and_version(call: Call) -> None:
    assert call("--version")[1].strip() == f"plotter {__version__}"
    assert call("--help")[0] == 0
    code, _, err = call()
    assert code == 2
    assert "Example" in err
