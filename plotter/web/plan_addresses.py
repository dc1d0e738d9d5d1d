"""The addresses that answer about a plan: its log, the working of a figure, its file."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from fastapi import FastAPI
from fastapi.responses import JSONResponse

from plotter.flight.columns import COLUMNS
from plotter.flight.leg_ends import by_ends
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan_edit import write_plan
from plotter.flight.plan_file import read_plan
from plotter.flight.plan_parse import BYTE_ORDER_MARK, parsed
from plotter.flight.plan_starter import starter
from plotter.flight.working import column_named, row_numbered
from plotter.formats.log_document import log_document
from plotter.route.editing import points_of
from plotter.web import faults
from plotter.web.asked_plan import (
    CALLED,
    AskedLog,
    AskedRead,
    AskedWorking,
    AskedWrite,
    bare,
    log_given,
    with_numbers,
)
from plotter.web.invented import PARTS
from plotter.web.leg_notes import aside_words
from plotter.web.log_sheet import working_words
from plotter.web.own_stores import OwnStores
from plotter.web.plan_forms import forms

Node = dict[str, Any]


def add_plans(app: FastAPI, stores: OwnStores) -> None:
    """Add them to an application."""

    @app.post("/api/log", responses=faults.DESCRIBED)
    def log(asked: AskedLog) -> JSONResponse:
        """The document that ``plotter log --json`` prints for the plan."""
        made = log_given(asked.plan, asked.points, stores.mine(), asked.allow_old_model)
        return JSONResponse(log_document(made, {}, _worked(made, asked)))

    @app.post("/api/working", responses=faults.DESCRIBED)
    def one_working(asked: AskedWorking) -> Node:
        """How one figure of the log is made, in words."""
        made = log_given(asked.plan, asked.points, stores.mine())
        return working_words(made, asked.row, column_named(asked.column))

    @app.get("/api/plan/new")
    def new() -> Node:
        """A plan to start from: aircraft, wind and time invented, and which parts those are."""
        return {**_opened(starter("Demo, invented")), "invented": list(PARTS)}

    @app.get("/api/plan/forms")
    def plan_forms() -> Node:
        """The fields of the page for all that a plan file holds."""
        return forms()

    @app.post("/api/plan/read", responses=faults.DESCRIBED)
    def read(asked: AskedRead) -> Node:
        """The tables of a plan file, every fault of it told with its line."""
        read_plan(asked.text, asked.name or CALLED)
        return _opened(asked.text)

    @app.post("/api/plan/write", responses=faults.DESCRIBED)
    def write(asked: AskedWrite) -> Node:
        """The text of a plan file with these tables: comments and unknown keys stay.

        What is noted for a leg that the route has not is left out, and said.
        """
        tables, legs = with_numbers(bare(asked.plan))
        text = write_plan(asked.text or "format = 1\n", _patch(asked.text, tables))
        read_plan(text, CALLED)
        return {"text": text, "left_out": aside_words(legs.aside)}


def _worked(log: NavigationLog, asked: AskedLog) -> dict[int, tuple[str, ...]]:
    if not asked.working and asked.row is None and asked.column is None:
        return {}
    columns = tuple(COLUMNS) if asked.column is None else (column_named(asked.column),)
    rows = log.rows if asked.row is None else (row_numbered(log, asked.row),)
    return {row.number: columns for row in rows}


def _opened(text: str) -> Node:
    tables = parsed(text.removeprefix(BYTE_ORDER_MARK), CALLED)
    flight, rows = tables.get("flight", {}), tables.get("leg")
    if rows:
        tables["leg"] = by_ends(rows, points_of(flight["route"]))
    return {"text": text, "plan": _as_json(tables)}


def _as_json(value: Any) -> Any:  # noqa: ANN401 - a value of TOML
    if isinstance(value, dict):
        return {key: _as_json(each) for key, each in value.items()}
    if isinstance(value, list):
        return [_as_json(each) for each in value]
    if isinstance(value, dt.datetime | dt.date | dt.time):
        return value.isoformat()
    return value


def _patch(text: str, tables: Mapping[str, Any]) -> dict[str, Any]:
    """What turns the text's tables into these: what is no longer there is taken out."""
    before = parsed(text.removeprefix(BYTE_ORDER_MARK), CALLED) if text.strip() else {}
    return _gone(before, tables)


def _gone(before: Mapping[str, Any], tables: Mapping[str, Any]) -> dict[str, Any]:
    patch: dict[str, Any] = {key: None for key in before if key not in tables and key != "format"}
    for key, value in tables.items():
        old = before.get(key)
        patch[key] = _changed(old, value)
    return patch


def _changed(old: object, value: object) -> object:
    if isinstance(old, dict) and isinstance(value, dict):
        return _gone(old, value)
    rows = isinstance(value, list) and any(isinstance(each, dict) for each in value)
    if isinstance(old, list) and rows and isinstance(value, list):
        return [_changed(old[k] if k < len(old) else None, each) for k, each in enumerate(value)]
    return value
