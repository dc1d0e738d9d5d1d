"""A navigation log as the page shows it: every cell in the words that the library prints."""

from __future__ import annotations

from typing import Any

from plotter.flight.columns import COLUMNS, cell
from plotter.flight.log_values import LogRow, NavigationLog, Sector
from plotter.flight.working import working
from plotter.flight.working_values import Put, Working
from plotter.flight.working_words import headline, put_words
from plotter.maps.labels import visible
from plotter.maps.log_tables import FIELD_HEADS, SHOWN, STEERED, field_cells, figures, totals
from plotter.maps.log_tables import phase as phase_of

Node = dict[str, Any]


def log_node(log: NavigationLog) -> Node:
    """The log's tables, sector by sector, and the weather at its fields."""
    return {
        "columns": [_column(key) for key in SHOWN],
        "sectors": [_sector(log, sector) for sector in log.sectors],
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


def _sector(log: NavigationLog, sector: Sector) -> Node:
    name = f"{visible(sector.start.name)} to {visible(sector.end.name)}"
    title = f"Log, sector {sector.number}: {name}" if len(log.sectors) > 1 else f"Log: {name}"
    return {
        "title": title,
        "rows": [_row(row) for row in sector.rows],
        "totals": totals(sector),
        "figures": [[term, visible(said)] for term, said in figures(sector)],
    }


def _row(row: LogRow) -> Node:
    return {
        "number": row.number,
        "leg": row.course.leg.number,
        "to": visible(row.end.name),
        "phase": phase_of(row),
        "turning": row.end.kind == "waypoint",
        "cells": [cell(row, key) for key in SHOWN],
    }
