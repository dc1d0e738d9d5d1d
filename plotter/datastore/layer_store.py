"""The store of one layer of the pilot's own: one SQLite file, written whole, never changed.

``features`` holds each with its geometry and attributes; ``touched`` says for each cell of 1° which
features touch it, so that a view is read without the rest. Every row carries a check value, and the
whole file another: a damaged page may hide rows without any row being wrong, so :func:`is_whole` is
asked before a file is used.
"""

from __future__ import annotations

import json
import sqlite3
import zlib
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import asdict
from functools import lru_cache
from pathlib import Path
from typing import Any

from plotter.errors import DataFault, InputError
from plotter.places.grid import DEGREE
from plotter.places.own_layers import Box, OwnLayer, OwnShape
from plotter.places.store import SQLITE_FAULTS, sqlite_uri

SCHEMA = 2
SEAL_AT = 60
"""Where the check value of the whole file stands, in four bytes that SQLite leaves to its user: the
user version (SQLite, Database File Format, section 1.3.15)."""
SEAL_BYTES = 4
_CHUNK = 1 << 20
MOST_STORED = 500 * 10**6
"""The most a layer may have as it is kept [bytes]."""
MOST_CELLS = 2_000
"""A box of more cells is read by the bounds of the features: 2,000 cells are 45° of longitude by
45° of latitude."""
_TABLES = """
CREATE TABLE meta (body TEXT, check_value INTEGER);
CREATE TABLE features (number INTEGER PRIMARY KEY, name TEXT, family TEXT, parts BLOB,
    attributes TEXT, south REAL, west REAL, north REAL, east REAL, check_value INTEGER);
CREATE TABLE touched (cell INTEGER, number INTEGER, PRIMARY KEY (cell, number)) WITHOUT ROWID;
"""
_SHAPE = "SELECT number, name, family, parts, attributes, check_value FROM features"


def check_value(*fields: object) -> int:
    """The check value (CRC-32) of a row."""
    return zlib.crc32(json.dumps(fields, ensure_ascii=False).encode("utf-8"))


def written(connection: sqlite3.Connection, layer: OwnLayer) -> None:
    """Write what a layer is, last of all."""
    body = json.dumps({"schema": SCHEMA, **asdict(layer)}, ensure_ascii=False)
    connection.execute("INSERT INTO meta VALUES (?, ?)", (body, check_value(body)))


def empty(connection: sqlite3.Connection) -> None:
    """Make the tables of a new layer."""
    connection.executescript(_TABLES)


def sealed(content: bytes) -> bytes:
    """Return a store with the check value (CRC-32) of all its other bytes in its head."""
    rest = memoryview(content)[SEAL_AT + SEAL_BYTES :]
    check = zlib.crc32(rest, zlib.crc32(content[:SEAL_AT]))
    return content[:SEAL_AT] + check.to_bytes(SEAL_BYTES, "big") + bytes(rest)


def is_whole(path: Path) -> bool:
    """Return whether a file is the one that was sealed, byte for byte.

    A file is read once for as long as its size and dates stay. Raises DataFault where it cannot be
    read, FileNotFoundError where there is none.
    """
    try:
        found = path.stat()
        return _is_sealed(path, (found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns))
    except FileNotFoundError:
        raise
    except OSError as fault:
        raise DataFault(f"the layer {path} cannot be read: {fault.strerror or fault}") from fault


@lru_cache(maxsize=256)
def _is_sealed(path: Path, _: tuple[int, ...]) -> bool:
    with path.open("rb") as handle:
        check = zlib.crc32(handle.read(SEAL_AT))
        seal = handle.read(SEAL_BYTES)
        while chunk := handle.read(_CHUNK):
            check = zlib.crc32(chunk, check)
    return seal == check.to_bytes(SEAL_BYTES, "big")


class LayerFile:
    """One layer's whole file, opened for each question and closed after it."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self.layer = self._meta()

    def _meta(self) -> OwnLayer:
        rows = list(self._asked("SELECT body, check_value FROM meta", ()))
        try:
            ((body, check),) = rows
            content = json.loads(body)
            if check != check_value(body) or content.pop("schema") != SCHEMA:
                raise ValueError("the check value or the layout is another")
            return OwnLayer(**content | {"notes": tuple(content["notes"])})
        except (ValueError, TypeError, KeyError) as fault:
            raise self._damaged(fault) from fault

    def shapes(self, box: Box) -> Iterator[OwnShape]:
        """The shapes near a box."""
        south, west, north, east = box
        wide = (east - west) % 360.0 if east - west < 360.0 else 360.0
        cells = sorted(set(DEGREE.cells_in(south, west, north, west + wide)))
        if len(cells) > MOST_CELLS:
            rows = self._asked(f"{_SHAPE} WHERE north >= ? AND south <= ?", (south, north))
        else:
            marks = ", ".join("?" * len(cells))
            inside = f"SELECT number FROM touched WHERE cell IN ({marks})"
            rows = self._asked(f"{_SHAPE} WHERE number IN ({inside}) ORDER BY number", cells)
        return self._shapes(rows)

    def every(self) -> Iterator[OwnShape]:
        """All shapes."""
        return self._shapes(self._asked(f"{_SHAPE} ORDER BY number", ()))

    def attributes(self, number: int) -> dict[str, Any]:
        """The attributes of one feature."""
        for row in self._asked(f"{_SHAPE} WHERE number = ?", (number,)):
            self._check(row)
            found: dict[str, Any] = json.loads(row[4])
            return found
        raise InputError(f"layer '{self.layer.name}' has no feature {number}")

    def _shapes(self, rows: Iterator[tuple[Any, ...]]) -> Iterator[OwnShape]:
        from plotter.datastore.layer_shapes import unpacked

        for row in rows:
            number, name, family, parts, _, _ = self._check(row)
            lines = tuple(unpacked(part) for part in json.loads(zlib.decompress(parts)))
            yield OwnShape(self.layer.name, self.layer.kind, number, name, family, lines)

    def _check(self, row: tuple[Any, ...]) -> tuple[Any, ...]:
        number, name, family, parts, attributes, check = row
        if check != check_value(number, name, family, zlib.crc32(parts), attributes):
            raise self._damaged(ValueError(f"feature {number}"))
        return row

    def _asked(self, query: str, values: Sequence[Any]) -> Iterator[tuple[Any, ...]]:
        try:
            uri = f"{sqlite_uri(self._path.absolute())}?mode=ro&immutable=1"
            with closing(sqlite3.connect(uri, uri=True)) as connection:
                yield from connection.execute(query, values)
        except SQLITE_FAULTS as fault:
            raise self._damaged(fault) from fault

    def _damaged(self, fault: Exception) -> DataFault:
        return DataFault(
            f"the layer {self._path} is damaged ({fault}); bring its file again with --replace, "
            f"or type 'plotter data drop {self._path.stem}'"
        )
