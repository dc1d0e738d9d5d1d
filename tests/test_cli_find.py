"""`plotter find` as it is typed and read."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest

from plotter import wording
from plotter.cli.main import run

Call = Callable[..., tuple[int, str, str]]


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Call:
    def _call(*arguments: str) -> tuple[int, str, str]:
        code = run(("find", *arguments))
        out, err = capsys.readouterr()
        return code, out, err

    return _call


def test_places_with_what_to_type_and_how_they_were_found(call: Call) -> None:
    code, out, err = call("la", "crosse", "--most", "2")
    assert (code, err) == (0, "")
    first, second = out.splitlines()[2:4]
    assert first.split()[0] == "KLSE"
    assert first.endswith("name")
    assert '"La Crosse=43.8014,-91.2396"' in second
    whole = " ".join(out.split())
    for words in (*wording.STANDING_SHORT, "towns of 2023-07-03", "NOTE", "52,306 people", "ft"):
        assert words in whole, words


def test_what_was_typed_reads_as_that_place(call: Call) -> None:
    assert call("superior", "aero")[1].splitlines()[2].startswith("key:43MN")
    assert "they may be the same field" in call("superior", "aero")[1]


def test_misspelt_in_one_country_and_of_one_kind(call: Call) -> None:
    _, out, _ = call("rochestr", "--country", "us", "--kind", "airport")
    assert "one slip" in out
    assert "people" not in out.split("\n\n")[0].replace("Runway, radio, people", "")


def test_nothing_is_an_absence_in_the_data(call: Call) -> None:
    code, out, _ = call("zzqqyyxx")
    assert code == 0
    assert out.startswith("'zzqqyyxx' is not in the data, nor is anything like it.")


def test_one_json_document(call: Call) -> None:
    code, out, _ = call("KRST", "--json")
    document = json.loads(out)
    assert code == 0
    assert document["schema"] == "find-1"
    assert document["text"] == "KRST"
    (place,) = document["places"]
    assert (place["to_type"], place["found_by"], place["key"]) == ("KRST", "identifier", "KRST")
    assert document["cautions"] == list(wording.STANDING)
    assert set(document["data"]) == {"airports", "runways"}


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "TEXT"),
        (("...",), "nothing to search for"),
        (("lake", "--country", "USA"), "two letters (ISO 3166)"),
        (("lake", "--kind", "pond"), "unknown kind of place 'pond'"),
        (("lake", "--most", "0"), "--most"),
    ],
)
def test_what_does_not_do_is_said(call: Call, arguments: tuple[str, ...], words: str) -> None:
    code, out, err = call(*arguments)
    assert (code, out) == (2, "")
    assert words in err
    assert "Traceback" not in err
