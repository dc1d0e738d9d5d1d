"""Errors as plain values for JSON, the same at the command line and from the local page."""

from __future__ import annotations

from typing import Any

from plotter.errors import PlotterError, SeveralFaults, Where

Node = dict[str, Any]


def fault_document(fault: PlotterError) -> Node:
    """``{"error": {code, message, where, candidates}}``, with ``all`` where there are several.

    >>> fault_document(PlotterError("no", code="demo"))["error"]["code"]
    'demo'
    """
    first = _one(fault)
    faults = faults_of(fault)
    if len(faults) > 1:
        first["all"] = [_one(each) for each in faults]
    return {"error": first}


def faults_of(fault: PlotterError) -> tuple[PlotterError, ...]:
    """Every fault that an error reports: those of a route come all at once."""
    return fault.faults if isinstance(fault, SeveralFaults) else (fault,)


def _one(fault: PlotterError) -> Node:
    return {
        "code": fault.code,
        "message": fault.message,
        "where": _where(fault.where),
        "candidates": list(fault.candidates),
    }


def _where(where: Where | None) -> Node | None:
    if where is None:
        return None
    if where.file is not None:
        place: Node = {"file": where.file, "line": where.line}
        return place | {"key": where.key} if where.key else place
    if where.key:
        return {"key": where.key}
    return {"text": where.text, "start": where.start, "end": where.end}
