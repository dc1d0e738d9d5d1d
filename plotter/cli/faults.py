"""Errors in words for people, as one JSON object for programs, and as exit codes."""

from __future__ import annotations

import json
from typing import Any

import click

from plotter.cli.printing import complain
from plotter.errors import CannotDo, PlotterError, SeveralFaults, Where

EXIT_CANNOT = 1
EXIT_INPUT = 2
EXIT_INTERRUPTED = 130


def report(fault: PlotterError, as_json: bool) -> int:
    """Say what was wrong on standard error; answer the exit code."""
    faults = fault.faults if isinstance(fault, SeveralFaults) else (fault,)
    if as_json:
        complain(json.dumps({"error": _object(fault, faults)}, ensure_ascii=True))
    else:
        complain("\n\n".join(_words(each) for each in faults))
    return EXIT_CANNOT if isinstance(fault, CannotDo) else EXIT_INPUT


def usage_report(fault: click.UsageError, as_json: bool) -> int:
    """The same for an option or argument that click could not take."""
    message = fault.format_message()
    message = message[0].lower() + message[1:].rstrip(".") if message else "cannot be read"
    if fault.ctx and fault.ctx.command_path:
        joint = " See" if message.endswith("?") else "; see"
        message += f"{joint} '{fault.ctx.command_path} --help'"
    return report(_usage_error(message, fault), as_json)


def _usage_error(message: str, fault: click.UsageError) -> PlotterError:
    possibilities = getattr(fault, "possibilities", None) or ()
    return PlotterError(message, code="usage", candidates=tuple(possibilities))


def _words(fault: PlotterError) -> str:
    caret = fault.where.caret() if fault.where else ""
    if len(caret) > 2_000 or caret.count("\n") > 1:
        caret = ""
    lines = ["Error: " + fault.message]
    if caret:
        lines += ["  " + line for line in caret.splitlines()]
    return "\n".join(lines)


def _object(fault: PlotterError, faults: tuple[PlotterError, ...]) -> dict[str, Any]:
    first = _one(fault)
    if len(faults) > 1:
        first["all"] = [_one(each) for each in faults]
    return first


def _one(fault: PlotterError) -> dict[str, Any]:
    return {
        "code": fault.code,
        "message": fault.message,
        "where": _where(fault.where),
        "candidates": list(fault.candidates),
    }


def _where(where: Where | None) -> dict[str, Any] | None:
    if where is None:
        return None
    if where.file is not None:
        place: dict[str, Any] = {"file": where.file, "line": where.line}
        return place | {"key": where.key} if where.key else place
    return {"text": where.text, "start": where.start, "end": where.end}
