"""What is invented of the plan to start from is said first everywhere until it is confirmed."""

from __future__ import annotations

from typing import Any

import pytest
from served import ROUTE, Served

from plotter.flight.invented import PARTS
from plotter.flight.rules import cruising_rule

SAID = "Still invented:"


def plan_with(page: Served, *invented: str) -> dict[str, Any]:
    return {**page.get("/api/plan/new").json()["plan"], "invented": list(invented)}


def asked(page: Served, *invented: str) -> dict[str, object]:
    return {**ROUTE, "plan": plan_with(page, *invented)}


def test_the_plan_to_start_from_says_what_is_invented_and_has_all_of_it(page: Served) -> None:
    plan = page.get("/api/plan/new").json()["plan"]
    assert plan["invented"] == [part for part in PARTS if part not in ("stop", "weather")]
    answer = page.post("/api/sheet", {**ROUTE, "plan": plan}).json()
    assert answer["warning"] == f"{len(plan['invented'])} figures invented: not for flight"
    assert [each["part"] for each in answer["invented"]] == plan["invented"]


def test_the_parts_are_named_on_the_sheet_and_in_its_caution(page: Served) -> None:
    answer = page.post("/api/sheet", asked(page, "wind", "aircraft.climb_rate_fpm", "mine")).json()
    assert answer["invented"] == [
        {"part": "aircraft.climb", "called": "Climb", "may_go": True},
        {"part": "wind", "called": "Wind", "may_go": True},
    ]
    answer = page.post("/api/sheet", asked(page, "wind", "aircraft.climb")).json()
    assert answer["warning"] == "2 figures invented: not for flight"
    first = answer["sheet"]["cautions"][0]
    assert (first["rank"], first["code"]) == ("CHECK", "invented")
    words = "climb, wind. Replace each with your own figure or confirm it."
    assert first["text"] == f"{SAID} {words}"


def test_where_nothing_is_invented_nothing_is_said(page: Served) -> None:
    answer = page.post("/api/sheet", asked(page)).json()
    assert (answer["invented"], answer["warning"]) == ([], "")
    assert not [each for each in answer["sheet"]["cautions"] if each["code"] == "invented"]


@pytest.mark.parametrize("spoiled", [5, "wind", None, [3, {}], {"wind": 1}])
def test_a_list_that_is_none_is_answered_in_words(page: Served, spoiled: object) -> None:
    body = {**ROUTE, "plan": {**plan_with(page), "invented": spoiled}}
    answer = page.post("/api/sheet", body).json()
    assert (answer["invented"], answer["warning"]) == ([], "")
    assert bool(answer["log_faults"]) is (spoiled is not None)


@pytest.mark.parametrize("name", ["gpx", "kml", "csv", "geojson", "map"])
def test_it_heads_every_file(page: Served, name: str) -> None:
    body = page.post(f"/api/export/{name}", asked(page, "wind"))
    assert body.status_code == 200, body.text
    assert "1 figure invented: not for flight" in body.text
    assert SAID in body.text
    plain = page.post(f"/api/export/{name}", asked(page)).text
    assert "not for flight" not in plain
    assert SAID not in plain


def test_a_saved_plan_keeps_its_list_and_an_opened_one_brings_it(page: Served) -> None:
    new = page.get("/api/plan/new").json()
    left = ["aircraft.name", "wind"]
    body = {"text": new["text"], "plan": {**new["plan"], "invented": left}}
    written = page.post("/api/plan/write", body).json()["text"]
    assert written.count("invented = [") == 1
    opened = page.post("/api/plan/read", {"text": written}).json()["plan"]
    assert opened["invented"] == left
    none = page.post("/api/plan/write", {**body, "plan": {**new["plan"], "invented": []}}).json()
    assert "invented = [" not in none["text"]
    again = page.post("/api/plan/write", {"text": none["text"], "plan": body["plan"]}).json()
    assert page.post("/api/plan/read", {"text": again["text"]}).json()["plan"]["invented"] == left


def test_a_new_file_says_it_too(page: Served) -> None:
    plan = plan_with(page, "wind")
    written = page.post("/api/plan/write", {"plan": plan}).json()["text"]
    assert written.index('invented = ["wind"]') < written.index("[flight]")


@pytest.mark.parametrize("part", [part for part, (_, may_go) in PARTS.items() if may_go])
def test_what_may_go_leaves_a_log(page: Served, part: str) -> None:
    plan = page.get("/api/plan/new").json()["plan"]
    table, _, start = part.partition(".")
    if start:
        plan[table] = {key: each for key, each in plan[table].items() if not key.startswith(start)}
    else:
        plan.pop(table, None)
    answer = page.post("/api/sheet", {**ROUTE, "plan": plan}).json()
    assert answer["log_faults"] == []
    assert answer["log"] is not None
    assert part not in [each["part"] for each in answer["invented"]]


@pytest.mark.parametrize(
    ("route", "altitudes"),
    [
        ("KRST KLSE KEAU KDLH", [3500, 4500, 4500]),
        ("KDLH KEAU KLSE KRST", [3500, 3500, 4500]),
        ("KRST KLSE", [3500]),
        ("KASE KTEX", None),
        ("KRST NOSUCHPLACE", [4500]),
    ],
)
def test_the_altitudes_to_start_from_keep_the_rule(
    page: Served, route: str, altitudes: list[int] | None
) -> None:
    plan = page.get("/api/plan/new", route=route, date="2026-07-04").json()["plan"]
    found = plan["flight"]["cruise_altitude_ft"]
    assert altitudes in (None, found)
    if "NOSUCH" in route:
        return
    answer = page.post("/api/sheet", {**ROUTE, "route": route, "plan": plan}).json()
    assert answer["log_faults"] == []
    assert "cruising-altitude" not in {each["code"] for each in answer["sheet"]["cautions"]}
    legs = answer["sheet"]["chart"]["legs"]
    assert len(found) in (1, len(legs))


def test_one_leg_after_another_is_asked_by_its_own_course() -> None:
    assert cruising_rule("US", 93.0).nearest_ft(3500.0)[-1] == 3500.0
    assert cruising_rule("US", 352.0).nearest_ft(3500.0)[-1] == 4500.0
