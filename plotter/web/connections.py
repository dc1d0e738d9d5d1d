"""Connections that say nothing do not keep the page from the pilot.

Any program on the machine can connect. One that sends no whole request head in time is closed,
and where there are too many the one that has been silent longest makes room, so that the page
always answers and never runs out of file descriptors.
"""

from __future__ import annotations

import asyncio
import logging

from uvicorn.protocols.http.h11_impl import H11Protocol

HEAD_S = 10.0
"""How long the head of a request may take [s]; a browser sends it at once."""
MOST = 600
"""Connections at once; a browser opens six."""
BATCH = 32
"""Connections accepted in one turn of the event loop."""
TURNS = 4
"""Turns after which a connection is known to be one too many, and closed."""
SPARE = 64
"""File descriptors left for the store, its layers and the files of the program."""
FEWEST = 16
MOST_MESSAGES = 20
"""Messages of the event loop printed in one run: each accept that fails would print another."""


class ImpatientConnection(H11Protocol):
    """A connection that must send a whole request head in time."""

    head_s = HEAD_S
    most = MOST
    deadline: asyncio.TimerHandle | None = None
    silent_since = 0.0

    @property
    def at_work(self) -> bool:
        """Whether a request is being answered."""
        return self.cycle is not None and not self.cycle.response_complete

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin to wait; make room where there are too many."""
        super().connection_made(transport)
        self._wait()
        self._make_room()

    def data_received(self, data: bytes) -> None:
        """Take what came; the deadline stays where the head is still incomplete."""
        super().data_received(data)
        if self.at_work:
            self._stop_waiting()
        elif self.deadline is None:
            self._wait()

    def connection_lost(self, exc: Exception | None) -> None:
        """Stop waiting."""
        self._stop_waiting()
        super().connection_lost(exc)

    def _wait(self) -> None:
        self.silent_since = self.loop.time()
        self.deadline = self.loop.call_later(self.head_s, self._too_late)

    def _stop_waiting(self) -> None:
        if self.deadline is not None:
            self.deadline.cancel()
            self.deadline = None

    def _too_late(self) -> None:
        self.deadline = None
        if not self.at_work:
            self.transport.abort()

    def _make_room(self) -> None:
        live = [
            each
            for each in self.connections
            if isinstance(each, ImpatientConnection) and not each.transport.is_closing()
        ]
        if len(live) > self.most:
            silent = (each for each in live if not each.at_work)
            min(silent, key=lambda each: each.silent_since).transport.abort()


def connection_class() -> type[ImpatientConnection]:
    """The connections of this process, as many as its file descriptors allow."""
    return type("Connection", (ImpatientConnection,), {"most": most_connections()})


def most_connections() -> int:
    """How many connections are held at once, below the limit of open files where there is one."""
    try:
        import resource
    except ImportError:  # not on Windows, which has no such limit
        return MOST
    soft, _ = resource.getrlimit(resource.RLIMIT_NOFILE)
    if soft == resource.RLIM_INFINITY:
        return MOST
    return max(FEWEST, min(MOST, soft - SPARE - TURNS * BATCH))


class FewMessages(logging.Filter):
    """Let the first messages through and drop the rest."""

    def __init__(self, most: int = MOST_MESSAGES) -> None:
        super().__init__()
        self._left = most

    def filter(self, record: logging.LogRecord) -> bool:
        """Whether a message is still printed."""
        self._left -= 1
        return self._left >= 0
