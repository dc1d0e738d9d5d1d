"""CSV: turning points, legs and checkpoints in the order they are flown, then the notes.

RFC 4180 (commas, CRLF, quotes doubled), UTF-8 without a byte-order mark. A spreadsheet takes a
cell that starts with ``=``, ``+``, ``-`` or ``@`` for a formula and runs it, so text is guarded by
an apostrophe (:func:`guarded`), which :func:`unguarded` takes away again.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator

from plotter import wording
from plotter.formats.csv_rows import delimiter_of, no_columns, surplus
from plotter.formats.descriptions import caution_line, data_line, flight_line, point_line
from plotter.formats.incoming import Contents, Part, PartKind, Raw, Source, read_text
from plotter.formats.names import clean_name, clean_text
from plotter.formats.records import degrees, direction, fixed, has_times, utc
from plotter.messages import message
from plotter.route.checkpoints import Checkpoint
from plotter.route.plotting import Plot
from plotter.route.values import Leg, Waypoint

COLUMNS = (
    "row",
    "number",
    "leg",
    "name",
    "start",
    "end",
    "latitude_deg",
    "longitude_deg",
    "elevation_ft",
    "distance_nm",
    "distance_from_start_nm",
    "distance_to_go_nm",
    "true_course_deg",
    "variation_deg_east",
    "magnetic_course_deg",
    "note",
)
OWN_NOTE, TIME = "own_note", "time_utc"
"""Columns that are there only where a turning point has a note of the pilot's, or a time."""
Row = dict[str, str]

# A cell's start, also the start it would have where a semicolon parts the cells.
_START = r"(^|;\s*)"
_RISKY = re.compile(_START + r"(?=['=+\-@＝＋－＠])")
_GUARD = re.compile(_START + "'")


def table(plot: Plot) -> bytes:
    """The CSV of a plot, UTF-8.

    ``row`` says what a row is: ``turning point``, ``leg``, ``checkpoint`` or ``note``. Distances
    [NM] have three decimals, courses [°T, °M] and variation [°, east positive] two, positions six.
    """
    text = io.StringIO(newline="")
    points = plot.route.waypoints
    more = [OWN_NOTE] * any(point.note for point in points) + [TIME] * has_times(plot)
    writer = csv.DictWriter(
        text, [*COLUMNS, *more], restval="", extrasaction="ignore", lineterminator="\r\n"
    )
    writer.writeheader()
    writer.writerows(_rows(plot))
    return text.getvalue().encode("utf-8")


def guarded(text: str) -> str:
    """Text that no spreadsheet runs: an apostrophe before what could start a formula.

    So also before an apostrophe, which is what makes it reversible.

    >>> guarded("=1+1"), guarded("a; @b"), guarded("'quoted'"), guarded("Old mill")
    ("'=1+1", "a; '@b", "''quoted'", 'Old mill')
    """
    return _RISKY.sub(r"\1'", text)


def unguarded(text: str) -> str:
    """The text before :func:`guarded`.

    >>> unguarded("'=1+1"), unguarded("Old mill")
    ('=1+1', 'Old mill')
    """
    return _GUARD.sub(r"\1", text)


def _rows(plot: Plot) -> Iterator[Row]:
    gone = 0.0
    waypoints, legs = plot.route.waypoints, plot.route.legs
    whole = plot.route.distance_nm
    yield _turning_point(1, waypoints[0], gone, whole)
    for leg in legs:
        yield _leg(leg)
        yield from (_checkpoint(c) for c in plot.checkpoints if c.leg_number == leg.number)
        gone += leg.distance_nm
        yield _turning_point(leg.number + 1, leg.end, gone, max(0.0, whole - gone))
    yield from _notes(plot)


def _turning_point(number: int, point: Waypoint, gone: float, to_go: float) -> Row:
    return {
        "row": "turning point",
        "number": str(number),
        "name": guarded(clean_name(point.name)),
        "latitude_deg": degrees(point.position.latitude_deg),
        "longitude_deg": degrees(point.position.longitude_deg),
        "elevation_ft": "" if point.elevation_ft is None else fixed(point.elevation_ft, 0),
        "distance_from_start_nm": fixed(gone, 3),
        "distance_to_go_nm": fixed(to_go, 3),
        "note": guarded(point_line(point)),
        OWN_NOTE: guarded(clean_text(point.note)),
        TIME: utc(point.time) if point.time else "",
    }


def _leg(leg: Leg) -> Row:
    return {
        "row": "leg",
        "number": str(leg.number),
        "leg": str(leg.number),
        "start": guarded(clean_name(leg.start.name)),
        "end": guarded(clean_name(leg.end.name)),
        "distance_nm": fixed(leg.distance_nm, 3),
        "true_course_deg": direction(leg.true_course_deg, 2),
        "variation_deg_east": fixed(leg.variation.degrees_east, 2),
        "magnetic_course_deg": direction(leg.magnetic_course_deg, 2),
    }


def _checkpoint(checkpoint: Checkpoint) -> Row:
    return {
        "row": "checkpoint",
        "number": str(checkpoint.number),
        "leg": str(checkpoint.leg_number),
        "name": guarded(clean_name(checkpoint.name)),
        "latitude_deg": degrees(checkpoint.position.latitude_deg),
        "longitude_deg": degrees(checkpoint.position.longitude_deg),
        "distance_from_start_nm": fixed(checkpoint.distance_from_start_nm, 3),
        "distance_to_go_nm": fixed(checkpoint.distance_to_go_nm, 3),
    }


def _notes(plot: Plot) -> Iterator[Row]:
    lines = [*wording.STANDING, *map(caution_line, plot.cautions)]
    for number, line in enumerate([*lines, flight_line(plot), data_line(plot.data)], start=1):
        yield {"row": "note", "number": str(number), "note": guarded(clean_text(line))}


# CSV read as a route: points in the order of their rows.
#
# Either a table this program wrote (``row`` says what a row is), or any table with the columns
# ``name``, ``latitude``, ``longitude`` and, where wanted, ``elevation_ft`` or ``elevation_m``
# (plain ``elevation`` is feet), ``note`` and ``time``. Commas, semicolons or tabs; UTF-8.

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
_HEADER = "name,latitude,longitude,elevation_ft,note"
_PARTS: dict[str, tuple[PartKind, str]] = {
    "turning point": ("route", ""),
    "checkpoint": ("waypoints", "Checkpoints"),
}


def read_csv(stream: Source, contents: Contents) -> None:
    """Read a whole CSV file into its contents; raises FileFault for what is none."""
    text = read_text(stream, contents)
    delimiter = delimiter_of(text.partition("\n")[0])
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    parts: dict[str, Part] = {}
    try:
        columns = _columns(next(rows, []), contents)
        for row in rows:
            if wrong := surplus(row, len(columns)):
                raise contents.fault(wrong, rows.line_num)
            if any(cell.strip() for cell in row):
                fields = dict(zip(columns, row, strict=False))
                _take(fields, parts, contents, rows.line_num)
    except csv.Error as fault:
        raise contents.fault(message("file.not-csv", reason=str(fault)), rows.line_num) from None


def _columns(header: list[str], contents: Contents) -> list[str]:
    columns = [_COLUMNS.get(cell.strip().lower(), "") for cell in header]
    for name in filter(None, columns):
        if columns.count(name) > 1:
            raise contents.fault(message("file.column-twice", column=name), 1)
    missing = [name for name in _NEEDED if name not in columns]
    if missing:
        raise contents.fault(no_columns(missing, header, _HEADER), 1)
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
