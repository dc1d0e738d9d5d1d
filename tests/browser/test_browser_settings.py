"""Date, altitude, interval and take-off typed wrong, and what mends a plan; no network."""

from __future__ import annotations

import io
import tomllib
import unicodedata
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from served import DAY

pytestmark = pytest.mark.browser

FORECAST = """DATA BASED ON 041200Z
VALID 041800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000

FT  3000    6000    9000
MSP 2415 2522+12 2630+07
GRB 2410 2520+12 2628+07
"""
OPEN = f"/#flight.route=KRST+KLSE+KEAU+KDLH&flight.date={DAY}&flight.cruise_altitude_ft=4500"


@pytest.fixture
def drawn(open_sheet: Any) -> Any:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(3)
    return sheet


@pytest.fixture
def flown(drawn: Any) -> Any:
    drawn.page.click("#begin-log")
    drawn.page.wait_for_selector(".log-table tbody tr")
    drawn.settle()
    drawn.page.evaluate("document.getElementById('flight').open = true")
    drawn.page.wait_for_selector("#form-quiet", state="attached")
    return drawn


def told(sheet: Any, field: str, words: str) -> None:
    script = "([id, words]) => document.getElementById(id).textContent.includes(words)"
    sheet.wait(script, [f"{field}-fault", words])
    assert sheet.page.get_attribute(f"#{field}", "aria-invalid") == "true"
    assert f"{field}-fault" in sheet.page.get_attribute(f"#{field}", "aria-describedby").split()


def tab(sheet: Any, field: str, text: str) -> None:
    sheet.page.fill(f"#{field}", text)
    sheet.page.keyboard.press("Tab")


UNREADABLE = (
    ("altitude", "5500ft", "“5500ft” is not a figure: write digits alone, as 4500."),
    ("altitude", "FL055", "“FL055” is not a figure"),
    ("altitude", "5.500", "5.500 feet is doubtful: write whole feet without a point, as 5500."),
    ("altitude", "4500 5500", "one for each leg is possible once the log is computed"),
    ("altitude", "", "Enter the altitude in feet"),
    ("every", "2,5", "write decimals with a point, as 2.5"),
    ("every", "10 20", "“10 20” is not a figure"),
    ("every", "", "Enter the interval"),
    ("date", "", "Enter the date of the flight"),
)


def test_a_setting_that_cannot_be_read_stays_with_what_to_type(drawn: Any) -> None:
    page = drawn.page
    for field, typed, words in UNREADABLE:
        before = page.evaluate("location.hash")
        stays = page.input_value(f"#{field}")
        tab(drawn, field, typed)
        told(drawn, field, words)
        told(drawn, field, f"Until then it stays {stays}.")
        assert page.evaluate("location.hash") == before
        page.set_checked("#sm", not page.is_checked("#sm"))
        drawn.settle()
        assert page.input_value(f"#{field}") == typed
        told(drawn, field, words)
        tab(drawn, field, stays)
        assert page.is_hidden(f"#{field}-fault")
        assert page.get_attribute(f"#{field}", "aria-invalid") == "false"
        drawn.settle()


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("every", "0", "a checkpoint interval of 0 NM is out of range"),
        ("date", "2031-01-01", "2031-01-01 is outside"),
        ("altitude", "9999999", "altitude 9,999,999 ft is out of range"),
    ],
)
def test_a_setting_that_cannot_be_is_no_fault_of_the_route(
    drawn: Any, field: str, typed: str, words: str
) -> None:
    tab(drawn, field, typed)
    told(drawn, field, words)
    drawn.settle()
    assert drawn.page.inner_text("#faults") == ""
    assert drawn.page.get_attribute("#route", "aria-invalid") == "false"
    drawn.page.click("#undo")
    drawn.wait("(id) => document.getElementById(id).hidden", f"{field}-fault")
    drawn.wait_legs(3)


def test_an_undo_puts_back_what_stands_in_a_field_at_fault(drawn: Any) -> None:
    page = drawn.page
    tab(drawn, "altitude", "5,500")
    drawn.settle()
    tab(drawn, "altitude", "high")
    page.click("#undo")
    drawn.wait("() => document.getElementById('altitude').value === '4500'")
    assert page.is_hidden("#altitude-fault")


def clock(sheet: Any, offset: str, words: str) -> None:
    sheet.wait("(offset) => document.getElementById('offset').value === offset", offset)
    sheet.settle()
    assert sheet.page.inner_text("#clock") == words


def departure(sheet: Any) -> str:
    return str(sheet.page.evaluate("new URLSearchParams(location.hash).get('flight.departure')"))


def test_the_take_off_is_by_the_clock_of_its_field(flown: Any) -> None:
    page = flown.page
    clock(flown, "-05:00", "the clock of KRST (America/Chicago)")
    tab(flown, "date", "2026-11-20")
    clock(flown, "-06:00", "the clock of KRST (America/Chicago)")
    assert departure(flown) == "2026-11-20T09:00:00-06:00"
    page.fill("#route", "EDDF EDDM")
    clock(flown, "+01:00", "the clock of EDDF (Europe/Berlin)")
    tab(flown, "offset", "−0600")
    said = "As typed. On that day it is +01:00 by the clock of EDDF (Europe/Berlin); "
    clock(flown, "-06:00", said + "empty the field to take that.")
    page.fill("#route", "EDDM EDDF")
    flown.wait_title("EDDM")
    flown.settle()
    assert departure(flown) == "2026-11-20T09:00:00-06:00"
    tab(flown, "offset", "")
    clock(flown, "+01:00", "the clock of EDDM (Europe/Berlin)")
    page.fill("#route", "FARM=4354N09230W KLSE ")
    flown.wait_title("FARM")
    clock(flown, "+01:00", "no clock of FARM is in the data: type the offset")
    assert flown.complaints == []


def test_a_take_off_that_cannot_be_read_is_told_and_the_log_stays(flown: Any) -> None:
    before = departure(flown)
    for field, typed, words in (
        ("offset", "CST", "“CST” is no offset from UTC: write it as -06:00"),
        ("offset", "-6", "“-6” is no offset"),
        ("offset", "-15:00", "“-15:00” is no offset"),
        ("time", "", "Enter the time of take-off"),
    ):
        tab(flown, field, typed)
        told(flown, field, words)
        flown.settle()
        assert departure(flown) == before
        assert flown.page.is_visible(".log-table")
        assert flown.page.input_value(f"#{field}") == typed


def test_a_typed_offset_is_kept_when_the_plan_is_opened(
    flown: Any, open_sheet: Any, tmp_path: Path
) -> None:
    tab(flown, "offset", "Z")
    flown.settle()
    with flown.page.expect_download() as waiting:
        flown.page.click("#save")
    path = tmp_path / "utc.toml"
    waiting.value.save_as(path)
    plan = tomllib.loads(path.read_text(encoding="utf-8"))
    assert str(plan["flight"]["departure"]) == f"{DAY}T09:00:00Z"
    assert "clock" not in plan
    again = open_sheet("/#")
    again.page.set_input_files("#file", str(path))
    again.wait_legs(3)
    again.settle()
    assert again.page.input_value("#offset") == "Z"


def test_what_is_noted_of_a_point_that_is_gone_is_taken_out_in_one_press(flown: Any) -> None:
    page = flown.page
    for table in ("weather", "stop"):
        page.evaluate(
            "(id) => { document.getElementById(id).open = true; }",
            {"weather": "form-weather_form", "stop": "form-stops"}[table],
        )
        page.click(f'[data-table="{table}"] > .acts button')
        page.select_option(f'[data-key="{table}.0.point"]', "KEAU")
    page.fill('[data-key="weather.0.temperature_c"]', "20")
    flown.settle()
    page.locator("#points-table [data-act=remove]").nth(2).click()
    flown.wait_legs(2)
    for words in ("weather of", "stop at"):
        page.click(f"#log-faults button:has-text('Take the {words} KEAU out of the plan')")
        flown.settle()
    page.wait_for_selector(".log-table tbody tr")
    assert page.locator("#log-faults li").count() == 0


def test_altitudes_that_are_too_few_are_written_anew_in_one_press(flown: Any) -> None:
    page = flown.page
    page.fill("#altitude", "3500 4500 5500")
    flown.settle()
    page.fill("#route", "KRST KLSE KEAU KDLH KBRD")
    flown.wait_legs(4)
    told(flown, "altitude", "has 3 altitudes for 4 legs")
    page.click("#log-faults button:has-text('Write 3500 4500 5500 5500')")
    flown.wait("() => !document.querySelector('#log-faults li')")
    assert page.input_value("#altitude") == "3500 4500 5500 5500"
    page.wait_for_selector(".log-table tbody tr")


@pytest.mark.parametrize("start", ["", "\ufeff"])
def test_a_file_that_is_not_changed_is_saved_byte_for_byte(
    open_sheet: Any, tmp_path: Path, start: str
) -> None:
    text = start + (
        "format = 1\r\n[flight]\r\nroute = 'KRST KLSE'  # short\r\n"
        "departure = 2026-07-04T09:00:00-05:00\r\ncruise_altitude_ft = 3_500\r\n"
        "[aircraft]\r\nname='Demo, invented'\r\ntrue_airspeed_kt=110.0\r\n"
        'cruise_fuel_per_hour = 8.50\r\nfuel_unit = "US gal"\r\nusable_fuel = 53\r\n'
        "fuel_on_board = 40\r\n[[wind]]\r\naltitude_ft = 3000\r\nfrom_true_deg = 240\r\n"
        "speed_kt = 15\r\n"
    )
    path, back = tmp_path / "mine.toml", tmp_path / "back.toml"
    path.write_bytes(text.encode())
    sheet = open_sheet("/#")
    sheet.page.check("#sm")
    sheet.page.set_input_files("#file", str(path))
    sheet.page.wait_for_selector(".log-table tbody tr")
    sheet.settle()
    assert sheet.page.is_checked("#sm")
    assert sheet.page.inner_text("#unsaved") == "As saved in mine.toml."
    with sheet.page.expect_download() as waiting:
        sheet.page.click("#save")
    waiting.value.save_as(back)
    assert back.read_bytes() == path.read_bytes()
    sheet.page.set_input_files(
        "#file", files=[{"name": "huge.toml", "mimeType": "text/plain", "buffer": b"#" * 300_000}]
    )
    said = "huge.toml is larger than any plan: choose a plan file (.toml)"
    sheet.wait("(said) => document.getElementById('file-told').textContent.startsWith(said)", said)


def parts(sheet: Any) -> list[str]:
    return list(sheet.page.locator("#invented-parts b").all_inner_texts())


def part(sheet: Any, called: str, act: str) -> None:
    sheet.page.click(f"#invented-parts li:has(b:text-is('{called}')) button:has-text('{act}')")
    script = "(called) => !document.getElementById('invented-parts').textContent.includes(called)"
    sheet.wait(script, called)


def test_what_is_invented_is_told_until_it_is_replaced_confirmed_or_left_out(drawn: Any) -> None:
    page = drawn.page
    page.click("#begin-log")
    page.wait_for_selector("#invented-parts li")
    page.wait_for_selector("#form-quiet")
    drawn.settle()
    assert page.evaluate("document.getElementById('flight').open")
    assert "Altitude" not in parts(drawn)
    assert len(parts(drawn)) == 13
    assert page.inner_text("#warning") == "13 figures invented: not for flight"
    assert page.title().endswith(": 13 figures invented: not for flight")
    assert page.inner_text("#form-card > summary") == "Compass correction card (8), invented"
    start = page.evaluate("location.hash")
    page.fill('[data-key="aircraft.name"]', "N1234")
    page.fill('[data-key="aircraft.true_airspeed_kt"]', "112")
    drawn.settle()
    said = page.inner_text("#cautions li.CHECK >> nth=0")
    assert "Still invented: time of take-off, fuel an hour" in said
    assert "compass correction card, wind, reserve. Replace each with your own" in said
    assert page.inner_text("#warning") == "11 figures invented: not for flight"
    assert page.locator("#form-aircraft .invented:visible").count() == 5
    tab(drawn, "date", "2026-08-01")
    drawn.settle()
    assert parts(drawn)[0] == "Time of take-off"
    tab(drawn, "time", "10:30")
    drawn.wait("() => !document.getElementById('invented-parts').textContent.includes('take-off')")
    part(drawn, "Compass correction card", "Leave out")
    page.wait_for_selector(".log-table tbody tr")
    assert page.inner_text("#form-card > summary") == "Compass correction card"
    page.click("#invented-parts li:has(b:text-is('Wind')) button:has-text('Go to it')")
    drawn.wait("() => document.activeElement.closest('[data-table=wind]')")
    for called in parts(drawn):
        part(drawn, called, "Confirm")
    drawn.settle()
    assert page.is_hidden("#invented")
    assert page.locator(".invented:visible").count() == 0
    assert page.is_hidden("#warning")
    assert "invented" not in page.inner_text("#cautions")
    for _ in range(14):
        page.click("#undo")
    drawn.wait("(start) => location.hash === start", start)
    drawn.settle()
    assert len(parts(drawn)) == 13
    page.reload()
    page.wait_for_selector("#invented-parts li", state="attached")
    assert len(parts(drawn)) == 13
    assert drawn.complaints == []


def test_a_saved_plan_keeps_what_is_invented_and_an_opened_one_brings_it(
    open_sheet: Any, tmp_path: Path
) -> None:
    sheet, path = open_sheet("/#"), tmp_path / "mine.toml"
    page = sheet.page
    page.click("#example")
    sheet.wait_legs(3)
    page.click("#begin-log")
    page.wait_for_selector("#invented-parts li")
    sheet.settle()
    assert page.input_value("#altitude") == "3500 4500 4500"
    assert "cruising-altitude" not in page.inner_text("#cautions")
    assert page.inner_text("#warning") == "14 figures invented: not for flight"
    part(sheet, "Wind", "Confirm")
    sheet.settle()
    with page.expect_download() as waiting:
        page.click("#save")
    waiting.value.save_as(path)
    kept = tomllib.loads(path.read_text(encoding="utf-8"))["invented"]
    assert len(kept) == 13
    assert "wind" not in kept
    page.fill('[data-key="aircraft.true_airspeed_kt"]', "105")
    sheet.settle()
    assert page.inner_text("#warning") == "12 figures invented: not for flight"
    page.set_input_files("#file", str(path))
    sheet.wait("() => document.getElementById('warning').textContent.startsWith('13 ')")
    assert page.inner_text("#unsaved") == "As saved in mine.toml."
    page.click("#clear")
    page.set_input_files("#file", str(path))
    sheet.wait("() => document.getElementById('warning').textContent.startsWith('13 ')")
    assert sheet.complaints == []


def test_an_invented_altitude_goes_with_the_route(open_sheet: Any) -> None:
    sheet = open_sheet("/#")
    page = sheet.page
    page.click("#example")
    sheet.wait_legs(3)
    page.click("#begin-log")
    page.wait_for_selector(".log-table tbody tr")
    page.fill("#route", "KDLH KEAU KRPD KLSE KRST ")
    sheet.wait("() => document.getElementById('altitude').value === '3500 4500 3500 4500'")
    sheet.settle()
    assert page.inner_text("#log-faults") == ""
    assert page.inner_text("#warning") == "14 figures invented: not for flight"
    page.fill("#altitude", "5500")
    page.keyboard.press("Tab")
    sheet.settle()
    assert page.inner_text("#warning") == "13 figures invented: not for flight"
    assert sheet.complaints == []


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_printed_page_says_that_figures_are_invented(flown: Any, paper: str) -> None:
    pages = PdfReader(io.BytesIO(flown.page.pdf(format=paper))).pages
    assert len(pages) > 1
    for each in pages:
        text = " ".join(unicodedata.normalize("NFKC", each.extract_text()).split())
        assert text.startswith("13 figures invented: not for flight")


def test_the_stations_of_a_forecast_that_was_pasted_stand_at_their_field(flown: Any) -> None:
    page = flown.page
    page.click("#form-winds_aloft > summary")
    page.fill('[data-key="winds_aloft.text"]', FORECAST)
    flown.wait("() => document.getElementById('form-winds_aloft').textContent.includes('GRB')")
    assert "In the forecast: MSP, GRB" in page.inner_text("#form-winds_aloft")


def test_an_answer_does_not_overwrite_what_is_being_typed(open_sheet: Any) -> None:
    sheet = open_sheet(f"/#flight.route=KRST+KLSE&flight.date={DAY}")
    sheet.wait_legs(1)
    sheet.page.click("#begin-log")
    sheet.page.wait_for_selector(".log-table tbody tr")
    sheet.settle()
    sheet.page.fill("#offset", "so")  # not yet left: nothing is taken
    sheet.page.evaluate("() => document.getElementById('reverse').click()")
    sheet.wait_route("KLSE KRST")
    sheet.settle()
    assert sheet.page.input_value("#offset") == "so"
    sheet.page.keyboard.press("Tab")
    assert "no offset from UTC" in sheet.page.inner_text("#offset-fault")
