"""Faults that a plan showed when it was used, told with the lines of its file."""

from __future__ import annotations

from dataclasses import replace

from plotter.errors import PlotterError, SeveralFaults
from plotter.flight.plan_faults import place
from plotter.flight.plan_lines import line_numbers, line_of
from plotter.flight.plan_rules import Path

_ROUTE: Path = ("flight", "route")


def on_lines(fault: PlotterError, text: str, file: str, route: str) -> PlotterError:
    """A fault, or each of several, with the line it stands on; those without a key as they are.

    ``text`` is that of the plan's file, ``route`` what it holds as its route: a fault in that
    keeps its own stretch of it.

    >>> from plotter.errors import InputError, Where
    >>> fault = InputError("too many", code="number", where=Where(key="leg.1.number"))
    >>> print(on_lines(fault, "[[leg]]\\nnumber = 9\\n", "ours.toml", ""))
    ours.toml, line 2: too many
    """
    if isinstance(fault, SeveralFaults):
        told = [on_lines(each, text, file, route) for each in fault.faults]
        return type(fault)(sorted(told, key=_line))
    where = fault.where
    if where is None or where.file is not None:
        return fault
    path = _path(where.key) if where.key else _ROUTE if where.text == route else ()
    line = line_of(line_numbers(text), path) if path else None
    if line is None:
        return fault
    if path == _ROUTE and where.text:
        on_it = replace(where, file=file, line=line, key="flight.route")
    else:
        of_line = text.split("\n")[line - 1]
        start = max(0, of_line.find(str(path[-1])))
        on_it = place(file, line, of_line, (start, start + len(str(path[-1]))), where.key)
    said = fault.at(on_it)
    said.message = f"{file}, line {line}: {fault.message}"
    said.args = (said.message,)
    return said


def _path(key: str) -> Path:
    return tuple(int(step) - 1 if step.isdigit() else step for step in key.split("."))


def _line(fault: PlotterError) -> int:
    """The faults without a line come last."""
    return (fault.where.line if fault.where else None) or 10**9
