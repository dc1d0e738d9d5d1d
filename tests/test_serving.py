"""``plotter serve`` as it is run: starting, refusing to start, stopping."""

from __future__ import annotations

import logging
import os
import signal
import socket
import subprocess
import sys
import time
from contextlib import ExitStack
from pathlib import Path

import httpx
import pytest
from click.testing import CliRunner
from served import serving_page, started

from plotter.cli.main import plotter, run
from plotter.errors import CannotDo, InputError
from plotter.places.store import Store
from plotter.web import connections, serving
from plotter.wording import STANDING_SHORT


def stopped(process: subprocess.Popen[str]) -> tuple[float, str]:
    """How long it took to stop after Ctrl-C [s], and what it said then."""
    start = time.monotonic()
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=60)
    return time.monotonic() - start, out + err


pytestmark = pytest.mark.usefixtures("real_store")


def test_any_free_port_the_cautions_and_a_clean_stop() -> None:
    with started("--port", "0") as (process, address, said):
        for words in STANDING_SHORT:
            assert words in said
        assert httpx.get(address).status_code == 200
        took, last = stopped(process)
        assert process.returncode == 130
        assert took < 5
        assert "Traceback" not in last


@pytest.mark.slow
def test_it_stops_while_requests_hang() -> None:
    """Twenty of which half a body was sent, twenty of half a head, twenty that say nothing."""
    with started("--port", "0") as (process, address, _), ExitStack() as hanging:
        token = httpx.get(f"{address}api/session").json()["token"]
        host, _, port = address.removeprefix("http://").strip("/").partition(":")
        head = (
            f"POST /api/plot HTTP/1.1\r\nHost: {host}:{port}\r\nX-Plotter-Token: {token}\r\n"
            "Content-Type: application/json\r\nContent-Length: 50\r\n"
        )
        for sent in [f"{head}\r\n{{", head, ""] * 20:
            slow = socket.create_connection((host, int(port)))
            hanging.enter_context(slow).sendall(sent.encode())
        assert httpx.get(address).status_code == 200
        took, last = stopped(process)
    assert took < 5
    assert process.returncode == 130
    assert "Traceback" not in last
    assert "Cancelled" not in last


STUCK = """
import os, sys, threading, time
from plotter.web import serving
listening = serving.listen("127.0.0.1", 0)
async def app(scope, receive, send):
    if scope["type"] == "lifespan":
        while True:
            message = await receive()
            await send({"type": message["type"] + ".complete"})
            if message["type"] == "lifespan.shutdown":
                return
    from anyio.to_thread import run_sync
    print("stuck", flush=True)
    await run_sync(time.sleep, 60)
print(listening.getsockname()[1], flush=True)
def leave():
    print("left", flush=True)
    os._exit(130)
try:
    serving.serve(app, listening, leave)
except KeyboardInterrupt:
    pass
"""


@pytest.mark.slow
def test_it_stops_while_a_thread_that_nothing_can_interrupt_is_at_work() -> None:
    process = subprocess.Popen(
        [sys.executable, "-c", STUCK], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    port = int(process.stdout.readline())
    with socket.create_connection(("127.0.0.1", port)) as asking:
        asking.sendall(b"GET / HTTP/1.1\r\nHost: x\r\n\r\n")
        assert process.stdout.readline() == "stuck\n"
        took, last = stopped(process)
    assert took < 5
    assert process.returncode == 130
    assert "Traceback" not in last


def test_a_port_that_is_taken_is_answered_with_what_to_type(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        assert run(["serve", "--port", str(port)]) == 1
    assert "--port 0" in capsys.readouterr().err
    with pytest.raises(CannotDo), socket.create_server(("127.0.0.1", 0)) as taken:
        serving.listen("127.0.0.1", taken.getsockname()[1])


@pytest.mark.parametrize("host", ["example.com", "0.0.0.0", "::", "127.0.0.1/8", ""])
def test_what_is_no_address_of_one_machine_is_refused(host: str) -> None:
    with pytest.raises(InputError):
        serving.listen(host, 0)
    assert run(["serve", "--host", host]) == 2


@pytest.mark.parametrize("address", ["tiles", "https://x/{z}/{x}.png", "https://a b/{z}{x}{y}"])
def test_tiles_that_cannot_be_are_refused(address: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["serve", "--tiles", address]) == 2
    assert "{z}" in capsys.readouterr().err


def test_another_address_is_cautioned(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(serving, "listen", lambda host, port: socket.create_server(("", 0)))
    monkeypatch.setattr(serving, "serve", lambda app, listening, leave: listening.close())
    done = CliRunner().invoke(plotter, ["serve", "--host", "192.0.2.7"])
    assert "CAUTION" in done.stderr
    assert "192.0.2.7" in done.stderr
    alone = CliRunner().invoke(plotter, ["serve"])
    assert "CAUTION" not in alone.output


def test_open_opens_the_browser_at_the_page(monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[str] = []
    monkeypatch.setattr("click.launch", opened.append)
    monkeypatch.setattr(serving, "serve", lambda app, listening, leave: listening.close())
    done = CliRunner().invoke(plotter, ["serve", "--port", "0", "--open"])
    assert done.exit_code == 0
    assert opened
    assert opened[0] in done.output


def test_nothing_of_the_server_is_loaded_by_the_other_commands(real_store: Store) -> None:
    code = (
        "import sys; from plotter.cli.main import run; run(['plot', 'KRST', 'KONA', '--as', 'none',"
        " '--date', '2026-07-04']); sys.exit(any(m in sys.modules for m in "
        "('fastapi', 'uvicorn', 'pydantic', 'starlette')))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_a_wheel_carries_the_files_of_the_page() -> None:
    from plotter.web.assets import FOLDER, OWN_MODULES

    there = {path.name for path in Path(FOLDER).iterdir()}
    assert there == {f"{name}.js" for name in OWN_MODULES} | {"page.html", "page.css", "guide.css"}


def connected(address: str, count: int, sent: bytes) -> ExitStack:
    """That many connections that have sent this much."""
    host, _, port = address.removeprefix("http://").strip("/").partition(":")
    hanging = ExitStack()
    for _ in range(count):
        slow = socket.create_connection((host, int(port)))
        hanging.enter_context(slow).sendall(sent)
    return hanging


@pytest.mark.skipif(os.name == "nt", reason="no limit of open files there")
def test_connections_without_a_whole_request_neither_block_it_nor_fill_its_log() -> None:
    """Three hundred, with no more than 256 open files allowed."""
    code = (
        "import resource, runpy, sys;"
        "hard = resource.getrlimit(resource.RLIMIT_NOFILE)[1];"
        "resource.setrlimit(resource.RLIMIT_NOFILE, (256, hard));"
        "sys.argv = ['plotter', 'serve', '--port', '0'];"
        "runpy.run_module('plotter', run_name='__main__')"
    )
    with (
        started(command=[sys.executable, "-c", code]) as (process, address, _),
        connected(address, 300, b"GET / HTTP/1.1\r\nHost: x\r\n"),
    ):
        for _ in range(3):
            assert httpx.get(address, timeout=5).status_code == 200
        took, last = stopped(process)
    assert took < 5
    assert len(last) < 1000


def still_open(connection: socket.socket) -> bool:
    """Whether the other side has not closed, as far as can be seen in a tenth of a second."""
    try:
        return connection.recv(1) != b""
    except TimeoutError:
        return True
    except ConnectionError:
        return False


def test_a_head_that_does_not_end_is_cut_off_however_slowly_it_grows(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(connections.ImpatientConnection, "head_s", 0.5)
    with serving_page() as served, connected(served.url, 1, b"GET / HTTP/1.1\r\n") as hanging:
        slow = socket.create_connection(("127.0.0.1", int(served.url.rpartition(":")[2])))
        hanging.enter_context(slow).settimeout(0.1)
        start = time.monotonic()
        while still_open(slow) and time.monotonic() - start < 10:
            slow.sendall(b"x")
        assert 0.3 < time.monotonic() - start < 4
        assert served.get("/api/session").status_code == 200


def test_a_connection_kept_open_between_requests_lives_on(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connections.ImpatientConnection, "head_s", 0.5)
    with serving_page() as served:
        for _ in range(3):
            assert served.get("/api/session").status_code == 200
            time.sleep(0.7)


def test_only_the_first_messages_of_the_event_loop_are_printed() -> None:
    few, record = connections.FewMessages(2), logging.LogRecord("x", 40, "", 1, "", None, None)
    assert [few.filter(record) for _ in range(4)] == [True, True, False, False]
