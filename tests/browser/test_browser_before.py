"""Plans that a browser keeps beside the one on the page: none is lost to a bookmark or a tab."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from planning import Sheet
from served import DAY

from plotter.flight.plan.starter import starter

pytestmark = pytest.mark.browser


def address(route: str) -> str:
    return f"/#flight.route={route.replace(' ', '+')}&flight.date={DAY}"


@pytest.fixture
def tab(chromium: Any, page: Any) -> Any:
    """``tab(address)``: a tab of one browser, which shares what it keeps with the others."""
    context = chromium.new_context(viewport={"width": 1000, "height": 800})

    def opened(where: str) -> Sheet:
        sheet = Sheet(context.new_page(), page)
        sheet.open(where)
        return sheet

    yield opened
    context.close()


def notice(sheet: Sheet) -> str:
    return str(sheet.page.inner_text("#before"))


def test_a_bookmark_does_not_take_away_the_plan_that_is_kept(tab: Any) -> None:
    sheet = tab("/#flight.route=")
    sheet.type_route("KMSP KRST")
    sheet.wait_legs(1)
    sheet.page.goto("about:blank")
    sheet.page.goto(sheet.served.url + address("KLSE KEAU KDLH"))
    sheet.wait_legs(2)
    assert "another plan: KMSP KRST" in notice(sheet)
    sheet.page.click("#undo")
    sheet.wait_route("KMSP KRST")
    assert not sheet.page.is_visible("#before")
    sheet.page.click("#redo")
    sheet.wait_route("KLSE KEAU KDLH")
    sheet.page.reload()
    sheet.wait_legs(2)
    sheet.page.click("#before >> text=Restore it")
    sheet.wait_route("KMSP KRST")
    sheet.page.click("#undo")
    sheet.wait_route("KLSE KEAU KDLH")
    assert sheet.complaints == []


def test_the_plan_of_another_tab_is_told_and_outlives_that_tab(tab: Any) -> None:
    one = tab(address("KRST KLSE"))
    one.wait_legs(1)
    other = tab(address("KLSE KEAU"))
    other.wait_legs(1)
    assert "KRST KLSE" in notice(other)
    other.type_route("KLSE KEAU KDLH")
    one.wait("() => document.getElementById('before').textContent.includes('KLSE KEAU KDLH')")
    other.page.close()
    one.page.click("#reverse")
    one.wait_route("KLSE KRST")
    assert "KLSE KEAU KDLH" in notice(one)
    one.page.click("#before >> text=Discard it")
    assert not one.page.is_visible("#before")


def test_a_plan_taken_up_in_a_new_tab_is_the_same_plan(tab: Any) -> None:
    one = tab(address("KRST KLSE"))
    one.wait_legs(1)
    one.page.close()
    again = tab("/")
    again.wait_legs(1)
    again.page.click("#reverse")
    again.wait_route("KLSE KRST")
    assert not again.page.is_visible("#before")


def test_a_plan_come_by_its_address_is_not_saved_over_its_file(
    tab: Any, open_sheet: Any, tmp_path: Path
) -> None:
    path = tmp_path / "flight.toml"
    path.write_text("# a note of mine\n" + starter("Demo, invented"), encoding="utf-8")
    sheet = tab("/#flight.route=")
    sheet.page.set_input_files("#file", path)
    sheet.wait_legs(3)
    bookmark = sheet.page.evaluate("location.hash")
    elsewhere = open_sheet("/" + bookmark)  # another browser: it never saw the file
    elsewhere.wait_legs(3)
    assert "it has no comments of flight.toml" in elsewhere.page.inner_text("#unsaved")
    with elsewhere.page.expect_download() as waiting:
        elsewhere.page.click("#save")
    assert waiting.value.suggested_filename == "flight-again.toml"
    sheet.page.reload()
    sheet.wait_legs(3)
    assert "As saved in flight.toml" in sheet.page.inner_text("#unsaved")
