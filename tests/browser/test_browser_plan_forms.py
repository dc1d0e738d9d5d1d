"""Everything that a plan file holds, set on the planning page; no network."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from planning import Looked
from served import DAY

from plotter.cli.main import plotter

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
    first = page.locator("#cautions li.CHECK").count()
    page.fill("#altitude", "14500")
    flown.wait("(n) => document.querySelectorAll('#cautions li.CHECK').length > n", first)
    flown.settle()
    count = page.locator("#cautions li.CHECK").count()
    assert page.inner_text("#checks") == f"{count} cautions to check"
    before = page.evaluate("location.hash")
    page.click("#checks-link")
    assert page.evaluate("document.activeElement.id") == "cautions-title"
    assert page.evaluate("location.hash") == before
    page.fill("#route", "")
    flown.wait("() => document.getElementById('checks').hidden")


SET = {
    "aircraft.climb_rate_fpm": "700",
    "aircraft.descent_fuel_per_hour": "6.5",
    "aircraft.pattern_height_ft": "800",
    "limits.crosswind_kt": "12",
    "limits.runway_ft": "2,500",
    "limits.daylight_margin_min": "30",
    "limits.ground_clearance_ft": "1000",
    "flight.name": "Sunday",
    "aircraft.compass_card.2.steer_deg": "88",
}


@pytest.fixture
def opened(flown: Any) -> Any:
    """The same with every form open."""
    flown.page.wait_for_selector("#form-quiet")
    script = "for (const each of document.querySelectorAll('#flight details')) each.open = true"
    flown.page.evaluate(script)
    return flown


def fill(sheet: Any, key: str, text: str) -> None:
    sheet.page.fill(f'[data-key="{key}"]', text)


def choose(sheet: Any, key: str, value: str) -> None:
    sheet.page.select_option(f'[data-key="{key}"]', value)


def add(sheet: Any, table: str) -> None:
    sheet.page.click(f'[data-table="{table}"] > .acts button')


def saved(sheet: Any, path: Path) -> str:
    with sheet.page.expect_download() as waiting:
        sheet.page.click("#save")
    waiting.value.save_as(path)
    return path.read_text(encoding="utf-8")


def test_everything_a_plan_file_holds_is_set_saved_and_is_the_log_of_the_command(
    opened: Any, open_sheet: Any, tmp_path: Path
) -> None:
    page = opened.page
    for key, text in SET.items():
        fill(opened, key, text)
    choose(opened, "flight.visual_rules", "ICAO")
    choose(opened, "flight.aircraft_category", "rotorcraft")
    fill(opened, "aircraft.registered_in", "US")
    add(opened, "stop")
    choose(opened, "stop.0.point", "KLSE")
    fill(opened, "stop.0.ground_min", "25")
    fill(opened, "stop.0.fuel_added", "5")
    add(opened, "weather")
    choose(opened, "weather.0.point", "KRST")
    fill(opened, "weather.0.altimeter_inhg", "30.02")
    fill(opened, "weather.0.temperature_c", "21")
    fill(opened, "weather.0.wind_from_deg", "230")
    fill(opened, "weather.0.wind_speed_kt", "11")
    page.locator('[data-table=weather] select[aria-label^="Wind from"]').select_option("magnetic")
    fill(opened, "leg.2.highest_ground_ft", "1450")
    fill(opened, "leg.2.highest_obstacle_ft", "1890")
    fill(opened, "leg.2.true_airspeed_kt", "105")
    add(opened, "aircraft.compass_card")
    fill(opened, "aircraft.compass_card.8.for_magnetic_deg", "330")
    fill(opened, "aircraft.compass_card.8.steer_deg", "331")
    opened.settle()
    page.wait_for_selector(".log-table tbody tr")
    assert page.locator("#log-faults li").count() == 0
    path = tmp_path / "sunday.toml"
    plan = tomllib.loads(saved(opened, path))
    assert plan["aircraft"]["climb_rate_fpm"] == 700
    assert plan["aircraft"]["registered_in"] == "US"
    assert plan["aircraft"]["compass_card"][8] == {"for_magnetic_deg": 330, "steer_deg": 331}
    assert plan["stop"] == [{"point": "KLSE", "ground_min": 25, "fuel_added": 5}]
    assert plan["weather"][0]["wind_reference"] == "magnetic"
    noted = {"highest_ground_ft": 1450, "highest_obstacle_ft": 1890, "true_airspeed_kt": 105}
    assert plan["leg"] == [{"number": 2, **noted}]
    assert plan["limits"]["runway_ft"] == 2500
    assert plan["flight"]["aircraft_category"] == "rotorcraft"
    same_as_the_command(opened, path)
    again = open_sheet("/#")
    again.page.set_input_files("#file", str(path))
    again.page.wait_for_selector(".log-table tbody tr")
    again.settle()
    same_as_the_command(again, path)
    again.page.click("#flight > summary")
    again.page.wait_for_selector("#form-quiet", state="attached")
    assert again.page.inner_text("#form-stops > summary") == "Stops on the way (1)"
    assert saved(again, tmp_path / "same.toml") == path.read_text(encoding="utf-8")
    assert opened.complaints == again.complaints == []


def same_as_the_command(sheet: Any, path: Path) -> None:
    printed = CliRunner().invoke(plotter, ["log", str(path), "--working", "--json"]).stdout
    document = json.loads(printed)
    for key in document["rows"][0]["working"]:
        if key in ("wind_from_true_deg", "wind_speed_kt"):
            continue  # the two stand in one cell
        wanted = [row["working"][key]["printed"] or "–" for row in document["rows"]]
        assert sheet.page.locator(f"[data-column={key}]").all_inner_texts() == wanted, key
    told = sheet.page.locator("#cautions li.CHECK:not(:has-text('Invented figures'))").count()
    assert told == len([each for each in document["cautions"] if each["rank"] == "CHECK"])


def test_all_of_it_is_undone_to_the_start(opened: Any) -> None:
    start = opened.page.evaluate("location.hash")
    for key, text in SET.items():
        fill(opened, key, text)
    add(opened, "stop")
    choose(opened, "stop.0.point", "KLSE")
    fill(opened, "leg.1.altitude_ft", "5500")
    opened.page.click('[data-table="aircraft.compass_card"] .form-row >> nth=0 >> button')
    opened.settle()
    end = opened.page.evaluate("location.hash")
    opened.page.focus('[data-key="limits.runway_ft"]')
    for _ in range(len(SET) + 3):
        opened.page.keyboard.press("Control+z")
    opened.wait("(start) => location.hash === start", start)
    assert opened.page.input_value('[data-key="limits.runway_ft"]') == ""
    assert opened.page.input_value('[data-key="aircraft.climb_rate_fpm"]') == "500"
    assert opened.page.locator('[data-table="aircraft.compass_card"] .form-row').count() == 8
    for _ in range(len(SET) + 3):
        opened.page.keyboard.press("Control+Shift+Z")
    opened.wait("(end) => location.hash === end", end)
    assert opened.page.input_value('[data-key="limits.runway_ft"]') == "2500"


def test_a_row_joins_the_plan_when_it_has_what_it_needs(opened: Any) -> None:
    page, row = opened.page, "aircraft.cruise_table.0"
    before = page.evaluate("location.hash")
    add(opened, "aircraft.cruise_table")
    fill(opened, f"{row}.altitude_ft", "2000")
    fill(opened, f"{row}.true_airspeed_kt", "107")
    said = "Not in the plan yet. Missing: Fuel an hour."
    assert said in page.inner_text("#form-cruise")
    assert page.evaluate("location.hash") == before
    assert page.locator("#flown").is_visible()
    fill(opened, f"{row}.fuel_per_hour", "8.6")
    page.wait_for_selector("#log-faults li")
    assert "and “Cruise table” exclude each other" in page.inner_text("#form-aircraft")
    fill(opened, "aircraft.true_airspeed_kt", "")
    fill(opened, "aircraft.cruise_fuel_per_hour", "")
    opened.wait("() => !document.querySelector('#log-faults li')")
    page.wait_for_selector(".log-table tbody tr")
    page.click('[data-table="aircraft.cruise_table"] .form-row button')
    page.wait_for_selector("#log-faults li")
    assert "is missing; enter a value, as in 110" in page.inner_text("#form-aircraft")


def test_a_fault_is_told_at_its_field_and_the_way_leads_there(flown: Any) -> None:
    page = flown.page
    page.click("#form-limits > summary")
    fill(flown, "limits.crosswind_kt", "-4")
    page.wait_for_selector("#log-faults li")
    assert page.inner_text("#log-faults li") == (
        "Strongest crosswind: is -4; write 0 or more Go to it"
    )
    assert page.inner_text("#form-limits .fault >> nth=0") == "is -4; write 0 or more"
    page.click("#form-limits > summary")
    said = "Own limits (1): something to put right"
    assert page.inner_text("#form-limits > summary") == said
    page.click("#flight > summary")
    page.click("#log-faults button")
    assert page.evaluate("document.activeElement.dataset.key") == "limits.crosswind_kt"
    page.keyboard.press("Control+z")
    flown.wait("() => !document.querySelector('#log-faults li')")
    assert page.get_attribute('[data-key="limits.crosswind_kt"]', "aria-invalid") == "false"


def test_a_fault_leads_to_the_field_at_the_top_too(flown: Any) -> None:
    page = flown.page
    page.fill("#altitude", "500")
    page.wait_for_selector("#log-faults li")
    assert page.get_attribute("#altitude", "aria-invalid") == "true"
    page.click("#log-faults button")
    flown.wait("() => document.activeElement.id === 'altitude'")
    page.fill("#altitude", "4500")
    page.fill("#offset", "soon")
    page.keyboard.press("Tab")
    assert "no offset from UTC" in page.inner_text("#offset-fault")
    assert page.get_attribute("#offset", "aria-invalid") == "true"


def test_a_figure_that_is_none_is_told_where_it_is_typed(flown: Any) -> None:
    page = flown.page
    for field, words, well in (
        ("altitude", "write digits alone", "5500"),
        ("every", "as 10", "20"),
    ):
        before = page.evaluate("location.hash")
        page.fill(f"#{field}", "ten")
        assert words in page.inner_text(f"#{field}-fault")
        assert page.get_attribute(f"#{field}", "aria-invalid") == "true"
        assert page.evaluate("location.hash") == before
        page.fill(f"#{field}", well)
        page.wait_for_selector(f"#{field}-fault", state="hidden")


def test_a_day_or_a_time_that_is_cleared_changes_nothing_and_is_told(flown: Any) -> None:
    page = flown.page
    before = page.evaluate("location.hash")
    for field, value in (("date", DAY), ("time", "09:00")):
        page.fill(f"#{field}", "")
        page.keyboard.press("Tab")
        page.locator("#offset").focus()
        flown.settle()
        assert page.evaluate("location.hash") == before
        assert f"Until then it stays {value}." in page.inner_text(f"#{field}-fault")
        page.fill(f"#{field}", value)
        page.locator("#offset").focus()
        assert page.is_hidden(f"#{field}-fault")
    assert flown.complaints == []


def test_all_faults_of_one_field_stand_at_it(opened: Any) -> None:
    fill(opened, "aircraft.climb_rate_fpm", "-5")
    fill(opened, "aircraft.climb_fuel_per_hour", "")
    opened.wait("() => document.querySelectorAll('#log-faults li').length === 2")
    said = opened.page.inner_text("#form-climb .fault >> nth=0")
    assert "is -5; write a number above 0" in said
    assert "with it; fill" in said


def test_the_keyboard_goes_on_where_a_row_was_taken_out(opened: Any) -> None:
    opened.page.locator("[data-table=wind] .form-row button").first.focus()
    opened.page.keyboard.press("Enter")
    opened.wait("() => document.querySelectorAll('[data-table=wind] .form-row').length === 1")
    assert opened.page.evaluate("document.activeElement.textContent") == "Add a wind"
    opened.page.keyboard.press("Enter")
    assert opened.page.evaluate("document.activeElement.dataset.key") == "wind.1.altitude_ft"


def test_fields_of_a_leg_follow_it_while_its_route_is_drawn(opened: Any) -> None:
    page = opened.page
    fill(opened, "leg.2.highest_ground_ft", "1450")
    opened.settle()
    page.fill("#route", "KDLH KRST KLSE KEAU")
    opened.wait_legs(3)
    opened.settle()
    assert page.inner_text("#form-single_legs details >> nth=2 >> summary").endswith("KEAU (1)")
    assert page.input_value('[data-key="leg.3.highest_ground_ft"]') == "1450"
    assert page.inner_text("#form-single_legs > summary") == "Single legs (1)"
    notes = page.inner_text("#all-cautions")
    assert "enter them as “Highest ground” and “Highest obstacle”" in notes
    assert "enter it as “Highest obstacle”" in notes
    assert "highest_ground_ft" not in notes


def test_a_fault_of_a_leg_is_told_at_it(flown: Any) -> None:
    page = flown.page
    page.click("#form-single_legs > summary")
    page.click("#form-single_legs details >> nth=1 >> summary")
    fill(flown, "leg.2.distance_nm", "0.01")
    page.wait_for_selector("#log-faults li")
    assert page.inner_text("#log-faults li").startswith("Leg 2, Distance: ")
    assert page.inner_text("#form-single_legs .fault:not([hidden])")
    page.click("#form-single_legs > summary")
    page.click("#log-faults button")
    assert page.evaluate("document.activeElement.dataset.key") == "leg.2.distance_nm"


def test_a_caution_is_silenced_with_a_reason_and_speaks_again(opened: Any) -> None:
    page = opened.page
    page.fill("#altitude", "4500")
    page.press("#altitude", "Tab")
    opened.wait("() => document.querySelector('#cautions').textContent.includes('4,500 ft on 093')")
    add(opened, "quiet")
    options = page.locator('[data-table=quiet] [data-key="quiet.0.code"] option')
    code = options.nth(1).get_attribute("value")
    choose(opened, "quiet.0.code", code)
    fill(opened, "quiet.0.reason", "flown with an instructor")
    said = f"Silenced by the plan: {code} (flown with an instructor)"
    opened.wait("(said) => document.getElementById('silenced').textContent === said", said)
    page.click("[data-table=quiet] .form-row button")
    opened.wait("() => document.getElementById('silenced').textContent === ''")


def test_a_route_typed_anew_keeps_what_is_noted_with_its_leg(opened: Any, tmp_path: Path) -> None:
    page = opened.page
    fill(opened, "leg.2.distance_nm", "70")
    opened.wait("() => document.getElementById('leg-notes').textContent.includes('leg 2')")
    page.fill("#route", "KDLH KRST KLSE KEAU")
    opened.wait_legs(3)
    opened.settle()
    assert "Typed for leg 3, KLSE to KEAU: distance 70 NM" in page.inner_text("#leg-notes")
    page.fill("#route", "KDLH KRST KEAU")
    opened.wait_legs(2)
    opened.settle()
    said = (
        "Set aside, because it is not a leg of this route: KLSE to KEAU: distance 70 NM Discard it"
    )
    assert page.inner_text("#leg-notes") == said
    text = saved(opened, tmp_path / "without.toml")
    assert "leg" not in tomllib.loads(text)
    opened.wait("() => document.getElementById('file-told').textContent.includes('Left out')")
    page.fill("#route", "KRST KLSE KEAU")
    opened.wait("() => document.getElementById('leg-notes').textContent.includes('leg 2')")
    assert tomllib.loads(saved(opened, tmp_path / "with.toml"))["leg"] == [
        {"number": 2, "distance_nm": 70}
    ]
    page.fill("#route", "KRST KEAU")
    opened.wait_legs(1)
    page.click("#leg-notes button")
    opened.wait("() => document.getElementById('leg-notes').textContent === ''")


def test_airspeed_and_wind_keep_their_figure_when_read_the_other_way(
    opened: Any, tmp_path: Path
) -> None:
    page = opened.page
    page.locator('select[aria-label^="Airspeed: "]').select_option("calibrated")
    page.locator('[data-table=wind] select[aria-label^="From"]').first.select_option("magnetic")
    opened.settle()
    assert page.input_value('[data-key="aircraft.calibrated_airspeed_kt"]') == "110"
    plan = tomllib.loads(saved(opened, tmp_path / "got.toml"))
    assert plan["aircraft"]["calibrated_airspeed_kt"] == 110
    assert "true_airspeed_kt" not in plan["aircraft"]
    assert plan["wind"][0]["from_deg"] == 240
    assert plan["wind"][0]["reference"] == "magnetic"


def test_axe_finds_nothing_serious_with_every_form_open(open_sheet: Any, axe: Looked) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    sheet.page.click("#begin-log")
    sheet.page.wait_for_selector(".log-table tbody tr")
    sheet.page.wait_for_selector("#form-quiet")
    script = "for (const each of document.querySelectorAll('details')) each.open = true"
    sheet.page.evaluate(script)
    for table in ("stop", "weather", "quiet", "aircraft.climb_table", "aircraft.cruise_table"):
        add(sheet, table)
    fill(sheet, "limits.runway_ft", "-1")
    sheet.page.wait_for_selector(".fault:not([hidden])")
    axe(sheet.page)
    assert sheet.complaints == []
