"""Errors as answers: one JSON shape, and the one place where they get an HTTP status.

What came in is never given back: a body with a NaN cannot be written as JSON again.
"""

from __future__ import annotations

import sys
import traceback
from collections.abc import Mapping
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException

from plotter.errors import CannotDo, PlotterError
from plotter.formats.faults import fault_document

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
    return JSONResponse(fault_document(fault), status)


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
