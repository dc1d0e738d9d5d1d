"""The planning page opened in a browser, and the hand of a pilot on it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from served import Served

FOLLOWED = 10_000
"""How long [ms] the page may take to follow before a test gives up: the machine may be busy."""
Looked = Callable[[Any], None]
"""What the fixture ``axe`` gives: it looks at a page and fails where it finds something."""
HELD_MAP = """
let leaflet;
Object.defineProperty(window, "L", {
  get: () => leaflet,
  set: (value) => {
    leaflet = value;
    value.Map.addInitHook(function () { window.theMap = this; });
  },
});
"""
"""Run before the page, it keeps hold of the map for a test."""


@dataclass
class Sheet:
    """One open page, all it asked for, and all it complained of."""

    page: Any
    served: Served
    requests: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    @property
    def route(self) -> str:
        return str(self.page.input_value("#route"))

    def open(self, address: str = "/") -> None:
        self.page.on("request", lambda request: self.requests.append(request.url))
        self.page.on("console", lambda message: self.complaints.append(message.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.goto(self.served.url + address)
        self.page.wait_for_selector("#formats li")

    def wait(self, script: str, given: Any = None) -> None:
        self.page.wait_for_function(script, arg=given, timeout=FOLLOWED)

    def wait_route(self, route: str) -> None:
        self.wait("(route) => document.getElementById('route').value === route", route)

    def wait_not(self, route: str) -> None:
        self.wait("(route) => document.getElementById('route').value !== route", route)

    def wait_legs(self, count: int) -> None:
        """Wait until so many legs are in the table, each in one row or in several parts."""
        script = """(n) => new Set([...document.querySelectorAll('#legs-table tbody tr')].map(
          (row) => parseInt(row.cells[0].textContent, 10))).size === n"""
        self.wait(script, count)

    def wait_title(self, title: str) -> None:
        self.wait("(title) => document.title.startsWith(title)", title)

    def type_route(self, text: str) -> None:
        self.page.fill("#route", text)

    def legs(self) -> list[list[str]]:
        return self.cells("#legs-table tbody tr")

    def cells(self, rows: str) -> list[list[str]]:
        script = """(rows) => [...document.querySelectorAll(rows)].map((row) =>
          [...row.cells].map((cell) => cell.textContent.trim()))"""
        return list(self.page.evaluate(script, rows))

    def middle(self, selector: str, number: int = 0) -> tuple[float, float]:
        node = self.page.locator(selector).nth(number)
        node.hover()  # waits until it stands still and nothing lies over it
        place = node.bounding_box()
        return place["x"] + place["width"] / 2, place["y"] + place["height"] / 2

    def drag(self, selector: str, number: int, across: float, down: float) -> None:
        x, y = self.middle(selector, number)
        mouse = self.page.mouse
        mouse.move(x, y)
        mouse.down()
        mouse.move(x + across, y + down, steps=12)
        mouse.up()
        self.settle()

    def settle(self) -> None:
        """Wait until every question is answered."""
        self.wait("() => document.querySelector('main').getAttribute('aria-busy') === 'false'")

    def swipe(self, selector: str, number: int, across: float, down: float) -> None:
        """The same with a finger, as a touch screen sends it."""
        x, y = self.middle(selector, number)
        hand = self.page.context.new_cdp_session(self.page)
        for kind, part in [("touchStart", 0.0), *(("touchMove", k / 10) for k in range(1, 11))]:
            points = [{"x": x + across * part, "y": y + down * part}]
            hand.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
        hand.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
        self.settle()
