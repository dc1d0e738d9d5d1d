"""What stands before every request: who may ask, how much, for how long.

The page is for one pilot on one machine, but a browser carries requests of any site to it.

- ``Host`` must be one of the page's own addresses: a site whose name was pointed at this machine
  (DNS rebinding) gives its own name there.
- ``Origin``, where there is one, must be the page's own, and ``Sec-Fetch-Site`` not another site:
  a link from elsewhere may open the page itself, and nothing else.
- Whatever is posted needs the token that only the page's own document carries. It is made anew at
  each start.
- A body has a greatest size, and a longest time in which it must arrive.
- Every answer says that it may not be framed, sniffed, or run anything but the page's own scripts.
"""

from __future__ import annotations

import asyncio
import hmac
import secrets
import sys
import traceback
from collections.abc import Iterable, Mapping, MutableMapping
from dataclasses import dataclass, field
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from plotter.errors import CannotDo, PlotterError
from plotter.formats.document import fault_document

# Errors as answers: one JSON shape, and the one place where they get an HTTP status.
#
# What came in is never given back: a body with a NaN cannot be written as JSON again.

Node = dict[str, Any]
_MISTAKE = "the program made a mistake; what you typed is kept in the browser"
_WORDS = {
    400: ("bad-request", "the body cannot be read as JSON; it may be cut off, or too deep"),
    404: ("not-found", "there is nothing at this address"),
    405: ("method", "this address does not take that method"),
}

_SHAPE = {
    "type": "object",
    "required": ["error"],
    "properties": {
        "error": {
            "type": "object",
            "required": ["code", "message", "where", "candidates"],
            "properties": {
                "code": {"type": "string"},
                "message": {"type": "string"},
                "where": {"type": ["object", "null"]},
                "candidates": {"type": "array", "items": {"type": "string"}},
                "all": {"type": "array", "items": {"type": "object"}},
            },
        }
    },
}
_SAID = {
    400: "The body is not JSON.",
    403: "Another site asks, or the token of this start is missing.",
    413: "The body is too large.",
    415: "The body is not said to be JSON.",
    422: "What was asked is wrong: where, and what to type instead.",
    503: "The data is missing or damaged.",
}
DESCRIBED: dict[int | str, Node] = {
    status: {"description": words, "content": {"application/json": {"schema": _SHAPE}}}
    for status, words in _SAID.items()
}
"""Every error that an address may answer, for its description."""


def install(app: FastAPI) -> None:
    """Make an application answer every error in the one shape."""
    app.add_exception_handler(PlotterError, _plotter_error)
    app.add_exception_handler(RequestValidationError, _invalid)
    app.add_exception_handler(HTTPException, _http)
    app.add_exception_handler(Exception, _inside)


def error(
    code: str, message: str, where: Node | None = None, candidates: tuple[str, ...] = ()
) -> Node:
    """An error that the library did not raise, in the library's shape."""
    said = {"code": code, "message": message, "where": where, "candidates": list(candidates)}
    return {"error": said}


def said(fault: BaseException) -> str:
    """Where in the program it broke, in one line for the terminal that the page was started in."""
    frames = traceback.extract_tb(fault.__traceback__)
    last = f" at {frames[-1].name}, line {frames[-1].lineno}" if frames else ""
    return f"A request failed inside the program: {type(fault).__name__}{last}"


def inside(fault: BaseException) -> JSONResponse:
    """The answer to a fault of the program itself, said on the terminal too."""
    print(said(fault), file=sys.stderr)
    return JSONResponse(error("inside", _MISTAKE), 500)


def _inside(_request: Request, _fault: Exception) -> JSONResponse:
    """The same inside the application, which passes the fault on for the guard to say."""
    return JSONResponse(error("inside", _MISTAKE), 500)


def _plotter_error(_request: Request, fault: Exception) -> JSONResponse:
    assert isinstance(fault, PlotterError)
    status = 503 if isinstance(fault, CannotDo) and fault.code != "plan-edit" else 422
    return JSONResponse(fault_document(fault, "page"), status)


def _invalid(_request: Request, fault: Exception) -> JSONResponse:
    assert isinstance(fault, RequestValidationError)
    faults = [_one(each) for each in fault.errors()]
    first = dict(faults[0])
    if len(faults) > 1:
        first["all"] = faults
    return JSONResponse({"error": first}, 400 if first["code"] == "json" else 422)


def _one(found: Mapping[str, Any]) -> Node:
    key = ".".join(str(part) for part in found["loc"] if part != "body") or "body"
    kind = str(found["type"])
    if kind == "json_invalid":
        return _fault("json", "the body is not JSON", None)
    words = str(found["msg"])
    return _fault(kind.replace("_", "-"), f"{key}: {words[:1].lower()}{words[1:]}", {"key": key})


def _fault(code: str, message: str, where: Node | None) -> Node:
    made: Node = error(code, message, where)["error"]
    return made


def _http(_request: Request, fault: Exception) -> JSONResponse:
    assert isinstance(fault, HTTPException)
    code, words = _WORDS.get(fault.status_code, ("http", "the request could not be answered"))
    return JSONResponse(error(code, words), fault.status_code, headers=fault.headers)


MOST_BYTES = 1_000_000
LONGEST_S = 15.0
TOKEN_HEADER = "x-plotter-token"
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src {images}; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)


@dataclass(frozen=True, slots=True)
class Guarding:
    """The hosts that are this page's own, the token of this start, where tiles may come from."""

    hosts: frozenset[str]
    token: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    tiles_origin: str = ""
    longest_s: float = LONGEST_S

    @classmethod
    def of(cls, names: Iterable[str], port: int, tiles_origin: str = "") -> Guarding:
        """Guarding a page under these names at a port.

        >>> sorted(Guarding.of(["127.0.0.1"], 80).hosts)
        ['127.0.0.1', '127.0.0.1:80']
        """
        hosts = {f"{name}:{port}" for name in names}
        if port == 80:
            hosts |= set(names)
        return cls(frozenset(hosts), tiles_origin=tiles_origin)

    @property
    def policy(self) -> str:
        """The Content-Security-Policy (level 3, W3C) of every answer."""
        return POLICY.format(images=f"'self' data: {self.tiles_origin}".strip())


class Refused(Exception):
    """A request that is not answered, with its status and why."""

    def __init__(self, status: int, code: str, message: str) -> None:
        super().__init__(message)
        self.status, self.code, self.message = status, code, message

    def answer(self) -> JSONResponse:
        """The refusal as an answer; the connection is closed, for a body may still be coming."""
        headers = {"connection": "close"}
        return JSONResponse(error(self.code, self.message), self.status, headers=headers)


class Guard:
    """The application, behind the checks."""

    def __init__(self, app: ASGIApp, guarding: Guarding) -> None:
        self._app = app
        self._guarding = guarding

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or refuse it."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        started: list[bool] = []
        answer = self._with_headers(send, started)
        try:
            body = await self._admitted(scope, receive)
            await self._app(scope, body, answer)
        except Refused as refused:
            await refused.answer()(scope, receive, answer)
        except Exception as fault:
            response = inside(fault)
            if not started:
                await response(scope, receive, answer)

    async def _admitted(self, scope: Scope, receive: Receive) -> Receive:
        headers = Headers(scope=scope)
        self._check_sender(headers, opens_page=scope["method"] == "GET" and scope["path"] == "/")
        if scope["method"] in ("GET", "HEAD"):
            return receive
        self._check_post(headers)
        try:
            body = await asyncio.wait_for(read_body(receive), self._guarding.longest_s)
        except TimeoutError:
            raise Refused(408, "slow", "the body did not arrive in time") from None
        return replayed(body, receive)

    def _check_sender(self, headers: Headers, *, opens_page: bool) -> None:
        hosts = self._guarding.hosts
        if headers.get("host", "").lower() not in hosts:
            raise Refused(403, "host", f"this page is at {' and '.join(sorted(hosts))} only")
        own = {f"http://{host}" for host in hosts}
        if not own.issuperset(origin.lower() for origin in headers.getlist("origin")):
            raise Refused(403, "origin", "another site may not ask this page for anything")
        elsewhere = headers.get("sec-fetch-site") in ("cross-site", "same-site")
        if elsewhere and not (opens_page and headers.get("sec-fetch-mode") == "navigate"):
            raise Refused(403, "origin", "another site may not ask this page for anything")

    def _check_post(self, headers: Headers) -> None:
        given = headers.get(TOKEN_HEADER, "")
        if not hmac.compare_digest(given.encode(), self._guarding.token.encode()):
            raise Refused(403, "token", f"send the token of this start as {TOKEN_HEADER}")
        if headers.get("content-type", "").partition(";")[0].strip().lower() != "application/json":
            raise Refused(415, "content-type", "send JSON, as content-type application/json")
        length = headers.get("content-length", "")
        if length.isdigit() and int(length[:20]) > MOST_BYTES:
            raise _too_large()

    def _with_headers(self, send: Send, started: list[bool]) -> Send:
        async def sending(message: MutableMapping[str, Any]) -> None:
            if message["type"] == "http.response.start":
                started.append(True)
                put_headers(MutableHeaders(scope=message), self._guarding.policy)
            await send(message)

        return sending


def put_headers(headers: MutableHeaders, policy: str) -> None:
    """Set what every answer says of itself."""
    headers["content-security-policy"] = policy
    headers["x-content-type-options"] = "nosniff"
    headers["referrer-policy"] = "no-referrer"
    headers["cross-origin-opener-policy"] = "same-origin"
    headers["cross-origin-resource-policy"] = "same-origin"
    headers.setdefault("cache-control", "no-store")


async def read_body(receive: Receive) -> bytes:
    """The whole body; raises Refused once it is larger than one may be."""
    parts: list[bytes] = []
    size, more = 0, True
    while more:
        message = await receive()
        if message["type"] == "http.disconnect":
            raise Refused(400, "bad-request", "the body was cut off")
        part = message.get("body", b"")
        size += len(part)
        if size > MOST_BYTES:
            raise _too_large()
        parts.append(part)
        more = message.get("more_body", False)
    return b"".join(parts)


def replayed(body: bytes, receive: Receive) -> Receive:
    """A way to receive a body that was read already, then whatever else comes."""
    waiting = [body]

    async def receiving() -> Message:
        if waiting:
            return {"type": "http.request", "body": waiting.pop(), "more_body": False}
        return await receive()

    return receiving


def _too_large() -> Refused:
    return Refused(413, "too-large", f"a body may have {MOST_BYTES:,} bytes at the most")
