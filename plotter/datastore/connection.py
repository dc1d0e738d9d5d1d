"""The one place that opens a network connection: by urllib, with nothing taken on trust.

A redirect may lead to another path of the same server, never to another server or away from
https. A server may be slow, but no answer takes longer than was agreed, its head included.
"""

from __future__ import annotations

import http.client
import socket
import threading
import urllib.request
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from http.client import HTTPMessage
from typing import IO, cast
from urllib.error import HTTPError
from urllib.parse import urlsplit

from plotter.datastore.addresses import LOOPBACK
from plotter.errors import RefreshFault

AGENT = "plotter (a planning aid; fetches open tables when asked to)"


def printable(text: str) -> str:
    """What a server said, fit for a terminal: one short line without control characters.

    >>> printable("Not\\x1b[2J Found\\nat all")
    'Not [2J Found at all'
    """
    plain = "".join(letter if letter.isprintable() else " " for letter in text)
    return " ".join(plain[:100].split())


class Elsewhere(RefreshFault):
    """A server that sends the asker to another server."""


class _SameServer(urllib.request.HTTPRedirectHandler):
    max_redirections = 5

    def redirect_request(  # noqa: PLR0917 - the signature is urllib's
        self,
        req: urllib.request.Request,
        fp: IO[bytes],
        code: int,
        msg: str,
        headers: HTTPMessage,
        newurl: str,
    ) -> urllib.request.Request | None:
        """Follow within the same scheme, host and port; raise Elsewhere otherwise."""
        old, new = urlsplit(req.full_url), urlsplit(newurl)
        if (old.scheme, old.netloc.lower()) != (new.scheme, new.netloc.lower()):
            fp.close()
            raise Elsewhere(f"the server sends us to another one ({printable(newurl)})")
        return super().redirect_request(req, fp, code, msg, headers, newurl)


class Watch:
    """Closes every connection of one answer when its time is over."""

    def __init__(self, seconds: float) -> None:
        self.rang = False
        self._sockets: list[socket.socket] = []
        self._timer = threading.Timer(seconds, self._ring)
        self._timer.daemon = True

    def _ring(self) -> None:
        self.rang = True
        for each in self._sockets:
            with suppress(OSError):
                each.shutdown(socket.SHUT_RDWR)

    def opened(self, connection: socket.socket) -> None:
        """Take note of a connection."""
        self._sockets.append(connection)

    def __enter__(self) -> Watch:
        self._timer.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._timer.cancel()
        for each in self._sockets:
            each.close()


class _PlainConnection(http.client.HTTPConnection):
    watch: Watch

    def connect(self) -> None:
        super().connect()
        self.watch.opened(self.sock)


class _SecureConnection(http.client.HTTPSConnection):
    watch: Watch

    def connect(self) -> None:
        super().connect()
        self.watch.opened(self.sock)


def _maker(
    kind: type[_PlainConnection | _SecureConnection], watch: Watch
) -> Callable[..., http.client.HTTPConnection]:
    """Makes connections that tell the watch when they have connected."""

    def made(host: str, timeout: float) -> http.client.HTTPConnection:
        connection = kind(host, timeout=timeout)
        connection.watch = watch
        return connection

    return made


class _Plain(urllib.request.HTTPHandler):
    def __init__(self, watch: Watch) -> None:
        super().__init__()
        self._made = _maker(_PlainConnection, watch)

    def http_open(self, req: urllib.request.Request) -> http.client.HTTPResponse:
        return self.do_open(self._made, req)


class _Secure(urllib.request.HTTPSHandler):
    def __init__(self, watch: Watch) -> None:
        super().__init__()
        self._made = _maker(_SecureConnection, watch)

    def https_open(self, req: urllib.request.Request) -> http.client.HTTPResponse:
        return self.do_open(self._made, req)


@contextmanager
def answer(
    address: str, headers: Mapping[str, str], watch: Watch, silence_s: float
) -> Iterator[http.client.HTTPResponse]:
    """The answer to a GET, whatever its status; ``silence_s`` [s] without a byte end it.

    Raises Elsewhere for a redirect to another server, and what urllib raises.
    """
    proxies: dict[str, str] | None = {} if urlsplit(address).hostname in LOOPBACK else None
    opener = urllib.request.OpenerDirector()
    for handler in (
        urllib.request.ProxyHandler(proxies),
        _Plain(watch),
        _Secure(watch),
        _SameServer(),
        urllib.request.HTTPDefaultErrorHandler(),
        urllib.request.HTTPErrorProcessor(),
    ):
        opener.add_handler(handler)
    asked = {"User-Agent": AGENT, "Accept-Encoding": "identity", **headers}
    request = urllib.request.Request(address, headers=asked)
    try:
        response = opener.open(request, timeout=silence_s)
    except HTTPError as fault:
        response = cast(http.client.HTTPResponse, fault)
    with response:
        yield response
