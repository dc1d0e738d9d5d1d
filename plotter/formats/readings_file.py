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
from plotter.errors import FileFault, InputError, Where
from plotter.plain_file import open_plain

COLUMNS = ("start", "end", "reading", "unit", "course")
MOST_BYTES = 1_000_000
_MOST_FAULTS_SHOWN = 10


def read_readings_file(path: Path, unit: Unit = "nm") -> list[ReadingRow]:
    """The rows of a readings file; ``unit`` is that of a row which names none.

    Raises FileFault with every fault and its line.
    """
    text = _text(path)
    first = text.partition("\n")[0]
    delimiter = ";" if first.count(";") > first.count(",") else ","
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    found: list[ReadingRow] = []
    faults: list[tuple[int, str]] = []
    try:
        columns = _columns(next(rows, []), path)
        for cells in rows:
            if any(cell.strip() for cell in cells):
                fields = {a: b.strip() for a, b in zip(columns, cells, strict=False)}
                row, words = _row(rows.line_num, fields, unit)
                found += row
                faults += [(rows.line_num, each) for each in words]
    except csv.Error as fault:
        raise _fault(path, rows.line_num, f"not CSV ({fault})") from None
    if faults:
        raise _report(path, faults)
    if len(found) > MOST_LEGS:
        raise FileFault(
            f"{path} holds {len(found):,} readings; give {MOST_LEGS} at the most, all made with "
            "one plotter",
            where=Where(file=str(path), line=found[MOST_LEGS].line),
        )
    if not found:
        raise FileFault(f"{path} holds no reading", where=Where(file=str(path)))
    return found


def _text(path: Path) -> str:
    try:
        with open_plain(path) as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as fault:
        reason = fault.strerror or str(fault)
        raise FileFault(f"{path} cannot be read: {reason}", where=Where(file=str(path))) from None
    if len(data) > MOST_BYTES:
        raise FileFault(
            f"{path} is over {MOST_BYTES // 1_000_000} MB; that is no file of readings",
            where=Where(file=str(path)),
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data[: fault.start].count(b"\n") + 1
        raise _fault(path, line, "not UTF-8 text; save the file as UTF-8") from None


def _columns(header: list[str], path: Path) -> list[str]:
    names = [cell.strip().lower() for cell in header]
    twice = sorted({name for name in names if name in COLUMNS and names.count(name) > 1})
    if twice:
        raise _fault(path, 1, f"more than one column gives the {twice[0]}; keep one of them")
    missing = [name for name in ("start", "end") if name not in names]
    if not {"reading", "course"} & set(names):
        missing.append("reading")
    if missing:
        found = ", ".join(name for name in names if name)[:200] or "nothing"
        raise _fault(
            path,
            1,
            f"no column {' and no column '.join(missing)} (found: {found}); the first line must "
            f"be: {','.join(COLUMNS)}",
        )
    return names


def _row(line: int, fields: dict[str, str], unit: Unit) -> tuple[list[ReadingRow], list[str]]:
    """The row that a line holds, or all that is wrong with it."""
    faults = [f"the {name} is missing" for name in ("start", "end") if not fields.get(name)]
    reading, course = fields.get("reading", ""), fields.get("course", "")
    if not reading and not course:
        faults.append("neither a reading nor a course; fill one in or take the line out")
    given = flown = None
    try:
        given = Reading(reading, _unit(fields.get("unit", ""), unit)) if reading else None
    except InputError as fault:
        faults.append(fault.message)
    try:
        flown = CourseReading.typed(course) if course else None
    except InputError as fault:
        faults.append(fault.message)
    if faults:
        return [], faults
    return [ReadingRow((fields["start"], fields["end"]), given, flown, line)], []


def _unit(typed: str, otherwise: Unit) -> Unit:
    return typed.lower() if typed else otherwise  # type: ignore[return-value]


def _fault(path: Path, line: int, words: str) -> FileFault:
    return FileFault(f"{path}, line {line}: {words}", where=Where(file=str(path), line=line))


def _report(path: Path, faults: list[tuple[int, str]]) -> FileFault:
    shown = [f"line {line}: {words}" for line, words in faults[:_MOST_FAULTS_SHOWN]]
    if len(faults) > len(shown):
        shown.append(f"and {len(faults) - len(shown):,} more")
    return FileFault(
        f"{path} cannot be used:\n  " + "\n  ".join(shown),
        where=Where(file=str(path), line=faults[0][0]),
    )
