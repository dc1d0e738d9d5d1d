"""The page while what it shows is not of the route above: said, and nothing old can change it."""

from __future__ import annotations

from typing import Any

import pytest
from planning import HELD_MAP
from served import DAY, serving_page

pytestmark = pytest.mark.browser

ROUTE = "KRST KLSE KEAU KDLH"
OPEN = f"/#flight.route={ROUTE.replace(' ', '+')}&flight.date={DAY}"
FAULTY = "KRST KAUM KLSE KLES KEAU KDLH"
POINT = ".handle:not(.middle)"


def told(sheet: Any) -> str:
    return str(sheet.page.inner_text("#behind"))


def faulty(open_sheet: Any, **more: Any) -> Any:
    sheet = open_sheet(OPEN, **more)
    sheet.wait_legs(3)
    sheet.type_route(FAULTY)
    sheet.page.wait_for_selector("#faults li")
    return sheet


def test_rows_of_another_route_cannot_change_this_one(open_sheet: Any) -> None:
    sheet = faulty(open_sheet)
    assert f"still those of KRST to KDLH ({ROUTE}, {DAY})" in told(sheet)
    assert told(sheet) == sheet.page.inner_text("#log-behind")
    acts = sheet.page.locator("#points button")
    assert acts.count() == 16
    assert all(acts.nth(k).is_disabled() for k in range(16))
    sheet.page.locator("#points-table a").nth(1).click()
    assert not sheet.page.is_visible("#slip")
    assert sheet.route == FAULTY


def test_controls_come_back_with_the_figures(open_sheet: Any) -> None:
    sheet = faulty(open_sheet)
    sheet.type_route("KRST KAUM KEAU")
    sheet.wait_legs(2)
    assert told(sheet) == ""
    assert sheet.page.is_disabled("#points-table tr:nth-child(1) [data-act=up]")
    sheet.page.click("#points-table tbody tr:nth-child(2) [data-act=remove]")
    sheet.wait_route("KRST KEAU")


def test_the_map_draws_what_can_be_read_and_moves_the_point_that_is_seen(open_sheet: Any) -> None:
    sheet = faulty(open_sheet)
    assert sheet.page.locator("#map_route circle.turn").count() == 5
    assert sheet.page.locator("#map_route path.ink").count() == 3  # no leg to or from the typo
    sheet.drag(POINT, 2, 60, -40)  # the third that can be read is KLSE
    sheet.wait_not(FAULTY)
    assert sheet.route.split()[:2] == ["KRST", "KAUM"]
    assert sheet.route.split()[3:] == ["KLES", "KEAU", "KDLH"]


def test_a_change_of_other_points_than_were_seen_is_not_made(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(3)
    held: list[Any] = []
    sheet.page.route("**/api/sheet", lambda each: each.continue_() if held else held.append(each))
    sheet.type_route("KRST KAUM KLSE KEAU KDLH")
    sheet.page.click("#points-table tbody tr:nth-child(2) [data-act=remove]")  # the row of KLSE
    held[0].continue_()
    sheet.page.wait_for_function("() => document.getElementById('told-away').textContent")
    assert "not made" in sheet.page.inner_text("#told-away")
    assert sheet.route == "KRST KAUM KLSE KEAU KDLH"
    sheet.wait_legs(4)


@pytest.mark.parametrize(
    ("act", "reason"),
    [
        (
            lambda page: page.evaluate("location.hash = 'flight.route=KRST+KAUM&flight.date='"),
            "were rejected",
        ),
        (lambda page: page.fill("#route", "KRST KLSE " * 1100), "were rejected"),
    ],
)
def test_a_refused_question_leaves_no_old_figure_unmarked(
    open_sheet: Any, act: Any, reason: str
) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(3)
    act(sheet.page)
    sheet.wait("() => document.body.classList.contains('behind')")
    assert reason in told(sheet)
    assert sheet.page.locator(".handle").count() == 0
    assert sheet.page.is_disabled("#points [data-act=remove]")
    assert sheet.page.inner_text("#summary") == ""
    sheet.page.emulate_media(media="print")
    for said in ("#behind", "#log-behind"):
        assert sheet.page.locator(said).is_visible()


def test_what_is_printed_before_the_answer_says_so(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(3)
    sheet.page.focus("#route")
    sheet.page.keyboard.press("End")
    held: list[Any] = []
    sheet.page.route("**/api/sheet", lambda each: each.continue_() if held else held.append(each))
    sheet.page.keyboard.type(" KINL")
    sheet.page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    assert "not computed yet" in told(sheet)
    sheet.wait("() => document.querySelector('main').getAttribute('aria-busy') === 'true'")
    sheet.page.wait_for_timeout(50)
    held[0].continue_()
    sheet.page.evaluate("window.dispatchEvent(new Event('afterprint'))")
    sheet.wait_legs(4)
    assert told(sheet) == ""


def test_a_click_while_the_program_is_away_is_kept_and_made_when_it_is_back(
    open_sheet: Any,
) -> None:
    with serving_page() as first:
        sheet = open_sheet(OPEN, served=first)
        sheet.wait_legs(3)
        port = int(first.url.rpartition(":")[2])
    left, top = sheet.middle("#map_route")
    sheet.page.mouse.click(left + 200, top)
    sheet.page.mouse.click(left + 200, top - 90)
    sheet.wait("() => document.getElementById('told-away').textContent.includes('2 changes wait')")
    assert f"plotter serve --port {port}." in sheet.page.inner_text("#told-away")
    assert told(sheet) == ""  # the figures are still those of the route above
    sheet.page.click("#undo")
    sheet.wait("() => document.getElementById('told-away').textContent.includes('1 change waits')")
    sheet.page.fill("#every", "20")
    sheet.wait("() => document.body.classList.contains('behind')")
    assert "does not respond" in told(sheet)
    with serving_page(port=port):
        sheet.wait_legs(4)  # the page asks again by itself
        assert sheet.route.startswith(f"{ROUTE} ")
        sheet.wait("() => document.getElementById('told-away').textContent === ''")
        assert told(sheet) == ""


def test_what_waited_is_let_go_where_the_route_is_typed_anew(open_sheet: Any) -> None:
    with serving_page() as first:
        sheet = open_sheet(OPEN, served=first)
        sheet.wait_legs(3)
        port = int(first.url.rpartition(":")[2])
    sheet.page.click("#reverse")
    sheet.wait("() => document.getElementById('told-away').textContent.includes('1 change waits')")
    sheet.type_route("KRST KEAU")
    sheet.wait("() => !document.getElementById('told-away').textContent.includes('waits')")
    with serving_page(port=port):
        sheet.wait_legs(1)
        assert sheet.route == "KRST KEAU"


def test_a_point_twice_over_is_put_in_once(open_sheet: Any) -> None:
    sheet = open_sheet(f"/#flight.route=KRST+KEAU&flight.date={DAY}")
    sheet.wait_legs(1)
    left, top = sheet.middle("#map_route")
    sheet.page.mouse.dblclick(left + 120, top + 60)
    sheet.wait_legs(2)
    sheet.page.mouse.click(left + 120, top + 60)
    sheet.settle()
    assert len(sheet.route.split()) == 3
    assert sheet.page.locator("#faults li").count() == 0


def test_a_point_dragged_onto_its_neighbour_stays_where_it_was(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(3)
    x, y = sheet.middle(POINT, 1)
    to_x, to_y = sheet.middle(POINT, 2)
    sheet.drag(POINT, 1, to_x - x, to_y - y)
    assert sheet.route == ROUTE
    assert told(sheet) == ""
    sheet.wait_legs(3)


def test_at_a_wide_scale_only_what_is_drawn_is_caught(open_sheet: Any) -> None:
    sheet = open_sheet("/#flight.route=")
    sheet.page.add_init_script(HELD_MAP)
    sheet.page.reload()
    left, top = sheet.middle("#map_route")
    sheet.page.mouse.click(left, top)
    sheet.wait_not("")
    assert sheet.route.strip()[0].isdigit()
    asked = [url for url in sheet.requests if url.endswith("/api/sheet")]
    assert asked


def test_beyond_85_degrees_the_map_says_that_it_ends(open_sheet: Any) -> None:
    sheet = open_sheet(f"/#flight.route=89.0,10+90,0+89.0,-100&flight.date={DAY}")
    sheet.wait_legs(2)
    assert "beyond 85° of latitude" in sheet.page.inner_text("#beyond")
    sheet.type_route("KRST KLSE")
    sheet.wait_legs(1)
    assert not sheet.page.is_visible("#beyond")


def test_a_word_that_is_being_typed_is_not_plotted_and_the_map_stays(open_sheet: Any) -> None:
    sheet = open_sheet(f"/#flight.route=KRST+KLSE&flight.date={DAY}")
    sheet.wait_legs(1)
    sheet.page.focus("#route")
    sheet.page.keyboard.press("End")
    with sheet.page.expect_response("**/api/sheet"):
        sheet.page.keyboard.type(" ")
    sent: list[Any] = []
    sheet.page.on("request", lambda each: sent.append(each) if "/sheet" in each.url else None)
    for letter in "KEAU":
        sheet.page.keyboard.type(letter)
        sheet.page.wait_for_timeout(60)
    assert not sent
    sheet.wait_legs(2)  # without another key
    assert [each.post_data_json["route"] for each in sent] == ["KRST KLSE KEAU"]


@pytest.mark.parametrize("end", [" ", "Enter", "Tab"])
def test_a_word_is_ended_at_once_by_a_space_by_enter_and_by_leaving(
    open_sheet: Any, end: str
) -> None:
    sheet = open_sheet(f"/#flight.route=KRST&flight.date={DAY}")
    sheet.page.focus("#route")
    sheet.page.keyboard.press("End")
    sheet.page.keyboard.type(" KLSE")
    with sheet.page.expect_request("**/api/sheet", timeout=600) as asked:
        sheet.page.keyboard.press(end)
    assert asked.value.post_data_json["route"].split() == ["KRST", "KLSE"]
    sheet.wait_legs(1)
