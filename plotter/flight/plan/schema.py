"""The JSON Schema of a plan file, for editors that complete and check while one types.

Kinds and bounds come from the keys, what must be there from the rules; nothing is written twice.
"""

from __future__ import annotations

import datetime as dt
import inspect
from collections.abc import Iterator
from typing import Annotated, Any, Literal, get_args, get_origin, is_typeddict

from plotter.flight.plan.keys import TABLE_KEYS, PlanKeys
from plotter.flight.plan.kinds import FORMAT, Bounds, Key, OneOrMore
from plotter.flight.plan.rules import RULES, Asks, Needed, NotBoth, Rule, Together

Schema = dict[str, Any]
_BOUNDS = ("exclusiveMinimum", "minimum", "maximum")
_PLAIN: dict[type, Schema] = {
    str: {"type": "string"},
    bool: {"type": "boolean"},
    int: {"type": "integer"},
    float: {"type": "number"},
    dt.datetime: {"type": "string", "format": "date-time"},
}
DRAFT = "https://json-schema.org/draft/2020-12/schema"


def plan_schema() -> Schema:
    """Return the schema, of draft 2020-12.

    >>> plan_schema()["required"]
    ['format', 'flight', 'aircraft']
    """
    tables = {_name(kind): _table(name, kind) for name, kind in TABLE_KEYS.items() if name}
    whole = _table("", PlanKeys)
    return {"$schema": DRAFT, "title": f"Plan file of plotter, format {FORMAT}", **whole} | {
        "$defs": tables
    }


def _table(name: str, kind: Any) -> Schema:  # noqa: ANN401 - a TypedDict
    return {
        "type": "object",
        "description": inspect.getdoc(kind),
        "properties": {key: _schema(each) for key, each in kind.__annotations__.items()},
        "additionalProperties": False,
    } | _asked(RULES[name])


def _name(kind: type) -> str:
    return kind.__name__.removesuffix("Keys")


def _schema(kind: Any) -> Schema:  # noqa: ANN401 - any annotation
    origin, given = get_origin(kind), get_args(kind)
    if origin is Annotated:
        made = _schema(given[0])
        for mark in given[1:]:
            made = _marked(made, mark)
        return made
    if origin is Literal:
        return {"type": "string", "enum": list(given)}
    if origin is list:
        return {"type": "array", "items": _schema(given[0])}
    if origin is dict:
        return {"type": "object", "additionalProperties": _schema(given[1])}
    if is_typeddict(kind):
        return {"$ref": f"#/$defs/{_name(kind)}"}
    return dict(_PLAIN[kind])


def _marked(schema: Schema, mark: object) -> Schema:
    match mark:
        case Bounds():
            named = zip(_BOUNDS, mark, strict=True)
            return schema | {name: bound for name, bound in named if bound is not None}
        case str():
            return schema | {"pattern": mark}
        case OneOrMore(bare=bare, least=least):
            several = schema | {"minItems": least}
            return {"anyOf": [schema["items"], several]} if bare else several
        case Key(help=words, example=example) if words:
            return (
                schema
                | {"description": words}
                | ({} if example is None else {"examples": [example]})
            )
    return schema


def _asked(rules: tuple[Rule, ...]) -> Schema:
    """Return the rules of a table as a schema states them."""
    required = [rule.key for rule in rules if isinstance(rule, Needed) and not rule.instead]
    others = [condition for rule in rules for condition in _conditions(rule)]
    return ({"required": required} if required else {}) | ({"allOf": others} if others else {})


def _conditions(rule: Rule) -> Iterator[Schema]:
    match rule:
        case Needed(instead=instead) if instead:
            yield _any_of((rule.key, *instead))
        case NotBoth(keys=keys):
            yield {"not": {"required": list(keys)}}
        case Asks(key=key, for_key=other):
            yield {"dependentRequired": {key: [other]}}
        case Together(parts=parts):
            given = [key for part in parts for key in part]
            yield {"if": _any_of(given), "then": {"allOf": [_any_of(part) for part in parts]}}


def _any_of(keys: list[str] | tuple[str, ...]) -> Schema:
    return {"anyOf": [{"required": [key]} for key in keys]}
