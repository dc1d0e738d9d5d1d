"""The JSON Schema of a plan file, for editors that complete and check while one types.

Kinds and bounds come from the keys, what must be there from the rules; nothing is written twice.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from plotter.flight.plan_file_keys import PLAN_KEYS, TABLE_KEYS
from plotter.flight.plan_rules import RULES, Asks, Needed, NotBoth, Rule, Together

Schema = dict[str, Any]
DRAFT = "https://json-schema.org/draft/2020-12/schema"


def plan_schema() -> Schema:
    """The schema, of draft 2020-12.

    >>> plan_schema()["required"]
    ['format', 'flight', 'aircraft']
    """
    made: Schema = PLAN_KEYS.json_schema()
    for name, kind in TABLE_KEYS.items():
        table = made if not name else made["$defs"][kind.__name__]
        table.pop("title")
        for key in table["properties"].values():
            key.pop("title", None)
        table |= _asked(RULES[name])
    return {"$schema": DRAFT, "title": "Plan file of plotter, format 1"} | made


def _asked(rules: tuple[Rule, ...]) -> Schema:
    """What the rules of a table ask, as a schema says it."""
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
