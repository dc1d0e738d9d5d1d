"""The planning page in a real browser, with no network: typed, drawn, undone, kept, printed."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from planning import Looked
from served import DAY, serving_page

from plotter import wording
from plotter.cli.main import plotter

pytestmark = pytest.mark.browser

ROUTE = "KRST KLSE KEAU"
OPEN = f"/#flight.route={ROUTE.replace(' ', '+')}&flight.date={DAY}"


def test_a_typed_route_shows_the_figures_of_the_command_to_the_digit(open_sheet: Any) -> None:
    sheet = open_sheet(f"/#flight.route=&flight.date={DAY}")
    sheet.page.type("#route", ROUTE, delay=5)
    sheet.wait_legs(2)
    words = ["plot", *ROUTE.split(), "--date", DAY, "--as", "none", "--json"]
    document = json.loads(CliRunner().invoke(plotter, words).stdout)
    for row, leg in zip(sheet.legs(), document["legs"], strict=True):
        assert row == [
            str(leg["number"]),
            leg["start"],
            leg["end"],
            wording.course(leg["true_course_deg"], "T"),
            wording.variation(leg["variation_deg_east"]),
            wording.magnetic_course(leg["true_course_deg"], leg["variation_deg_east"]),
            wording.distance(leg["distance_nm"]),
        ]
    marks = sheet.cells("#checkpoints-table tbody tr")
    assert len(marks) == len(document["checkpoints"]) + len(document["points"])
    assert sheet.complaints == []


def test_nothing_is_asked_of_another_host_and_little_is_carried(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    sheet.page.wait_for_selector(".base.land", state="attached")
    assert {url.split("/")[2] for url in sheet.requests if not url.startswith("data:")} == {
        sheet.served.url.split("/")[2]
    }
    carried = sheet.page.evaluate(
        "performance.getEntries().reduce((sum, each) => sum + (each.encodedBodySize || 0), 0)"
    )
    assert 200_000 < carried < 600_000
    assert sheet.complaints == []


def test_suggestions_are_chosen_with_the_keyboard(open_sheet: Any) -> None:
    sheet = open_sheet("/#flight.route=KLSE")
    sheet.page.focus("#route")
    sheet.page.keyboard.press("End")
    sheet.page.keyboard.insert_text(" krs")  # at once, so that one list comes and stays
    sheet.page.wait_for_selector("#suggestions li")
    options = sheet.page.locator("#suggestions li").all_inner_texts()
    number = next(k for k, text in enumerate(options) if text.startswith("KRST "))
    for _ in range(number + 1):
        sheet.page.keyboard.press("ArrowDown")
    active = sheet.page.get_attribute("#route", "aria-activedescendant")
    assert sheet.page.inner_text(f"#{active}").startswith("KRST")
    sheet.page.keyboard.press("Enter")
    sheet.wait_route("KLSE KRST ")
    assert sheet.page.get_attribute("#route", "aria-expanded") == "false"
    sheet.wait_legs(1)


def test_a_fault_is_marked_under_its_word_and_put_right_by_one_press(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    sheet.type_route("KRST KDHL KEAU")
    sheet.page.wait_for_selector("#faults li")
    assert sheet.page.inner_text(".echo mark") == "KDHL"
    assert "still those of KRST to KEAU" in sheet.page.inner_text("#behind")
    sheet.page.click("#faults button >> text=KDLH")
    sheet.wait_route("KRST KDLH KEAU")
    sheet.wait_title("KRST to KEAU")
    sheet.wait("() => !document.querySelector('.echo mark, #faults li')")
    assert sheet.legs()[0][2] == "KDLH"


def test_a_word_that_is_being_typed_is_not_yet_wrong(open_sheet: Any) -> None:
    sheet = open_sheet("/#flight.route=")
    with sheet.page.expect_response("**/api/sheet"):
        sheet.page.type("#route", "KRST KQ")
    assert sheet.page.locator("#faults li").count() == 0
    sheet.page.locator("#date").focus()
    sheet.page.wait_for_selector("#faults li")


def test_points_are_put_down_by_clicking_the_map(open_sheet: Any) -> None:
    sheet = open_sheet("/#flight.route=")
    left, top = sheet.middle("#map_route")
    for count, (across, down) in enumerate([(-200, 0), (0, -60), (200, 20)], start=1):
        sheet.page.mouse.click(left + across, top + down)
        sheet.wait(
            "(n) => document.getElementById('route').value.split(' ').filter(Boolean).length === n",
            count,
        )
    sheet.wait_legs(2)
    assert sheet.page.locator("#map_route circle.turn").count() == 3


def test_a_point_is_dragged_into_the_open_and_back_onto_its_airport(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    sheet.drag(".handle:not(.middle)", 1, 90, -60)
    sheet.wait_not(ROUTE)
    away = sheet.route
    assert away.split()[::2] == ["KRST", "KEAU"]
    assert away.split()[1].endswith("W")
    sheet.drag(".handle:not(.middle)", 1, -86, 63)
    sheet.wait_not(away)
    sheet.wait_route(ROUTE)


def test_figures_follow_while_a_point_is_dragged(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    before = sheet.legs()[0]
    x, y = sheet.middle(".handle:not(.middle)", 1)
    sheet.page.mouse.move(x, y)
    sheet.page.mouse.down()
    sheet.page.mouse.move(x + 80, y - 80, steps=10)
    sheet.wait(
        "(was) => document.querySelector('#legs-table tbody tr').cells[6].textContent !== was",
        before[6],
    )
    sheet.page.mouse.up()
    sheet.settle()
    body = {"route": sheet.route, "date": DAY}
    leg = sheet.served.post("/api/plot", body).json()["legs"][0]
    assert sheet.legs()[0][6] == wording.distance(leg["distance_nm"])


def test_never_more_than_one_question_is_under_way(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    under_way, most = [0], [0]

    def begins(request: Any) -> None:
        if "/api/sheet" in request.url:
            under_way[0] += 1
            most[0] = max(most[0], under_way[0])

    def ends(request: Any) -> None:
        if "/api/sheet" in request.url:
            under_way[0] -= 1

    sheet.page.on("request", begins)
    sheet.page.on("requestfinished", ends)
    sheet.drag(".handle:not(.middle)", 1, 120, -90)
    sheet.wait_not(ROUTE)
    assert most[0] == 1


def test_a_point_is_dragged_with_a_finger(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN, width=390, height=844, has_touch=True, is_mobile=True)
    sheet.wait_legs(2)
    sheet.swipe(".handle:not(.middle)", 1, 40, -50)
    sheet.wait_not(ROUTE)
    assert sheet.route.split()[::2] == ["KRST", "KEAU"]
    assert sheet.complaints == []


def test_a_point_is_put_in_by_its_handle_at_mid_leg(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    sheet.drag(".handle.middle", 0, 10, -90)
    sheet.wait_legs(3)
    first, put_in, *rest = sheet.route.split()
    assert (first, rest) == ("KRST", ["KLSE", "KEAU"])
    assert put_in


def test_everything_is_undone_to_the_start_and_redone_to_the_end(open_sheet: Any) -> None:
    sheet = open_sheet("/#flight.route=")
    sheet.page.click("#example")
    sheet.wait_legs(3)
    steps = ["", sheet.route]
    sheet.page.click("#reverse")
    sheet.wait_not(steps[-1])
    steps.append(sheet.route)
    sheet.drag(".handle:not(.middle)", 1, 60, 40)
    sheet.wait_not(steps[-1])
    steps.append(sheet.route)
    sheet.page.click("#points-table tr:nth-child(1) [data-act=down]")
    sheet.wait_not(steps[-1])
    sheet.settle()
    steps.append(sheet.route)
    sheet.page.click("#points-table tr:nth-child(2) [data-act=remove]")
    sheet.wait_not(steps[-1])
    steps.append(sheet.route)
    for route in steps[-2::-1]:
        sheet.page.keyboard.press("Control+z")
        sheet.wait_route(route)
    assert sheet.page.is_disabled("#undo")
    for route in steps[1:]:
        sheet.page.keyboard.press("Control+Shift+Z")
        sheet.wait_route(route)
    assert sheet.page.is_disabled("#redo")


def test_a_slow_answer_never_overwrites_what_was_typed_since(open_sheet: Any) -> None:
    sheet = open_sheet("/#flight.route=")
    held: list[Any] = []

    def hold(route: Any) -> None:
        held.append(route) if not held else route.continue_()

    sheet.page.route("**/api/sheet", hold)
    sheet.page.type("#route", "KRST KLSE")
    sheet.page.fill("#route", "KRST KEAU")
    held[0].continue_()
    sheet.wait_legs(1)
    sheet.wait("() => document.title.startsWith('KRST to KEAU')")
    assert sheet.route == "KRST KEAU"


def test_the_plan_outlives_tab_and_program(open_sheet: Any, chromium: Any) -> None:
    with serving_page() as first:
        sheet = open_sheet(OPEN, served=first)
        sheet.wait_legs(2)
        sheet.page.fill("#every", "25")
        sheet.wait("() => location.hash.includes('every_nm=25')")
        port = int(first.url.rpartition(":")[2])
    sheet.page.fill("#route", "KRST KEAU")
    sheet.wait("() => document.getElementById('told-away').textContent.includes('plotter serve')")
    with serving_page(port=port):
        sheet.page.fill("#every", "20")
        sheet.wait("() => document.getElementById('told-away').textContent === ''")
        sheet.wait_legs(1)
        sheet.page.goto("about:blank")
        sheet.page.goto(first.url)
        sheet.wait_title("KRST to KEAU")
        assert sheet.page.input_value("#every") == "20"


def test_the_address_holds_the_plan(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    sheet.page.fill("#altitude", "5,500")
    sheet.page.select_option("#line", "rhumb")
    sheet.page.check("#sm")
    sheet.wait("() => location.hash.includes('sm=true')")
    again = open_sheet("/" + sheet.page.evaluate("location.hash"))
    again.wait_legs(2)
    assert again.page.input_value("#altitude") == "5500"
    assert again.page.input_value("#line") == "rhumb"
    assert again.legs() == sheet.legs()
    assert len(again.legs()[0]) == 8


@pytest.mark.parametrize(
    "hash_text",
    [
        "#", "#x", "#flight.route=%", "#flight=7", "#flight.route=7&flight.date=[]",
        "#__proto__.x=1&flight.route=KRST+KONA", "#flight.route.deep=1",
    ],
)  # fmt: skip
def test_an_address_that_holds_no_plan_still_opens(open_sheet: Any, hash_text: str) -> None:
    sheet = open_sheet("/" + hash_text)
    assert sheet.page.evaluate("({}).x === undefined")
    assert sheet.complaints == []


HOSTILE = '<img src=x onerror="window.ran=1">'


def test_hostile_text_is_shown_and_never_run(open_sheet: Any) -> None:
    names = [HOSTILE, "${window.ran=1}", "</script><script>ran=1</script>"]
    typed = " ".join(f"{name.replace(' ', '_')}={44 + k},-92" for k, name in enumerate(names))
    sheet = open_sheet("/#flight.route=")
    sheet.type_route(typed)
    sheet.page.wait_for_selector("#legs-table tbody tr, #faults li")
    sheet.type_route(f"{HOSTILE} KRST <b>")
    sheet.page.locator("#date").focus()
    sheet.page.wait_for_selector("#faults li")
    assert sheet.page.evaluate("window.ran === undefined")
    assert sheet.page.locator("main img, main b:not(#suggestions b)").count() == 0
    assert sheet.complaints == []


@pytest.mark.parametrize("name", ["gpx", "map"])
def test_files_go_to_the_downloads_as_the_library_made_them(
    open_sheet: Any, name: str, tmp_path: Path
) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    title = next(
        each["title"] for each in sheet.served.get("/api/formats").json() if each["name"] == name
    )
    with sheet.page.expect_download() as waiting:
        sheet.page.click(f"#formats button >> text={title}")
    waiting.value.save_as(tmp_path / "got")
    made = sheet.served.post(f"/api/export/{name}", {"route": ROUTE, "date": DAY})
    assert (tmp_path / "got").read_bytes() == made.content
    assert waiting.value.suggested_filename.startswith("KRST-KEAU")


def test_a_row_and_its_leg_light_each_other_and_the_slip_can_add_an_airport(
    open_sheet: Any,
) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    sheet.page.locator("#legs-table a").nth(1).focus()
    assert sheet.page.locator("#map_route .ink-1.lit").count() == 1
    sheet.page.click("#fields summary")
    sheet.page.locator("#airports-table a").nth(1).click()
    assert sheet.page.is_visible("#slip")
    assert "Runways" in sheet.page.inner_text("#slip")
    sheet.page.locator("#slip-acts button").first.click()
    sheet.wait_legs(3)


def test_focus_stays_where_it_is_while_figures_change(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    sheet.page.locator("#points-table tr:nth-child(1) [data-act=down]").focus()
    sheet.page.keyboard.press("Enter")
    sheet.wait_route("KLSE KRST KEAU")
    assert sheet.page.evaluate("document.activeElement.dataset.act") == "down"


FOCUSED = "(({ id, dataset, className }) => id || dataset.act || className)(document.activeElement)"


def test_the_keyboard_alone_reaches_every_part(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    reached = set()
    for _ in range(120):
        sheet.page.keyboard.press("Tab")
        reached.add(sheet.page.evaluate(FOCUSED))
    assert {"skip", "reverse", "route", "date", "altitude", "every", "line"} <= reached
    assert {"map_route", "whole", "up", "down", "after", "remove"} <= reached


def test_axe_finds_nothing_serious_and_the_page_fits(open_sheet: Any, axe: Looked) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    sheet.type_route(ROUTE + " KDHL")
    sheet.page.locator("#date").focus()
    sheet.page.wait_for_selector("#faults li")
    axe(sheet.page)


def test_it_prints_as_a_plan(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN, width=390)
    sheet.wait_legs(2)
    sheet.page.emulate_media(media="print")
    sheet.page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    for hidden in ("#take", "#undo", "#layers", "#points-table [data-act]"):
        assert not sheet.page.locator(hidden).first.is_visible()
    assert sheet.page.locator("footer .standing").is_visible()
    assert sheet.page.pdf().startswith(b"%PDF")
    sheet.page.evaluate("window.dispatchEvent(new Event('afterprint'))")


def test_with_motion_reduced_nothing_is_animated(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN, reduced_motion="reduce")
    assert not sheet.page.locator(".leaflet-zoom-anim").count()
