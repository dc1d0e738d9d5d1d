"""Values as TOML writes them; only the kinds that a plan file holds."""

from __future__ import annotations

import datetime as dt
import json
import re
from collections.abc import Mapping

from plotter.errors import InputError

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_LINE = 88


def toml_text(text: str) -> str:
    """A text in quotes, whatever is in it; one of several lines stays one.

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
    """A key, in quotes only where it needs them.

    >>> toml_key("speed_kt"), toml_key("our own")
    ('speed_kt', '"our own"')
    """
    return key if _BARE.fullmatch(key) else _quoted(key)


def toml_value(value: object) -> str:
    """A value; whole numbers go without a decimal point, tables of a list on lines of their own.

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
    raise InputError(f"{value!r} is no value of a plan; give text, numbers or true and false")


def _quoted(text: str) -> str:
    """On one line: JSON's quotes are TOML's, but for one control character it leaves as it is."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _number(value: float) -> str:
    whole = isinstance(value, float) and value.is_integer() and abs(value) < 1e15
    return repr(int(value) if whole else value)


def _list(items: list[str]) -> str:
    line = f"[{', '.join(items)}]"
    if len(line) <= _LINE and not any(item.startswith("{") for item in items):
        return line
    return "[\n" + "".join(f"  {item},\n" for item in items) + "]" if items else "[]"
