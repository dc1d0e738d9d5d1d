"""Figures as they are typed, in every field of the planning page that takes one; no network."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from served import DAY

pytestmark = pytest.mark.browser

OPEN = f"/#flight.route=KRST+KLSE+KEAU+KDLH&flight.date={DAY}"
READ = """([typed, wish]) => import('/page/figures.js').then((each) => each.figure(typed, wish))"""
LISTED = """(typed) => import('/page/figures.js').then((each) => each.figures(typed))"""
TWO_WAYS = "could be read in two ways"


@pytest.fixture(scope="module")
def tab(chromium: Any, page: Any) -> Any:
    """The planning page, opened once for all that only ask its functions."""
    context = chromium.new_context()
    opened = context.new_page()
    opened.goto(page.url)
    yield opened
    context.close()


@pytest.fixture
def read(tab: Any) -> Any:
    """The page's reading of a figure, asked for in the browser."""
    return lambda typed, **wish: tab.evaluate(READ, [typed, wish])


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("8.5", 8.5),
        ("110", 110),
        (" 4,500 ", 4500),
        ("12,345.5", 12345.5),
        ("1,234,567", 1234567),
        ("-3", -3),
        ("−3", -3),
        (".5", 0.5),
        ("0.500", 0.5),
        ("+12", 12),
    ],
)
def test_a_figure(read: Any, typed: str, value: float) -> None:
    found = read(typed)
    assert found["value"] == value
    assert "wrong" not in found


@pytest.mark.parametrize("typed", ["8,5", "0,500", "54,0", "2,5000", "-8,5", "1234,567"])
def test_a_comma_that_could_be_a_point_is_never_dropped(read: Any, typed: str) -> None:
    found = read(typed)
    assert "value" not in found
    assert TWO_WAYS in found["wrong"]
    assert typed.replace(",", ".") in found["wrong"]


@pytest.mark.parametrize(
    "typed", ["5500ft", "FL055", "1e3", "0x10", "4,50,0", "1.2.3", "12 000", "5.", "∞", "Infinity"]
)
def test_what_is_no_figure_is_said_with_what_to_write(read: Any, typed: str) -> None:
    assert read(typed) == {"wrong": f"“{typed}” is not a figure: write digits alone, as 4500"}


@pytest.mark.parametrize(
    ("typed", "meant"), [("5.500", "5500"), ("5.5", "5"), ("4500.0", "4500"), (".5", "4500")]
)
def test_feet_with_decimals_are_doubtful(read: Any, typed: str, meant: str) -> None:
    wrong = read(typed, whole=True)["wrong"]
    assert wrong == f"{typed} feet is doubtful: write whole feet without a point, as {meant}"


def test_nothing_typed_is_no_fault(read: Any) -> None:
    assert read("  ") == {}


@pytest.mark.parametrize("typed", ["4500 5500", "4,500, 5,500", "4500;5500", " 4500  5,500 "])
def test_several_figures(tab: Any, typed: str) -> None:
    assert tab.evaluate(LISTED, typed) == {"values": [4500, 5500]}


@pytest.fixture
def drawn(open_sheet: Any) -> Any:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(3)
    sheet.page.click("#hand summary")
    return sheet


def hand(leg: int, kind: str) -> str:
    return f'[data-leg="{leg}"][data-hand={kind}]'


def told(sheet: Any, leg: int, kind: str) -> str:
    return str(sheet.page.inner_text(f"#hand-{leg}-{kind}"))


def answered(sheet: Any, words: str) -> None:
    script = "(words) => document.getElementById('hand-answer').textContent.includes(words)"
    sheet.wait(script, words)


def test_fuel_with_a_decimal_comma_is_told_at_its_field(drawn: Any, tmp_path: Path) -> None:
    page = drawn.page
    page.click("#begin-log")
    page.wait_for_selector(".log-table tbody tr")
    page.fill('[data-key="aircraft.cruise_fuel_per_hour"]', "8,5")
    page.wait_for_selector("#log-faults li")
    said = page.inner_text("#form-aircraft .fault:not([hidden])")
    assert said == f"8,5 {TWO_WAYS}: write decimals with a point, as 8.5, and thousands as 4,500"
    page.focus("#route")
    assert page.input_value('[data-key="aircraft.cruise_fuel_per_hour"]') == "8,5"
    page.fill('[data-key="aircraft.cruise_fuel_per_hour"]', "8.5")
    page.wait_for_selector("#form-aircraft .fault:not([hidden])", state="detached")
    with page.expect_download() as waiting:
        page.click("#save")
    waiting.value.save_as(tmp_path / "got.toml")
    plan = tomllib.loads((tmp_path / "got.toml").read_text(encoding="utf-8"))
    assert plan["aircraft"]["cruise_fuel_per_hour"] == 8.5


def test_what_lies_near_takes_figures_as_all_fields_do(drawn: Any) -> None:
    drawn.page.click("#near-middle")
    drawn.page.wait_for_selector("#near-table:not([hidden])")
    drawn.page.fill("#near-within", "2,5")
    drawn.wait(f"() => document.getElementById('near-heading').textContent.includes('{TWO_WAYS}')")
    assert drawn.page.get_attribute("#near-within", "aria-invalid") == "true"


def test_a_wrong_measurement_is_never_said_to_fit(drawn: Any) -> None:
    drawn.page.fill(hand(1, "nm"), "62.1")
    answered(drawn, "Distance: 62.1 does not agree; likely")
    assert "fits" not in drawn.page.inner_text("#hand-answer")
    drawn.page.fill(hand(2, "nm"), "69.0")
    drawn.page.fill(hand(3, "nm"), "140.7")
    answered(drawn, "Distance: none of the 3 legs agrees; likely")
    answered(drawn, "The same explains KRST to KLSE (62.1) and KLSE to KEAU (69.0).")
    drawn.page.fill(hand(2, "nm"), "")
    drawn.page.fill(hand(3, "nm"), "")
    drawn.page.fill(hand(1, "nm"), "54.0")
    answered(drawn, "Distance: 54.0 agrees")
    drawn.page.fill(hand(1, "nm"), "71.3")
    answered(drawn, "Distance: 71.3 does not agree; nothing fits: measure again")


NO_READING = (
    ("nm", "54,0", TWO_WAYS),
    ("nm", "-3", "-3 is no distance: write one above zero"),
    ("nm", "0", "0 is no distance"),
    ("nm", "54 NM", "“54 NM” is not a figure"),
    ("course", "92", "write 92T for a true course, 92M for a magnetic one"),
    ("course", "east", "“east” is not a course"),
    ("course", "361T", "361T is no course: write 000 to 360"),
)


def test_a_reading_that_is_none_stays_with_what_is_wrong(drawn: Any) -> None:
    page = drawn.page
    page.fill(hand(2, "nm"), "60.0")
    for kind, typed, words in NO_READING:
        page.fill(hand(1, kind), typed)
        answered(drawn, "Distance: 60.0 agrees")
        drawn.settle()
        for again in (False, True):
            if again:
                page.reload()
                drawn.wait_legs(3)
                page.click("#hand summary")
            assert page.input_value(hand(1, kind)) == typed
            assert words in told(drawn, 1, kind)
            assert page.get_attribute(hand(1, kind), "aria-invalid") == "true"
        page.fill(hand(1, kind), "")
        assert told(drawn, 1, kind) == ""


def test_how_finely_was_read_and_who_reads_are_kept(drawn: Any) -> None:
    page = drawn.page
    page.fill(hand(2, "nm"), "69.0")
    page.check("#hand-student")
    answered(drawn, "Distance: 69.0 does not agree")
    page.reload()
    drawn.wait_legs(3)
    page.click("#hand summary")
    assert page.input_value(hand(2, "nm")) == "69.0"
    assert page.is_checked("#hand-student")
    answered(drawn, "Distance: 69.0 does not agree")
    page.click("#reverse")
    drawn.wait_route("KDLH KEAU KLSE KRST")
    drawn.settle()
    assert page.input_value(hand(2, "nm")) == ""
    page.click("#undo")
    drawn.wait_route("KRST KLSE KEAU KDLH")
    drawn.settle()
    assert page.input_value(hand(2, "nm")) == "69.0"
