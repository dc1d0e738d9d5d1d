"""The addresses that answer about a plan: its log, the working of a figure, its file."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Annotated, Any

from fastapi import FastAPI, Query
from fastapi.responses import JSONResponse

from plotter.chart.asking import measure_rows
from plotter.earth.position import Position
from plotter.flight.columns import COLUMNS
from plotter.flight.invented import INVENTED, still_invented
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.edit import write_plan
from plotter.flight.plan.leg_ends import by_ends
from plotter.flight.plan.lines import BYTE_ORDER_MARK, parsed
from plotter.flight.plan.read import read_plan
from plotter.flight.plan.starter import altitudes_for, starter
from plotter.flight.working.answers import column_named, row_numbered
from plotter.formats.document import near_node, standing_node
from plotter.formats.log_document import log_document
from plotter.formats.measure_document import measure_document
from plotter.inputs import open_date
from plotter.maps import labels
from plotter.places.model import FIXED_WING
from plotter.places.nearness import near
from plotter.route.editing import points_of
from plotter.route.measuring import FlightMagnetism
from plotter.route.plotting import Wishes
from plotter.route.reading.points import OwnPoints
from plotter.route.reading.text import read_point
from plotter.route.suggesting import Suggestion, suggest
from plotter.web import guard
from plotter.web.own_stores import OwnStores
from plotter.web.plan_faults import aside_words
from plotter.web.plan_forms import forms
from plotter.web.requests import (
    CALLED,
    FARTHEST_ASKED_NM,
    AskedLog,
    AskedMeasure,
    AskedNear,
    AskedRead,
    AskedWorking,
    AskedWrite,
    Latitude,
    Longitude,
    Route,
    bare,
    log_given,
    with_numbers,
)
from plotter.web.sheets import near_sheet, working_words

# The addresses that ask for places and judge readings: find, near, measure.

MOST_SUGGESTED = 20
Node = dict[str, Any]


def add_places(app: FastAPI, stores: OwnStores) -> None:
    """Add the addresses."""

    @app.get("/api/find", responses=guard.DESCRIBED)
    def find(
        text: Annotated[str, Query(max_length=80)],
        most: Annotated[int, Query(ge=1, le=MOST_SUGGESTED)] = 8,
        before: Annotated[str, Query(max_length=200)] = "",
        latitude_deg: Latitude | None = None,
        longitude_deg: Longitude | None = None,
    ) -> list[Node]:
        """Places that a text being typed may mean, by code, name or town, with what to type.

        Near a place those far from it come last; ``taken`` says how many words are replaced.
        """
        has_place = latitude_deg is not None and longitude_deg is not None
        near = Position(latitude_deg or 0.0, longitude_deg or 0.0) if has_place else None
        found = suggest(stores.mine(), text, most, near=near, before=before)
        return [_suggested(each) for each in found]

    @app.get("/api/near", responses=guard.DESCRIBED)
    def near_point(
        point: Annotated[str, Query(min_length=1, max_length=80)],
        within_nm: Annotated[float, Query(gt=0, le=FARTHEST_ASKED_NM)] = 25.0,
        runway_ft: Annotated[float | None, Query(ge=0, le=30_000)] = None,
        most: Annotated[int, Query(ge=1, le=200)] = 50,
    ) -> Node:
        """Airports near a point, nearest first; what is missing is null, never none."""
        store, today = stores.mine(), open_date(None)
        magnetism = FlightMagnetism(today, 0.0, False)
        where = read_point(point, store, OwnPoints(), magnetism.degrees_east).waypoint
        found = near(store, where.position, within_nm, FIXED_WING, runway_ft)
        listed = found.found[:most]
        return {
            "schema": "near-1",
            "point": {
                "name": labels.visible(where.name),
                "latitude_deg": where.position.latitude_deg,
                "longitude_deg": where.position.longitude_deg,
            },
            "within_nm": within_nm,
            "runway_ft": runway_ft,
            "count": len(found.found),
            "runway_length_not_in_data": found.length_unknown,
            "places": [near_node(each) for each in listed],
            **standing_node(store, [each.place for each in listed], today),
        }

    @app.get("/api/near/words", responses=guard.DESCRIBED)
    def near_in_words(asked: Annotated[AskedNear, Query()]) -> Node:
        """What lies near a place on the map, in words, with what to type in a route for each."""
        return near_sheet(asked, stores.mine(), open_date(None))

    @app.post("/api/measure", responses=guard.DESCRIBED)
    def measure(asked: AskedMeasure) -> JSONResponse:
        """The document that ``plotter measure --json`` prints."""
        measured = measure_rows(asked.rows(), stores.mine(), asked.wishes(), asked.desk())
        return JSONResponse(measure_document(measured))


def _suggested(found: Suggestion) -> Node:
    return {
        "taken": found.taken,
        "type": found.to_type,
        "said": labels.visible(found.words),
        "kind": found.kind,
        "latitude_deg": found.position.latitude_deg,
        "longitude_deg": found.position.longitude_deg,
    }


def add_plans(app: FastAPI, stores: OwnStores) -> None:
    """Add them to an application."""

    @app.post("/api/log", responses=guard.DESCRIBED)
    def log(asked: AskedLog) -> JSONResponse:
        """The document that ``plotter log --json`` prints for the plan."""
        made = log_given(asked.plan, asked.points, stores.mine(), asked.allow_old_model)
        return JSONResponse(log_document(made, {}, _worked(made, asked)))

    @app.post("/api/working", responses=guard.DESCRIBED)
    def one_working(asked: AskedWorking) -> Node:
        """How one figure of the log is made, in words."""
        made = log_given(asked.plan, asked.points, stores.mine())
        return working_words(made, asked.row, column_named(asked.column))

    @app.get("/api/plan/new", responses=guard.DESCRIBED)
    def new(route: Route = "", date: dt.date | None = None) -> Node:
        """A plan to start from: which of its figures are invented stands in it.

        Its altitudes keep the rule for the cruising altitude on a route.
        """
        opened = _opened(starter("Demo, invented"))
        if route:
            altitudes = altitudes_for(route, Wishes(date=open_date(date)), stores.mine())
            opened["plan"]["flight"]["cruise_altitude_ft"] = altitudes
        return opened

    @app.get("/api/plan/forms")
    def plan_forms() -> Node:
        """The fields of the page for all that a plan file holds."""
        return forms()

    @app.post("/api/plan/read", responses=guard.DESCRIBED)
    def read(asked: AskedRead) -> Node:
        """The tables of a plan file, every fault of it told with its line."""
        read_plan(asked.text, asked.name or CALLED)
        return _opened(asked.text)

    @app.post("/api/plan/write", responses=guard.DESCRIBED)
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
    if INVENTED in tables:
        tables[INVENTED] = list(still_invented(tables[INVENTED], tables))
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
