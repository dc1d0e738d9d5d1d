"""The log on the planning page: its figures, workings, wind, plan files; no network."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from planning import Looked
from served import DAY, serving_page

from plotter.cli.main import plotter
from plotter.flight.plan.starter import starter

pytestmark = pytest.mark.browser

OPEN = f"/#flight.route=KRST+KLSE+KEAU&flight.date={DAY}"
HOSTILE = '<img src=x onerror="window.ran=1">'


@pytest.fixture
def flown(open_sheet: Any) -> Any:
    """A route with its log worked out."""
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    sheet.page.click("#begin-log")
    sheet.page.wait_for_selector(".log-table tbody tr")
    sheet.settle()
    return sheet


def column(sheet: Any, key: str) -> list[str]:
    return list(sheet.page.locator(f"[data-column={key}]").all_inner_texts())


def saved(sheet: Any, path: Path) -> str:
    with sheet.page.expect_download() as waiting:
        sheet.page.click("#save")
    waiting.value.save_as(path)
    return path.read_text(encoding="utf-8")


def test_every_figure_is_that_of_the_command_for_the_file_that_is_saved(
    flown: Any, tmp_path: Path
) -> None:
    assert flown.page.inner_text("#unsaved") == "Not saved to a file."
    path = tmp_path / "got.toml"
    saved(flown, path)
    flown.wait("() => document.getElementById('unsaved').textContent.startsWith('As saved in')")
    printed = CliRunner().invoke(plotter, ["log", str(path), "--working", "--json"]).stdout
    rows = json.loads(printed)["rows"]
    for key in rows[0]["working"]:
        if key in ("wind_from_true_deg", "wind_speed_kt"):
            continue  # the two stand in one cell
        wanted = [row["working"][key]["printed"] or "–" for row in rows]
        assert column(flown, key) == wanted, key
    assert flown.complaints == []


def test_the_log_follows_the_wind_and_a_point_that_is_dragged(flown: Any) -> None:
    before = column(flown, "groundspeed_kt")
    flown.page.fill('[data-key="wind.0.speed_kt"]', "44")
    flown.page.fill('[data-key="wind.1.speed_kt"]', "44")
    flown.wait(
        "(was) => document.querySelector('[data-column=groundspeed_kt]').textContent !== was",
        before[0],
    )
    flown.settle()
    distances = column(flown, "distance_to_go_nm")
    flown.drag(".handle:not(.middle)", 1, 60, -40)
    assert column(flown, "distance_to_go_nm") != distances


def test_a_figure_is_opened_by_hand_and_by_keys_and_follows(flown: Any) -> None:
    page = flown.page
    page.locator("[data-column=groundspeed_kt]").nth(2).click()
    page.wait_for_selector("#working:not([hidden])")
    assert page.inner_text("#working-title").startswith("Row 3: GS")
    assert "GS = " in page.inner_text("#working-steps")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    flown.wait("() => document.getElementById('working-title').textContent.includes('ETE')")
    page.locator("#working-close").focus()
    page.keyboard.press("Escape")
    assert page.is_hidden("#working")
    assert page.evaluate("document.activeElement.dataset.column") == "ete_min"


def test_a_working_that_was_closed_stays_closed_when_its_fault_comes_late(flown: Any) -> None:
    page = flown.page
    held: list[Any] = []

    def hold(route: Any) -> None:
        held.append(route)

    page.locator("[data-column=groundspeed_kt]").nth(2).click()
    page.wait_for_selector("#working:not([hidden])")
    page.route("**/api/working", hold)
    with page.expect_request("**/api/working"):
        page.locator("[data-column=ete_min]").nth(2).click()
    page.click("#working-close")
    fault = {"code": "demo", "message": "no such row", "where": None, "candidates": []}
    with page.expect_response("**/api/working"):
        held[0].fulfill(status=422, json={"error": fault})
    flown.settle()
    page.evaluate("new Promise((done) => setTimeout(done, 100))")
    assert page.is_hidden("#working")


def test_a_row_of_the_log_and_its_leg_light_each_other(flown: Any) -> None:
    page = flown.page
    page.mouse.move(1, 1)
    page.locator("tr[data-lights=leg-2] [data-column=eta]").first.focus()
    assert page.locator("#map_route .ink-1.lit").count() == 1
    assert page.locator("#legs-table tr.lit").count() == 1
    page.locator("#legs-table a").first.focus()
    lit = page.locator(".log-table tr.lit")
    assert lit.count() == page.locator("tr[data-lights=leg-1]").count() > 0


def test_a_figure_that_cannot_be_is_told_at_its_field_and_the_route_stays(flown: Any) -> None:
    field = flown.page.locator('[data-key="aircraft.true_airspeed_kt"]')
    field.fill("0")
    flown.page.wait_for_selector("#log-faults li")
    assert field.get_attribute("aria-invalid") == "true"
    assert len(flown.legs()) == 2
    assert flown.page.is_visible("#stale")
    field.fill("100")
    flown.page.wait_for_selector("#stale", state="hidden")
    assert flown.page.locator("#log-faults li").count() == 0


def test_a_plan_file_is_opened_changed_and_saved_with_its_comments(
    open_sheet: Any, tmp_path: Path
) -> None:
    text = starter("Demo, invented") + "\n# a remark of ours\n"
    path = tmp_path / "ours.toml"
    path.write_text(text, encoding="utf-8")
    sheet = open_sheet("/#")
    sheet.page.set_input_files("#file", str(path))
    sheet.page.wait_for_selector(".log-table tbody tr")
    assert sheet.page.inner_text("#unsaved") == "As saved in ours.toml."
    sheet.page.locator("#points-table [data-act=remove]").nth(1).click()
    sheet.wait_route("KRST KEAU KDLH")
    sheet.settle()
    assert sheet.page.inner_text("#unsaved") == "Not saved to a file."
    got = saved(sheet, tmp_path / "again.toml")
    plan = tomllib.loads(got)
    assert plan["flight"]["route"] == "KRST KEAU KDLH"
    assert plan["flight"]["cruise_altitude_ft"] == [3500, 4500]
    assert got.endswith("# a remark of ours\n")
    sheet.page.keyboard.press("Control+z")
    sheet.wait_route("KRST KLSE KEAU KDLH")
    sheet.page.reload()
    sheet.page.wait_for_selector(".log-table tbody tr")
    undone = tomllib.loads(saved(sheet, tmp_path / "undone.toml"))
    assert undone == tomllib.loads(text)
    assert sheet.complaints == []


def test_a_file_that_is_no_plan_is_told_with_its_line_and_changes_nothing(
    flown: Any, tmp_path: Path
) -> None:
    path = tmp_path / "wrong.toml"
    path.write_text("format = 1\n[flight]\nroute = 'KRST\n", encoding="utf-8")
    before = flown.route
    flown.page.set_input_files("#file", str(path))
    flown.page.wait_for_selector("#file-faults li")
    assert "wrong.toml, line " in flown.page.inner_text("#file-faults")
    assert flown.route == before


def test_hostile_names_of_a_plan_are_shown_and_never_run(open_sheet: Any, tmp_path: Path) -> None:
    text = starter("Demo").replace("Blue Wren, invented", HOSTILE.replace('"', '\\"'))
    text += f"""\n[quiet]\ncruising-altitude = '{HOSTILE}'\n"""
    path = tmp_path / "<b>name.toml"
    path.write_text(text, encoding="utf-8")
    sheet = open_sheet("/#")
    sheet.page.set_input_files("#file", str(path))
    sheet.page.wait_for_selector(".log-table tbody tr")
    assert HOSTILE in sheet.page.inner_text("#flight-title")
    assert sheet.page.evaluate("window.ran === undefined")
    assert sheet.page.locator("main img, main bdi b").count() == 0
    assert sheet.complaints == []


def test_the_flight_comes_back_from_the_address_and_is_undone_to_the_start(
    flown: Any, open_sheet: Any
) -> None:
    flown.page.click("[data-table=wind] .form-row >> nth=1 >> button")
    flown.wait("() => document.querySelectorAll('[data-table=wind] .form-row').length === 1")
    flown.settle()
    again = open_sheet("/" + flown.page.evaluate("location.hash"))
    again.page.wait_for_selector(".log-table tbody tr")
    assert column(again, "compass_heading_deg") == column(flown, "compass_heading_deg")
    flown.page.click("#undo")
    flown.wait("() => document.querySelectorAll('[data-table=wind] .form-row').length === 2")
    flown.page.click("#undo")
    flown.wait("() => document.getElementById('flown').hidden")
    assert flown.page.is_disabled("#undo")


def test_axe_finds_nothing_serious_in_the_log(open_sheet: Any, axe: Looked) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    sheet.page.click("#begin-log")
    sheet.page.wait_for_selector(".log-table tbody tr")
    sheet.page.locator("[data-column=eta]").first.click()
    sheet.page.wait_for_selector("#working:not([hidden])")
    axe(sheet.page)


def test_a_hand_measurement_is_answered_at_once_and_kept_in_the_plan(
    flown: Any, tmp_path: Path
) -> None:
    page = flown.page
    page.click("#hand summary")
    page.fill('[data-leg="1"][data-hand=nm]', "62.1")
    page.fill('[data-leg="1"][data-hand=course]', "093M")
    page.wait_for_selector("#hand-answer li")
    flown.settle()
    flown.wait("() => document.getElementById('hand-answer').textContent.includes('Course')")
    words = ["measure", "KRST", "KLSE", "--reading", "62.1", "--course", "093M", "--date", DAY]
    made = json.loads(CliRunner().invoke(plotter, [*words, "--json"]).stdout)
    said = page.inner_text("#hand-answer")
    assert made["distance"]["explanations"][0]["text"] in said
    assert made["course"]["verdict"] == "fits"
    assert "Course: 093M agrees" in said
    plan = tomllib.loads(saved(flown, tmp_path / "got.toml"))
    assert plan["leg"] == [
        {
            "number": 1,
            "measured_nm": 62.1,
            "measured_course_deg": 93,
            "measured_course_reference": "magnetic",
        }
    ]
    page.fill('[data-leg="1"][data-hand=course]', "93")
    assert "from which north" in page.inner_text("#hand-1-course")


def test_a_checkpoint_becomes_a_turning_point_and_gets_a_name(flown: Any) -> None:
    page = flown.page
    page.locator("#checkpoints-table a").nth(2).click()
    page.click("#slip-acts button")
    flown.wait_legs(3)
    page.locator("#points-table a").nth(1).click()
    page.fill("#slip-acts input", "BARN")
    page.keyboard.press("Enter")
    flown.wait("() => document.getElementById('route').value.includes('BARN=')")
    flown.settle()
    assert [row[1] for row in flown.legs()] == ["KRST", "BARN", "KLSE"]
    page.locator("#points-table a").nth(1).click()
    page.fill("#slip-acts input", "two words")
    page.keyboard.press("Enter")
    page.wait_for_selector("#faults li")
    assert "BARN=" in flown.route


def test_the_log_follows_a_finger_and_the_program_started_anew(
    open_sheet: Any, tmp_path: Path
) -> None:
    with serving_page() as first:
        sheet = open_sheet(
            OPEN, served=first, width=390, height=844, has_touch=True, is_mobile=True
        )
        sheet.wait_legs(2)
        sheet.page.click("#begin-log")
        sheet.page.wait_for_selector(".log-table tbody tr")
        before = column(sheet, "distance_to_go_nm")
        sheet.swipe(".handle:not(.middle)", 1, 40, -50)
        sheet.settle()
        assert column(sheet, "distance_to_go_nm") != before
        text = saved(sheet, tmp_path / "kept.toml")
        shown = column(sheet, "compass_heading_deg")
        assert sheet.complaints == []
    with serving_page() as second:
        again = open_sheet("/#", served=second)
        again.page.set_input_files("#file", str(tmp_path / "kept.toml"))
        again.page.wait_for_selector(".log-table tbody tr")
        again.settle()
        assert column(again, "compass_heading_deg") == shown
        assert saved(again, tmp_path / "same.toml") == text
        assert {url.split("/")[2] for url in again.requests if url.startswith("http")} == {
            second.url.split("/")[2]
        }


def test_what_was_typed_for_a_leg_stays_with_its_two_points(flown: Any, tmp_path: Path) -> None:
    page = flown.page
    page.click("#hand summary")
    page.fill('[data-leg="2"][data-hand=nm]', "60.5")
    flown.wait("() => document.getElementById('leg-notes').textContent.includes('KLSE to KEAU')")
    page.locator("#checkpoints-table a").nth(2).click()
    page.click("#slip-acts button")
    flown.wait_legs(3)
    flown.settle()
    assert "Typed for leg 3, KLSE to KEAU" in page.inner_text("#leg-notes")
    assert page.input_value('[data-leg="3"][data-hand=nm]') == "60.5"
    page.locator("#points-table [data-act=remove]").nth(0).click()
    flown.wait_legs(2)
    flown.settle()
    assert "Typed for leg 2, KLSE to KEAU" in page.inner_text("#leg-notes")
    page.click("#reverse")
    flown.settle()
    flown.wait("() => document.querySelector('#leg-notes .aside')")
    assert "Typed for" not in page.inner_text("#leg-notes")
    assert "KLSE to KEAU: distance by hand 60.5 NM" in page.inner_text("#leg-notes")
    page.click("#undo")
    flown.wait("() => document.getElementById('leg-notes').textContent.includes('leg 2')")
    assert "measured_nm = 60.5" in saved(flown, tmp_path / "kept.toml")
