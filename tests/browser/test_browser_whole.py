"""The whole page: every panel opened at every width, and a whole flight planned by keyboard."""

from __future__ import annotations

from typing import Any

import pytest
from planning import Looked, Sheet
from served import DAY

pytestmark = pytest.mark.browser

OPEN = f"/#flight.route=KRST+KLSE+KEAU&flight.date={DAY}"
PANELS = (
    *("#slip", "#near", "#near-table tbody tr", "#working", "#hand-answer h3"),
    *("#airports-table tbody tr", "#gpx-as", "#checkpoints-table tbody tr", "#all-cautions"),
    *("#forms", "#save", "#near-long"),
)


def open_all(sheet: Sheet) -> None:
    """Every panel there is, open at once, with something in it."""
    page = sheet.page
    sheet.wait_legs(2)
    page.click("#begin-log")
    page.wait_for_selector(".log-table tbody tr")
    sheet.settle()
    while page.locator("details:not([open]) > summary:visible").count():
        page.locator("details:not([open]) > summary:visible").first.click()
    page.fill("#hand-legs [data-hand=nm] >> nth=0", "62.1")
    page.fill("#hand-legs [data-hand=course] >> nth=0", "093M")
    page.wait_for_selector("#hand-answer h3")
    page.locator("[data-column=groundspeed_kt]").first.click()
    page.wait_for_selector("#working:visible")
    page.click("#checkpoints-table tr[data-item=checkpoint-1] a")
    page.click("#slip-acts >> text=What is near")
    page.select_option("#near-kind", "airport")
    page.wait_for_selector("#near-table tbody tr")
    page.click("#airports-table a >> nth=0")
    sheet.settle()
    closed = [each for each in PANELS if not page.locator(each).first.is_visible()]
    assert closed == []


def test_axe_finds_nothing_serious_with_every_panel_open(open_sheet: Any, axe: Looked) -> None:
    sheet = open_sheet(OPEN)
    open_all(sheet)
    axe(sheet.page)
    assert sheet.complaints == []


def tab_to(sheet: Sheet, what: str, most: int = 250) -> None:
    """Press Tab until an element of that selector has the focus."""
    matches = "(what) => document.activeElement.matches(what)"
    for _ in range(most):
        if sheet.page.evaluate(matches, what):
            return
        sheet.page.keyboard.press("Tab")
    raise AssertionError(f"the Tab key never comes to {what}")


def test_a_flight_is_planned_by_keyboard_alone(open_sheet: Any) -> None:
    sheet = open_sheet(f"/#flight.route=&flight.date={DAY}")
    keys = sheet.page.keyboard
    tab_to(sheet, "#route")
    keys.type("KRST KLSE KEAU", delay=5)
    sheet.wait_legs(2)
    keys.press("Escape")  # the list of places

    tab_to(sheet, "#begin-log")
    keys.press("Enter")
    sheet.page.wait_for_selector(".log-table tbody tr")
    sheet.settle()

    tab_to(sheet, ".log-table td button")
    keys.press("ArrowRight")
    keys.press("ArrowDown")
    keys.press("Enter")
    sheet.page.wait_for_selector("#working:visible")
    keys.press("Escape")
    sheet.page.wait_for_selector("#working", state="hidden")

    tab_to(sheet, "#checkpoints-table tr[data-item=checkpoint-3] a")
    keys.press("Enter")
    sheet.wait("() => document.activeElement.id === 'slip'")
    tab_to(sheet, "#slip-acts > button:last-child", 10)
    keys.press("Enter")
    sheet.page.wait_for_selector("#near-table tbody tr")
    assert sheet.page.evaluate("document.activeElement.id") == "near"
    tab_to(sheet, "#near-table td.acts button[aria-label='Move CP3 to Rushford']", 40)
    keys.press("Enter")
    sheet.wait_legs(3)
    assert sheet.route.startswith("KRST Rushford=43.8083,-91.7529 KLSE")

    tab_to(sheet, "#formats button")
    with sheet.page.expect_download() as waiting:
        keys.press("Enter")
    assert waiting.value.suggested_filename == "KRST-KEAU.html"
    keys.press("Control+z")
    sheet.wait_route("KRST KLSE KEAU")
    assert sheet.complaints == []


def test_escape_leads_back_from_slip_and_list_to_the_row(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    row = sheet.page.locator("#points-table a").nth(1)
    here = "document.activeElement === document.querySelectorAll('#points-table a')[1]"
    row.focus()
    sheet.page.keyboard.press("Enter")
    sheet.wait("() => document.activeElement.id === 'slip'")
    sheet.page.keyboard.press("Escape")
    assert sheet.page.evaluate(here)
    sheet.page.keyboard.press("Enter")
    tab_to(sheet, "#slip-acts > button:last-child", 10)
    sheet.page.keyboard.press("Enter")
    sheet.page.wait_for_selector("#near-table tbody tr")
    sheet.page.keyboard.press("Escape")
    sheet.page.wait_for_selector("#near", state="hidden")
    assert sheet.page.evaluate(here)
