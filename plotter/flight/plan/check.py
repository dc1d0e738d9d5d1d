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
    cast,
    get_args,
    get_origin,
    is_typeddict,
)

from pydantic_core import ErrorDetails, SchemaValidator, ValidationError

from plotter.flight.plan.keys import TABLES, KeyPath, PlanKeys
from plotter.flight.plan.kinds import Bounds, OneOrMore
from plotter.flight.plan.names import KeyName, table_name
from plotter.messages import Message, literal, message

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

Schema = dict[str, Any]
_A_TIME = re.compile(r"\d{4}-\d{2}-\d{2}[Tt ]\d{2}:\d{2}", re.ASCII)
_PLAIN = {str: "str", bool: "bool", int: "int", float: "float", dt.datetime: "datetime"}


def check(tables: dict[str, Any]) -> tuple[PlanKeys | None, list[ErrorDetails]]:
    """Return the keys if all are valid, else ``None`` and every fault."""
    try:
        return cast("PlanKeys", _checker().validate_python(tables)), []
    except ValidationError as error:
        return None, error.errors(include_url=False)


@cache
def _checker() -> SchemaValidator:
    return SchemaValidator(cast("Any", _schema(PlanKeys)))


def _schema(kind: Any) -> Schema:  # noqa: ANN401 - any annotation
    """Return the core's schema of a kind; nothing is converted, numbers are finite."""
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
    """Return a schema with a bound, a pattern or a length; a Key changes nothing."""
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
    """Return a schema that checks a value after a change."""
    function = {"type": "no-info", "function": change}
    return {"type": "function-before", "function": function, "schema": schema}


def _listed(given: object) -> object:
    return given if isinstance(given, list) else [given]


def _instant(given: object) -> object:
    """Return a quoted time as TOML would give it without quotes, anything else unchanged."""
    if not isinstance(given, str) or not _A_TIME.match(given.strip()):
        return given
    try:
        return dt.datetime.fromisoformat(given.strip())
    except ValueError:
        return given


# What is wrong with one key of a plan file, from the checker's own report.

_LONGEST_SHOWN = 40
_SAYS = {
    "string_type": "wrong-type.text",
    "string_too_short": "wrong-type.blank",
    "string_pattern_mismatch": "wrong-type.blank",
    "int_type": "wrong-type.whole",
    "float_type": "wrong-type.number",
    "finite_number": "wrong-type.finite",
    "bool_type": "wrong-type.truth",
    "datetime_type": "wrong-type.time",
    "too_short": "wrong-type.empty-list",
    "literal_error": "wrong-value",
    "greater_than": "impossible-value.above",
    "greater_than_equal": "impossible-value.least",
    "less_than_equal": "impossible-value.most",
}
"""By the checker's own name of a fault, the sentence of the catalogue."""
_CONTEXT = {
    "literal_error": "expected",
    "greater_than": "gt",
    "greater_than_equal": "ge",
    "less_than_equal": "le",
}


def fault_of(error: ErrorDetails) -> tuple[Message, tuple[str, ...]]:
    """Return the checker's report of one fault as a message, and what could be written instead."""
    path, kind, value = error["loc"], error["type"], error["input"]
    if kind == "extra_forbidden":
        return _unknown(path)
    if kind in ("dict_type", "list_type"):
        return _brackets(path, kind), ()
    values = {"name": path[-1], "value": shown(value)}
    if kind in _CONTEXT:
        limit = error["ctx"][_CONTEXT[kind]]
        return message(_SAYS[kind], limit=limit, **values), ()
    if kind in _SAYS:
        return message(_SAYS[kind], **values), ()
    return message("wrong-type", reason=literal("wrong-type", error["msg"].lower()), **values), ()


def shown(value: object) -> str:
    """Return a value as it might stand in the file, cut short."""
    text = str(value).lower() if isinstance(value, bool) else str(value)
    text = " ".join(text.split())
    cut = text if len(text) <= _LONGEST_SHOWN else f"{text[:_LONGEST_SHOWN]}…"
    return f'"{cut}"' if isinstance(value, str) else cut


def _unknown(path: KeyPath) -> tuple[Message, tuple[str, ...]]:
    """Return the nearest keys of the same table for an unknown one, else the table it is in."""
    key, table = str(path[-1]), table_name(path[:-1])
    known = tuple(TABLES.get(table, ()))
    close = tuple(get_close_matches(key.lower(), known, 3, 0.6))
    elsewhere = tuple(name for name, keys in TABLES.items() if key in keys and name)
    if elsewhere and (not close or close[0] != key):
        return message("unknown-key.elsewhere", name=key, table=elsewhere[0]), elsewhere[:3]
    if close:
        return message("unknown-key.close", name=key, close=KeyName(table, close[0])), close
    names = tuple(KeyName(table, each) for each in known)
    return message("unknown-key", name=key, known=names), known


def _brackets(path: KeyPath, kind: str) -> Message:
    name, table = path[-1], table_name(path)
    if kind == "list_type" and table in TABLES:
        return message("wrong-type.rows", name=name, table=table)
    if kind == "list_type":
        return message("wrong-type.list", name=name)
    if isinstance(name, str) and table in TABLES:
        return message("wrong-type.table", name=name, table=table)
    return message("wrong-type.row", name=name, table=table)
