"""The text of a plan file as TOML, or why it is none, with the line and what to write."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from plotter.errors import InputError, PlanError, Where
from plotter.flight.plan_faults import place

BYTE_ORDER_MARK = "\ufeff"
DEEPEST = 16
"""Tables and lists in one another; a plan needs four."""
# Patterns as text: they are only made for a fault.
_AT = r" \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)$"
_LONG_KEY = r"^(?:[^=#\"'\n.]*\.){500}"
_SHORT_TIME = r"=\s*\d{4}-\d\d-\d\d[Tt ]\d\d:\d\d(?!:)"
_BARE_WORD = r"=\s*(?!true\b|false\b|inf\b|nan\b)[A-Za-z]"


def parsed(text: str, file: str) -> dict[str, Any]:
    """The tables of a TOML text; raises PlanError, with the line, where it is not TOML."""
    if not text.strip():
        raise _one_fault(
            f"{file} is empty; 'plotter new NAME' writes a complete plan to start from", file, 1
        )
    too_deep = _one_fault(f"{file} is nested too deep to be a plan", file, 1)
    if re.search(_LONG_KEY, text, re.MULTILINE):
        raise too_deep
    try:
        tables = tomllib.loads(text)
    except RecursionError:
        raise too_deep from None
    except tomllib.TOMLDecodeError as fault:
        raise _not_toml(str(fault), text, file) from None
    except ValueError:  # of a whole number with thousands of digits, without a line
        raise _one_fault(f"{file} holds a number too long to be read", file, 1) from None
    if _is_deep(tables):
        raise too_deep
    return tables


def _is_deep(tables: object) -> bool:
    """Whether values lie deeper in one another than any plan's, told without going down itself."""
    level: list[Any] = [tables]
    for _ in range(DEEPEST):
        inside = (each.values() if isinstance(each, dict) else each for each in level)
        level = [v for values in inside for v in values if isinstance(v, dict | list)]
    return bool(level)


def _not_toml(words: str, text: str, file: str) -> PlanError:
    """The reader's complaint with its line, and what to write where the slip is a common one."""
    lines = text.split("\n")
    match = re.search(_AT, words)
    number = int(match["line"]) if match and match["line"] else len(lines)
    column = int(match["column"]) if match and match["column"] else 1
    line = lines[number - 1]
    said = re.sub(_AT, "", words)
    message = f"{file}, line {number}: not TOML: {said[:1].lower()}{said[1:]}{_hint(said, line)}"
    return PlanError(
        [
            InputError(
                message,
                code="not-toml",
                where=place(file, number, line, (column - 1, max(column, len(line)))),
            )
        ]
    )


def _hint(words: str, line: str) -> str:
    if re.search(_SHORT_TIME, line):
        return "; write the seconds too, as in 2026-07-04T09:00:00-05:00"
    if "overwrite" in words or "twice" in words or "mutate" in words:
        return "; it is there twice, keep one"
    if re.search(_BARE_WORD, line):
        return "; write text in quotes"
    return "; each line is KEY = VALUE, a [table] or a # comment"


def _one_fault(message: str, file: str, line: int) -> PlanError:
    return PlanError([InputError(message, code="not-toml", where=Where(file=file, line=line))])
