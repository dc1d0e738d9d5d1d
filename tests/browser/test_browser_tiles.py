"""Online tiles in a browser: fetched from their server where asked for, gone when switched off."""

from __future__ import annotations

import base64
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

import plots
import pytest

from plotter.maps.tiles import MapLayers, Tiles

pytestmark = pytest.mark.browser

# A grey picture of one pixel (PNG).
PIXEL = base64.b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg=="
)
HOSTILE = "© <img src=x onerror=ran.push(1)> `${ran.push(2)}`"


@pytest.fixture
def server() -> Iterator[tuple[str, list[str]]]:
    """A server of tiles on this machine, and the paths it was asked for."""
    asked: list[str] = []

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            asked.append(self.path)
            self.send_response(200)
            self.send_header("Content-Type", "image/png")
            self.send_header("Content-Length", str(len(PIXEL)))
            self.end_headers()
            self.wfile.write(PIXEL)

        def log_message(self, *_: object) -> None:
            """Say nothing."""

    served = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    threading.Thread(target=served.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{served.server_port}", asked
    served.shutdown()
    served.server_close()


def test_tiles_come_from_their_server_and_go_with_their_switch(
    open_map: Any, server: tuple[str, list[str]]
) -> None:
    origin, asked = server
    layers = MapLayers(tiles=Tiles(origin + "/{z}/{x}/{y}.png", HOSTILE))
    opened = open_map(plots.short(), layers=layers)
    opened.page.wait_for_selector("img.leaflet-tile-loaded")
    assert asked
    assert all(path.endswith(".png") for path in asked)
    outside = [url for url in opened.requests if not url.startswith(("file:", "data:", origin))]
    assert outside == []
    assert opened.page.locator(".tiles-credit").text_content() == HOSTILE
    opened.page.locator('#layers input[value="tiles"]').uncheck()
    assert opened.page.locator("img.leaflet-tile").count() == 0
    assert opened.page.locator(".tiles-credit").count() == 0
    assert opened.ask("window.ran") == []
    assert opened.complaints == []


def test_where_no_tile_comes_the_offline_map_is_still_there(open_map: Any) -> None:
    layers = MapLayers(tiles=Tiles("https://tiles.example/{z}/{x}/{y}.png", "Example"))
    opened = open_map(plots.short(), layers=layers)
    opened.settle()
    assert opened.page.locator("path.base.land").count() > 0
    assert opened.page.locator("#map_route path.ink").count() > 0
    assert "tiles.example" in opened.page.locator("#tiles-note").text_content()
