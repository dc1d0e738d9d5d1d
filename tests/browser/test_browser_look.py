"""How the planning page lies before the pilot: on paper, under a finger, while a figure is looked
into, while something is wrong."""

from __future__ import annotations

import io
import unicodedata
from typing import Any

import pytest
from pypdf import PdfReader
from served import DAY

pytestmark = pytest.mark.browser

OPEN = f"/#flight.route=KRST+KLSE+KEAU&flight.date={DAY}"
FINGER_PX = 44
"""WCAG 2.2, success criterion 2.5.5 (target size, enhanced)."""
BOX = "(node) => { const { top, bottom } = node.getBoundingClientRect(); return [top, bottom]; }"


def flown(open_sheet: Any, **screen: Any) -> Any:
    """A route with its log worked out."""
    sheet = open_sheet(OPEN, **screen)
    sheet.wait_legs(2)
    sheet.page.click("#begin-log")
    sheet.page.wait_for_selector(".log-table tbody tr")
    sheet.settle()
    return sheet


def focused(sheet: Any) -> str:
    return str(sheet.page.evaluate("() => document.activeElement.id"))


def test_on_paper_the_head_says_what_the_figures_were_made_with(open_sheet: Any) -> None:
    sheet = flown(open_sheet)
    sheet.page.evaluate("() => window.dispatchEvent(new Event('beforeprint'))")
    pages = PdfReader(io.BytesIO(sheet.page.pdf(format="Letter"))).pages
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    text = unicodedata.normalize("NFKC", text)  # the reader may give a ligature for "fl"
    for words in (
        "Altitude 3,500 ft",
        f"Date {DAY}",
        "110 kt true, 8.5 US gal an hour",
        "3,000 ft 240/15; 6,000 ft 260/22",
        "in the air",
        "Checkpoints and turning points",
    ):
        assert words in text, words
    for words in ("Select any figure", "Measured by hand", "Undo", "Export"):
        assert words not in text, words


def test_on_paper_a_row_of_the_log_is_one_line(open_sheet: Any) -> None:
    sheet = flown(open_sheet)
    sheet.page.emulate_media(media="print")
    rows = sheet.page.evaluate(
        """() => [...document.querySelectorAll(".log-table tbody tr")].map((row) => [
          row.getBoundingClientRect().height,
          ...[...row.cells].map((cell) => {
            const range = document.createRange();
            range.selectNodeContents(cell);
            return range.getBoundingClientRect().bottom - row.getBoundingClientRect().bottom;
          }),
        ])"""
    )
    for height, *depths in rows:
        assert height < 20
        assert max(depths) - min(depths) < 4  # every cell stands on the same line


def test_what_is_pressed_is_as_large_as_a_finger(open_sheet: Any) -> None:
    sheet = flown(open_sheet, width=390, height=844, has_touch=True, is_mobile=True)
    small = sheet.page.evaluate(
        """(least) => [...document.querySelectorAll("main button, main summary, main select")]
          .filter((node) => node.offsetParent !== null)
          .map((node) => [node.id || node.textContent, node.getBoundingClientRect().height])
          .filter(([, height]) => height < least)""",
        FINGER_PX - 0.5,
    )
    assert small == []
    assert sheet.page.evaluate("() => document.documentElement.scrollWidth") <= 390


def test_a_figure_and_its_working_are_seen_together(open_sheet: Any) -> None:
    sheet = flown(open_sheet)
    for row in (0, -1):
        cell = sheet.page.locator(".log-table tbody tr").nth(row).locator("button").first
        cell.click()
        sheet.page.wait_for_selector("#working:not([hidden])")
        sheet.settle()
        top, bottom = cell.evaluate(BOX)
        shown_top, shown_bottom = sheet.page.locator("#working").evaluate(BOX)
        height = sheet.page.evaluate("() => innerHeight")
        assert top >= 0
        assert bottom <= shown_top + 1 or top >= shown_bottom - 1
        assert shown_bottom <= height + 1
        sheet.page.click("#working-close")


def test_a_fault_leaves_the_log_where_it_is_marked_and_off_the_paper(open_sheet: Any) -> None:
    sheet = flown(open_sheet)
    before = sheet.page.locator(".log-table tbody tr").count()
    sheet.page.fill('[data-key="aircraft.usable_fuel"]', "1")
    sheet.page.wait_for_selector("#stale:not([hidden])")
    assert "Do not fly it" in sheet.page.inner_text("#stale")
    assert sheet.page.locator(".log-table tbody tr").count() == before
    sheet.page.emulate_media(media="print")
    assert not sheet.page.locator("#sectors").is_visible()
    assert sheet.page.locator("#stale").is_visible()
    sheet.page.emulate_media(media="screen")
    sheet.page.click("#undo")
    sheet.page.wait_for_selector("#stale", state="hidden")
    assert sheet.page.locator("#sectors").is_visible()


def test_the_keyboard_is_never_left_on_nothing(open_sheet: Any) -> None:
    sheet = open_sheet("/#flight.route=")
    sheet.page.focus("#example")
    sheet.page.keyboard.press("Enter")
    sheet.wait_legs(3)
    assert focused(sheet) == "route"
    sheet.page.focus("#begin-log")
    sheet.page.keyboard.press("Enter")
    sheet.page.wait_for_selector(".log-table tbody tr")
    assert focused(sheet) == "flight-title"
    sheet.page.focus("#undo")
    for _ in range(2):
        sheet.page.keyboard.press("Enter")
    sheet.wait("() => document.getElementById('undo').disabled")
    assert focused(sheet) == "route"


def test_starting_afresh_leaves_nothing_of_the_plan_before(open_sheet: Any) -> None:
    sheet = flown(open_sheet)
    sheet.page.fill("#route", "")
    sheet.wait("() => document.title === 'Planning sheet'")
    assert sheet.page.is_enabled("#clear")
    sheet.page.click("#clear")
    sheet.page.wait_for_selector("#begin-log")
    assert sheet.page.is_disabled("#clear")
    sheet.type_route("KORD")
    sheet.settle()
    assert "KRST" not in sheet.page.inner_text("main")
