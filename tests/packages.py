"""What is in a GeoPackage, looked at through SQLite alone, without the library that wrote it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import shapely

APPLICATION_ID = 0x47504B47
"""``GPKG`` in ASCII (OGC 12-128r19, clause 1.1.1)."""
PLACES = 9
"""Decimals compared: the last digits of a double may differ between platforms."""


@contextmanager
def opened(path: Path) -> Iterator[sqlite3.Connection]:
    with closing(sqlite3.connect(f"file:{path.as_posix()}?mode=ro", uri=True)) as database:
        yield database


def rows(database: sqlite3.Connection, table: str) -> list[dict[str, Any]]:
    """The rows of a table in the order they were written."""
    found = database.execute(f'SELECT * FROM "{table}" ORDER BY rowid')
    names = [column[0] for column in found.description]
    return [dict(zip(names, row, strict=True)) for row in found]


def shape(blob: bytes) -> shapely.Geometry:
    """A geometry out of its GeoPackage wrapping (OGC 12-128r19, clause 2.1.3)."""
    assert blob[:3] == b"GP\x00", "magic and version"
    little = blob[3] & 1
    assert int.from_bytes(blob[4:8], "little" if little else "big") == 4326
    envelope = (0, 32, 48, 48, 64)[blob[3] >> 1 & 7]
    return shapely.from_wkb(blob[8 + envelope :])


def content(path: Path) -> dict[str, Any]:
    """All that a pilot could see: each layer's columns, rows and lines, rounded."""
    with opened(path) as database:
        names = [row["table_name"] for row in rows(database, "gpkg_contents")]
        return {name: [_plain(row) for row in rows(database, name)] for name in names}


def _plain(row: dict[str, Any]) -> dict[str, Any]:
    return {name: _value(value) for name, value in row.items()}


def _value(value: object) -> object:
    if isinstance(value, bytes):
        geometry = shape(value)
        parts = shapely.get_parts(geometry)
        lines = [shapely.get_coordinates(part).round(PLACES).tolist() for part in parts]
        return {"type": geometry.geom_type, "coordinates": lines}
    return round(value, PLACES) + 0.0 if isinstance(value, float) else value
