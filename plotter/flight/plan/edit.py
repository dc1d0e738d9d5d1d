"""Change a plan file and keep the rest of it: comments, order, unknown keys.

The text is never rewritten as a whole. Each change is a splice; then the result is read back, and
rejected unless its values are the old ones with the changes asked for and no others.
"""

from __future__ import annotations

import datetime as dt
import json
import re
import tomllib
from collections.abc import Mapping, Sequence
from typing import Any, TypeGuard

from plotter.errors import CannotDo, InputError
from plotter.flight.plan.keys import KeyPath
from plotter.flight.plan.lines import (
    BYTE_ORDER_MARK,
    Statement,
    end_of_plain_value,
    parsed,
    statements,
)

# Values as TOML writes them; only the kinds that a plan file holds.

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_LINE = 88


def toml_text(text: str) -> str:
    """Return a text in quotes, whatever it holds; several lines stay several.

    >>> print(toml_text('the "short" way'))
    "the \\"short\\" way"
    >>> print(toml_text("FT 3000\\nOMA 2219\\n"))
    \"\"\"
    FT 3000
    OMA 2219
    \"\"\"
    """
    if "\n" not in text:
        return _quoted(text)
    lines = "\n".join(_quoted(line)[1:-1] for line in text.split("\n"))
    return f'"""\n{lines}"""'


def toml_key(key: str) -> str:
    """Return a key, in quotes only if it needs them.

    >>> toml_key("speed_kt"), toml_key("our own")
    ('speed_kt', '"our own"')
    """
    return key if _BARE.fullmatch(key) else _quoted(key)


def toml_value(value: object) -> str:
    """Return a value as TOML; whole numbers without a decimal point, tables of a list a line each.

    Raises InputError for what a plan cannot hold.

    >>> toml_value([3500.0, 4500.5]), toml_value({"a": True})
    ('[3500, 4500.5]', '{ a = true }')
    """
    if isinstance(value, str):
        return toml_text(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return _number(value)
    if isinstance(value, dt.datetime):
        return value.isoformat()
    if isinstance(value, Mapping):
        inside = ", ".join(f"{toml_key(key)} = {toml_value(each)}" for key, each in value.items())
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, list):
        return _list([toml_value(each) for each in value])
    raise InputError("input.plan-value", value=repr(value))


def _quoted(text: str) -> str:
    """Quote on one line as JSON does, with the one control character that JSON leaves as it is."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _number(value: float) -> str:
    whole = isinstance(value, float) and value.is_integer() and abs(value) < 1e15
    return repr(int(value) if whole else value)


def _list(items: list[str]) -> str:
    line = f"[{', '.join(items)}]"
    if len(line) <= _LINE and not any(item.startswith("{") for item in items):
        return line
    return "[\n" + "".join(f"  {item},\n" for item in items) + "]" if items else "[]"


# One key of a TOML text set, or one table begun or taken out; every other letter stays.
#
# A key that is there gets its new value in its old place, its comment kept. One that stands as a
# comment (``# line = "rhumb"``) comes to life there. Any other goes below the last key of its
# table.

_SLEEPING_HEADING = re.compile(r"^#[ \t]*\[", re.MULTILINE)


def set_key(text: str, path: KeyPath, written: str) -> str:
    """Return the text with a key set to a written value; the table must exist.

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


def remove(text: str, path: KeyPath) -> str:
    """Return the text without a key, or without a table and its content; comments between stay.

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


def begin_table(text: str, path: KeyPath, awake: bool = True) -> str:
    """Return the text with the heading of a new table, ``[[…]]`` if the path ends in a number.

    It replaces a comment that is this heading, if ``awake``; else it goes below the last row, or at
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


def has_table(text: str, path: KeyPath) -> bool:
    """Return whether a table has a heading; the top of the file needs none."""
    return not path or any(each.is_heading and each.path == path for each in statements(text))


def find_key(text: str, path: KeyPath) -> Statement | None:
    """Return the statement of a key, if there is one; a table with a heading has none."""
    return next((s for s in statements(text) if s.path == path and not s.is_heading), None)


def _with_value(text: str, found: Statement, written: str) -> str:
    """Replace a value; the comment after it keeps its column if there is room."""
    end = end_of_plain_value(text, found)
    start = found.value + len(text[found.value :]) - len(text[found.value :].lstrip(" \t"))
    rest = text[end : found.end]
    if rest.strip() and "\n" not in text[start:end] + written:
        room = len(rest) - len(rest.lstrip()) + (end - start) - len(written)
        rest = " " * max(1, room) + rest.lstrip()
    return text[: found.value] + " " + written + rest + text[found.end :]


def _region(text: str, table: KeyPath) -> tuple[int, int]:
    """Return start and end of a table's own lines: from its heading to the next one."""
    headings = [each for each in statements(text) if each.is_heading]
    starts = [0, *(each.start for each in headings), len(text)]
    paths: Sequence[KeyPath] = [(), *(each.path for each in headings)]
    k = paths.index(table)
    return starts[k], starts[k + 1]


def _last_line_end(text: str, table: KeyPath) -> int:
    """Return the end of the line of a table's last key, or of its heading if it has no key."""
    start, end = _region(text, table)
    own = [each.end for each in statements(text) if start <= each.start < end]
    return _line_end(text, own[-1]) if own else -1


def _sleeping_key(text: str, key: str, start: int, end: int) -> re.Match[str] | None:
    """Find the comment that is this key with a one-line value, above any commented-out heading."""
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
    """Insert a line below another, or at the top."""
    if end_of_line < 0:
        return f"{line}\n{text}"
    return f"{text[:end_of_line]}\n{line}{text[end_of_line:] or chr(10)}"


def _line_start(text: str, position: int) -> int:
    return text.rfind("\n", 0, position) + 1


def _line_end(text: str, position: int) -> int:
    end = text.find("\n", position)
    return len(text) if end < 0 else end


Table = Mapping[str, Any]


def write_plan(text: str, changes: Mapping[str, Any], file: str = "plan") -> str:
    """Return a plan file's text with changes made and every other character kept.

    ``changes`` is a merge patch (RFC 7396) in the shape of the file: a value sets a key, ``None``
    or an empty list takes it out, what is not named stays. Rows of tables (``[[wind]]``) are taken
    in order: each is patched, those past the end of the list go, new ones come.

    Raises PlanError for a text that is not TOML, CannotDo for one that cannot be changed without
    touching the rest. Whether it is a good plan is for
    :func:`~plotter.flight.plan.read.read_plan` to say.

    >>> print(write_plan("[flight]\\nroute = 'A B'  # ours\\n", {"flight": {"route": "A C"}}))
    [flight]
    route = "A C"  # ours
    <BLANKLINE>
    """
    mark = BYTE_ORDER_MARK if text.startswith(BYTE_ORDER_MARK) else ""
    body = text.removeprefix(mark)
    windows = "\r\n" in body and "\n" not in body.replace("\r\n", "")
    body = body.replace("\r\n", "\n") if windows else body
    before = parsed(body, file) if body.strip() else {}
    wanted = patched(before, changes)
    for awake in (True, False):
        made = _made(body, before, wanted, awake)
        if _holds(made, wanted):
            return mark + (made.replace("\n", "\r\n") if windows else made)
    raise CannotDo("plan-edit", file=file)


def patched(before: object, changes: object) -> Any:  # noqa: ANN401 - a value of TOML
    """Return values with a merge patch applied; rows of tables are patched one by one."""
    if _is_rows(changes):
        rows = before if _is_rows(before) else []
        return [patched(rows[k] if k < len(rows) else {}, row) for k, row in enumerate(changes)]
    if not isinstance(changes, Mapping):
        return _as_before(before, changes)
    merged = dict(before) if isinstance(before, dict) else {}
    for key, change in changes.items():
        if change is None or change == []:
            merged.pop(key, None)
        else:
            merged[key] = patched(merged.get(key), change)
    return merged


def _made(text: str, before: Table, wanted: Table, awake: bool, path: KeyPath = ()) -> str:
    """Return the text with every difference between two states of its values spliced in."""
    for key in [key for key in before if key not in wanted]:
        text = remove(text, (*path, key))
    for key, value in wanted.items():
        at, old = (*path, key), before.get(key)
        if key in before and same(old, value):
            continue
        if _is_rows(value) and (has_table(text, (*at, 0)) or not (path or find_key(text, at))):
            text = _rows_made(text, old if _is_rows(old) else [], value, awake, at)
        elif isinstance(value, dict) and find_key(text, at) is None:
            text = _table_made(text, old if isinstance(old, dict) else {}, value, awake, at)
        else:
            bare = text if find_key(text, at) else remove(text, at)
            text = set_key(bare, at, toml_value(value))
    return text


def _rows_made(
    text: str, before: Sequence[Table], wanted: Sequence[Table], awake: bool, path: KeyPath
) -> str:
    for k in reversed(range(len(wanted), len(before))):
        text = remove(text, (*path, k))
    for k, row in enumerate(wanted):
        text = _table_made(text, before[k] if k < len(before) else {}, row, awake, (*path, k))
    return text


def _table_made(text: str, before: Table, wanted: Table, awake: bool, path: KeyPath) -> str:
    dotted = bool(before) and before.keys() == wanted.keys()
    if not has_table(text, path) and not dotted:
        text = begin_table(text, path, awake)
    return _made(text, before, wanted, awake, path)


def _is_rows(value: object) -> TypeGuard[list[Table]]:
    return isinstance(value, list) and bool(value) and all(isinstance(v, Mapping) for v in value)


def _as_before(before: object, value: object) -> object:
    """Return a time that was written without quotes as a time, though it comes as text."""
    if isinstance(before, dt.datetime) and isinstance(value, str):
        try:
            return dt.datetime.fromisoformat(value)
        except ValueError:
            return value
    return value


def _holds(text: str, wanted: object) -> bool:
    try:
        return same(tomllib.loads(text), wanted)
    except ValueError:
        return False


def same(one: object, other: object) -> bool:
    """Equal, a number for a number and never for a truth, times with their offset."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, dt.datetime) and isinstance(other, dt.datetime):
        return one.isoformat() == other.isoformat()
    return one == other and isinstance(one, bool) == isinstance(other, bool)
