"""The log over the page's addresses: the figures of the command, workings, plan files."""

from __future__ import annotations

import json
import tomllib
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from served import Served

from plotter.cli.main import plotter
from plotter.flight.columns import COLUMNS
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.starter import starter
from plotter.flight.printed import printed_log
from plotter.web import sheets

TEXT = starter("Demo, invented")


def tables(page: Served) -> dict[str, Any]:
    found: dict[str, Any] = page.get("/api/plan/new").json()["plan"]
    return found


def printed(tmp_path: Path, text: str = TEXT, *words: str) -> Any:
    path = tmp_path / "flight.toml"
    path.write_text(text, encoding="utf-8")
    result = CliRunner().invoke(plotter, ["log", str(path), *words, "--json"])
    return json.loads(result.stdout)


def test_a_log_is_what_the_command_prints_from_text_and_from_tables(
    page: Served, tmp_path: Path
) -> None:
    document = printed(tmp_path)
    assert page.post("/api/log", {"plan": TEXT}).json() == document
    assert page.post("/api/log", {"plan": tables(page)}).json() == document


def test_working_is_that_of_the_command_for_all_a_row_or_a_figure(
    page: Served, tmp_path: Path
) -> None:
    every = page.post("/api/log", {"plan": TEXT, "working": True}).json()
    assert every == printed(tmp_path, TEXT, "--working")
    one = page.post("/api/log", {"plan": TEXT, "row": 4, "column": "GS"}).json()
    assert [row["number"] for row in one["rows"] if "working" in row] == [4]
    assert list(one["rows"][3]["working"]) == ["groundspeed_kt"]


@pytest.mark.parametrize("column", COLUMNS)
def test_a_working_is_told_in_the_words_of_the_command(
    page: Served, tmp_path: Path, column: str
) -> None:
    said = page.post("/api/working", {"plan": TEXT, "row": 4, "column": column}).json()
    path = tmp_path / "flight.toml"
    path.write_text(TEXT, encoding="utf-8")
    asked = ["log", str(path), "--working", "4", column]
    shown = CliRunner().invoke(plotter, asked).stdout
    assert said["title"] in shown
    assert all(f"{put['is']}   ({put['words']})" in shown for put in said["put_in"])


def test_faults_come_all_at_once_with_line_or_key(page: Served) -> None:
    wrong = TEXT.replace("true_airspeed_kt = 110 ", "true_airspeed_kt = 0 ", 1)
    wrong = wrong.replace("speed_kt = 15", "speed_kt = 400")
    by_line = page.post("/api/log", {"plan": wrong})
    assert by_line.status_code == 422
    assert [each["where"]["line"] > 0 for each in by_line.json()["error"]["all"]] == [True, True]
    plan = tables(page)
    plan["aircraft"]["true_airspeed_kt"] = 0
    plan["wind"][1]["speed_kt"] = 400
    by_key = page.post("/api/log", {"plan": plan}).json()["error"]
    keys = {each["where"]["key"] for each in by_key["all"]}
    assert keys == {"aircraft.true_airspeed_kt", "wind.2.speed_kt"}


@pytest.mark.parametrize("row", [0, 9_999])
def test_a_row_that_is_not_there_is_refused(page: Served, row: int) -> None:
    answer = page.post("/api/working", {"plan": TEXT, "row": row, "column": "GS"})
    assert answer.status_code == 422


def test_no_file_that_a_plan_names_is_opened(page: Served, tmp_path: Path) -> None:
    secret = tmp_path / "points.csv"
    secret.write_text("name,latitude,longitude\nHIDE,44.1,-92.5\n", encoding="utf-8")
    plan = tables(page)
    plan["flight"] |= {"route": "KRST HIDE KDLH", "points": str(secret)}
    plan["flight"]["cruise_altitude_ft"] = 4500
    assert page.post("/api/log", {"plan": plan}).status_code == 422
    own = [{"name": "HIDE", "latitude_deg": 44.1, "longitude_deg": -92.5}]
    answer = page.post("/api/log", {"plan": plan, "points": own})
    assert answer.json()["flight"]["points"] == ["KRST", "HIDE", "KDLH"]


def test_plans_too_deep_or_too_long_are_refused(page: Served) -> None:
    deep: Any = 1
    for _ in range(60):
        deep = {"flight": deep}
    assert page.post("/api/log", {"plan": deep}).json()["error"]["code"] == "plan-depth"
    plan = tables(page)
    plan["flight"]["route"] = " ".join(["KRST KLSE"] * 1_001)
    assert page.post("/api/log", {"plan": plan}).json()["error"]["code"] == "too-many-points"
    assert page.post("/api/log", {"plan": "x" * 300_000}).status_code == 422


def test_the_sheet_rounds_its_log_once(page: Served, monkeypatch: pytest.MonkeyPatch) -> None:
    rounded: list[NavigationLog] = []
    monkeypatch.setattr(sheets, "printed_log", lambda log: rounded.append(log) or printed_log(log))
    plan = tables(page)
    plan["flight"]["cruise_altitude_ft"] = 4500
    assert page.post("/api/sheet", {"route": "KRST KLSE", "plan": plan}).json()["log"]
    assert len(rounded) == 1


def test_the_sheet_has_the_log_of_the_route_after_the_edit(page: Served) -> None:
    plan = tables(page)
    plan["flight"]["cruise_altitude_ft"] = 4500
    body = {"route": "KRST KLSE KDLH", "plan": plan, "edit": {"kind": "remove", "index": 1}}
    answer = page.post("/api/sheet", body).json()
    plan["flight"]["route"] = "KRST KDLH"
    document = page.post("/api/log", {"plan": plan}).json()
    (sector,) = answer["log"]["sectors"]
    assert [row["to"] for row in sector["rows"]] == [row["to"] for row in document["rows"]]
    assert answer["log_error"] is None


def test_a_plan_that_cannot_be_flown_leaves_the_route_drawn(page: Served) -> None:
    plan = tables(page)
    plan["flight"]["cruise_altitude_ft"] = 4500
    plan["aircraft"]["true_airspeed_kt"] = -1
    answer = page.post("/api/sheet", {"route": "KRST KLSE", "plan": plan}).json()
    assert answer["sheet"]["legs"]["rows"]
    assert answer["log"] is None
    assert answer["log_error"]["where"] == {"key": "aircraft.true_airspeed_kt"}


def test_saving_changes_what_was_changed_and_keeps_every_comment(page: Served) -> None:
    plan = tables(page)
    plan["flight"]["route"] = "KRST KDLH"
    plan["flight"]["cruise_altitude_ft"] = 5500
    del plan["wind"][1]
    plan["limits"] = {"reserve_min": None, "crosswind_kt": 12}
    text = page.post("/api/plan/write", {"text": TEXT, "plan": plan}).json()["text"]
    saved = tomllib.loads(text)
    assert saved["flight"]["route"] == "KRST KDLH"
    assert len(saved["wind"]) == 1
    assert saved["limits"] == {"crosswind_kt": 12}
    assert saved["flight"]["departure"].isoformat() == "2026-07-04T09:00:00-05:00"
    assert "# as typed for plotter plot" in text
    assert "Everything in it is invented" in text


def test_saving_unchanged_is_the_same_text(page: Served) -> None:
    body = {"text": TEXT, "plan": tables(page)}
    assert page.post("/api/plan/write", body).json()["text"] == TEXT


def test_a_plan_without_a_file_is_written_whole(page: Served) -> None:
    text = page.post("/api/plan/write", {"plan": tables(page)}).json()["text"]
    got, wanted = tomllib.loads(text), tomllib.loads(TEXT)
    got["flight"]["departure"] = wanted["flight"]["departure"]
    assert got == wanted


def test_a_file_that_is_no_plan_is_answered_with_its_line(page: Served) -> None:
    answer = page.post("/api/plan/read", {"text": "format = 1\nroute =", "name": "ours.toml"})
    assert answer.status_code == 422
    assert "ours.toml, line 2" in answer.json()["error"]["message"]


def test_two_hundred_logs_at_once_are_each_right(page: Served) -> None:
    alone = {}
    for altitude in (3500, 4500, 5500, 6500):
        plan = tables(page)
        plan["flight"]["cruise_altitude_ft"] = altitude
        alone[altitude] = (plan, page.post("/api/log", {"plan": plan}).json())
    asked = [altitude for _ in range(50) for altitude in alone]
    with ThreadPoolExecutor(24) as pool:
        answers = list(pool.map(lambda a: page.post("/api/log", {"plan": alone[a][0]}), asked))
    assert all(
        got.json() == alone[altitude][1] for got, altitude in zip(answers, asked, strict=True)
    )


@pytest.mark.parametrize(
    "body",
    [
        b'{"plan": {"flight": {"route": "KRST KLSE"}, "aircraft": {"true_airspeed_kt": NaN}}}',
        b'{"plan": {"wind": [{"altitude_ft": Infinity}]}}',
        b'{"plan": ' + b'{"a":' * 50_000,
        b'{"plan": {"flight": {"route": "KRST',
        b'{"plan": 7}',
        b'{"plan": "", "row": 1e400}',
        b"\xff\xfe",
    ],
)
@pytest.mark.parametrize("path", ["/api/log", "/api/working", "/api/plan/write", "/api/sheet"])
def test_bodies_that_are_none_are_refused_in_the_one_shape(
    page: Served, path: str, body: bytes
) -> None:
    headers = {"content-type": "application/json"}
    answer = page.client.post(path, content=body, headers=headers)
    assert answer.status_code in (400, 422)
    assert {"code", "message", "where", "candidates"} <= set(answer.json()["error"])


@pytest.mark.parametrize("path", ["/api/log", "/api/working", "/api/plan/read", "/api/plan/write"])
@pytest.mark.parametrize(
    "wrong",
    [
        {"x-plotter-token": ""},
        {"host": "evil.example"},
        {"origin": "https://evil.example"},
        {"sec-fetch-site": "cross-site"},
    ],
)
def test_no_other_site_is_told_of_a_plan(page: Served, path: str, wrong: dict[str, str]) -> None:
    answer = page.client.post(path, json={"plan": TEXT, "text": TEXT}, headers=wrong)
    assert answer.status_code == 403
    assert "KRST" not in answer.text
