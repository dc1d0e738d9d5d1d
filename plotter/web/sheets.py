"""What can be drawn of a route that cannot be plotted yet: its points, the legs between them."""

from __future__ import annotations

import datetime as dt
import itertools
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from plotter import wording
from plotter.earth.geodesic import LineKind, densify, measure
from plotter.earth.position import Position
from plotter.earth.web_mercator import LIMIT_DEG
from plotter.errors import InputError, PlotterError
from plotter.flight.air.forecast import read_winds_aloft
from plotter.flight.columns import COLUMNS, cell
from plotter.flight.invented import INVENTED, PARTS, still_invented, warning
from plotter.flight.log_values import NavigationLog
from plotter.flight.printed import PrintedLog, PrintedRow, PrintedSector, printed_log
from plotter.flight.sun_clock import clock_offset, known_zone
from plotter.flight.working.answers import working
from plotter.flight.working.values import Put, Working, headline, put_words
from plotter.formats.document import STANDING_CAUTIONS, fault_document, faults_of, standing_node
from plotter.inputs import open_date
from plotter.maps import labels
from plotter.maps import tables as rows
from plotter.maps.drawing import (
    BEYOND,
    beyond_the_map,
    drawn_legs,
    sheet,
    shown_airports,
    whole_turns,
)
from plotter.maps.labels import apart, dates_of_data, visible
from plotter.maps.log_tables import FIELD_HEADS, SHOWN, STEERED, field_cells, figures, totals
from plotter.maps.log_tables import phase as phase_of
from plotter.maps.page import figures as head_figures
from plotter.messages import message, text
from plotter.places.model import Airport
from plotter.places.naming import code_of, kind_words, known_for
from plotter.places.nearness import Near, near, nearest
from plotter.places.store import Store
from plotter.route import suggesting
from plotter.route.editing import ends_of, point_count, points_of, written_route
from plotter.route.plotting import BESIDE_NM, Plot, plot_route
from plotter.route.reading.points import PointReader
from plotter.route.reading.text import coincide
from plotter.route.suggesting import to_type
from plotter.route.values import Caution, Waypoint
from plotter.web.edits import edited, stands
from plotter.web.offers import add_offers
from plotter.web.plan_faults import faults_in_plan, legs_node
from plotter.web.requests import AskedNear, AskedSheet, Sort, check_size, log_of_route

# What can be drawn of a route that cannot be plotted yet: its points, the legs between them.

Node = dict[str, Any]


class Readable(NamedTuple):
    """A point that can be read by itself: which one, its name, its position."""

    number: int
    name: str
    position: Position


def readable_node(points: Sequence[str], reader: PointReader, line: LineKind) -> Node:
    """Points and legs for the map; a leg only between two points that follow each other."""
    found = list(_readable(points, reader))
    longitudes = list(_unrolled(point.position.longitude_deg for point in found))
    return {
        "points": [_point(*each) for each in zip(found, longitudes, strict=True)],
        "loose_legs": list(_legs(found, longitudes, line)),
    }


def _readable(points: Sequence[str], reader: PointReader) -> Iterator[Readable]:
    for number, typed in enumerate(points):
        name, _, body = typed.rpartition("=")
        try:
            waypoint = reader.read(body, None).waypoint
        except PlotterError:
            continue
        yield Readable(number, name or waypoint.name, waypoint.position)


def _unrolled(longitudes: Iterable[float]) -> Iterator[float]:
    """Each longitude in the turn of the one before, so that nothing jumps round the world."""
    before: float | None = None
    for longitude in longitudes:
        before = longitude if before is None else longitude + whole_turns(longitude, before)
        yield before


def _point(point: Readable, longitude: float) -> Node:
    at = [round(point.position.latitude_deg, 5), round(longitude, 5)]
    return {"index": point.number, "name": labels.shortened(labels.visible(point.name)), "at": at}


def _legs(found: Sequence[Readable], longitudes: Sequence[float], line: LineKind) -> Iterator[Node]:
    for (start, end), longitude in zip(itertools.pairwise(found), longitudes, strict=False):
        if end.number != start.number + 1 or coincide(start.position, end.position):
            continue
        drawn = densify(measure(start.position, end.position, line))
        shift = longitude - drawn[0][1]
        points = [(latitude, east + shift) for latitude, east in drawn]
        latitude, east = points[len(points) // 2]
        yield {
            "index": start.number,
            "line": [round(value, 5) for point in points for value in point],
            "mid": [round(latitude, 5), round(east, 5)],
        }


# What stands beside the route on the page: faults of settings, the departure's clock, stations.

_SETTINGS = {"checkpoint-interval": "every", "model-date": "date", "altitude": "altitude"}
_CLOCK = re.compile(r"T(\d\d):(\d\d)")


def setting_faults(fault: PlotterError) -> list[Node]:
    """The faults that are those of a setting, not of the route, each with its field's name."""
    return [
        {"field": _SETTINGS[each.code], "words": visible(text(each.said, "page"))}
        for each in faults_of(fault)
        if each.code in _SETTINGS
    ]


def clock_node(start: Waypoint, day: dt.date, plan: Mapping[str, Any] | None) -> Node:
    """The offset of the departure's clock on a day, at the plan's time of day, and whose it is.

    The offset is empty where the data has no clock for that point.
    """
    zone, name = known_zone(start), visible(start.name)
    if not zone:
        return {"offset": "", "words": f"no clock of {name} is in the data: type the offset"}
    offset = clock_offset(dt.datetime.combine(day, _time_of(plan)), zone)
    return {"offset": offset, "words": f"the clock of {name} ({zone})"}


def stations_of(plan: Mapping[str, Any] | None) -> list[str]:
    """The stations of the winds aloft forecast in a plan; none where it cannot be read."""
    table = (plan or {}).get("winds_aloft")
    text = table.get("text") if isinstance(table, dict) else None
    return list(_stations_in(text)) if isinstance(text, str) else []


@lru_cache(maxsize=8)
def _stations_in(text: str) -> tuple[str, ...]:
    try:
        return tuple(visible(each.station) for each in read_winds_aloft(text).stations)
    except InputError:
        return ()


def _time_of(plan: Mapping[str, Any] | None) -> dt.time:
    flight = (plan or {}).get("flight")
    found = _CLOCK.search(str(flight.get("departure"))) if isinstance(flight, dict) else None
    hour, minute = (int(found[1]), int(found[2])) if found else (12, 0)
    return dt.time(hour, minute) if hour < 24 and minute < 60 else dt.time(12)


# A navigation log as the page shows it: every cell in the words that the library prints.


def log_node(log: NavigationLog, printed: PrintedLog) -> Node:
    """The log's tables, sector by sector, and the weather at its fields."""
    return {
        "columns": [_column(key) for key in SHOWN],
        "sectors": [_sector(log, sector) for sector in printed.sectors],
        "fields": {
            "heads": list(FIELD_HEADS),
            "rows": [[visible(one.point), *map(str, field_cells(one))] for one in log.fields],
        },
        "silenced": [
            {"code": visible(code), "reason": visible(reason)}
            for code, reason in log.silenced_codes.items()
        ],
    }


def working_words(log: NavigationLog, row: int, column: str) -> Node:
    """The working of one figure, line by line; raises InputError where there is no such figure."""
    made = working(log, row, column)
    return {
        "row": row,
        "column": made.column,
        "title": headline(made),
        "formula": made.formula,
        "put_in": [_put(put) for put in made.put_in],
        "arithmetic": [visible(line) for line in made.arithmetic],
        "rounding": _rounding(made),
        "notes": [visible(note) for note in made.notes],
    }


def _put(put: Put) -> Node:
    return {"is": visible(put_words(put)), "words": visible(put.words)}


def _rounding(made: Working) -> str:
    return f"{made.rounding}; source: {made.source}"


def _column(key: str) -> Node:
    column = COLUMNS[key]
    return {"key": key, "heading": column.heading, "title": column.title, "steer": key in STEERED}


def _sector(log: NavigationLog, printed: PrintedSector) -> Node:
    sector = printed.sector
    name = f"{visible(sector.start.name)} to {visible(sector.end.name)}"
    title = f"Log, sector {sector.number}: {name}" if len(log.sectors) > 1 else f"Log: {name}"
    return {
        "title": title,
        "rule": visible(printed.rule),
        "rows": [_row(row) for row in printed.rows],
        "totals": totals(printed),
        "figures": [[term, visible(said)] for term, said in figures(printed)],
    }


def _row(printed: PrintedRow) -> Node:
    row = printed.row
    return {
        "number": row.number,
        "leg": row.course.leg.number,
        "to": visible(row.end.name),
        "phase": phase_of(printed),
        "turning": row.end.kind == "waypoint",
        "cells": [cell(printed, key) for key in SHOWN],
    }


# What lies near a place on the map, as the page shows it: in words, with what to type for each.

HEADS = ("Distance", "True", "Magnetic")
KNOWN_HEADS: dict[Sort, str] = {
    "all": "Runway, radio, people",
    "airport": "Longest runway",
    "navaid": "Radio",
    "town": "People",
}


def near_sheet(asked: AskedNear, store: Store, today: dt.date) -> Node:
    """The list of what lies near; raises InputError for a runway asked of what has none.

    Bearings are those at the place itself, the magnetic one for the day of the flight.
    """
    where = asked.where
    variation = asked.magnetism(today).at(where)
    found = near(store, where, asked.within_nm, asked.kinds, asked.runway_ft)
    listed = found.found[: asked.most]
    far = None if listed else nearest(store, where, asked.kinds, asked.runway_ft)
    shown = listed or ((far,) if far else ())
    over = suggesting.heading(
        wording.position(where), asked.within_nm, len(found.found), len(listed), far
    )
    places = [each.place for each in shown]
    said = suggesting.notes(places, found, asked.within_nm, asked.runway_ft)
    if variation.zone:
        said.append(message("near.compass-weak"))
    standing = standing_node(store, places, today)
    return {
        "heading": visible(text(over, "page")),
        "heads": [*HEADS, KNOWN_HEADS[asked.kind]],
        "rows": [_near_row(each, where, variation.degrees_east, store) for each in shown],
        "notes": [
            visible(words) for words in (*(text(note, "page") for note in said), *standing["notes"])
        ],
        "cautions": standing["cautions"],
        "data": standing["data"],
    }


def _near_row(each: Near, where: Position, variation_deg_east: float, store: Store) -> Node:
    place, kind = each.place, kind_words(each.place)
    return {
        "code": visible(code_of(place) or place.name),
        "what": apart(f"{place.name}, {kind}" if code_of(place) else kind),
        "cells": [
            wording.distance(each.distance_nm),
            suggesting.true_bearing(each),
            suggesting.magnetic_bearing(each, variation_deg_east),
            known_for(place),
        ],
        "type": to_type(store, place),
        "called": suggesting.called_after(each, where),
        "here": suggesting.true_bearing(each) == suggesting.HERE,
        "at": [place.position.latitude_deg, place.position.longitude_deg],
    }


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
            answer["log_error"] = fault_document(fault, "page")["error"]
            answer["log_faults"] = faults_in_plan(fault, asked.plan, route)
    try:
        plot = log.plot if log else plot_route(route, store, asked.wishes())
    except InputError as fault:
        reader = PointReader(store, asked.own_points(), None)
        answer |= readable_node(answer["words"], reader, asked.line)
        first = next((Position(*point["at"]) for point in answer["points"]), None)
        error = add_offers(fault_document(fault, "page")["error"], store, first)
        answer |= {"error": error, "settings": setting_faults(fault)}
        return {**answer, "log_error": None, "log_faults": []}
    start, day = plot.route.waypoints[0], open_date(asked.date)
    answer["clock"] = clock_node(start, day, asked.plan)
    printed = printed_log(log) if log else None
    sheet = _sheet(plot, log, printed, store, sm=asked.sm)
    return {**answer, "sheet": sheet, "log": log and printed and log_node(log, printed)}


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
        **_invented(asked.plan or {}),
        "stations": stations_of(asked.plan),
    }


def _invented(tables: Mapping[str, Any]) -> Node:
    """The parts of a plan that are still invented, with their names, and what the page says of it
    first.
    """
    entries = tables.get(INVENTED)
    parts = still_invented(entries if isinstance(entries, list) else (), tables)
    named = [{"part": part, **PARTS[part]._asdict()} for part in parts]
    return {"invented": named, "warning": warning(parts)}


def _sheet(
    plot: Plot, log: NavigationLog | None, printed: PrintedLog | None, store: Store, *, sm: bool
) -> Node:
    cautions = log.told if log else plot.cautions
    drawn = drawn_legs(plot.route)
    return {
        "title": labels.visible(plot.name),
        "written": written_route(plot.route.waypoints),
        "summary": _summary(plot, log, printed, sm=sm),
        "figures": head_figures(plot, log, sm=sm),
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


def _summary(plot: Plot, log: NavigationLog | None, printed: PrintedLog | None, *, sm: bool) -> str:
    marks = len(plot.checkpoints)
    distance = labels.distances(plot.route.distance_nm, sm=sm)
    legs, points = len(plot.route.legs), "checkpoint" if marks == 1 else "checkpoints"
    route = f"{distance}, {legs} {'leg' if legs == 1 else 'legs'}, {marks} {points}"
    if log is None or printed is None:
        return route
    fuel = f"{printed.fuel_used:.1f} {log.plan.aircraft.fuel_unit} with taxi"
    return f"{route}; {wording.duration(printed.ete_min)} in the air, {fuel}"


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
    return {"heads": list(heads), "rows": [_table_row(line) for line in lines]}


def _table_row(line: rows.Row) -> Node:
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
        "text": labels.visible(caution.text_at("page")),
        "source": labels.visible(caution.source),
        "where": labels.visible(caution.where),
    }
