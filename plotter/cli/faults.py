"""Errors in words for people, as one JSON object for programs, and as exit codes."""

from __future__ import annotations

import json
import re
import shlex
from collections.abc import Sequence
from contextlib import suppress

import click

from plotter.cli.printing import complain, shown
from plotter.datastore.opening import open_ready
from plotter.errors import CannotDo, PlotterError, SeveralFaults
from plotter.messages import Message, literal, message, text
from plotter.places.lookup import resolve
from plotter.places.naming import TOWN, Found, kind_words, known_for, region_of
from plotter.places.search import KINDS, Hit, search
from plotter.places.store import Store

# A word that is no identifier, looked for by name: towns and airports with what to type for them.
#
# Only where the index of names is there already: an answer to a slip must not wait for it.

CODES = ("unknown-identifier", "one-point")
MOST = 4
_A_NAME = re.compile(r"[^\W\d_][^\d_,;:<>/|+]+")
_SURE = ("identifier", "name")
_LIKE_AN_IDENTIFIER = 4
"""A word of so few letters is rather a slip in an identifier than a name."""


def with_names(fault: PlotterError, *, towns: bool = True) -> PlotterError:
    """The fault with places of that name in it, and the command that looks for more.

    Towns are left out where a town cannot be typed.
    """
    kinds = [kind for kind in KINDS if towns or kind != TOWN]
    if isinstance(fault, SeveralFaults):
        return type(fault)([_with_names(each, kinds) for each in fault.faults])
    return _with_names(fault, kinds)


def _with_names(fault: PlotterError, kinds: Sequence[str]) -> PlotterError:
    word = _word(fault)
    if fault.code not in CODES or not _A_NAME.fullmatch(word):
        return fault
    found = _found(fault, word, kinds)
    if found:
        return _changed(fault, _listed(fault, word, found), [text for text, _ in found])
    if fault.candidates and len(word) <= _LIKE_AN_IDENTIFIER:
        return fault
    said = message("by-name", reason=fault.said, command=_command(word))
    return _changed(fault, said, fault.candidates)


def _listed(fault: PlotterError, word: str, found: Sequence[tuple[str, str]]) -> Message:
    where = fault.where
    at_line = where is not None and where.file is not None and where.line is not None
    listed = message(
        "by-name.or-like" if fault.candidates else "by-name.listed",
        word=word[:60],
        places=tuple(found),
        command=_command(word),
    )
    if where is None or not at_line:
        return listed
    return message("by-name.line", file=where.file, line=where.line, listed=listed)


def _word(fault: PlotterError) -> str:
    """What was typed for the place, without a name given to it or a prefix; no key is a name."""
    where = fault.where
    typed = where.text[where.start : where.end] if where else ""
    if typed.lower().startswith("key:"):
        return ""
    return typed.rpartition("=")[2].rpartition(":")[2].strip()


def _command(word: str) -> str:
    """What to type to look for a name; a word no shell takes as it stands is put in quotes."""
    return f"plotter find {' '.join(map(shlex.quote, word.split()))}"


def _found(fault: PlotterError, word: str, kinds: Sequence[str]) -> list[tuple[str, str]]:
    """What to type and what it is, likeliest first; nothing where a slip is likelier.

    Identifiers spelled like the word follow in the same list. A search that fails finds nothing:
    the fault to be told is the one there is already.
    """
    from plotter.route.suggesting import to_type

    store = open_ready()
    if store is None:
        return []
    with store, suppress(PlotterError):
        hits = [hit for hit in search(store, word, MOST, (), kinds) if _is_likely(hit, fault, word)]
        found = [_line(to_type(store, hit.place), hit.place) for hit in hits]
        known = {typed for typed, _ in found}
        like = [each for each in fault.candidates if found and each not in known]
        return [*found, *(_spelled_like(store, each) for each in like)]
    return []


def _is_likely(hit: Hit, fault: PlotterError, word: str) -> bool:
    if hit.matched in _SURE:
        return True
    return fault.code == CODES[0] and not fault.candidates and len(word) > _LIKE_AN_IDENTIFIER


def _line(typed: str, place: Found) -> tuple[str, str]:
    said = f"{place.name}, {kind_words(place)}, {region_of(place)}, {known_for(place)}"
    return shown(typed), shown(said)


def _spelled_like(store: Store, typed: str) -> tuple[str, str]:
    """One identifier like the word; of one that is no place of the data only what to type."""
    with suppress(PlotterError):
        return _line(typed, resolve(store, typed).place)
    return shown(typed), ""


def _changed(fault: PlotterError, said: Message, candidates: Sequence[str]) -> PlotterError:
    return type(fault)(said, code=fault.code, where=fault.where, candidates=candidates)


EXIT_CANNOT = 1
EXIT_INPUT = 2
EXIT_INTERRUPTED = 130


def report(fault: PlotterError, as_json: bool, *, towns: bool = True) -> int:
    """Say what was wrong on standard error; answer the exit code.

    ``towns`` may be offered for a name where one can be typed.
    """
    from plotter.formats.document import fault_document, faults_of

    fault = _shown_with_names(fault, towns)
    if as_json:
        complain(json.dumps(fault_document(fault, "console"), ensure_ascii=True))
    else:
        complain("\n\n".join(_words(each) for each in faults_of(fault)))
    return EXIT_CANNOT if isinstance(fault, CannotDo) else EXIT_INPUT


def usage_report(fault: click.UsageError, as_json: bool) -> int:
    """The same for an option or argument that click could not take."""
    reason = fault.format_message()
    reason = reason[0].lower() + reason[1:].rstrip(".") if reason else "cannot be read"
    said = literal("usage", reason)
    if fault.ctx and fault.ctx.command_path:
        key = "usage.question" if reason.endswith("?") else "usage"
        said = message(key, reason=said, command=fault.ctx.command_path)
    candidates = tuple(getattr(fault, "possibilities", None) or ())
    return report(PlotterError(said, code="usage", candidates=candidates), as_json)


def _shown_with_names(fault: PlotterError, towns: bool) -> PlotterError:
    """Words that are no identifier looked for by name; the search is loaded only for them."""
    faults = fault.faults if isinstance(fault, SeveralFaults) else (fault,)
    if not any(each.code in CODES for each in faults):
        return fault
    return with_names(fault, towns=towns)


def _words(fault: PlotterError) -> str:
    """The lines of one fault, each safe for a terminal; carets stay below their letters."""
    caret = fault.where.caret() if fault.where else ""
    if len(caret) > 2_000 or caret.count("\n") > 1:
        caret = ""
    lines = ("Error: " + text(fault.said, "console")).split("\n")
    if caret:
        lines += ["  " + line for line in caret.split("\n")]
    return "\n".join(shown(line).rstrip() for line in lines)
