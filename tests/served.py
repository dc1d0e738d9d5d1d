"""The planning page really served, over a socket of this machine, for tests to ask."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import httpx
import uvicorn

from plotter.datastore.opening import open_store
from plotter.maps.tiles import Tiles
from plotter.web import serving
from plotter.web.app import make_app
from plotter.web.guard import TOKEN_HEADER, Guarding

COMMAND = [sys.executable, "-m", "plotter", "serve"]
DAY = "2026-07-04"
ROUTE = {"route": "KRST KLSE KEAU KDLH", "date": DAY}


@dataclass(frozen=True)
class Served:
    """A page that answers: its address, its token, and a client that is allowed to ask it."""

    url: str
    token: str
    client: httpx.Client

    def post(self, path: str, body: object) -> httpx.Response:
        return self.client.post(path, json=body)

    def get(self, path: str, **query: Any) -> httpx.Response:
        return self.client.get(path, params=query)


@contextmanager
def serving_page(longest_s: float = 15.0, tiles: str = "", port: int = 0) -> Iterator[Served]:
    """Serve the page, at a free port unless one is given, in a thread, until the block is left."""
    with open_store() as store:
        store.prove()  # as the command does, so that no answer waits for it
    listening = serving.listen(serving.LOOPBACK, port)
    port = listening.getsockname()[1]
    asked = Tiles(tiles, "Demo tiles") if tiles else None
    own = Guarding.of(["127.0.0.1", "localhost"], port, asked.origin if asked else "")
    guarding = Guarding(own.hosts, own.token, own.tiles_origin, longest_s)
    server = uvicorn.Server(serving.configured(make_app(open_store, guarding, asked)))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
    thread.start()
    url = f"http://127.0.0.1:{port}"
    try:
        with httpx.Client(
            base_url=url, headers={TOKEN_HEADER: guarding.token}, timeout=60
        ) as client:
            yield Served(url, guarding.token, client)
    finally:
        server.should_exit = True
        thread.join()
        listening.close()


@contextmanager
def started(
    *options: str, command: Sequence[str] = COMMAND
) -> Iterator[tuple[subprocess.Popen[str], str, str]]:
    """The command as it is run, the address of its page, and all it said before."""
    process = subprocess.Popen(
        [*command, *options],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )
    assert process.stdout is not None
    said = ""
    try:
        for line in process.stdout:
            said += line
            found = re.search(r"http://\S+/", line)
            if found:
                break
        assert found, said
        yield process, found[0], said
    finally:
        process.kill()
        process.communicate()
