"""What is invented of the plan to start from is a caution until it is the pilot's own."""

from __future__ import annotations

import pytest
from served import ROUTE, Served

from plotter.flight.plan.edit import starter
from plotter.flight.plan.lines import parsed
from plotter.web.invented import PARTS

SAID = "Invented figures to start from are still in use"


def asked(page: Served, *invented: str) -> dict[str, object]:
    return {**ROUTE, "plan": page.get("/api/plan/new").json()["plan"], "invented": list(invented)}


def test_every_figure_of_the_plan_to_start_from_is_of_a_part() -> None:
    plan = parsed(starter("Demo"), "demo")
    settings = {"aircraft.fuel_unit"}
    keys = {f"aircraft.{key}" for key in plan["aircraft"]} - settings
    assert all(any(key.startswith(part) for part in PARTS) for key in keys)
    assert {"wind", "flight.departure", "flight.cruise_altitude_ft"} <= set(PARTS)
    others = set(plan) - {"format", "flight", "aircraft", "wind", "limits"}
    assert not others


def test_the_parts_are_named_on_the_sheet_and_in_its_caution(page: Served) -> None:
    answer = page.post("/api/sheet", asked(page, "wind", "aircraft.climb_", "mine")).json()
    assert answer["invented"] == [
        {"part": "aircraft.climb_", "called": "Climb", "may_go": True},
        {"part": "wind", "called": "Wind", "may_go": True},
    ]
    first = answer["sheet"]["cautions"][0]
    assert (first["rank"], first["code"]) == ("CHECK", "invented")
    assert first["text"].startswith(f"{SAID}: Climb, wind.")


def test_where_nothing_is_invented_nothing_is_said(page: Served) -> None:
    answer = page.post("/api/sheet", asked(page)).json()
    assert answer["invented"] == []
    assert not [each for each in answer["sheet"]["cautions"] if each["code"] == "invented"]
    loose = page.post("/api/sheet", {**ROUTE, "invented": ["wind"]}).json()
    assert loose["invented"] == []


@pytest.mark.parametrize("name", ["gpx", "kml", "csv", "geojson", "map"])
def test_it_goes_into_every_file(page: Served, name: str) -> None:
    body = page.post(f"/api/export/{name}", asked(page, "wind"))
    assert body.status_code == 200, body.text
    assert SAID in body.text
    assert SAID not in page.post(f"/api/export/{name}", asked(page)).text


@pytest.mark.parametrize("part", [part for part, (_, may_go) in PARTS.items() if may_go])
def test_what_may_go_leaves_a_log(page: Served, part: str) -> None:
    plan = page.get("/api/plan/new").json()["plan"]
    table, _, start = part.partition(".")
    if start:
        plan[table] = {key: each for key, each in plan[table].items() if not key.startswith(start)}
    else:
        del plan[table]
    answer = page.post("/api/sheet", {**ROUTE, "plan": plan}).json()
    assert answer["log_faults"] == []
    assert answer["log"] is not None
