"""Every fault of a plan file, collected as it is read and reported together, line by line."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, NamedTuple, TypeVar

from plotter.errors import InputError, PlanError, PlotterError, SeveralFaults, Where
from plotter.flight.plan.keys import KeyPath
from plotter.flight.plan.names import dotted, located
from plotter.messages import Message, literal, message

# On which line of a TOML text each table and each key stands; looked up only for a fault.
#
# The standard library reads TOML without telling where anything was. This walks a text that it has
# read already, so it need not judge it: only find where statements begin and where values end.

_KEY = r"""(?:[A-Za-z0-9_-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*')"""
_ONE_KEY = re.compile(_KEY)
_STATEMENT = re.compile(
    rf"\[\[(?P<array>[^\n]*?)\]\]|\[(?P<table>(?:[ \t.]|{_KEY})*)\]"
    rf"|(?P<key>{_KEY}(?:[ \t]*\.[ \t]*{_KEY})*)[ \t]*="
)
_BETWEEN = re.compile(r"(?:\s+|#[^\n]*)*")
_STRING = (
    r'"""(?:[^\\]|\\[\s\S])*?"{3,5}'
    r"|'''[\s\S]*?'{3,5}"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'"
)
_PIECE = re.compile(
    rf"(?P<skip>{_STRING}|#[^\n]*)|(?P<open>[\[{{])|(?P<close>[\]}}])|(?P<end>\n)|."
)


class Statement(NamedTuple):
    """A table's heading or a key with its value: its path and its position in the text."""

    path: KeyPath
    start: int
    value: int
    end: int

    @property
    def is_heading(self) -> bool:
        """Whether it is a table's heading; a key always has a value."""
        return self.value == self.end


def statements(text: str) -> Iterator[Statement]:
    """Yield the headings and keys of a valid TOML text, in order."""
    table: KeyPath = ()
    counts: dict[KeyPath, int] = {}
    position = _past(text, 0)
    while match := _STATEMENT.match(text, position):
        if match["key"]:
            end = _end_of_value(text, match.end())
            yield Statement(table + _keys(match["key"]), match.start(), match.end(), end)
        else:
            array = match["array"] is not None
            table = _heading(_keys(match["array"] if array else match["table"]), array, counts)
            end = match.end()
            yield Statement(table, match.start(), match.end(), end)
        position = _past(text, end)


def line_numbers(text: str) -> dict[KeyPath, int]:
    """Return the line, from 1, of every table and key of a valid TOML text.

    >>> line_numbers("format = 1\\n[[wind]]\\nspeed_kt = 9\\n")
    {('format',): 1, ('wind', 0): 2, ('wind',): 2, ('wind', 0, 'speed_kt'): 3}
    >>> line_numbers("card = [\\n  {a = 1},\\n  {a = 2},\\n]")
    {('card',): 1, ('card', 0): 2, ('card', 1): 3}
    """
    found: dict[KeyPath, int] = {}
    line, seen = 1, 0
    for path, start in _places(text):
        line += text.count("\n", seen, start)
        seen = start
        for length in range(len(path), 0, -1):
            found.setdefault(path[:length], line)
    return found


def end_of_plain_value(text: str, statement: Statement) -> int:
    """Return where the value of a key ends, before the space and the comment that follow it."""
    end = statement.value
    for piece in _PIECE.finditer(text, statement.value, statement.end):
        if not piece[0].isspace() and not piece[0].startswith("#"):
            end = piece.end()
    return end


def _places(text: str) -> Iterator[tuple[KeyPath, int]]:
    """Yield where each statement begins, and each item of an array."""
    for statement in statements(text):
        yield statement.path, statement.start
        for k, start in enumerate(_items(text, statement.value, statement.end)):
            yield (*statement.path, k), start


def _items(text: str, start: int, end: int) -> Iterator[int]:
    """Yield where the items of an array begin; nothing for another value or a heading."""
    depth, waiting = 0, False
    if not text[start:end].lstrip().startswith("["):
        return
    for piece in _PIECE.finditer(text, start, end):
        filler = piece[0].isspace() or piece[0].startswith("#") or piece["close"]
        if waiting and not filler:
            yield piece.start()
            waiting = False
        depth += bool(piece["open"]) - bool(piece["close"])
        waiting = waiting or (depth == 1 and piece[0] in ("[", ","))


def line_of(numbers: Mapping[KeyPath, int], path: KeyPath) -> int | None:
    """Return the line of a path, or of the nearest table above it; ``None`` if there is none.

    >>> line_of({("flight",): 3}, ("flight", "route"))
    3
    """
    while path and path not in numbers:
        path = path[:-1]
    return numbers.get(path)


def _keys(text: str) -> KeyPath:
    return tuple(_plain(key[0]) for key in _ONE_KEY.finditer(text))


def _plain(key: str) -> str:
    if key[0] not in "\"'":
        return key
    (plain,) = tomllib.loads(f"{key} = 0")
    return plain


def _heading(keys: KeyPath, array: bool, counts: dict[KeyPath, int]) -> KeyPath:
    """Return the path of a heading, through the latest row of every array of tables."""
    path: KeyPath = ()
    for key in keys[:-1]:
        path += (key,)
        if path in counts:
            path += (counts[path] - 1,)
    path += keys[-1:]
    if array:
        counts[path] = counts.get(path, 0) + 1
        path += (counts[path] - 1,)
    return path


def _past(text: str, position: int) -> int:
    match = _BETWEEN.match(text, position)
    return match.end() if match else position


def _end_of_value(text: str, position: int) -> int:
    depth = 0
    for piece in _PIECE.finditer(text, position):
        depth += bool(piece["open"]) - bool(piece["close"])
        if piece["end"] and depth == 0:
            return piece.start()
    return len(text)


T = TypeVar("T")
LONGEST_SHOWN = 160
"""A line longer than this is named by its number and not printed."""


class Fault(NamedTuple):
    """One fault: the path to its key, the message, its code, and where in a text of many lines."""

    path: KeyPath
    said: Message
    code: str
    candidates: tuple[str, ...] = ()
    inside: Where | None = None


@dataclass
class Faults:
    """The faults found so far in one plan file."""

    found: list[Fault] = field(default_factory=list)

    def add(self, path: KeyPath, said: Message, candidates: Sequence[str] = ()) -> None:
        """Keep one fault of a key, which the message calls ``name``."""
        self.found.append(Fault(path, located(said, path), said.code, tuple(candidates)))

    def attempt(self, path: KeyPath, make: Callable[[], T], keys: Iterable[str] = ()) -> T | None:
        """Return what ``make`` returns, or ``None`` and keep the fault if it raises InputError.

        The fault belongs to the key that the error's code names, if it is one of ``keys``; else to
        ``path``.
        """
        try:
            return make()
        except InputError as fault:
            self.keep(path + ((fault.code,) if fault.code in keys else ()), fault)
            return None

    def keep(self, path: KeyPath, fault: InputError) -> None:
        """Keep the error of a value that could not be made."""
        said = located(fault.said, path)
        self.found.append(Fault(path, said, fault.code, fault.candidates, fault.where))

    def error(self, text: str, file: str) -> PlanError:
        """Return all of them as one error, each with its line, in the order of the lines."""
        numbers, lines = line_numbers(text), text.rstrip().split("\n")
        errors = [_on_line(fault, numbers, lines, file) for fault in dict.fromkeys(self.found)]
        return PlanError(sorted(errors, key=_line))

    def error_by_key(self) -> PlanError:
        """Return all of them as one error, each with the path of its key: there is no text."""
        faults = dict.fromkeys(self.found)
        return PlanError([_error(each, each.said, Where(key=dotted(each.path))) for each in faults])


def place(file: str, line: int, text: str, stretch: tuple[int, int], key: str = "") -> Where:
    """Return a stretch of a line of a file, with the line's text if it fits on a screen."""
    shown, (start, end) = text.rstrip("\r"), stretch
    if len(shown) > LONGEST_SHOWN or not shown.isprintable() or end <= start:
        return Where(file=file, line=line, key=key)
    return Where(shown, start, end, file, line, key)


def _on_line(
    fault: Fault, numbers: Mapping[KeyPath, int], lines: Sequence[str], file: str
) -> InputError:
    """Return a fault as an error with its line; a missing key is placed where it can be added."""
    line = line_of(numbers, fault.path) or (1 if fault.path == ("format",) else len(lines))
    if fault.inside and fault.inside.line:
        line += fault.inside.line - (not lines[line - 1].rstrip().endswith(('"""', "'''")))
    stretch = _stretch(fault, lines[line - 1])
    where = place(file, line, lines[line - 1], stretch, dotted(fault.path))
    return _error(fault, message("plan-fault", file=file, line=line, reason=fault.said), where)


def _error(fault: Fault, said: Message, where: Where) -> InputError:
    return InputError(said, code=fault.code, where=where, candidates=fault.candidates)


def _stretch(fault: Fault, line: str) -> tuple[int, int]:
    """Return which part of the line to point at: part of a pasted text, or the key."""
    if fault.inside and fault.inside.text:
        shift = max(0, line.find(fault.inside.text))
        return shift + fault.inside.start, shift + fault.inside.end
    for key in (step for step in reversed(fault.path) if isinstance(step, str)):
        if (start := line.find(key)) >= 0:
            return start, start + len(key)
    return 0, 0


def _line(fault: PlotterError) -> int:
    return (fault.where.line if fault.where else None) or 0


# The text of a plan file as TOML, or why it is none, with the line and what to write.

BYTE_ORDER_MARK = "\ufeff"
DEEPEST = 16
"""Tables and lists in one another; a plan needs four."""
# Patterns as text: they are only made for a fault.
_AT = r" \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)$"
_LONG_KEY = r"^(?:[^=#\"'\n.]*\.){500}"
_SHORT_TIME = r"=\s*\d{4}-\d\d-\d\d[Tt ]\d\d:\d\d(?!:)"
_BARE_WORD = r"=\s*(?!true\b|false\b|inf\b|nan\b)[A-Za-z]"


def parsed(text: str, file: str) -> dict[str, Any]:
    """Return the tables of a TOML text; raise PlanError, with the line, if it is not TOML."""
    if not text.strip():
        raise _whole_file(message("not-toml.empty", file=file))
    too_deep = _whole_file(message("not-toml.deep", file=file))
    if re.search(_LONG_KEY, text, re.MULTILINE):
        raise too_deep
    try:
        tables = tomllib.loads(text)
    except RecursionError:
        raise too_deep from None
    except tomllib.TOMLDecodeError as fault:
        raise _not_toml(str(fault), text, file) from None
    except ValueError:  # of a whole number with thousands of digits, without a line
        raise _whole_file(message("not-toml.number", file=file)) from None
    if _is_deep(tables):
        raise too_deep
    return tables


def _is_deep(tables: object) -> bool:
    """Return whether values are nested deeper than any plan's, without recursion."""
    level: list[Any] = [tables]
    for _ in range(DEEPEST):
        inside = (each.values() if isinstance(each, dict) else each for each in level)
        level = [v for values in inside for v in values if isinstance(v, dict | list)]
    return bool(level)


def _not_toml(words: str, text: str, file: str) -> PlanError:
    """Return the reader's complaint with its line, and what to write for a common slip."""
    lines = text.split("\n")
    match = re.search(_AT, words)
    number = int(match["line"]) if match and match["line"] else len(lines)
    column = int(match["column"]) if match and match["column"] else 1
    line = lines[number - 1]
    reason = re.sub(_AT, "", words)
    said = message(
        "not-toml",
        reason=literal("not-toml", f"{reason[:1].lower()}{reason[1:]}"),
        hint=message(_hint(reason, line)),
    )
    where = place(file, number, line, (column - 1, max(column, len(line))))
    return _one_fault(message("plan-fault", file=file, line=number, reason=said), where)


def _hint(words: str, line: str) -> str:
    if re.search(_SHORT_TIME, line):
        return "not-toml.seconds"
    if "overwrite" in words or "twice" in words or "mutate" in words:
        return "not-toml.twice"
    return "not-toml.quotes" if re.search(_BARE_WORD, line) else "not-toml.line"


def _whole_file(said: Message) -> PlanError:
    return _one_fault(said, Where(file=str(said["file"]), line=1))


def _one_fault(said: Message, where: Where) -> PlanError:
    return PlanError([InputError(said, code="not-toml", where=where)])


# Faults that a plan showed when it was used, with the lines of its file.

_ROUTE: KeyPath = ("flight", "route")


def on_lines(fault: PlotterError, text: str, file: str, route: str) -> PlotterError:
    """Return a fault, or each of several, with its line; those without a key unchanged.

    ``text`` is that of the plan's file, ``route`` its route: a fault in the route keeps its own
    stretch of it.

    >>> from plotter.errors import InputError, Where
    >>> fault = InputError("too many", code="number", where=Where(key="leg.1.number"))
    >>> print(on_lines(fault, "[[leg]]\\nnumber = 9\\n", "ours.toml", ""))
    ours.toml, line 2: too many
    """
    if isinstance(fault, SeveralFaults):
        placed = [on_lines(each, text, file, route) for each in fault.faults]
        return type(fault)(sorted(placed, key=_line_of_fault))
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
    again = fault.at(on_it)
    reason = located(fault.said, path, only_named=True)
    again.said = message("plan-fault", file=file, line=line, reason=reason)
    again.args = (again.said,)
    return again


def _path(key: str) -> KeyPath:
    return tuple(int(step) - 1 if step.isdigit() else step for step in key.split("."))


def _line_of_fault(fault: PlotterError) -> int:
    """Sort faults without a line last."""
    return (fault.where.line if fault.where else None) or 10**9
