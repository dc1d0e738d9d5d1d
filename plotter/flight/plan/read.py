"""A plan file read: from TOML to a :class:`~plotter.flight.plan.values.Plan`, or every fault at once.

First the text must be TOML. Then each key is looked at for its kind and bounds
(:mod:`plotter.flight.plan.check`), each table for which keys are there
(:mod:`plotter.flight.plan.rules`), and what is left when all faulty keys are taken away is made
into values (:mod:`plotter.flight.plan.make`), whose own faults join the others.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from copy import deepcopy
from typing import Any

from plotter.flight.plan.check import check
from plotter.flight.plan.keys import KeyPath, PlanKeys
from plotter.flight.plan.kinds import FORMAT
from plotter.flight.plan.lines import BYTE_ORDER_MARK, Faults, parsed
from plotter.flight.plan.make import plan_of
from plotter.flight.plan.names import table_name
from plotter.flight.plan.rules import broken
from plotter.flight.plan.values import Plan
from plotter.messages import message


def read_plan(text: str, file: str) -> Plan:
    """Return the plan of a TOML text; ``file`` is what faults call it.

    A byte-order mark in front is passed over. Raises :class:`~plotter.errors.PlanError` with
    every fault, each with its line.

    >>> read_plan("format = 1\\n[flight]\\nrute = 'KRST KLSE'\\n", "ours.toml")
    Traceback (most recent call last):
    plotter.errors.PlanError: ours.toml, line 2: [flight] route is missing; write route = "KRST \
KLSE", the points with spaces between them
    """
    text = text.removeprefix(BYTE_ORDER_MARK)
    tables, faults = parsed(text, file), Faults()
    if _is_newer(tables.get("format")):
        written = tables["format"]
        faults.add(
            ("format",), message("newer-format", name="format", format=written, latest=FORMAT)
        )
        raise faults.error(text, file)
    plan = plan_of(_checked(tables, faults), faults)
    if faults.found or plan is None:
        raise faults.error(text, file)
    return plan


def plan_of_tables(tables: Mapping[str, Any]) -> Plan:
    """Return the plan of tables that are already read, as TOML or JSON gives them.

    Raises :class:`~plotter.errors.PlanError` with every fault, each with the path of its key.

    >>> plan_of_tables({"flight": {"route": "KRST KLSE"}})  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    plotter.errors.PlanError: [aircraft] is missing; write the table [aircraft] with ...
    """
    faults = Faults()
    plan = plan_of(_checked({"format": FORMAT, **tables}, faults), faults)
    if faults.found or plan is None:
        raise faults.error_by_key()
    return plan


def _is_newer(given: object) -> bool:
    """Return whether the file has a later format, whose keys are unknown here."""
    return isinstance(given, int) and given > FORMAT


def _checked(tables: dict[str, Any], faults: Faults) -> PlanKeys:
    """Return the valid keys and keep the faults of the others."""
    for path, table in _each_table(tables):
        for missing in broken(table_name(path), table):
            faults.add((*path, missing.key), missing.said)
    keys, found = check(tables)
    if keys is not None:
        return keys
    from plotter.flight.plan.check import fault_of

    for each in found:
        faults.add(each["loc"], *fault_of(each))
    keys, _ = check(_without(tables, [each["loc"] for each in found]))
    return keys or {}


def _each_table(tables: Mapping[str, Any]) -> Iterator[tuple[KeyPath, Mapping[str, Any]]]:
    """Yield every table with its path, skipping what is not a table."""
    yield (), tables
    for name, value in tables.items():
        yield from _tables_at((name,), value)
    aircraft = tables.get("aircraft")
    for name, value in aircraft.items() if isinstance(aircraft, dict) else ():
        if isinstance(value, list):
            yield from _tables_at(("aircraft", name), value)


def _tables_at(path: KeyPath, value: object) -> Iterator[tuple[KeyPath, Mapping[str, Any]]]:
    if isinstance(value, dict):
        yield path, value
    elif isinstance(value, list):
        rows = (((*path, k), row) for k, row in enumerate(value))
        yield from ((at, row) for at, row in rows if isinstance(row, dict))


def _without(tables: dict[str, Any], paths: list[KeyPath]) -> dict[str, Any]:
    """Return the tables without faulty values; a list with a faulty item is removed as a whole.

    A row of a table of the aircraft's takes its table with it: the rest of it means nothing.
    """
    rest = deepcopy(tables)
    for path in paths:
        _remove(rest, _whole(path))
    return rest


def _whole(path: KeyPath) -> KeyPath:
    """Return what to remove for a fault: the key, or the whole of a nested list."""
    nested = next((k for k, step in enumerate(path) if isinstance(step, int) and k > 1), None)
    return path if nested is None else path[:nested]


def _remove(tables: dict[str, Any], path: KeyPath) -> None:
    inside: Any = tables
    for step in path[:-1]:
        inside = inside.get(step) if isinstance(inside, dict) else inside[int(step)]
        if inside is None:
            return
    if isinstance(inside, dict):
        inside.pop(path[-1], None)
    else:
        inside[int(path[-1])] = {}
