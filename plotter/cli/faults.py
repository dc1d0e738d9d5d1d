"""Errors in words for people, as one JSON object for programs, and as exit codes."""

from __future__ import annotations

import json

import click

from plotter.cli.options_named import with_option
from plotter.cli.printing import complain, shown
from plotter.errors import CannotDo, PlotterError
from plotter.formats.faults import fault_document, faults_of

EXIT_CANNOT = 1
EXIT_INPUT = 2
EXIT_INTERRUPTED = 130


def report(fault: PlotterError, as_json: bool, *, towns: bool = True) -> int:
    """Say what was wrong on standard error; answer the exit code.

    ``towns`` may be offered for a name where one can be typed.
    """
    fault = _with_names(fault, towns)
    if as_json:
        complain(json.dumps(fault_document(fault), ensure_ascii=True))
    else:
        complain("\n\n".join(_words(each) for each in faults_of(fault)))
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


def _with_names(fault: PlotterError, towns: bool) -> PlotterError:
    """Words that are no identifier looked for by name; the search is loaded only for them."""
    if not any(each.code in ("unknown-identifier", "one-point") for each in faults_of(fault)):
        return fault
    from plotter.cli.by_name import with_names

    return with_names(fault, towns=towns)


def _words(fault: PlotterError) -> str:
    """The lines of one fault, each safe for a terminal; carets stay below their letters."""
    caret = fault.where.caret() if fault.where else ""
    if len(caret) > 2_000 or caret.count("\n") > 1:
        caret = ""
    lines = ("Error: " + with_option(fault.code, fault.message)).split("\n")
    if caret:
        lines += ["  " + line for line in caret.split("\n")]
    return "\n".join(shown(line).rstrip() for line in lines)
