"""The CSV of a navigation log: its rows, then totals sector by sector, then the notes.

Written like the table of a plot (:mod:`plotter.formats.table`), with the same guard against cells a
spreadsheet would run. Figures are those that are printed, so that file and paper are one log;
unrounded ones are in the JSON document.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator

from plotter import wording
from plotter.flight.columns import COLUMNS, Value, margin
from plotter.flight.log_values import NavigationLog
from plotter.flight.printed import PrintedRow, PrintedSector, printed_log
from plotter.flight.sun_clock import iso_instant
from plotter.formats.descriptions import caution_line, data_line
from plotter.formats.names import clean_name, clean_text
from plotter.formats.records import degrees, fixed
from plotter.formats.table import guarded

FIELDS = (
    "row",
    "number",
    "sector",
    "leg",
    "from",
    "to",
    "phase",
    "to_latitude_deg",
    "to_longitude_deg",
    *COLUMNS,
    "fuel_unit",
    "note",
)
Row = dict[str, str]


def log_table(log: NavigationLog) -> bytes:
    """The CSV of a log, UTF-8.

    ``row`` says what a row is: ``log``, ``sector`` or ``note``. Distance and fuel have one
    decimal, positions six, all else none; instants are in UTC.
    """
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, FIELDS, restval="", lineterminator="\r\n")
    writer.writeheader()
    writer.writerows(_rows(log))
    return text.getvalue().encode("utf-8")


def _rows(log: NavigationLog) -> Iterator[Row]:
    unit = log.plan.aircraft.fuel_unit
    first = [f"{log.plot.warning}."] if log.plot.warning else []
    yield from _notes(first, 1)
    printed = printed_log(log)
    for sector in printed.sectors:
        yield from (_log_row(row, unit) for row in sector.rows)
    for sector in printed.sectors:
        yield _sector(sector)
    lines = [*wording.STANDING, *map(caution_line, log.told), data_line(log.plot.data)]
    yield from _notes(lines, 1 + len(first))


def _notes(lines: Iterable[str], start: int) -> Iterator[Row]:
    for number, line in enumerate(lines, start):
        yield {"row": "note", "number": str(number), "note": guarded(clean_text(line))}


def _log_row(printed: PrintedRow, unit: str) -> Row:
    row = printed.row
    return {
        "row": "log",
        "number": str(row.number),
        "sector": str(row.sector),
        "leg": str(row.course.leg.number),
        "from": guarded(clean_name(row.start.name)),
        "to": guarded(clean_name(row.end.name)),
        "phase": row.phase,
        "to_latitude_deg": degrees(row.end.position.latitude_deg),
        "to_longitude_deg": degrees(row.end.position.longitude_deg),
        **{key: _cell(column.plain(printed)) for key, column in COLUMNS.items()},
        "fuel_unit": unit,
    }


def _cell(value: Value) -> str:
    if value is None:
        return ""
    return fixed(value, 1) if isinstance(value, float) else str(value)


def _sector(printed: PrintedSector) -> Row:
    sector = printed.sector
    return {
        "row": "sector",
        "number": str(sector.number),
        "sector": str(sector.number),
        "from": guarded(clean_name(sector.start.name)),
        "to": guarded(clean_name(sector.end.name)),
        "distance_nm": fixed(printed.distance_nm, 1),
        "ete_min": str(printed.ete_min),
        "eta": iso_instant(printed.rows[-1].eta),
        "fuel_used": fixed(printed.taxi_fuel + printed.fuel_flown, 1),
        "fuel_remaining": fixed(printed.rows[-1].fuel_remaining, 1),
        "fuel_unit": sector.fuel.unit,
        "note": f"reserve {sector.reserve.minutes:.0f} min, margin {margin(sector)}",
    }
