"""Names of towns typed on the route line, of several words too, and positions with spaces."""

from __future__ import annotations

from typing import Any

import pytest
from served import DAY

pytestmark = pytest.mark.browser


def test_a_town_of_two_words_takes_the_place_of_both(open_sheet: Any) -> None:
    sheet = open_sheet(f"/#flight.route=KRST&flight.date={DAY}")
    sheet.page.focus("#route")
    sheet.page.keyboard.press("End")
    sheet.page.keyboard.insert_text(" red wing")
    option = sheet.page.locator("#suggestions li", has_text="Red Wing, town, US")
    option.first.click()
    sheet.wait_legs(1)
    assert sheet.route == 'KRST "Red Wing=44.5625,-92.5338" '


def test_a_name_typed_out_is_put_right_by_one_press(open_sheet: Any) -> None:
    sheet = open_sheet(f"/#flight.route=KLSE&flight.date={DAY}")
    sheet.type_route("KLSE red wing")
    sheet.page.locator("#date").focus()
    sheet.page.click("#faults button >> text=KRGK Red Wing Regional")
    sheet.wait_route("KLSE KRGK")
    sheet.wait_legs(1)


def test_a_position_with_spaces_is_put_in_quotes_by_one_press(open_sheet: Any) -> None:
    sheet = open_sheet(f"/#flight.route=KRST&flight.date={DAY}")
    sheet.type_route("KRST N43° 54' 30\" W92° 10' 0\"")
    sheet.page.wait_for_selector("#faults li")
    assert sheet.page.locator("#faults li").count() == 1
    sheet.page.click("#faults button")
    sheet.wait_route('KRST "N43 54 30 W92 10 0"')
    sheet.wait_legs(1)
