"""What is near, asked on the page: by slip, by keyboard, by the map; and what snaps to what."""

from __future__ import annotations

from typing import Any

import pytest
from planning import HELD_MAP
from served import DAY

from plotter import wording

pytestmark = pytest.mark.browser

ROUTE = "KRST KLSE KEAU"
OPEN = f"/#flight.route={ROUTE.replace(' ', '+')}&flight.date={DAY}"
ODI = (43.912399, -91.467598)
"""The beacon at Nodine, in the navaids table; no airfield lies within 6 NM of it."""


def opened(open_sheet: Any, **more: Any) -> Any:
    sheet = open_sheet(OPEN, **more)
    sheet.wait_legs(2)
    return sheet


def near(sheet: Any, row: str) -> None:
    """Ask from the slip of a row."""
    sheet.page.click(row)
    sheet.page.click("#slip-acts >> text=What is near")
    sheet.page.wait_for_selector("#near-table tbody tr")


def rows(sheet: Any) -> list[list[str]]:
    return list(sheet.cells("#near-table tbody tr"))


def act(sheet: Any, code: str, text: str) -> None:
    row = f"#near-table tbody tr:has(bdi:text-is('{code}'))"
    sheet.page.click(f"{row} button >> text={text}")


def test_near_a_point_stand_the_words_of_the_program(open_sheet: Any) -> None:
    sheet = opened(open_sheet)
    near(sheet, "#points-table a >> nth=1")
    at = sheet.page.evaluate("document.getElementById('near-heading').textContent")
    assert at.startswith("Within 25.0 NM of 43°52.74′N 091°15.40′W")
    asked = next(url for url in sheet.requests if "/api/near/words" in url)
    answer = sheet.served.client.get(asked).json()
    shown = rows(sheet)
    assert [row[2:] for row in shown] == [row["cells"] for row in answer["rows"]]
    assert shown[0][0].startswith("KLSE")
    assert shown[0][1] == "", "nothing is to be put in where the point is that very place"
    assert sheet.complaints == []


def test_a_place_is_put_in_after_the_point_or_the_point_is_moved_to_it(open_sheet: Any) -> None:
    sheet = opened(open_sheet)
    near(sheet, "#points-table a >> nth=0")
    act(sheet, "2C4", "insert after")
    sheet.wait_route("KRST 2C4 KLSE KEAU")
    assert not sheet.page.is_visible("#near")
    near(sheet, "#points-table a >> nth=1")
    act(sheet, "KFKA", "move to it")
    sheet.wait_route("KRST KFKA KLSE KEAU")
    near(sheet, "#points-table a >> nth=3")
    assert "insert after" not in sheet.page.inner_text("#near-table")
    sheet.page.keyboard.press("Escape")
    sheet.page.keyboard.press("Control+z")
    sheet.wait_route("KRST 2C4 KLSE KEAU")


def test_a_checkpoint_is_moved_to_a_landmark_or_named_after_it(open_sheet: Any) -> None:
    sheet = opened(open_sheet)
    mark = "#checkpoints-table tr[data-item=checkpoint-3] a"
    near(sheet, mark)
    assert sheet.page.is_visible("#near-turning")
    act(sheet, "55Y", "name after it")
    sheet.wait_legs(3)
    first, named, *rest = sheet.route.split()
    assert (first, rest) == ("KRST", ["KLSE", "KEAU"])
    assert named.startswith("near-55Y=4353")
    sheet.page.keyboard.press("Control+z")
    sheet.wait_route(ROUTE)
    sheet.wait_legs(2)
    near(sheet, mark)
    sheet.page.select_option("#near-kind", "town")
    sheet.wait("() => !document.getElementById('near-table').textContent.includes('airport')")
    act(sheet, "Rushford", "move to it")
    sheet.wait_legs(3)
    assert sheet.route.startswith("KRST Rushford=43.8083,-91.7529 KLSE")


def test_airports_to_divert_to_with_the_runway_that_is_needed(open_sheet: Any) -> None:
    sheet = opened(open_sheet)
    assert not sheet.page.is_visible("#near-runway")
    near(sheet, "#legs-table a >> nth=0")
    sheet.page.select_option("#near-kind", "airport")
    sheet.page.fill("#near-within", "30")
    with sheet.page.expect_response(lambda answer: "runway_ft=4000" in answer.url):
        sheet.page.fill("#near-runway", "4,000")
    sheet.wait("() => document.getElementById('near-notes').textContent.includes('4,000 ft')")
    lengths = [int(row[5].removesuffix(" ft").replace(",", "")) for row in rows(sheet)]
    assert lengths
    assert min(lengths) >= 4000
    for _, _, distance, true, magnetic, _ in rows(sheet):
        assert float(distance.removesuffix(" NM")) <= 30.0
        assert (true[3:], magnetic[3:]) == ("°T", "°M")
    assert wording.STANDING[0] in sheet.page.inner_text("footer")


def test_a_wrong_distance_is_told_beside_its_field(open_sheet: Any) -> None:
    sheet = opened(open_sheet)
    near(sheet, "#points-table a >> nth=0")
    sheet.page.fill("#near-within", "far")
    sheet.page.wait_for_selector("#near-within[aria-invalid=true]")
    assert "far" in sheet.page.inner_text("#near-heading")
    assert rows(sheet) == []
    sheet.page.fill("#near-within", "10")
    sheet.page.wait_for_selector("#near-within[aria-invalid=false]")
    sheet.page.wait_for_selector("#near-table tbody tr")


def test_any_place_of_the_map_is_asked_about(open_sheet: Any) -> None:
    sheet = opened(open_sheet)
    x, y = sheet.middle("#map_route")
    sheet.page.mouse.click(x - 150, y + 120, button="right")
    sheet.page.wait_for_selector("#near-table tbody tr")
    first = sheet.page.inner_text("#near-heading")
    assert sheet.route == ROUTE, "asking puts nothing in"
    sheet.page.click("#near-middle")
    before = "(was) => document.getElementById('near-heading').textContent !== was"
    sheet.wait(before, first)
    sheet.page.wait_for_selector("#near-table tbody tr")
    code = rows(sheet)[0][0].split()[0]
    sheet.page.locator("#near-table button").first.click()
    sheet.wait_legs(3)
    assert code in sheet.route.split()[-1]


def test_the_list_follows_its_point_and_goes_with_it(open_sheet: Any) -> None:
    sheet = opened(open_sheet)
    near(sheet, "#points-table a >> nth=2")
    was = sheet.page.inner_text("#near-heading")
    sheet.type_route("KRST KLSE KDLH")
    sheet.wait("(was) => document.getElementById('near-heading').textContent !== was", was)
    sheet.wait("() => document.getElementById('near-title').textContent.endsWith('KDLH')")
    sheet.page.wait_for_selector("#near-table tbody tr")
    sheet.type_route("KRST KLSE")
    sheet.page.wait_for_selector("#near", state="hidden")


def test_hostile_names_in_the_list_are_text(open_sheet: Any) -> None:
    sheet = opened(open_sheet)
    hostile = '<img src=x onerror="window.ran=1">'
    row = {"code": hostile, "what": hostile, "cells": [hostile] * 5, "type": hostile}
    answer = {
        "heading": hostile, "heads": [hostile] * 5, "notes": [hostile],
        "rows": [{**row, "called": None, "here": False, "at": [0, 0]}],
    }  # fmt: skip
    sheet.page.route("**/api/near/words**", lambda route: route.fulfill(json=answer))
    near(sheet, "#points-table a >> nth=0")
    assert sheet.page.inner_text("#near-table").count(hostile) > 5
    assert sheet.page.locator("#near img").count() == 0
    assert sheet.page.evaluate("window.ran === undefined")
    assert sheet.complaints == []


def pixel(sheet: Any, place: tuple[float, float]) -> tuple[float, float]:
    """Where a position lies on the screen."""
    script = """(at) => {
      const { left, top } = document.getElementById("map_route").getBoundingClientRect();
      const { x, y } = theMap.latLngToContainerPoint(at);
      return [left + x, top + y];
    }"""
    x, y = sheet.page.evaluate(script, list(place))
    return x, y


def with_map_at_hand(open_sheet: Any) -> Any:
    sheet = open_sheet(OPEN)
    sheet.page.add_init_script(HELD_MAP)
    sheet.page.reload()
    sheet.wait_legs(2)
    return sheet


@pytest.mark.parametrize(("aside", "taken"), [((0, 0), True), ((9, -8), True), ((0, -40), False)])
def test_a_point_let_go_near_a_navaid_takes_it(
    open_sheet: Any, aside: tuple[int, int], taken: bool
) -> None:
    sheet = with_map_at_hand(open_sheet)
    x, y = sheet.middle(".handle.middle", 0)
    to_x, to_y = pixel(sheet, ODI)
    sheet.drag(".handle.middle", 0, to_x + aside[0] - x, to_y + aside[1] - y)
    sheet.wait_legs(3)
    assert (sheet.route == "KRST ODI KLSE KEAU") is taken
    assert "navaid" in sheet.page.inner_text("#map-help")
