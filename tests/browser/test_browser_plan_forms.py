"""Everything that a plan file holds, set on the planning page; no network."""

from __future__ import annotations

from typing import Any

import pytest
from served import DAY

pytestmark = pytest.mark.browser

OPEN = f"/#flight.route=KRST+KLSE+KEAU&flight.date={DAY}"


@pytest.fixture
def flown(open_sheet: Any) -> Any:
    """A route with its log worked out."""
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    sheet.page.click("#begin-log")
    sheet.page.wait_for_selector(".log-table tbody tr")
    sheet.settle()
    return sheet


def test_one_line_at_the_top_counts_the_cautions_and_leads_to_them(flown: Any) -> None:
    page = flown.page
    assert page.locator("#cautions li.CHECK").count() == 1
    assert page.inner_text("#checks") == "1 caution to check"
    page.fill("#altitude", "14500")
    flown.wait("() => document.getElementById('checks').textContent.startsWith('2')")
    assert page.locator("#cautions li.CHECK").count() == 2
    assert page.inner_text("#checks") == "2 cautions to check"
    before = page.evaluate("location.hash")
    page.click("#checks-link")
    assert page.evaluate("document.activeElement.id") == "cautions-title"
    assert page.evaluate("location.hash") == before
    page.fill("#route", "")
    flown.wait("() => document.getElementById('checks').hidden")
