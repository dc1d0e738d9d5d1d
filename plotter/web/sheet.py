"""What can be drawn of a route that cannot be plotted yet: its points, the legs between them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Any

from plotter import wording
from plotter.earth.position import Position
from plotter.earth.web_mercator import LIMIT_DEG
from plotter.errors import InputError
from plotter.flight.log_values import NavigationLog
from plotter.formats.document import STANDING_CAUTIONS
from plotter.formats.faults import fault_document
from plotter.maps import labels, rows
from plotter.maps.heading import figures
from plotter.maps.labels import dates_of_data
from plotter.maps.sheet import BEYOND, beyond_the_map, drawn_legs, sheet, shown_airports
from plotter.opening import open_date
from plotter.places.model import Airport
from plotter.places.store import Store
from plotter.route.cautions import Caution
from plotter.route.editing import ends_of, point_count, points_of
from plotter.route.plot import Plot
from plotter.route.plotting import BESIDE_NM, plot_route
from plotter.route.points import PointReader
from plotter.route.to_type import to_type
from plotter.route.written import written_route
from plotter.web.asked import AskedSheet, check_size
from plotter.web.asked_plan import log_of_route
from plotter.web.beside import clock_node, setting_faults, stations_of
from plotter.web.edits import edited, stands
from plotter.web.invented import parts_node
from plotter.web.leg_notes import faults_in_plan, legs_node
from plotter.web.log_sheet import log_node
from plotter.web.offers import add_offers
from plotter.web.plan_faults import page_words
from plotter.web.readable import readable_node

Node = dict[str, Any]


def sheet_document(asked: AskedSheet, store: Store) -> Node:
    """The sheet of a route, or its faults with those of its points that can be read.

    Raises InputError only for a change that cannot be made.
    """
    check_size(asked.route)
    is_made = asked.edit is None or stands(asked.route, asked.among)
    route = edited(asked.route, asked.edit, store) if is_made else asked.route
    asked = asked.model_copy(update={"route": route, "edit": None})
    answer: Node = {**_beside(route, asked), "is_made": is_made}
    log = None
    if asked.plan is not None and answer["count"] > 1:
        try:
            log = log_of_route(asked.plan, asked, store)
        except InputError as fault:
            answer["log_error"] = fault_document(fault)["error"]
            answer["log_faults"] = faults_in_plan(fault, asked.plan, route)
    try:
        plot = log.plot if log else plot_route(route, store, asked.wishes())
    except InputError as fault:
        reader = PointReader(store, asked.own_points(), None)
        answer |= readable_node(answer["words"], reader, asked.line)
        first = next((Position(*point["at"]) for point in answer["points"]), None)
        error = add_offers(fault_document(fault)["error"], store, first)
        answer |= {"error": error, "settings": setting_faults(fault)}
        return {**answer, "log_error": None, "log_faults": []}
    start, day = plot.route.waypoints[0], open_date(asked.date)
    answer["clock"] = clock_node(start, day, asked.plan)
    sheet = _sheet(plot, log, store, sm=asked.sm)
    return {**answer, "sheet": sheet, "log": log and log_node(log)}


def _beside(route: str, asked: AskedSheet) -> Node:
    """What is known of a route before it is plotted, and every key that plotting may fill."""
    words = points_of(route)
    return {
        "route": route,
        "count": point_count(route),
        "ends": ends_of(route),
        "words": words,
        **legs_node(asked.notes, words),
        **dict.fromkeys(("error", "sheet", "log", "log_error", "clock")),
        **{key: [] for key in ("points", "loose_legs", "log_faults", "settings")},
        "invented": parts_node(asked.invented if asked.plan is not None else ()),
        "stations": stations_of(asked.plan),
    }


def _sheet(plot: Plot, log: NavigationLog | None, store: Store, *, sm: bool) -> Node:
    cautions = log.told if log else plot.cautions
    drawn = drawn_legs(plot.route)
    return {
        "title": labels.visible(plot.name),
        "written": written_route(plot.route.waypoints),
        "summary": _summary(plot, log, sm=sm),
        "figures": figures(plot, log, sm=sm),
        "dates": dates_of_data(plot.data),
        "points": _table(rows.POINT_HEADS, rows.point_rows(plot)),
        "legs": {
            **_table(rows.leg_heads(sm), rows.leg_rows(plot, sm)),
            "foot": rows.lengths(plot.route.distance_nm, sm),
        },
        "marks": _table(rows.MARK_HEADS, rows.mark_rows(plot)),
        "airports": _airports(plot, store),
        "cautions": [_caution(each) for each in (*cautions, *STANDING_CAUTIONS)],
        "chart": sheet(plot, drawn, sm=sm),
        "beyond": BEYOND if beyond_the_map(drawn, LIMIT_DEG) else "",
    }


def _summary(plot: Plot, log: NavigationLog | None, *, sm: bool) -> str:
    marks = len(plot.checkpoints)
    distance = labels.distances(plot.route.distance_nm, sm=sm)
    legs, points = len(plot.route.legs), "checkpoint" if marks == 1 else "checkpoints"
    route = f"{distance}, {legs} {'leg' if legs == 1 else 'legs'}, {marks} {points}"
    if log is None:
        return route
    fuel = f"{wording.fuel_used(log.fuel_used)} {log.plan.aircraft.fuel_unit} with taxi"
    return f"{route}; {wording.duration(log.ete_min)} in the air, {fuel}"


def _airports(plot: Plot, store: Store) -> Node:
    """The airports beside the route, each with its leg and what to type for it."""
    shown = _table(rows.AIRPORT_HEADS, rows.airport_rows(plot))
    for row, field in zip(shown["rows"], shown_airports(plot), strict=True):
        row.update(leg=field.leg_number, type=_typed(store, field.airport))
    title = f"Airports within {BESIDE_NM:g} NM of the route: {len(plot.near)}"
    return {**shown, "title": title, "more": rows.left_out(plot)}


@lru_cache(maxsize=4096)
def _typed(store: Store, airport: Airport) -> str:
    """What to type for an airport: a store never changes, and while dragging most stay in view."""
    return to_type(store, airport)


def _table(heads: Sequence[str], lines: Iterable[rows.Row]) -> Node:
    return {"heads": list(heads), "rows": [_row(line) for line in lines]}


def _row(line: rows.Row) -> Node:
    """One row; ``names`` tells which of its cells hold text of outside origin."""
    return {
        "item": line.item,
        "head": line.head,
        "cells": list(line.cells),
        "names": [i for i, cell in enumerate(line.cells) if isinstance(cell, rows.Shown)],
        "remarks": "; ".join(line.remarks),
    }


def _caution(caution: Caution) -> Node:
    return {
        "rank": caution.rank,
        "code": caution.code,
        "text": labels.visible(page_words(caution.text)),
        "source": labels.visible(caution.source),
        "where": labels.visible(caution.where),
    }
