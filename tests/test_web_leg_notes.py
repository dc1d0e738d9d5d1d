"""What is noted for a leg goes with its two ends through every address of the page."""

from __future__ import annotations

import tomllib
from typing import Any

from served import Served

from plotter.flight.plan.starter import starter
from plotter.web.plan_faults import aside_words, legs_node

LEG = "\n[[leg]]\nnumber = 2  # ours\nmeasured_nm = 60.5\nhighest_ground_ft = 1450\n"
TEXT = starter("Demo, invented") + LEG
NOTED = {"between": ["KLSE", "KEAU"], "measured_nm": 60.5, "highest_ground_ft": 1450}


def opened(page: Served) -> dict[str, Any]:
    found: dict[str, Any] = page.post("/api/plan/read", {"text": TEXT}).json()["plan"]
    return found


def flown(plan: dict[str, Any], route: str, **more: Any) -> dict[str, Any]:
    return plan | {"flight": plan["flight"] | {"route": route, "cruise_altitude_ft": 4500} | more}


def test_an_opened_file_says_the_ends_of_its_legs(page: Served) -> None:
    assert opened(page)["leg"] == [NOTED]


def test_saving_unchanged_is_the_same_text(page: Served) -> None:
    answer = page.post("/api/plan/write", {"text": TEXT, "plan": opened(page)}).json()
    assert answer == {"text": TEXT, "left_out": []}


def test_a_route_typed_anew_keeps_a_note_with_its_leg(page: Served) -> None:
    plan = flown(opened(page), "KRST KDLH KLSE KEAU")
    text = page.post("/api/plan/write", {"text": TEXT, "plan": plan}).json()["text"]
    (row,) = tomllib.loads(text)["leg"]
    assert row == {"number": 3, "measured_nm": 60.5, "highest_ground_ft": 1450}
    assert "# ours" in text
    document = page.post("/api/log", {"plan": plan}).json()
    assert document == page.post("/api/log", {"plan": text}).json()


def test_a_note_whose_leg_is_gone_is_left_out_of_the_file_and_said(page: Served) -> None:
    plan = flown(opened(page), "KRST KEAU KDLH")
    answer = page.post("/api/plan/write", {"text": TEXT, "plan": plan}).json()
    assert "leg" not in tomllib.loads(answer["text"])
    said = "KLSE to KEAU: distance by hand 60.5 NM, highest ground 1450 ft"
    assert answer["left_out"] == [said]


def test_the_sheet_names_the_legs_and_tells_their_notes(page: Served) -> None:
    body = {"route": "KRST barn=44.1,-92.5 KLSE KEAU", "notes": [NOTED]}
    answer = page.post("/api/sheet", body).json()
    assert answer["legs"][0]["title"] == "Leg 1, KRST to barn"
    assert answer["legs"][2]["between"] == ["KLSE", "KEAU"]
    assert answer["noted"] == [
        "Typed for leg 3, KLSE to KEAU: distance by hand 60.5 NM, highest ground 1450 ft"
    ]
    gone = page.post("/api/sheet", {"route": "KEAU KLSE", "notes": [NOTED]}).json()
    assert gone["noted"] == []
    assert gone["aside"][0]["between"] == ["KLSE", "KEAU"]


def test_an_edit_of_the_route_flies_the_note_on_its_leg(page: Served) -> None:
    plan = flown(opened(page), "KRST KLSE KEAU")
    plan["leg"] = [{"between": ["KLSE", "KEAU"], "distance_nm": 70.0}]
    body = {
        "route": "KRST KLSE KEAU",
        "plan": plan,
        "edit": {"kind": "write-in", "index": 1, "text": "KDLH"},
    }
    answer = page.post("/api/sheet", body).json()
    assert answer["log_error"] is None
    gone = page.post("/api/sheet", body | {"edit": {"kind": "reverse"}}).json()
    assert gone["log_error"] is None


def test_numbers_and_nonsense_are_told_as_they_are() -> None:
    rows = [{"number": 9, "altitude_ft": 3500}, {"between": 7}, {}]
    made = legs_node(rows, ["KAAA", "KBBB"])
    assert made["noted"][0] == "Typed for leg 9, not here: altitude 3500 ft"
    assert len(made["noted"]) == 3
    assert made["aside"] == []


def test_the_second_leg_between_two_points_is_told_apart() -> None:
    assert aside_words([{"between": ["A", "B", 2], "altitude_ft": 1}]) == [
        "A to B, time 2: altitude 1 ft"
    ]
