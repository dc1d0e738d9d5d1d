"""One headless Chromium for all browser tests, with the network blocked, and a way to open maps.

Chromium is Debian's or whichever is on the path. Without one the tests are skipped, except where
``CI`` is set: there a missing tool is a failure.
"""

from __future__ import annotations

import importlib.util
import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NoReturn

import base_cells
import pytest
from examples import TIMES

from plotter.maps.base import CellSource, basemap_for
from plotter.maps.tiles import BARE, MapLayers
from plotter.maps.web_map import web_map
from plotter.route.plotting import Plot

NAMES = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "chrome")
"""The first is sought first: without windows of its own it does the same work in less time."""
WIDTHS = (1440, 768, 390)
"""Widths [px] from a wide screen to a telephone."""
FLAGS = (
    *("--no-sandbox", "--disable-gpu", "--in-process-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
)
# Keeps hold of the map for the tests, and notes whether any hostile text was run.
WATCH = """
window.ran = [];
for (const name of ["alert", "confirm", "prompt"]) window[name] = () => { window.ran.push(name); };
let leaflet;
Object.defineProperty(window, "L", {
  get: () => leaflet,
  set: (value) => {
    leaflet = value;
    value.Map.addInitHook(function () { window.theMap = this; });
  },
});
"""


@dataclass
class Opened:
    """A page with a map in it, and all that it asked for and complained of."""

    page: Any
    requests: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def listen(self) -> None:
        self.page.add_init_script(WATCH)
        self.page.on("request", lambda request: self.requests.append(request.url))
        self.page.on("console", lambda message: self.complaints.append(message.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("dialog", lambda dialog: dialog.dismiss())

    def ask(self, script: str, *given: Any) -> Any:
        return self.page.evaluate(script, *given)

    def settle(self) -> None:
        """Wait until what an animation or a redraw was about to do is done."""
        self.page.wait_for_function("() => !theMap._animatingZoom && !theMap._panAnim?._inProgress")
        self.ask("() => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 30)))")

    def boxes(self, selector: str) -> list[dict[str, Any]]:
        """Text and place [px] of all elements of a selector."""
        return list(
            self.ask(
                """(selector) => [...document.querySelectorAll(selector)].map((node) => {
                  const { left, top, right, bottom } = node.getBoundingClientRect();
                  return { text: node.textContent, left, top, right, bottom };
                })""",
                selector,
            )
        )


def missing(what: str) -> NoReturn:
    """Skip for want of a tool; a failure where ``CI`` is set."""
    if os.environ.get("CI"):
        pytest.fail(what)
    pytest.skip(what)


@pytest.fixture(scope="session")
def axe() -> Callable[[Any], None]:
    """``axe(page)``: axe-core finds nothing serious in the page, which fits every width.

    Axe looks at the narrowest, where most stands in the way of a finger; where more examples are
    asked for (``PLOTTER_EXAMPLES``) it looks at every width.
    """
    found = importlib.util.find_spec("axe_playwright_python")
    if found is None or found.origin is None:
        missing("axe-playwright-python is not installed")
    script = (Path(found.origin).parent / "axe.min.js").read_text(encoding="utf-8")

    def looked(page: Any) -> None:
        page.evaluate(script)
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 900})
            page.evaluate(
                "() => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 30)))"
            )
            assert page.evaluate("document.documentElement.scrollWidth") <= width
            if width == WIDTHS[-1] or TIMES > 1:
                violations = page.evaluate("axe.run().then((result) => result.violations)")
                serious = [each for each in violations if each["impact"] in ("serious", "critical")]
                assert not serious, [
                    (each["id"], [node["html"] for node in each["nodes"][:3]]) for each in serious
                ]

    return looked


def browser_path() -> str | None:
    return next(filter(None, map(shutil.which, NAMES)), None)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    path = browser_path()
    if path is None:
        missing(f"none of {', '.join(NAMES)} is on the path")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=list(FLAGS))
        yield browser
        browser.close()


Open = Callable[..., Opened]


@contextmanager
def opener(chromium: Any, folder: Path) -> Iterator[Open]:
    """A function that writes a plot's map to a file and opens it; all is closed afterwards."""
    contexts = []

    def opened(
        plot: Plot,
        *,
        width: int = 1280,
        height: int = 900,
        source: CellSource | None = None,
        sm: bool = False,
        layers: MapLayers = BARE,
        **context: Any,
    ) -> Opened:
        file = folder / f"map-{len(contexts)}.html"
        base = basemap_for(source or base_cells.prairie(), plot.route)
        file.write_text(web_map(plot, base, sm=sm, layers=layers), encoding="utf-8", newline="\n")
        made = chromium.new_context(viewport={"width": width, "height": height}, **context)
        contexts.append(made)
        result = Opened(made.new_page())
        result.listen()
        result.page.goto(file.as_uri())
        return result

    yield opened
    for made in contexts:
        made.close()


@pytest.fixture
def open_map(chromium: Any, tmp_path: Path) -> Iterator[Open]:
    """``open_map(plot, width=…, source=…, …)``: a page of its own for each call."""
    with opener(chromium, tmp_path) as opened:
        yield opened


@pytest.fixture(scope="module")
def open_once(chromium: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Open]:
    """The same for pages that several tests of a module only look at."""
    with opener(chromium, tmp_path_factory.mktemp("maps")) as opened:
        yield opened


@pytest.fixture
def open_sheet(chromium: Any, page: Any) -> Iterator[Callable[..., Any]]:
    """``open_sheet(address, width=…, …)``: the planning page in a context of its own."""
    from planning import Sheet

    contexts = []

    def opened(
        address: str = "/", *, width: int = 1280, height: int = 900, served: Any = None, **more: Any
    ) -> Sheet:
        made = chromium.new_context(viewport={"width": width, "height": height}, **more)
        contexts.append(made)
        sheet = Sheet(made.new_page(), served or page)
        sheet.open(address)
        return sheet

    yield opened
    for made in contexts:
        made.close()
