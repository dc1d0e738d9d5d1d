"""`plotter near` as it is typed and read."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from plotter import wording
from plotter.cli.main import run
from plotter.cli.places_report import KIND_NAMES, read_kinds
from plotter.errors import InputError
from plotter.places.nearness import KINDS

Call = Callable[..., tuple[int, str, str]]


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Call:
    def _call(*arguments: str) -> tuple[int, str, str]:
        code = run(("near", *arguments))
        out, err = capsys.readouterr()
        return code, out, err

    return _call


def test_the_nearest_first_with_cautions_and_dates(call: Call) -> None:
    code, out, err = call("KRST", "--within", "20")
    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[0].startswith("Within 20.0 NM of KRST (43°54.50′N 092°30.00′W)")
    distances = [float(line.split()[0]) for line in lines[4 : lines.index("", 4)]]
    assert distances == sorted(distances)
    assert len(distances) == 14
    whole = " ".join(out.split())
    for words in (*wording.STANDING_SHORT, "Airports of 2025-12-02", "227°T", "KRST", "here"):
        assert words in whole, words


@pytest.mark.parametrize(
    "point",
    [
        ("43.9083,-92.5",),
        ("4354N09230W",),
        ("43", "54.5", "N", "092", "30.0", "W"),
        ("BARN=43.9083,-92.5",),
        ("krst",),
    ],
)
def test_any_notation_of_a_route(call: Call, point: tuple[str, ...]) -> None:
    code, out, _ = call(*point, "--within", "5")
    assert code == 0
    assert "Rochester International" in out


def test_own_points_and_a_leading_minus(call: Call, tmp_path: Path) -> None:
    points = tmp_path / "own.csv"
    points.write_text("name,latitude,longitude\nRed barn,43.95,-92.41\n")
    assert (
        "Within 9.0 NM of Red barn" in call("Red", "barn", "--within", "9", "--points", points)[1]
    )
    code, out, _ = call("-80.5,100")
    assert code == 0
    assert "nothing in the data; the nearest is AT28 Vostok Skiway, 143.7 NM 035°T" in out


def test_a_runway_asked_for_and_those_the_data_does_not_know(call: Call) -> None:
    out = " ".join(call("KRST", "--within", "20", "--runway", "4000")[1].split())
    assert "KFKA" in out
    assert "2C4" not in out
    assert "1 more within 20.0 NM may have a runway of 4,000 ft" in out


def test_more_than_are_listed_are_counted(call: Call) -> None:
    out = call("KRST", "--within", "60", "--most", "3")[1]
    assert "the nearest 3 are listed" in out
    assert "7MN3" not in out


def test_beacons_and_towns_with_the_ages_of_their_tables(call: Call) -> None:
    out = " ".join(call("KRST", "--kind", "navaid,town")[1].split())
    assert "people" in out
    assert "NOTE More than a year old today: navaids of 2022-10-11" in out
    assert "Airports of" not in out


def test_one_json_document(call: Call) -> None:
    code, out, _ = call("KRST", "--kind", "all", "--within", "10", "--json")
    document = json.loads(out)
    assert code == 0
    assert document["schema"] == "near-1"
    assert document["count"] == len(document["places"])
    assert {place["kind"] for place in document["places"]} > {"navaid", "town", "heliport"}
    assert document["cautions"] == list(wording.STANDING)
    assert set(document["data"]) == {"airports", "runways", "navaids", "towns"}
    beyond = json.loads(call("-80.5,100", "--json")[1])
    assert beyond["places"] == []
    assert beyond["nearest_beyond"]["code"] == "AT28"


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "Error: no point given; enter one, such as KRST\n"),
        (("KRST", "KONA"), "2 points given"),
        (("KRSQQ",), "did you mean"),
        (("KRST", "--within", "far"), "not a number of NM"),
        (("KRST", "--within", "-5"), "enter 0 or more"),
        (("KRST", "--kind", "strip"), "unknown kind of place 'strip'"),
        (("KRST", "--kind", ","), "no kind of place given"),
        (("KRST", "--runway", "3000", "--kind", "town"), "has no runway"),
        (("KRST", "--wthin", "5"), "--within"),
        (("KRST", "--most", "0"), "--most"),
    ],
)
def test_what_does_not_do_is_said(call: Call, arguments: tuple[str, ...], words: str) -> None:
    code, out, err = call(*arguments)
    assert (code, out) == (2, "")
    assert words in err
    assert "Traceback" not in err


def test_kinds_can_be_typed_in_any_way_and_all_are_there() -> None:
    assert read_kinds("Seaplane base, NAVAID,navaid") == ("seaplane_base", "navaid")
    assert set(read_kinds("all")) == set(KINDS)
    assert set().union(*KIND_NAMES.values()) == set(KINDS)
    with pytest.raises(InputError):
        read_kinds("")
