"""The guide in a browser: it fits a narrow screen, is accessible, asks for nothing outside."""

from __future__ import annotations

from typing import Any

import pytest
from planning import Looked
from served import Served

pytestmark = pytest.mark.browser

PAGES = (
    "/guide/",
    "/guide/tutorial/worked-by-hand.md",
    "/guide/reference/cautions.md",
    "/guide/explanation/measuring.md",
)


NARROW_PX = 390


def test_the_guide_fits_a_narrow_screen_and_axe_finds_nothing(
    chromium: Any, axe: Looked, page: Served
) -> None:
    tab = chromium.new_page(viewport={"width": NARROW_PX, "height": 900})
    complaints: list[str] = []
    asked: list[str] = []
    tab.on("console", lambda message: complaints.append(message.text))
    tab.on("request", lambda request: asked.append(request.url))
    for address in PAGES:
        tab.goto(f"{page.url}{address}")
        assert tab.evaluate("document.documentElement.scrollWidth") <= NARROW_PX
        axe(tab)
    assert complaints == []
    assert {url.partition("?")[0] for url in asked if not url.startswith(page.url)} <= {"data:,"}
    tab.close()


def test_the_planning_page_opens_the_guide_beside_the_plan(chromium: Any, page: Served) -> None:
    tab = chromium.new_page()
    tab.goto(page.url)
    with tab.context.expect_page() as opened:
        tab.click("#guide")
    assert opened.value.url == f"{page.url}/guide/"
    opened.value.click("text=A first flight")
    opened.value.wait_for_url("**/guide/tutorial/first-flight.md")
    assert opened.value.locator("h1").inner_text() == "A first flight"
    tab.close()
