"""The page with others beside it: a second tab, a program that is killed, late answers."""

from __future__ import annotations

import json
import os
import signal
import time
from pathlib import Path
from typing import Any

import pytest
from planning import Sheet
from served import DAY, Served, serving_page, started

from plotter.flight.plan.starter import starter

pytestmark = pytest.mark.browser

ROUTE = "KRST KLSE KEAU"
OPEN = f"/#flight.route={ROUTE.replace(' ', '+')}&flight.date={DAY}"
TEXT = starter("Demo, invented").replace("format = 1", "# a note of mine\nformat = 1", 1)


def plan_file(folder: Path, route: str) -> Path:
    path = folder / f"{route.split()[-1]}.toml"
    path.write_text(TEXT.replace("KRST KLSE KEAU KDLH", route), encoding="utf-8")
    return path


@pytest.fixture
def tabs(chromium: Any) -> Any:
    """Two tabs of one browser, which share what it keeps."""
    context = chromium.new_context(viewport={"width": 1000, "height": 800})
    with serving_page() as served:
        yield [Sheet(context.new_page(), served) for _ in range(2)]
        context.close()


def test_two_tabs_keep_their_own_plans(tabs: list[Sheet], tmp_path: Path) -> None:
    """Each its route and its file; a change in one takes nothing from the other."""
    one, other = tabs
    one.open("/#flight.route=")
    one.page.set_input_files("#file", plan_file(tmp_path, "KRST KLSE KEAU"))
    one.wait_legs(2)
    other.open("/#flight.route=KDLH+KEAU")
    other.wait_legs(1)
    other.type_route("KDLH KEAU KLSE")
    other.wait_legs(2)
    one.page.click("#reverse")
    one.wait_route("KEAU KLSE KRST")
    assert other.route == "KDLH KEAU KLSE"
    other.page.reload()
    other.wait_route("KDLH KEAU KLSE")
    one.page.reload()
    one.wait_route("KEAU KLSE KRST")
    with one.page.expect_download() as waiting:
        one.page.click("#save")
    saved = Path(waiting.value.path()).read_text(encoding="utf-8")
    assert "# a note of mine" in saved
    assert waiting.value.suggested_filename == "KEAU.toml"
    for sheet in tabs:
        assert sheet.complaints == []


def test_the_page_goes_on_after_the_program_was_killed(open_sheet: Any, real_store: Any) -> None:
    """Killed outright, not stopped; started again at its port it has another token."""
    with started("--port", "0") as (process, address, _):
        port = address.strip("/").rpartition(":")[2]
        sheet = open_sheet(OPEN, served=Served(address.strip("/"), "", None))  # type: ignore[arg-type]
        sheet.wait_legs(2)
        os.kill(process.pid, signal.SIGKILL)
        process.wait()
    sheet.page.click("#reverse")
    sheet.wait("() => document.getElementById('told-away').textContent.includes('plotter serve')")
    sheet.type_route("KRST KLSE KEAU KDLH")
    with started("--port", port):
        sheet.page.fill("#every", "20")
        sheet.wait_legs(3)
        sheet.wait("() => document.getElementById('told-away').textContent === ''")
        with sheet.page.expect_download() as waiting:
            sheet.page.locator("#formats button").nth(1).click()
        assert waiting.value.suggested_filename.startswith("KRST-KDLH")
        sheet.page.reload()
        sheet.wait_legs(3)
        assert sheet.page.input_value("#every") == "20"


class Slowly:
    """Answers held back for a moment, with what was asked and how many were under way."""

    def __init__(self, sheet: Sheet) -> None:
        self.asked: list[dict[str, Any]] = []
        self.under_way = self.most = 0
        sheet.page.on("requestfinished", self.ended)
        sheet.page.route("**/api/sheet", self.held)

    def held(self, route: Any) -> None:
        self.asked.append(json.loads(route.request.post_data))
        self.under_way += 1
        self.most = max(self.most, self.under_way)
        time.sleep(0.1)
        route.continue_()

    def ended(self, request: Any) -> None:
        self.under_way -= request.url.endswith("/api/sheet")


def test_of_a_long_drag_one_is_asked_at_a_time_and_the_last_wins(open_sheet: Any) -> None:
    sheet = open_sheet(OPEN)
    sheet.wait_legs(2)
    slowly = Slowly(sheet)
    x, y = sheet.middle(".handle:not(.middle)", 1)
    mouse = sheet.page.mouse
    mouse.move(x, y)
    mouse.down()
    for step in range(1, 61):
        mouse.move(x + 2 * step, y - step)
    mouse.up()
    sheet.wait_not(ROUTE)
    sheet.settle()
    assert slowly.most == 1
    assert 2 <= len(slowly.asked) < 60, "those between are passed over"
    put = [each["edit"] for each in slowly.asked if each.get("edit")]
    body = {"route": ROUTE, "date": DAY, "edit": put[-1]}
    assert sheet.served.post("/api/sheet", body).json()["route"] == sheet.route
    final = sheet.served.post("/api/sheet", {"route": sheet.route, "date": DAY}).json()
    shown = [[row["head"], *row["cells"]] for row in final["sheet"]["legs"]["rows"]]
    assert sheet.legs() == shown
    assert sheet.page.locator("#undo").is_enabled()
    sheet.page.keyboard.press("Control+z")
    sheet.wait_route(ROUTE)
