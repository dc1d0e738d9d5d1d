"""A file of readings made with one plotter, read with a report of all its faults.

CSV with a header row: ``start,end,reading,unit,course``. A row needs a reading, a course as in
247T, or both; an empty unit is nautical miles. Commas or semicolons; UTF-8 with or without a
byte-order mark.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

from plotter.chart.asking import ReadingRow
from plotter.chart.measurement import MOST_LEGS
from plotter.chart.readings import CourseReading, Reading, Unit
from plotter.errors import FileFault, InputError, Where, fault_in_file
from plotter.formats.csv_rows import no_columns
from plotter.formats.incoming import Faults
from plotter.messages import Message, message
from plotter.plain_file import open_plain

COLUMNS = ("start", "end", "reading", "unit", "course")
MOST_BYTES = 1_000_000


def read_readings_file(path: Path, unit: Unit = "nm") -> list[ReadingRow]:
    """The rows of a readings file; ``unit`` is that of a row which names none.

    Raises FileFault with every fault and its line.
    """
    text = _text(path)
    first = text.partition("\n")[0]
    delimiter = ";" if first.count(";") > first.count(",") else ","
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    found: list[ReadingRow] = []
    faults: list[tuple[int, Message]] = []
    try:
        columns = _columns(next(rows, []), path)
        for cells in rows:
            if any(cell.strip() for cell in cells):
                fields = {a: b.strip() for a, b in zip(columns, cells, strict=False)}
                row, wrong = _row(rows.line_num, fields, unit)
                found += row
                faults += [(rows.line_num, each) for each in wrong]
    except csv.Error as fault:
        raise _fault(path, message("file.not-csv", reason=str(fault)), rows.line_num) from None
    if faults:
        raise _report(path, faults)
    if len(found) > MOST_LEGS:
        many = message("file.many-readings", count=len(found), most=MOST_LEGS)
        raise _fault(path, many, found[MOST_LEGS].line)
    if not found:
        raise _fault(path, message("file.no-reading"))
    return found


def _text(path: Path) -> str:
    try:
        with open_plain(path) as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as fault:
        reason = fault.strerror or str(fault)
        raise _fault(path, message("file.unreadable", reason=reason)) from None
    if len(data) > MOST_BYTES:
        raise _fault(path, message("file.larger-than-readings", most_mb=MOST_BYTES // 1_000_000))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data[: fault.start].count(b"\n") + 1
        raise _fault(path, message("file.not-utf-8"), line) from None


def _columns(header: list[str], path: Path) -> list[str]:
    names = [cell.strip().lower() for cell in header]
    twice = sorted({name for name in names if name in COLUMNS and names.count(name) > 1})
    if twice:
        raise _fault(path, message("file.column-twice", column=twice[0]), 1)
    missing = [name for name in ("start", "end") if name not in names]
    if not {"reading", "course"} & set(names):
        missing.append("reading")
    if missing:
        raise _fault(path, no_columns(missing, names, ",".join(COLUMNS)), 1)
    return names


def _row(line: int, fields: dict[str, str], unit: Unit) -> tuple[list[ReadingRow], list[Message]]:
    """The row that a line holds, or all that is wrong with it."""
    ends = ("start", "end")
    faults = [message("file.no-end", end=name) for name in ends if not fields.get(name)]
    reading, course = fields.get("reading", ""), fields.get("course", "")
    if not reading and not course:
        faults.append(message("file.empty-reading"))
    given = flown = None
    try:
        given = Reading(reading, _unit(fields.get("unit", ""), unit)) if reading else None
    except InputError as fault:
        faults.append(fault.said)
    try:
        flown = CourseReading.typed(course) if course else None
    except InputError as fault:
        faults.append(fault.said)
    if faults:
        return [], faults
    return [ReadingRow((fields["start"], fields["end"]), given, flown, line)], []


def _unit(typed: str, otherwise: Unit) -> Unit:
    return typed.lower() if typed else otherwise  # type: ignore[return-value]


def _fault(path: Path, what: Message, line: int | None = None) -> FileFault:
    return fault_in_file(str(path), what, line)


def _report(path: Path, faults: list[tuple[int, Message]]) -> FileFault:
    all_faults = Faults()
    for line, what in faults:
        all_faults.add(f"line {line:,}", what)
    return FileFault(
        "file.faults",
        where=Where(file=str(path), line=faults[0][0]),
        file=str(path),
        faults=all_faults.messages(),
    )
