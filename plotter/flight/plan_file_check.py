"""The checker of plan files, made of pydantic's core: every key's kind and bounds, all at once.

It is given the core's own schema, made here from the keys. Pydantic's models and adapters would
make the same one and are not imported: they take longer to start than a whole log takes to
compute.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from functools import cache
from typing import Annotated, Any, Literal, cast, get_args, get_origin, is_typeddict

from pydantic_core import ErrorDetails, SchemaValidator, ValidationError

from plotter.flight.plan_file_keys import Bounds, OneOrMore, PlanKeys

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
