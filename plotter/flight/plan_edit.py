"""A plan file changed and saved with all else as it was: comments, order, keys nobody here knows.

The text is never written anew. Each change is a splice (:mod:`plotter.flight.plan_splice`), and
when all are made the whole is read back: it must hold what it held before, changed as asked and
in nothing else, or the change is refused.
"""

from __future__ import annotations

import datetime as dt
import tomllib
from collections.abc import Mapping, Sequence
from typing import Any, TypeGuard

from plotter.errors import CannotDo
from plotter.flight.plan_parse import BYTE_ORDER_MARK, parsed
from plotter.flight.plan_rules import Path
from plotter.flight.plan_splice import begin_table, find_key, has_table, remove, set_key
from plotter.flight.plan_toml import toml_value

Table = Mapping[str, Any]


def write_plan(text: str, changes: Mapping[str, Any], file: str = "plan") -> str:
    """A plan file's text with changes made, every other letter of it kept.

    ``changes`` is a merge patch (RFC 7396) in the shape of the file: a value sets a key, ``None``
    or an empty list takes it out, what is not named stays. Rows of tables (``[[wind]]``) are taken
    in order: each is patched, those past the end of the list go, new ones come.

    Raises PlanError for a text that is not TOML, CannotDo for one that cannot be changed without
    touching the rest. Whether it is a good plan is for
    :func:`~plotter.flight.plan_file.read_plan` to say.

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
    raise CannotDo(
        f"{file} is written in a way that cannot be changed here without touching the rest; "
        "change it in an editor",
        code="plan-edit",
    )


def patched(before: object, changes: object) -> Any:  # noqa: ANN401 - a value of TOML
    """Values with a merge patch applied; rows of tables are patched one by one."""
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


def _made(text: str, before: Table, wanted: Table, awake: bool, path: Path = ()) -> str:
    """The text with every difference between two states of its values spliced in."""
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
    text: str, before: Sequence[Table], wanted: Sequence[Table], awake: bool, path: Path
) -> str:
    for k in reversed(range(len(wanted), len(before))):
        text = remove(text, (*path, k))
    for k, row in enumerate(wanted):
        text = _table_made(text, before[k] if k < len(before) else {}, row, awake, (*path, k))
    return text


def _table_made(text: str, before: Table, wanted: Table, awake: bool, path: Path) -> str:
    dotted = bool(before) and before.keys() == wanted.keys()
    if not has_table(text, path) and not dotted:
        text = begin_table(text, path, awake)
    return _made(text, before, wanted, awake, path)


def _is_rows(value: object) -> TypeGuard[list[Table]]:
    return isinstance(value, list) and bool(value) and all(isinstance(v, Mapping) for v in value)


def _as_before(before: object, value: object) -> object:
    """A time that was written without quotes stays so, though it comes as text."""
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
