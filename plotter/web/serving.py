"""Listening on this machine, and stopping soon however busy a request is."""

from __future__ import annotations

import gc
import ipaddress
import logging
import os
import socket
import threading
from collections.abc import Callable
from types import FrameType

import uvicorn
from starlette.types import ASGIApp

from plotter.errors import CannotDo, InputError, PlotterError
from plotter.flight.plan.lines import parsed
from plotter.flight.plan.starter import starter
from plotter.maps.base import base_in_view, world_base
from plotter.maps.view import View
from plotter.places.store import Store
from plotter.web.connections import BATCH, FewMessages, connection_class
from plotter.web.requests import AskedSheet
from plotter.web.sheets import sheet_document

# What the first answer would wait for, done while the browser opens.

ROUTE, ROUND = "KRST KLSE", View(42.0, -95.0, 46.0, -90.0)


def get_ready(store: Store) -> None:
    """Answer once what a page asks first, and spare what then stands in memory the collector.

    An invented flight loads every module that a sheet needs. What is loaded by then stays until
    the end; searching it for garbage again and again would hold up one answer in fifty by 50 ms.
    """
    try:
        sheet_document(
            AskedSheet(route=ROUTE, plan=parsed(starter("Demo, invented"), "plan")), store
        )
        world_base(store).as_json()
        base_in_view(store, ROUND).as_json()
    except PlotterError:
        return  # whoever asks first is told
    gc.collect()
    gc.freeze()


LOOPBACK = "127.0.0.1"
BACKLOG = 256
"""Connections that may wait to be accepted."""
GRACE_S = 2
"""How long a request may finish once the pilot stopped the page."""
LAST_S = 4.0
"""When a request that nothing can interrupt is left behind."""


def listen(host: str, port: int) -> socket.socket:
    """A socket that listens on an address of this machine; port 0 is any that is free.

    Raises InputError for what is no address, and CannotDo for one that is taken.
    """
    address = _address(host)
    family = socket.AF_INET6 if address.version == 6 else socket.AF_INET
    # The protocol is named, for asyncio turns off the waiting of small packets (TCP_NODELAY) only
    # where it is: an answer's body would otherwise wait 40 ms for the receipt of its headers.
    opened = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        if os.name == "posix":
            opened.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        opened.bind((host, port))
        opened.listen(BACKLOG)
    except OSError as fault:
        opened.close()
        reason = os.strerror(fault.errno or 0)
        raise CannotDo("port", host=host, port=port, reason=reason) from fault
    return opened


def is_loopback(host: str) -> bool:
    """Whether only this machine can reach an address.

    >>> is_loopback("127.0.0.1"), is_loopback("192.0.2.7")
    (True, False)
    """
    return _address(host).is_loopback


def names_of(host: str) -> list[str]:
    """The names a browser may give for a page at an address.

    >>> names_of("127.0.0.1"), names_of("::1")
    (['127.0.0.1', 'localhost'], ['[::1]', 'localhost'])
    """
    address = _address(host)
    name = f"[{address}]" if address.version == 6 else str(address)
    return [name, "localhost"] if address.is_loopback else [name]


def _address(host: str) -> ipaddress.IPv4Address | ipaddress.IPv6Address:
    try:
        address = ipaddress.ip_address(host)
    except ValueError:
        raise InputError("host", host=host, example=LOOPBACK) from None
    if address.is_unspecified:
        raise InputError("host.every", host=host)
    return address


class _Server(uvicorn.Server):
    """A server that is quiet while it stops, and that stops in the end."""

    def __init__(self, config: uvicorn.Config, give_up: Callable[[], None]) -> None:
        super().__init__(config)
        self._give_up = give_up

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Start, then let more connections wait than are accepted together."""
        await super().startup(sockets)
        for each in sockets or ():
            each.listen(BACKLOG)

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Stop; what still runs after some seconds is left behind."""
        logging.getLogger("uvicorn.error").disabled = True
        super().handle_exit(sig, frame)
        last = threading.Timer(LAST_S, self._give_up)
        last.daemon = True
        last.start()


def serve(app: ASGIApp, listening: socket.socket, give_up: Callable[[], None]) -> None:
    """Answer until Ctrl-C, which comes back as KeyboardInterrupt.

    ``give_up`` is called where a request still runs :data:`LAST_S` [s] after that.
    """
    logging.getLogger("asyncio").addFilter(FewMessages())
    _Server(configured(app), give_up).run(sockets=[listening])


def configured(app: ASGIApp) -> uvicorn.Config:
    """The server's settings: plain HTTP, nothing logged, nothing said of itself."""
    return uvicorn.Config(
        app,
        http=connection_class(),
        backlog=BATCH,
        ws="none",
        log_config=None,
        log_level=logging.CRITICAL,
        access_log=False,
        server_header=False,
        timeout_graceful_shutdown=GRACE_S,
    )
