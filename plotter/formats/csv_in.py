"""CSV read as a route: points in the order of their rows.

Either a table this program wrote (``row`` says what a row is), or any table with the columns
``name``, ``latitude``, ``longitude`` and, where wanted, ``elevation_ft`` or ``elevation_m``
(plain ``elevation`` is feet), ``note`` and ``time``. Commas, semicolons or tabs; UTF-8.
"""

from __future__ import annotations

import csv
import io

from plotter.formats.incoming import Contents, Part, PartKind, Raw, Source
from plotter.formats.table import OWN_NOTE, TIME, unguarded
from plotter.formats.text_in import read_text

_COLUMNS = {
    "name": "name",
    "latitude": "latitude",
    "latitude_deg": "latitude",
    "lat": "latitude",
    "longitude": "longitude",
    "longitude_deg": "longitude",
    "lon": "longitude",
    "elevation": "elevation_ft",
    "elevation_ft": "elevation_ft",
    "elevation_m": "elevation_m",
    "note": "note",
    "row": "row",
    "time": "time",
    TIME: "time",
    OWN_NOTE: OWN_NOTE,
}
_NEEDED = ("latitude", "longitude")
_PARTS: dict[str, tuple[PartKind, str]] = {
    "turning point": ("route", ""),
    "checkpoint": ("waypoints", "Checkpoints"),
}


def read_csv(stream: Source, contents: Contents) -> None:
    """Read a whole CSV file into its contents; raises FileFault for what is none."""
    text = read_text(stream, contents)
    first = text.partition("\n")[0]
    delimiter = max(",;\t", key=first.count)
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    parts: dict[str, Part] = {}
    try:
        columns = _columns(next(rows, []), contents)
        for row in rows:
            if any(cell.strip() for cell in row):
                fields = dict(zip(columns, row, strict=False))
                _take(fields, parts, contents, rows.line_num)
    except csv.Error as fault:
        raise contents.fault(f"is not CSV ({fault})", rows.line_num) from None


def _columns(header: list[str], contents: Contents) -> list[str]:
    columns = [_COLUMNS.get(cell.strip().lower(), "") for cell in header]
    for name in filter(None, columns):
        if columns.count(name) > 1:
            raise contents.fault(f"has more than one column of the {name}; keep one", 1)
    missing = [name for name in _NEEDED if name not in columns]
    if missing:
        found = ", ".join(cell.strip() for cell in header if cell.strip()) or "nothing"
        raise contents.fault(
            f"has no column {' and no column '.join(missing)} (found: {found[:200]}); "
            "the first line must be: name,latitude,longitude,elevation_ft,note",
            1,
        )
    return columns


def _take(fields: dict[str, str], parts: dict[str, Part], contents: Contents, line: int) -> None:
    own = "row" in fields
    row = fields.get("row", "").strip()
    if own and row not in _PARTS:
        return
    if row not in parts:
        parts[row] = contents.begin(*_PARTS.get(row, ("waypoints", "")))
    name, note = fields.get("name", ""), fields.get(OWN_NOTE if own else "note", "")
    raw = Raw(
        fields.get("latitude", ""),
        fields.get("longitude", ""),
        unguarded(name) if own else name,
        unguarded(note) if own else note,
        fields.get("elevation_m", "").strip(),
        fields.get("elevation_ft", "").strip(),
        fields.get("time", ""),
        f"line {line:,}",
        line,
    )
    contents.take(parts[row], raw)
