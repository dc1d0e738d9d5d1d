"""GeoPackage read: layers of points and lines, through SQLite alone.

Source: OGC 12-128r19, clauses 1.1 (``gpkg_contents``), 2.1.3 (the header before each WKB). A file
from outside may hold views that never end and tables that are none, so it is opened for reading
only, its schema is not trusted, recursion is refused and the work is counted. The layer ``points``
of a file this program wrote is a route; other points are waypoints, each line is a track.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from contextlib import closing
from itertools import chain
from pathlib import Path
from typing import IO, TYPE_CHECKING, Any

from plotter.formats.incoming import Contents, Part, PartKind, Raw, skipped_geometry
from plotter.messages import message
from plotter.places.store import sqlite_uri

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

Figures = tuple[float, ...]

MOST_BYTES = 32_000_000
MOST_LAYERS = 100
MOST_STEPS = 100_000_000
"""Steps of SQLite's machine for one file, some seconds; a full file takes a tenth."""
_STEP = 1_000_000

_MAGIC = b"SQLite format 3\x00"
_APPLICATIONS = (b"GPKG", b"GP10", b"GP11")
_APPLICATION_AT = 68
_WGS_84 = 4326
_ENVELOPE_BYTES = (0, 32, 48, 48, 64)
_LAYERS = (
    "SELECT c.table_name, g.column_name, s.organization, s.organization_coordsys_id "
    "FROM gpkg_contents c JOIN gpkg_geometry_columns g ON g.table_name = c.table_name "
    "JOIN gpkg_spatial_ref_sys s ON s.srs_id = g.srs_id "
    "WHERE c.data_type = 'features' ORDER BY c.rowid LIMIT ?"
)
_NOTES = ("note", "description", "desc")


def read_gpkg(stream: IO[bytes], contents: Contents) -> None:
    """Read a whole GeoPackage into its contents; raises FileFault for what is none.

    The trap: SQLite opens files by name, so the stream must be that of a file.
    """
    path = Path(stream.name)
    _check_head(stream, contents)
    try:
        with closing(opened(path)) as connection:
            layers = connection.execute(_LAYERS, (MOST_LAYERS,)).fetchall()
            for table, column, organization, code in layers:
                if (str(organization).upper(), code) != ("EPSG", _WGS_84):
                    system = f"{organization}:{code}"
                    raise contents.fault(
                        message("file.layer-system", layer=str(table)[:40], system=system[:40])
                    )
                _layer(connection, str(table), str(column), contents)
    except (sqlite3.Error, OverflowError, ValueError) as fault:
        damaged = message("file.damaged-gpkg", reason=str(fault)[:80])
        raise contents.fault(damaged) from None


def _check_head(stream: IO[bytes], contents: Contents) -> None:
    head, size = stream.read(100), stream.seek(0, 2)
    application = head[_APPLICATION_AT : _APPLICATION_AT + 4]
    if not head.startswith(_MAGIC) or application not in _APPLICATIONS:
        raise contents.fault(message("file.not-gpkg"))
    if size > MOST_BYTES:
        raise contents.fault(message("file.too-large", most_mb=MOST_BYTES // 1_000_000))


def opened(path: Path) -> sqlite3.Connection:
    """The file opened for reading only, never locked, with what could do harm refused.

    A question that asks for too much work ends in an ``sqlite3.OperationalError``.
    """
    uri = f"{sqlite_uri(path.absolute())}?mode=ro&immutable=1"
    connection = sqlite3.connect(uri, uri=True)
    connection.text_factory = lambda text: text.decode("utf-8", "replace")
    connection.execute("PRAGMA trusted_schema = OFF")
    connection.execute("PRAGMA cell_size_check = ON")
    connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, MOST_BYTES)
    connection.set_authorizer(_may)
    steps = iter(range(MOST_STEPS // _STEP))
    connection.set_progress_handler(lambda: next(steps, None) is None, _STEP)
    return connection


def _may(action: int, *_: object) -> int:
    allowed = (sqlite3.SQLITE_SELECT, sqlite3.SQLITE_READ)
    return sqlite3.SQLITE_OK if action in allowed else sqlite3.SQLITE_DENY


def _layer(connection: sqlite3.Connection, table: str, column: str, contents: Contents) -> None:
    quoted = table.replace('"', '""')
    rows = connection.execute(f'SELECT * FROM "{quoted}"')
    names = [str(each[0]).lower() for each in rows.description]
    is_route = table == "points" and "distance_from_start_nm" in names
    parts: dict[str, Part] = {}
    for number, row in enumerate(rows, start=1):
        fields = dict(zip(names, row, strict=True))
        place = f"layer '{table[:40]}', row {number:,}"
        kind, pieces = _shape(fields.pop(column.lower(), None))
        if kind == "points":
            if kind not in parts:
                of: PartKind = "route" if is_route else "waypoints"
                parts[kind] = contents.begin(of, "" if is_route else table)
            for point in pieces[0]:
                contents.take(parts[kind], _raw(point, fields, place))
        elif kind == "line":
            _track(contents, pieces, fields, place)
        else:
            contents.pass_over(kind)


def _shape(blob: object) -> tuple[str, list[Iterable[Figures]]]:
    """Return ``points`` or ``line`` with the coordinates; for another geometry its key."""
    shape = _geometry(blob)
    if shape is None or shape.is_empty:
        return skipped_geometry(None), []
    kind = shape.geom_type
    # Not as lists: a line of two million points, which is refused, would fill half a gigabyte.
    pieces = [each.coords for each in _members(shape) if not each.is_empty]
    if kind in ("Point", "MultiPoint"):
        return "points", [chain.from_iterable(pieces)]
    if kind in ("LineString", "MultiLineString"):
        return "line", pieces
    return skipped_geometry(kind), []


def _members(shape: BaseGeometry) -> Iterable[BaseGeometry]:
    """The points or lines a geometry is made of; nothing for any other kind."""
    if shape.geom_type in ("Point", "LineString"):
        return [shape]
    return shape.geoms if shape.geom_type in ("MultiPoint", "MultiLineString") else ()


def _geometry(blob: object) -> BaseGeometry | None:
    """The geometry of a GeoPackage blob, or ``None`` (clause 2.1.3.1.1)."""
    if not isinstance(blob, bytes) or blob[:2] != b"GP" or len(blob) < 8:
        return None
    envelope = (blob[3] >> 1) & 7
    if envelope >= len(_ENVELOPE_BYTES):
        return None
    import shapely

    made: BaseGeometry | None = shapely.from_wkb(
        blob[8 + _ENVELOPE_BYTES[envelope] :], on_invalid="ignore"
    )
    return made


def _raw(point: Figures, fields: dict[str, Any], place: str) -> Raw:
    longitude, latitude, *height = point
    return Raw(
        latitude,
        longitude,
        _text(fields.get("name")),
        next((_text(fields[key]) for key in _NOTES if fields.get(key)), ""),
        fields.get("elevation_m", next(iter(height), None)),
        fields.get("elevation_ft"),
        _text(fields.get("time")),
        place,
    )


def _track(
    contents: Contents, pieces: list[Iterable[Figures]], fields: dict[str, Any], place: str
) -> None:
    ends = " – ".join(_text(fields[key]) for key in ("start", "end") if fields.get(key))
    track = contents.begin("track", _text(fields.get("name")) or ends)
    for line in pieces:
        track.pieces += 1
        for longitude, latitude, *height in line:
            up = next(iter(height), None)
            contents.take_fix(track, lambda: place, latitude, longitude, height_m=up)


def _text(value: object) -> str:
    return value if isinstance(value, str) else "" if value is None else str(value)
