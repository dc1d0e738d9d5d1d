"""The checker of plan files, made of pydantic's core: every key's kind and bounds, all at once.

It is given the core's own schema, made here from the keys. Pydantic's models and adapters would
make the same one and are not imported: they take longer to start than a whole log takes to
compute.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from difflib import get_close_matches
from functools import cache
from typing import (
    TYPE_CHECKING,
    Annotated,
    Any,
    Literal,
    NamedTuple,
    cast,
    get_args,
    get_origin,
    is_typeddict,
)

from pydantic_core import ErrorDetails, SchemaValidator, ValidationError

from plotter.flight.plan.keys import TABLES, Bounds, KeyPath, OneOrMore, PlanKeys, table_name

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

Schema = dict[str, Any]
_A_TIME = re.compile(r"\d{4}-\d{2}-\d{2}[Tt ]\d{2}:\d{2}", re.ASCII)
_PLAIN = {str: "str", bool: "bool", int: "int", float: "float", dt.datetime: "datetime"}


def check(tables: dict[str, Any]) -> tuple[PlanKeys | None, list[ErrorDetails]]:
    """The keys if all are well, else ``None`` and every fault."""
    try:
        return cast("PlanKeys", _checker().validate_python(tables)), []
    except ValidationError as error:
        return None, error.errors(include_url=False)


@cache
def _checker() -> SchemaValidator:
    return SchemaValidator(cast("Any", _schema(PlanKeys)))


def _schema(kind: Any) -> Schema:  # noqa: ANN401 - any annotation
    """The core's schema of a kind; nothing is converted, numbers are finite."""
    origin, given = get_origin(kind), get_args(kind)
    if origin is Annotated:
        made = _schema(given[0])
        for mark in given[1:]:
            made = _marked(made, mark)
        return made
    if origin is Literal:
        return {"type": "literal", "expected": list(given)}
    if origin is list:
        return {"type": "list", "strict": True, "items_schema": _schema(given[0])}
    if origin is dict:
        return {"type": "dict", "strict": True, "values_schema": _schema(given[1])}
    if is_typeddict(kind):
        return _table(kind)
    plain: Schema = {"type": _PLAIN[kind], "strict": True}
    if kind is float:
        plain["allow_inf_nan"] = False
    return _before(plain, _instant) if kind is dt.datetime else plain


def _marked(schema: Schema, mark: object) -> Schema:
    """A schema with a bound, a pattern or a length; what a key is for changes nothing."""
    if isinstance(mark, Bounds):
        return schema | {name: bound for name, bound in mark._asdict().items() if bound is not None}
    if isinstance(mark, str):
        return schema | {"pattern": mark, "min_length": 1}
    if isinstance(mark, OneOrMore):
        long_enough = schema | {"min_length": mark.least}
        return _before(long_enough, _listed) if mark.bare else long_enough
    return schema


def _table(table: Any) -> Schema:  # noqa: ANN401 - a TypedDict
    fields = {
        key: {"type": "typed-dict-field", "required": False, "schema": _schema(kind)}
        for key, kind in table.__annotations__.items()
    }
    return {"type": "typed-dict", "strict": True, "extra_behavior": "forbid", "fields": fields}


def _before(schema: Schema, change: Callable[[object], object]) -> Schema:
    """A schema that looks at a value after it was changed."""
    function = {"type": "no-info", "function": change}
    return {"type": "function-before", "function": function, "schema": schema}


def _listed(given: object) -> object:
    return given if isinstance(given, list) else [given]


def _instant(given: object) -> object:
    """A time in quotes as TOML would give it without; anything else is left to be refused."""
    if not isinstance(given, str) or not _A_TIME.match(given.strip()):
        return given
    try:
        return dt.datetime.fromisoformat(given.strip())
    except ValueError:
        return given


# What is wrong with one key of a plan file, and what to write, from the checker's own report.

_LONGEST_SHOWN = 40
_KINDS = {
    "string_type": "no text; write it in quotes",
    "string_too_short": "empty; write something, or leave the key out",
    "string_pattern_mismatch": "blank; write something, or leave the key out",
    "int_type": "no whole number; write figures alone, without quotes or unit",
    "float_type": "no number; write figures alone, without quotes or unit",
    "finite_number": "no number to reckon with; write figures",
    "bool_type": "neither true nor false; write one of them, without quotes",
    "datetime_type": "no time with a date; write it as 2026-07-04T09:00:00-05:00",
    "too_short": "an empty list; write at least one, or leave the key out",
}
_BOUNDS = {
    "greater_than": "a number above {gt:g}",
    "greater_than_equal": "{ge:g} or more",
    "less_than": "a number below {lt:g}",
    "less_than_equal": "{le:g} or less",
}


class Words(NamedTuple):
    """A fault in words, its code, and what could be written instead."""

    words: str
    code: str
    candidates: tuple[str, ...] = ()


def fault_words(error: ErrorDetails) -> Words:
    """The checker's report of one fault in our own words."""
    path, kind, given = error["loc"], error["type"], error["input"]
    if kind == "extra_forbidden":
        return _unknown(path)
    if kind in ("dict_type", "list_type"):
        return Words(_brackets(path, kind), "wrong-type")
    if kind == "literal_error":
        return Words(f"is {shown(given)}; write {error['ctx']['expected']}", "wrong-value")
    if kind in _BOUNDS:
        bound = _BOUNDS[kind].format(**error["ctx"])
        return Words(f"is {shown(given)}; write {bound}", "impossible-value")
    words = _KINDS.get(kind, f"cannot be used ({error['msg'].lower()})")
    return Words(f"{shown(given)} is {words}", "wrong-type")


def shown(given: object) -> str:
    """A value as it might stand in the file, cut short."""
    text = str(given).lower() if isinstance(given, bool) else str(given)
    text = " ".join(text.split())
    cut = text if len(text) <= _LONGEST_SHOWN else f"{text[:_LONGEST_SHOWN]}…"
    return f'"{cut}"' if isinstance(given, str) else cut


def _unknown(path: KeyPath) -> Words:
    """A key nobody knows: the nearest of its own table, else the table it belongs in."""
    key, table = str(path[-1]), table_name(path[:-1])
    known = TABLES.get(table, ())
    close = tuple(get_close_matches(key.lower(), known, 3, 0.6))
    elsewhere = tuple(name for name, keys in TABLES.items() if key in keys and name)
    if elsewhere and (not close or close[0] != key):
        return Words(
            f"no such key here; it belongs in [{elsewhere[0]}]", "unknown-key", elsewhere[:3]
        )
    if close:
        return Words(f"no such key; did you mean {close[0]}?", "unknown-key", close)
    return Words(f"no such key; known are {', '.join(known)}", "unknown-key", tuple(known))


def _brackets(path: KeyPath, kind: str) -> str:
    name = table_name(path)
    if kind == "list_type" and name in TABLES:
        return f"is one of several; write [[{name}]], with two brackets"
    if kind == "list_type":
        return 'is no list; write it in brackets, as in ["MSP", "GRB"]'
    if isinstance(path[-1], str) and name in TABLES:
        return f"is a table and there is one only; write [{name}], with one bracket"
    return f"is no table; write [[{name}]] and its keys below"
