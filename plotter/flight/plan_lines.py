"""On which line of a TOML text each table and each key stands; looked up only for a fault.

The standard library reads TOML without telling where anything was. This walks a text that it has
read already, so it need not judge it: only find where statements begin and where values end.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from plotter.flight.plan_rules import Path

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
    """A table's heading or a key with its value: where it leads and where it stands."""

    path: Path
    start: int
    value: int
    end: int

    @property
    def is_heading(self) -> bool:
        """Whether it is a table's heading; a key always has a value."""
        return self.value == self.end


def statements(text: str) -> Iterator[Statement]:
    """The headings and keys of a TOML text that can be read, in order."""
    table: Path = ()
    counts: dict[Path, int] = {}
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


def line_numbers(text: str) -> dict[Path, int]:
    """The line, from 1, of every table and key of a TOML text that can be read.

    >>> line_numbers("format = 1\\n[[wind]]\\nspeed_kt = 9\\n")
    {('format',): 1, ('wind', 0): 2, ('wind',): 2, ('wind', 0, 'speed_kt'): 3}
    >>> line_numbers("card = [\\n  {a = 1},\\n  {a = 2},\\n]")
    {('card',): 1, ('card', 0): 2, ('card', 1): 3}
    """
    found: dict[Path, int] = {}
    line, seen = 1, 0
    for path, start in _places(text):
        line += text.count("\n", seen, start)
        seen = start
        for length in range(len(path), 0, -1):
            found.setdefault(path[:length], line)
    return found


def end_of_plain_value(text: str, statement: Statement) -> int:
    """Where the value of a key ends, without the space and the comment that follow it."""
    end = statement.value
    for piece in _PIECE.finditer(text, statement.value, statement.end):
        if not piece[0].isspace() and not piece[0].startswith("#"):
            end = piece.end()
    return end


def _places(text: str) -> Iterator[tuple[Path, int]]:
    """Where each statement begins, and each item of an array."""
    for statement in statements(text):
        yield statement.path, statement.start
        for k, start in enumerate(_items(text, statement.value, statement.end)):
            yield (*statement.path, k), start


def _items(text: str, start: int, end: int) -> Iterator[int]:
    """Where the items of an array begin; nothing for any other value, or a heading."""
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


def line_of(numbers: Mapping[Path, int], path: Path) -> int | None:
    """The line of a path, or of the nearest thing above it; ``None`` where there is none.

    >>> line_of({("flight",): 3}, ("flight", "route"))
    3
    """
    while path and path not in numbers:
        path = path[:-1]
    return numbers.get(path)


def _keys(text: str) -> Path:
    return tuple(_plain(key[0]) for key in _ONE_KEY.finditer(text))


def _plain(key: str) -> str:
    if key[0] not in "\"'":
        return key
    (plain,) = tomllib.loads(f"{key} = 0")
    return plain


def _heading(keys: Path, array: bool, counts: dict[Path, int]) -> Path:
    """Where a heading leads: into the latest of every array of tables on the way."""
    path: Path = ()
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
