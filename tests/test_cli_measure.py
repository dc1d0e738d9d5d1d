"""`plotter measure` as its user meets it: what is printed, what is answered, what is refused."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from given_files import gpx_route

from plotter import api, wording
from plotter.cli.main import run

Call = Callable[..., tuple[int, str, str]]
DATE = ("--date", "2026-07-04")
LEG_KEYS = [
    "start", "end", "distance_nm", "true_course_deg", "variation_deg_east", "reading",
    "residual_mm", "distance_agrees", "distance_allowed_mm", "course_agrees", "course_off_deg",
    "course_allowed_deg",
]  # fmt: skip


@pytest.fixture
def call(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Call:
    monkeypatch.chdir(tmp_path)

    def _call(*arguments: str) -> tuple[int, str, str]:
        code = run(["measure", *arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return _call


def asked(call: Call, *arguments: str) -> dict[str, Any]:
    code, out, err = call(*arguments, *DATE, "--json")
    assert (code, err) == (0, "")
    document: dict[str, Any] = json.loads(out, parse_constant=pytest.fail)
    return document


def test_the_statute_edge(call: Call, tmp_path: Path) -> None:
    code, out, err = call("KRST", "KLSE", "--reading", "62.1", *DATE)
    assert (code, err) == (0, "")
    said = " ".join(out.split())
    assert "Distance: does not agree; likely" in said
    assert "It shows 62.1 for 54.0 NM. Measure again with the nautical edge." in said
    assert "never a figure to fly" in said
    for words in wording.STANDING_SHORT:
        assert words in said
    assert list(tmp_path.iterdir()) == []


def test_the_document_is_whole(call: Call) -> None:
    document = asked(call, "KRST", "KLSE", "--reading", "62.1", "--course", "093M")
    assert list(document)[:5] == ["schema", "legs", "distance", "course", "fitted"]
    assert document["schema"] == "measure-1"
    assert list(document["legs"][0]) == LEG_KEYS
    for part in ("distance", "course"):
        assert list(document[part]) == [
            "heading", "readings", "outside", "verdict", "explanations", "inseparable",
            "next_measurement",
        ]  # fmt: skip
        for each in document[part]["explanations"]:
            assert list(each) == ["code", "probability", "grade", "text"]
    assert list(document["fitted"]) == ["offset_nm", "factor"]
    assert document["distance"]["explanations"][0]["code"] == "nautical_statute"
    assert document["course"]["explanations"][0]["code"] == "read_right"
    assert document["legs"][0]["residual_mm"] == pytest.approx(30.3, abs=0.1)
    codes = [each["code"] for each in document["cautions"]]
    assert codes[-3:] == ["planning-aid", "pilot-in-command", "not-checked"]


def test_a_part_that_was_not_read_is_null(call: Call) -> None:
    assert asked(call, "KRST", "KLSE", "--reading", "54")["course"] is None
    only_course = asked(call, "KRST", "KLSE", "--course", "092T")
    assert only_course["distance"] is None
    assert only_course["legs"][0]["reading"] is None
    assert only_course["legs"][0]["residual_mm"] is None


def test_the_middle_of_the_chart_may_be_named(call: Call, tmp_path: Path) -> None:
    """KRST to KLSE lies at 91.9°W: from a middle at 88°W the border reads 2.7° more."""
    document = asked(call, "KRST", "KLSE", "--course", "094.8T", "--chart-middle", "-88")
    text = {each["code"]: each["text"] for each in document["course"]["explanations"]}["border"]
    assert "whose middle is 88°W that makes 095°T of this leg" in text
    assert (
        "from -180 to 180" in call("KRST", "KLSE", "--course", "095T", "--chart-middle", "200")[2]
    )
    flight = PLAN.replace("[aircraft]", "chart_middle = -88.0\n[aircraft]")
    (tmp_path / "sunday.toml").write_text(
        flight + "[[leg]]\nnumber = 1\nmeasured_course_deg = 94.8\n", encoding="utf-8"
    )
    code, out, _ = call("sunday.toml")
    assert code == 0
    assert "whose middle is 88°W" in " ".join(out.split())


def test_the_same_question_has_the_same_bytes(call: Call) -> None:
    arguments = ("KRST", "KLSE", "--reading", "52.3", *DATE, "--json")
    assert call(*arguments) == call(*arguments)


def test_several_legs_from_a_file(call: Call, tmp_path: Path) -> None:
    (tmp_path / "mine.csv").write_text(
        "start,end,reading,unit,course\nKRST,KLSE,52.3,,092T\nKLSE,KEAU,58.3,nm,\n"
        "KEAU,KDLH,120.5,,\n"
    )
    code, out, _ = call("--readings", "mine.csv", *DATE)
    assert code == 0
    said = " ".join(out.split())
    assert "end of the plotter on the departure" in said
    assert "The straight line through these readings" in said
    document = asked(call, "--readings", "mine.csv")
    assert document["distance"]["explanations"][0]["code"] == "physical_end"
    assert document["fitted"]["factor"] == pytest.approx(1.0, abs=0.01)
    assert document["fitted"]["offset_nm"] == pytest.approx(-1.6, abs=0.3)


def test_a_file_and_a_leg_of_its_own_go_together(call: Call, tmp_path: Path) -> None:
    (tmp_path / "mine.csv").write_text("start,end,reading\nKRST,KLSE,54.0\n")
    document = asked(call, "KLSE", "KEAU", "--reading", "60.0", "--readings", "mine.csv")
    assert [leg["start"] for leg in document["legs"]] == ["KRST", "KLSE"]


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (("--reading", "62.1", "--edge", "sm"), "read_right"),
        (("--reading", "62.1", "--unit", "sm"), "read_right"),
        (("--reading", "100", "--unit", "KM"), "read_right"),
        (("--reading", "199.8", "--unit", "mm"), "read_right"),
        (("--reading", "399.6", "--unit", "mm", "--chart", "terminal"), "read_right"),
        (("--reading", "27", "--chart", "terminal"), "other_scale"),
        (("--reading", "540"), "none"),
    ],
)
def test_units_edges_and_charts(call: Call, arguments: tuple[str, ...], code: str) -> None:
    document = asked(call, "KRST", "KLSE", *arguments)
    assert document["distance"]["explanations"][0]["code"] == code


def test_odds_only_on_request(call: Call) -> None:
    plain = call("KRST", "KLSE", "--reading", "52.3", *DATE)[1]
    odds = call("KRST", "KLSE", "--reading", "52.3", "--odds", *DATE)[1]
    assert "%" not in plain.partition("Distance:")[2].partition("\n")[2].split("copy")[0]
    assert " % " in odds


def test_what_is_not_told_apart_is_said_with_what_would(call: Call) -> None:
    out = " ".join(call("KRST", "KLSE", "--reading", "52.3", *DATE)[1].split())
    assert "cannot separate" in out
    assert "Next: Measure a" in out


def test_a_right_reading_is_not_buried_in_questions(call: Call) -> None:
    out = call("KRST", "KLSE", "--reading", "54.1", "--course", "092T", *DATE)[1]
    assert "?" not in out
    assert " ".join(out.split()).count("within reading error.") == 2


def test_nothing_fits_is_an_answer_and_no_error(call: Call) -> None:
    code, out, err = call("KRST", "KLSE", "--reading", "130", *DATE)
    assert (code, err) == (0, "")
    assert "nothing fits: measure again" in out


def test_ones_own_plotter_is_used_when_it_was_tested(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, real_store: object
) -> None:
    from plotter.datastore import own_plotter as keeping

    monkeypatch.setattr(keeping, "user_folder", lambda: tmp_path)
    code, _, err = call("KRST", "KLSE", "--reading", "55.1", "--my-plotter", *DATE)
    assert code == 2
    assert "plotter rule" in err
    api.keep_own_plotter(api.fit_plotter("ruler 10 = plotter 10.2, ruler 80 = plotter 81.6"))
    document = asked(call, "KRST", "KLSE", "--reading", "55.1", "--my-plotter")
    assert document["distance"]["explanations"][0]["code"] == "own_plotter"
    assert "own-plotter" in {caution["code"] for caution in document["cautions"]}
    assert "your own plotter" in call("KRST", "KLSE", "--reading", "55", "--my-plotter", *DATE)[1]


def test_a_plotter_that_failed_its_test_is_never_said_to_be_right(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, real_store: object
) -> None:
    from plotter.datastore import own_plotter as keeping

    monkeypatch.setattr(keeping, "user_folder", lambda: tmp_path)
    api.keep_own_plotter(api.fit_plotter("10 = 10.3, 40 = 41.2, 65 = 66.95"))
    for reading in ("54.0", "54.8", "55.6", "56.2"):
        said = call("KRST", "KLSE", "--reading", reading, "--my-plotter", *DATE)[1]
        assert "within reading error" not in said, reading
        assert "Do not fly a distance read off it" in " ".join(said.split()), reading
    said = " ".join(call("KRST", "KLSE", "--reading", "55.6", "--my-plotter", *DATE)[1].split())
    assert "55.6 NM is 1.6 NM long for the leg of 54.0 NM, and your plotter is why" in said
    assert "Do not fly 55.6 NM" in said
    # A course is read off the protractor, of which the test of the edge says nothing.
    assert "No distance" not in call("KRST", "KLSE", "--course", "092T", "--my-plotter", *DATE)[1]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "two points"),
        (("KRST", "KLSE"), "--reading 26.4"),
        (("KRST", "--reading", "54"), "only one point"),
        (("KRST", "KLSE", "KEAU", "--reading", "54"), "--readings"),
        (("KRST", "KRST", "--reading", "54"), "same place"),
        (("KRST", "KDHL", "--reading", "54"), "KDLH"),
        (("KRST", "KLSE", "--reading", "0"), "enter a positive number"),
        (("KRST", "KLSE", "--reading", "-54"), "enter a positive number"),
        (("KRST", "KLSE", "--reading", "54 NM"), "26.4"),
        (("KRST", "KLSE", "--reading", "54,2"), "26.4"),
        (("KRST", "KLSE", "--reading", "nan"), "26.4"),
        (("KRST", "KLSE", "--reading", "99999999"), "99,999,999 nm is out of range"),
        (("KRST", "KLSE", "--reading", "54", "--unit", "furlong"), "sm"),
        (("KRST", "KLSE", "--reading", "54", "--chart", "globe"), "sectional"),
        (("KRST", "KLSE", "--reading", "54", "--edge", "km"), "nm"),
        (("KRST", "KLSE", "--course", "092"), "092T"),
        (("KRST", "KLSE", "--course", "400T"), "247T"),
        (("KRST", "KLSE", "--course", "east"), "247T"),
        (("KRST", "PHNL", "--reading", "54"), "split it"),
        (("44,-92", "44.002,-92", "--reading", "0.1"), "longer leg"),
        (("84,-92", "84.5,-92", "--reading", "30"), "80°"),
        (("KRST", "KLSE", "--reading", "54", "--date", "2019-05-01"), "2025"),
        (("--readings", "missing.csv"), "missing.csv"),
        (("KRST", "KLSE", "--reding", "54"), "--reading"),
        (("KRST", "KLSE", "--reading"), "--reading"),
    ],
)
def test_what_is_typed_wrong_is_told_kindly(
    call: Call, tmp_path: Path, arguments: tuple[str, ...], words: str
) -> None:
    code, out, err = call(*arguments)
    assert (code, out) == (2, "")
    assert words in err
    assert "Traceback" not in err
    assert list(tmp_path.iterdir()) == []


def test_faults_are_one_object_with_json(call: Call, tmp_path: Path) -> None:
    (tmp_path / "mine.csv").write_text("start,end,reading\nKRST,,54\nKRST,KDHL,0\n")
    code, out, err = call("--readings", "mine.csv", "--json")
    assert (code, out) == (2, "")
    assert json.loads(err)["error"]["where"] == {"file": "mine.csv", "line": 2}
    (tmp_path / "mine.csv").write_text("start,end,reading\nKRST,KDHL,54\nKRST,KLES,54\n")
    fault = json.loads(call("--readings", "mine.csv", "--json")[2])["error"]
    assert [each["message"][:7] for each in fault["all"]] == ["line 2:", "line 3:"]


def test_points_may_start_with_a_minus(call: Call) -> None:
    document = asked(call, "-33.9,151.2", "-34.5,150.8", "--reading", "41")
    assert document["legs"][0]["start"] == "-33.9,151.2"


def test_help_has_every_option_explained(call: Call) -> None:
    out = call("--help")[1]
    for option in (
        "--reading", "--unit", "--course", "--edge", "--chart", "--readings", "--student",
        "--my-plotter", "--date", "--chart-middle", "--points", "--odds", "--json",
    ):  # fmt: skip
        told = out.partition(f"\n  {option} ")[2].partition("\n  --")[0]
        assert len(told.split()) > 4, option


PLAN = """format = 1
[flight]
route = "KRST KLSE KEAU"
departure = 2026-07-04T09:00:00-05:00
cruise_altitude_ft = 5500
[aircraft]
true_airspeed_kt = 110
cruise_fuel_per_hour = 8.5
fuel_unit = "US gal"
usable_fuel = 53
fuel_on_board = 40
"""
MEASURED = """[[leg]]
number = 1
measured_nm = 62.1
measured_course_deg = 93
measured_course_reference = "magnetic"
"""


def test_a_plan_file_holds_its_own_readings(call: Call, tmp_path: Path) -> None:
    (tmp_path / "sunday.toml").write_text(PLAN + MEASURED, encoding="utf-8")
    code, out, err = call("sunday.toml", "--json")
    assert (code, err) == (0, "")
    document = json.loads(out)
    assert [leg["end"] for leg in document["legs"]] == ["KLSE"]
    assert document["distance"]["explanations"][0]["code"] == "nautical_statute"
    assert document["course"]["explanations"][0]["code"] == "read_right"


def test_the_route_of_a_plan_may_be_a_file_beside_it(call: Call, tmp_path: Path) -> None:
    """As it may for the log: the file is found from the plan's own folder."""
    places = [(43.90828, -92.500014), (43.879002, -91.256699), (44.865799, -91.484299)]
    folder = tmp_path / "flights"
    folder.mkdir()
    (folder / "trip.gpx").write_text(gpx_route(*places), encoding="utf-8")
    text = re.sub(r'route = ".*"', 'route = "trip.gpx"', PLAN) + MEASURED
    (folder / "sunday.toml").write_text(text, encoding="utf-8")
    code, out, err = call(str(folder / "sunday.toml"), "--json")
    assert (code, err) == (0, "")
    document = json.loads(out)
    assert [leg["end"] for leg in document["legs"]] == ["B"]
    assert document["distance"]["explanations"][0]["code"] == "nautical_statute"


@pytest.mark.parametrize(
    ("text", "arguments", "words"),
    [
        (PLAN, (), "no leg of the plan has a hand measurement; write measured_nm"),
        (PLAN + MEASURED, ("--reading", "54"), "holds its own readings"),
        (PLAN + MEASURED, ("KEAU",), "holds its own readings"),
        (PLAN + MEASURED, ("--date", "2026-07-04"), "has its own date (departure)"),
        (PLAN + MEASURED, ("--unit", "sm"), "has its own unit (NM); leave --unit out"),
        ("format = 1", (), "[flight]"),
    ],
)
def test_a_plan_that_gives_nothing_to_judge(
    call: Call, tmp_path: Path, text: str, arguments: tuple[str, ...], words: str
) -> None:
    (tmp_path / "sunday.toml").write_text(text, encoding="utf-8")
    code, out, err = call("sunday.toml", *arguments)
    assert (code, out) == (2, "")
    assert words in err
