"""A plan as the page asks about it: the text of a plan file, or its tables as JSON."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import Field

from plotter.errors import InputError
from plotter.flight.leg_ends import Numbered, by_number
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan import Plan
from plotter.flight.plan_file import plan_of_tables, read_plan
from plotter.places.store import Store
from plotter.route.editing import points_of
from plotter.web.asked import (
    MOST_POINTS,
    Asked,
    AskedExport,
    AskedPoint,
    AskedSheet,
    check_size,
    own_points_of,
)
from plotter.web.invented import told_as_invented

MOST_PLAN_LETTERS = 200_000
DEEPEST = 8
"""Tables inside one another: a plan needs four."""
CALLED = "plan"

PlanText = Annotated[str, Field(max_length=MOST_PLAN_LETTERS)]
PlanTables = dict[str, Any]


class AskedLog(Asked):
    """A plan whose log is asked for, with the working of all figures, of a row, or of one."""

    plan: Annotated[
        PlanText | PlanTables,
        Field(description="The text of a plan file (TOML), or the same tables as JSON."),
    ]
    points: list[AskedPoint] = Field(default_factory=list, max_length=MOST_POINTS)
    allow_old_model: bool = False
    working: bool = False
    row: Annotated[int | None, Field(ge=1, le=100_000)] = None
    column: Annotated[str | None, Field(max_length=60)] = None


class AskedWorking(Asked):
    """One figure of a log whose working is asked for, in words."""

    plan: PlanText | PlanTables
    points: list[AskedPoint] = Field(default_factory=list, max_length=MOST_POINTS)
    row: Annotated[int, Field(ge=1, le=100_000)]
    column: Annotated[str, Field(max_length=60)]


class AskedRead(Asked):
    """The text of a plan file that is opened."""

    text: PlanText
    name: Annotated[str, Field(max_length=200)] = CALLED


class AskedWrite(Asked):
    """Tables that are to be saved over the text they came from; empty for a plan that is new."""

    text: PlanText = ""
    plan: PlanTables


def plan_given(given: str | PlanTables) -> Plan:
    """The plan of a body; raises PlanError with every fault, InputError for too many points."""
    if isinstance(given, str):
        plan = read_plan(given, CALLED)
    else:
        plan = plan_of_tables(with_numbers(bare(given))[0])
    check_size(plan.route)
    return plan


def log_given(
    given: str | PlanTables, points: list[AskedPoint], store: Store, allow_old_model: bool = False
) -> NavigationLog:
    """The log of a plan; files it names are never opened: no path of the page's leads to a disk."""
    return navigation_log(plan_given(given), store, own_points_of(points), allow_old_model)


def log_of_route(plan: PlanTables, asked: AskedSheet | AskedExport, store: Store) -> NavigationLog:
    """The log of a plan with the route that is asked about in place of its own."""
    flight = plan.get("flight")
    now = {**(flight if isinstance(flight, dict) else {}), "route": asked.route}
    log = log_given({**plan, "flight": now}, asked.points, store, asked.allow_old_model)
    return told_as_invented(log, asked.invented)


def with_numbers(tables: PlanTables) -> tuple[PlanTables, Numbered]:
    """Tables whose rows of legs say their number, where they said the ends of their leg."""
    flight, rows = tables.get("flight"), tables.get("leg")
    route = flight.get("route") if isinstance(flight, dict) else None
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        return tables, Numbered([], [])
    legs = by_number(rows, points_of(route) if isinstance(route, str) else [])
    rest = {key: value for key, value in tables.items() if key != "leg"}
    return ({**rest, "leg": legs.rows} if legs.rows else rest), legs


def bare(tables: Mapping[str, Any]) -> dict[str, Any]:
    """Tables without the keys that are null.

    Raises InputError where they are too deep, or hold what no file can carry.

    >>> bare({"flight": {"route": "KRST KLSE", "line": None}})
    {'flight': {'route': 'KRST KLSE'}}
    """
    found: dict[str, Any] = _bare(tables, DEEPEST)
    return found


def _bare(value: object, deeper: int) -> Any:  # noqa: ANN401 - a value of JSON
    if isinstance(value, float) and not math.isfinite(value):
        raise InputError("the plan holds a figure that is no number", code="not-a-number")
    if isinstance(value, str):
        return _whole(value)
    if not isinstance(value, dict | list):
        return value
    if not deeper:
        raise InputError("the plan is nested deeper than any plan", code="plan-depth")
    if isinstance(value, list):
        return [_bare(each, deeper - 1) for each in value if each is not None]
    held = {key: each for key, each in value.items() if each is not None}
    return {_whole(key): _bare(each, deeper - 1) for key, each in held.items()}


def _whole(text: str) -> str:
    """The text, of which no character is half of a surrogate pair: no file could carry that."""
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        shown = text.encode("utf-8", "replace").decode()[:40]
        raise InputError(
            f"'{shown}' in the plan holds half of a character (a lone surrogate); type it again",
            code="half-a-character",
        ) from None
    return text
