"""`plotter log` as its user meets it: the log, any figure's working, files, kind refusals."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from plotter.cli.main import run
from plotter.wording import STANDING_SHORT

PLAN = """format = 1
[flight]
name = "River towns (invented)"
route = "KRST KLSE KEAU KDLH"
departure = 2026-07-04T09:00:00-05:00
cruise_altitude_ft = [5500, 4500, 6500]
[[stop]]
point = "KEAU"
ground_min = 30
[aircraft]
name = "Blue Wren (invented)"
true_airspeed_kt = 110
cruise_fuel_per_hour = 8.5
fuel_unit = "US gal"
usable_fuel = 53
fuel_on_board = 40
taxi_fuel = 1.1
climb_rate_fpm = 500
climb_true_airspeed_kt = 80
climb_fuel_per_hour = 12
descent_rate_fpm = 500
descent_true_airspeed_kt = 115
descent_fuel_per_hour = 6
[[wind]]
altitude_ft = 3000
from_true_deg = 240
speed_kt = 15
[[wind]]
altitude_ft = 9000
from_true_deg = 270
speed_kt = 25
"""
Call = Callable[..., tuple[int, str, str]]


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "sunday.toml").write_text(PLAN, encoding="utf-8")
    return tmp_path


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Call:
    def _call(*arguments: str) -> tuple[int, str, str]:
        code = run(["log", *arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return _call


def document(call: Call, *arguments: str) -> dict[str, Any]:
    code, out, err = call("sunday.toml", *arguments, "--json")
    assert (code, err) == (0, "")
    made: dict[str, Any] = json.loads(out, parse_constant=pytest.fail)
    return made


def test_the_log_is_printed_within_a_hundred_columns(call: Call) -> None:
    code, out, err = call("sunday.toml")
    assert (code, err) == (0, "")
    assert max(map(len, out.splitlines())) <= 100
    assert "Sector 2, KEAU to KDLH: take-off 10:29 CDT (15:29Z)" in out
    assert " ".join(STANDING_SHORT[1].split()) in " ".join(out.split())
    rows = [line for line in out.splitlines() if line[:2].strip().isdigit()]
    assert len(rows) == len(document(call)["rows"])


def departing(folder: Path, departure: str, route: str = "KRST KLSE KEAU KDLH") -> None:
    text = PLAN.replace("2026-07-04T09:00:00-05:00", departure)
    (folder / "sunday.toml").write_text(text.replace("KRST KLSE KEAU KDLH", route))


def in_one_line(out: str) -> str:
    return " ".join(out.split())


def test_take_off_has_the_date_of_its_own_clock(call: Call, folder: Path) -> None:
    departing(folder, "2026-07-04T19:30:00-05:00")
    _, out, _ = call("sunday.toml")
    assert "take-off 2026-07-04 19:30 CDT (2026-07-05 00:30Z)" in out
    assert "+1d" not in out


def test_what_falls_on_another_date_says_so(call: Call, folder: Path) -> None:
    departing(folder, "2026-07-04T22:40:00-05:00")
    _, out, _ = call("sunday.toml")
    assert "KRST to KEAU: take-off 22:40 CDT (2026-07-05 03:40Z), landing 23:3" in out
    assert "KEAU to KDLH: take-off 2026-07-05 00:0" in out
    departing(folder, "2026-07-04T18:10:00-05:00")
    assert "+1d" not in call("sunday.toml")[1]
    plan = folder / "sunday.toml"
    plan.write_text(plan.read_text().replace("[flight]", '[flight]\nclock = "utc"', 1))
    _, out, _ = call("sunday.toml")
    assert max(map(len, out.splitlines())) <= 100
    assert "add up. ETA in UTC." in in_one_line(out)
    assert "take-off 18:10 CDT (23:10Z), landing 19:09 CDT (2026-07-05 00:09Z)" in out
    assert out.count("+1d: the day after take-off.") == 1
    etas = re.findall(r" (\d\d:\d\dZ\S*) +\d+\.\d +\d+\.\d$", out, re.M)
    before = [eta for eta in etas if eta.startswith("23:")]
    marked = [eta for eta in etas if eta.endswith("Z+1d")]
    assert before
    assert marked[-1] == "00:09Z+1d"
    assert [*before, *marked] == etas[: len(before) + len(marked)]


def test_the_sun_at_take_off_is_said_only_in_the_dark(call: Call, folder: Path) -> None:
    """Eau Claire on 5 July 2026: sunrise 05:26, La Crosse 05:29 CDT (US Naval Observatory's rule;
    the tables here hold it to a minute elsewhere).
    """
    _, out, _ = call("sunday.toml")
    assert "at take-off:" not in out
    assert "Sun at KEAU at landing: up; sunset 20:5" in in_one_line(out)
    departing(folder, "2026-07-05T02:00:00-05:00")
    _, out, _ = call("sunday.toml")
    said = in_one_line(out)
    assert "Sun at KRST at take-off: down, night; beginning of civil twilight 04:58 CDT" in said
    assert "Sun at KEAU at landing: down, night; beginning of civil twilight 04:" in said


def test_what_is_printed_is_the_document_rounded(call: Call) -> None:
    _, out, _ = call("sunday.toml")
    rows = document(call)["rows"]
    lines = [line.split() for line in out.splitlines() if line[:2].strip().isdigit()]
    for cells, row in zip(lines, rows, strict=True):
        assert cells[1] == row["to"]
        for top in row["marked"]:
            cells.remove(top["name"])
        assert float(cells[3]) == pytest.approx(row["distance_nm"], abs=0.1001)
        assert int(cells[5]) % 360 == round(row["true_course_deg"]) % 360
        assert float(cells[-1]) <= row["fuel_remaining"] + 1e-6


def test_names_that_are_cut_stay_apart(call: Call, folder: Path) -> None:
    text = PLAN.replace("KRST KLSE", "KRST riverbend-north=44,-92 riverbend-south=43.9,-91.8 KLSE")
    text = text.replace("[5500, 4500, 6500]", "5500")
    (folder / "long.toml").write_text(text, encoding="utf-8")
    _, out, _ = call("long.toml")
    cut = [line.split()[1] for line in out.splitlines() if " riverb" in line and "…" in line]
    assert cut == ["riverb…rth", "riverb…uth"]


def test_an_aircraft_without_a_name_leaves_no_gap(call: Call, folder: Path) -> None:
    text = PLAN.replace('name = "Blue Wren (invented)"\n', "")
    (folder / "nameless.toml").write_text(text, encoding="utf-8")
    _, out, _ = call("nameless.toml")
    assert out.splitlines()[1].startswith("Take-off 2026-07-04")
    assert "Blue Wren (invented); take-off 2026-07-04" in call("sunday.toml")[1]


def test_time_and_fuel_that_are_left_are_rounded_down(call: Call) -> None:
    made = document(call)["sectors"][0]
    minutes = int(made["fuel"]["endurance_min"])
    assert f"Endurance at take-off {minutes // 60}:{minutes % 60:02d}." in call("sunday.toml")[1]


def test_the_working_of_one_figure(call: Call) -> None:
    code, out, _ = call("sunday.toml", "--working", "4", "gs")
    assert code == 0
    assert "GS = TAS × cos WCA − W × cos(wind − TC)" in out
    assert "TAS = 110.00 kt" in out
    assert "Not checked" in out


def test_the_working_of_a_row_and_of_all(call: Call) -> None:
    _, one_row, _ = call("sunday.toml", "--working", "4")
    assert one_row.count("source: ") == 19
    made = document(call, "--working", "4")
    assert [len(row.get("working", ())) for row in made["rows"]][:5] == [0, 0, 0, 19, 0]
    everything = document(call, "--working")
    assert all(len(row["working"]) == 19 for row in everything["rows"])


def test_files_hold_the_log(call: Call, folder: Path) -> None:
    code, out, _ = call("sunday.toml", "--as", "csv,map", "--into", "out", "--name", "sunday")
    assert code == 0
    assert "sunday.csv" in out
    with (folder / "out" / "sunday.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["row"] == "log"]
    assert len(rows) == len(document(call)["rows"])
    assert 'id="log-table-2"' in (folder / "out" / "sunday.html").read_text(encoding="utf-8")


def test_files_are_called_as_the_plan_file_is(call: Call, folder: Path) -> None:
    assert call("sunday.toml", "--as", "csv", "--into", "out")[0] == 0
    assert [path.name for path in (folder / "out").iterdir()] == ["sunday.csv"]


def test_more_checks_than_five_are_counted(call: Call, folder: Path) -> None:
    text = PLAN.replace("[[wind]]\naltitude_ft = 3000", "[[wind]]\naltitude_ft = 12000").replace(
        "2026-07-04T09", "2026-07-04T20"
    )
    text = text.replace("[5500, 4500, 6500]", "[6500, 5500, 5500]")
    text += "[limits]\nrunway_ft = 9500\n[[leg]]\nnumber = 1\nmeasured_nm = 60\ndistance_nm = 54\n"
    (folder / "sunday.toml").write_text(text, encoding="utf-8")
    _, out, _ = call("sunday.toml")
    assert out.count("\nCHECK ") == 5
    assert "more with --all-cautions" in out
    _, everything, _ = call("sunday.toml", "--all-cautions")
    assert everything.count("\nCHECK ") > 5


REFUSED = [
    (("nix.toml",), "nix.toml: no such file"),
    (("KRST", "KLSE"), "'KRST' is not a plan file"),
    (("sunday.toml", "4"), "--working 4"),
    (("sunday.toml", "--working", "99"), "its rows are 1 to"),
    (("sunday.toml", "--working", "four"), "is not a row number"),
    (("sunday.toml", "--working", "4", "SPEED"), "the columns are ALT, NM"),
    (("sunday.toml", "--as", "gpz"), "did you mean gpx?"),
    ((), "FLIGHT.toml"),
]


@pytest.mark.parametrize(("arguments", "words"), REFUSED)
def test_what_cannot_be_is_said_with_what_to_type(
    call: Call, arguments: tuple[str, ...], words: str
) -> None:
    code, out, err = call(*arguments)
    assert (code, out) == (2, "")
    assert words in err
    assert "Traceback" not in err


BAD_PLANS = [
    ("", "is empty"),
    ("format = 1\n[flight\n", "line 2"),
    (PLAN.replace("110", "0", 1), "true_airspeed_kt"),
    (PLAN.replace("-05:00", ""), "departure"),
    (PLAN.replace("fuel_on_board = 40", "fuel_on_board = -40"), "fuel_on_board"),
    (PLAN.replace("speed_kt = 15", "speed_kt = 400"), "400"),
    (PLAN.replace('point = "KEAU"', 'point = "KMSP"'), "not a turning point of the route"),
    (PLAN.replace("[5500, 4500, 6500]", "900"), "is not above KRST"),
    (PLAN.replace("[5500, 4500, 6500]", "[5500, 4500]"), "2 altitudes for 3 legs"),
    (PLAN.replace("2026-07", "2031-07"), "2031-07-04 is outside"),
    (PLAN.replace("KEAU KDLH", "KEAUX KDLH"), "KEAUX"),
]


@pytest.mark.parametrize(("text", "words"), BAD_PLANS)
def test_a_bad_plan_is_refused_with_where(call: Call, folder: Path, text: str, words: str) -> None:
    (folder / "bad.toml").write_text(text, encoding="utf-8")
    code, out, err = call("bad.toml")
    assert (code, out) == (2, "")
    assert words in err
    assert "Traceback" not in err


def test_a_plan_that_is_no_text_or_far_too_large(call: Call, folder: Path) -> None:
    (folder / "bytes.toml").write_bytes(b"\xff\xfe\x00")
    code, _, err = call("bytes.toml")
    assert code == 2
    assert "UTF-8" in err
    (folder / "huge.toml").write_bytes(b"#" * 1_000_001)
    code, _, err = call("huge.toml")
    assert code == 2
    assert "larger than any plan" in err


def test_own_points_lie_beside_the_plan(call: Call, folder: Path) -> None:
    inner = folder / "plans"
    inner.mkdir()
    (inner / "mine.csv").write_text("name,latitude,longitude\nBarn,43.95,-92.0\n", encoding="utf-8")
    text = PLAN.replace('route = "KRST', 'points = "mine.csv"\nroute = "KRST Barn').replace(
        "[5500, 4500, 6500]", "5500"
    )
    (inner / "own.toml").write_text(text, encoding="utf-8")
    code, out, err = call("plans/own.toml")
    assert (code, err) == (0, "")
    assert "Barn" in out


def test_weather_over_a_point_of_unknown_elevation_is_shown_without_made_up_heights(
    call: Call, folder: Path
) -> None:
    weather = '\n[[weather]]\npoint = "44,-91.5"\naltimeter_hpa = 1003\ntemperature_c = 30\n'
    text = PLAN.replace("KRST KLSE", "KRST 44,-91.5 KLSE").replace("[5500, ", "[5500, 5500, ")
    (folder / "sunday.toml").write_text(text + weather, encoding="utf-8")
    code, out, _ = call("sunday.toml", "--as", "none")
    assert code == 0
    assert "not in the data" in next(
        line for line in out.splitlines() if line.startswith("44,-91.5")
    )
    (field,) = document(call)["fields"]
    assert field["elevation_ft"] is None
    assert field["pressure_altitude_ft"] is None


def test_the_route_of_a_plan_may_be_a_file_beside_it(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert run(["log", "sunday.toml"]) == 0
    typed = capsys.readouterr().out
    route = "KRST KLSE KEAU KDLH"
    assert run(["plot", *route.split(), "--as", "gpx", "--into", ".", "--name", "trip"]) == 0
    (folder / "filed.toml").write_text(PLAN.replace(route, "trip.gpx"), encoding="utf-8")
    (folder / "elsewhere").mkdir()
    monkeypatch.chdir(folder / "elsewhere")
    capsys.readouterr()
    assert run(["log", "../filed.toml"]) == 0
    filed = capsys.readouterr().out
    rows = [line for line in typed.splitlines() if line.strip()[:1].isdigit()]
    assert rows
    assert rows == [line for line in filed.splitlines() if line.strip()[:1].isdigit()]


@pytest.mark.parametrize("kind", ["gpx", "kml"])
def test_a_planned_altitude_is_not_read_back_as_the_ground(
    kind: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["log", "sunday.toml", "--as", kind, "--into", ".", "--name", "flown"]) == 0
    capsys.readouterr()
    assert run(["plot", f"flown.{kind}", "--as", "none", "--json"]) == 0
    points = json.loads(capsys.readouterr().out)["points"]
    assert [point["name"] for point in points] == ["KRST", "KLSE", "KEAU", "KDLH"]
    assert [round(point["elevation_ft"]) for point in points] == [1317, 655, 913, 1428]
