"""What is done before the first answer, so that nobody waits for it."""

from __future__ import annotations

import asyncio
import gc
import re
import socket
from pathlib import Path

import pytest

from plotter.datastore.opening import open_store
from plotter.places.store import Store
from plotter.web import serving
from plotter.web.assets import OWN_MODULES, assets, page
from plotter.web.serving import get_ready


def test_an_answer_does_not_wait_for_the_receipt_of_its_headers() -> None:
    """Without TCP_NODELAY on what is accepted, each answer takes 40 ms more."""
    assert asyncio.run(_delays()) == 0


async def _delays() -> int:
    """How small packets wait on a connection that the page's socket accepted."""
    found: asyncio.Future[int] = asyncio.get_running_loop().create_future()

    def accepted(_reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        own = writer.get_extra_info("socket")
        found.set_result(int(not own.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)))
        writer.close()

    listening = serving.listen(serving.LOOPBACK, 0)
    async with await asyncio.start_server(accepted, sock=listening):
        _, writer = await asyncio.open_connection(*listening.getsockname())
        delays = await found
        writer.close()
    return delays


def test_every_module_is_asked_for_at_once() -> None:
    document = page("token")
    named = set(re.findall(r'rel="modulepreload" href="/page/([^"]+)"', document))
    assert named == {name for name in assets() if name.endswith(".js")} - {"leaflet.js"}
    assert "&lt;link" not in document
    assert {f"{name}.js" for name in OWN_MODULES} < named


def test_what_is_loaded_is_spared_the_collector(real_store: Store) -> None:
    try:
        get_ready(real_store)
        assert gc.get_freeze_count() > 10_000
    finally:
        gc.unfreeze()


def test_data_that_cannot_be_read_stops_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    with open_store(cache=tmp_path) as store:
        monkeypatch.setattr(store, "by_code", lambda code: ())
        get_ready(store)
    assert capsys.readouterr().err == ""
