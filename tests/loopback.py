"""A server on this machine that hands out files and misbehaves as it is told to."""

from __future__ import annotations

import hashlib
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

MODIFIED = "Sat, 22 Aug 2026 05:00:00 GMT"


@dataclass
class Server:
    """What is handed out under which path, what is done instead, and what was asked."""

    base: str = ""
    files: dict[str, bytes] = field(default_factory=dict)
    tricks: dict[str, list[Callable[[Handler, bytes], None]]] = field(default_factory=dict)
    asked: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    modified: str = MODIFIED

    def put(self, path: str, content: bytes, *tricks: Callable[[Handler, bytes], None]) -> str:
        """Hand out a file, the first times by these tricks; gives its address."""
        self.files[path] = content
        self.tricks[path] = list(tricks)
        return f"{self.base}/{path}"


class Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    state: Server

    def do_GET(self) -> None:
        path = self.path.lstrip("/")
        self.state.asked.append((path, {k.lower(): v for k, v in self.headers.items()}))
        if path not in self.state.files:
            self.send_error(404)
            return
        content = self.state.files[path]
        tricks = self.state.tricks[path]
        trick = tricks.pop(0) if tricks else honest
        with suppress(ConnectionError):
            trick(self, content)

    def head(self, status: int, headers: dict[str, str]) -> None:
        self.send_response(status)
        for name, value in headers.items():
            self.send_header(name, value)
        self.end_headers()

    def log_message(self, format: str, *args: Any) -> None:
        """Nobody reads it."""


def tag(content: bytes) -> str:
    return f'"{hashlib.sha256(content).hexdigest()[:12]}"'


def about(handler: Handler, content: bytes) -> dict[str, str]:
    return {
        "Content-Type": "text/csv",
        "ETag": tag(content),
        "Last-Modified": handler.state.modified,
        "Content-Length": str(len(content)),
    }


def honest(handler: Handler, content: bytes) -> None:
    """RFC 9110: whole, the rest of it, or "the same as you have"."""
    headers = about(handler, content)
    if handler.headers.get("If-None-Match") == headers["ETag"]:
        handler.head(304, {"ETag": headers["ETag"], "Content-Length": "0"})
        return
    wanted = handler.headers.get("Range", "")
    if wanted and handler.headers.get("If-Range") in (headers["ETag"], headers["Last-Modified"]):
        start = int(wanted.removeprefix("bytes=").removesuffix("-"))
        rest = content[start:]
        headers |= {
            "Content-Length": str(len(rest)),
            "Content-Range": f"bytes {start}-{len(content) - 1}/{len(content)}",
        }
        handler.head(206, headers)
        handler.wfile.write(rest)
        return
    handler.head(200, headers)
    handler.wfile.write(content)


def sending(
    status: int = 200, cut: float = 1.0, body: bytes | None = None, **changed: str | None
) -> Callable[[Handler, bytes], None]:
    """A reply with some of its headers changed (``None``: left out) and a part of its body."""

    def trick(handler: Handler, content: bytes) -> None:
        sent = content if body is None else body
        headers = about(handler, sent)
        for given, value in changed.items():
            name = given.replace("_", "-")
            headers = {k: v for k, v in headers.items() if k.lower() != name.lower()}
            if value is not None:
                headers[name] = value
        handler.head(status, headers)
        handler.wfile.write(sent[: int(cut * len(sent))])
        handler.close_connection = True

    return trick


def in_chunks(end: bytes = b"0\r\n\r\n", cut: float = 1.0) -> Callable[[Handler, bytes], None]:
    """Without a length, in chunks; without an ``end`` it breaks off unseen."""

    def trick(handler: Handler, content: bytes) -> None:
        part = content[: int(cut * len(content))]
        handler.head(200, {"Transfer-Encoding": "chunked", "ETag": tag(content)})
        handler.wfile.write(f"{len(part):x}\r\n".encode() + part + b"\r\n" + end)
        handler.close_connection = True

    return trick


def to(address: str) -> Callable[[Handler, bytes], None]:
    """A redirect."""
    return lambda handler, _: handler.head(302, {"Location": address, "Content-Length": "0"})


def drip_head(handler: Handler, _: bytes) -> None:
    """A head that never ends, a little at a time."""
    handler.wfile.write(b"HTTP/1.1 200 OK\r\n")
    _drip(handler, lambda n: f"X-{n}: wait\r\n".encode())


def drip_body(handler: Handler, content: bytes) -> None:
    """A body that never ends, a byte at a time."""
    handler.head(200, about(handler, content) | {"Content-Length": "1000000"})
    _drip(handler, lambda _: b"a")


def _drip(handler: Handler, what: Callable[[int], bytes]) -> None:
    for number in range(200):
        handler.wfile.write(what(number))
        time.sleep(0.05)
    handler.close_connection = True


@contextmanager
def loopback() -> Iterator[Server]:
    state = Server()
    bound = type("Bound", (Handler,), {"state": state})
    server = ThreadingHTTPServer(("127.0.0.1", 0), bound)
    server.daemon_threads = True
    state.base = f"http://127.0.0.1:{server.server_port}"
    thread = threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True)
    thread.start()
    try:
        yield state
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
