"""One key of a TOML text set, or one table begun or taken out; every other letter stays.

A key that is there gets its new value in its old place, its comment kept. One that stands as a
comment (``# line = "rhumb"``) comes to life there. Any other goes below the last key of its
table.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from plotter.flight.plan_lines import Statement, end_of_plain_value, statements
from plotter.flight.plan_rules import Path
from plotter.flight.plan_toml import toml_key

_SLEEPING_HEADING = re.compile(r"^#[ \t]*\[", re.MULTILINE)


def set_key(text: str, path: Path, written: str) -> str:
    """The text with a key set to what is written; its table must be there.

    >>> print(set_key("[a]\\nb = 1  # one\\n# c = 2\\n", ("a", "b"), "33"))
    [a]
    b = 33 # one
    # c = 2
    <BLANKLINE>
    """
    found = find_key(text, path)
    if found is not None:
        return _with_value(text, found, written)
    key = toml_key(str(path[-1]))
    line = f"{key} = {written}"
    sleeping = _sleeping_key(text, key, *_region(text, path[:-1]))
    if sleeping is not None:
        return _replaced(text, sleeping, line)
    return _inserted(text, _last_line_end(text, path[:-1]), line)


def remove(text: str, path: Path) -> str:
    """The text without a key, or without a table and all in it; comments between stay.

    A key of one line becomes a comment, to come to life again; all else goes, whole lines.

    >>> print(remove("[a]\\nb = 1  # one\\n", ("a", "b")))
    [a]
    # b = 1  # one
    <BLANKLINE>
    """
    alone = find_key(text, path)
    if alone is not None and "\n" not in text[alone.start : alone.end]:
        return f"{text[: alone.start]}# {text[alone.start :]}"
    inside = [each for each in statements(text) if each.path[: len(path)] == path]
    for each in reversed(inside):
        start, end = _line_start(text, each.start), _line_end(text, each.end)
        text = text[:start] + text[end + 1 :]
    return text


def begin_table(text: str, path: Path, awake: bool = True) -> str:
    """The text with the heading of a table that is not there yet, ``[[…]]`` where the path ends
    in a number: where it stands as a comment, if ``awake`` asks so, else below its last row or at
    the end.
    """
    row = isinstance(path[-1], int)
    name = ".".join(toml_key(step) for step in path if isinstance(step, str))
    heading = f"[[{name}]]" if row else f"[{name}]"
    sleeping = _sleeping_heading(text, heading) if awake and path[-1] in (0, name) else None
    if sleeping is not None:
        return _replaced(text, sleeping, heading)
    rows = [each for each in statements(text) if row and each.path[: len(path) - 1] == path[:-1]]
    if rows:
        return _inserted(text, _line_end(text, rows[-1].end), f"\n{heading}")
    return f"{text.rstrip()}\n\n{heading}\n" if text.strip() else f"{heading}\n"


def has_table(text: str, path: Path) -> bool:
    """Whether a table has a heading of its own; the top of the file needs none."""
    return not path or any(each.is_heading and each.path == path for each in statements(text))


def find_key(text: str, path: Path) -> Statement | None:
    """Where a key stands with its value, if it does: a table with a heading is none."""
    return next((s for s in statements(text) if s.path == path and not s.is_heading), None)


def _with_value(text: str, found: Statement, written: str) -> str:
    """The comment after a value keeps its column where there is room."""
    end = end_of_plain_value(text, found)
    start = found.value + len(text[found.value :]) - len(text[found.value :].lstrip(" \t"))
    rest = text[end : found.end]
    if rest.strip() and "\n" not in text[start:end] + written:
        room = len(rest) - len(rest.lstrip()) + (end - start) - len(written)
        rest = " " * max(1, room) + rest.lstrip()
    return text[: found.value] + " " + written + rest + text[found.end :]


def _region(text: str, table: Path) -> tuple[int, int]:
    """From where to where a table's own lines go: its heading to the next."""
    headings = [each for each in statements(text) if each.is_heading]
    starts = [0, *(each.start for each in headings), len(text)]
    paths: Sequence[Path] = [(), *(each.path for each in headings)]
    k = paths.index(table)
    return starts[k], starts[k + 1]


def _last_line_end(text: str, table: Path) -> int:
    """The end of the line of a table's last key, of its heading if it has none."""
    start, end = _region(text, table)
    own = [each.end for each in statements(text) if start <= each.start < end]
    return _line_end(text, own[-1]) if own else -1


def _sleeping_key(text: str, key: str, start: int, end: int) -> re.Match[str] | None:
    """A comment that would be this key with a value of one line; none below a sleeping heading."""
    heading = _SLEEPING_HEADING.search(text, start, end)
    value = r"(?!.*\"{3})[^\n#]*[^\n#\[ \t][ \t]*"
    wanted = rf"^#[ \t]*{re.escape(key)}[ \t]*={value}(?P<rest>#[^\n]*)?$"
    return re.compile(wanted, re.MULTILINE).search(text, start, heading.start() if heading else end)


def _sleeping_heading(text: str, heading: str) -> re.Match[str] | None:
    wanted = rf"^#[ \t]*{re.escape(heading)}[ \t]*(?P<rest>#[^\n]*)?$"
    return re.compile(wanted, re.MULTILINE).search(text)


def _replaced(text: str, sleeping: re.Match[str], line: str) -> str:
    rest = sleeping["rest"] or ""
    room = sleeping.start("rest") - sleeping.start() - len(line)
    line += " " * max(1, room) + rest if rest else ""
    return text[: sleeping.start()] + line + text[sleeping.end() :]


def _inserted(text: str, end_of_line: int, line: str) -> str:
    """A line put below another, or above all."""
    if end_of_line < 0:
        return f"{line}\n{text}"
    return f"{text[:end_of_line]}\n{line}{text[end_of_line:] or chr(10)}"


def _line_start(text: str, position: int) -> int:
    return text.rfind("\n", 0, position) + 1


def _line_end(text: str, position: int) -> int:
    end = text.find("\n", position)
    return len(text) if end < 0 else end
