"""The store of one layer of the pilot's own: one SQLite file, written whole, never changed.

``features`` holds each with its geometry and attributes; ``touched`` says for each cell of 1° which
features touch it, so that a view is read without the rest. Every row carries a check value, and the
whole file another: a damaged page may hide rows without any row being wrong, so :func:`is_whole` is
asked before a file is used.
"""

from __future__ import annotations

import datetime as dt
import json
import re
import sqlite3
import zlib
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import asdict
from functools import lru_cache
from pathlib import Path
from typing import Any

from plotter.datastore.layer_files import Findings, Wanted, laid_out, sound
from plotter.datastore.layer_system import check_system, system_notes
from plotter.datastore.making.tables import text
from plotter.datastore.offline import offline
from plotter.errors import DataFault, FileFault, InputError, WriteFault
from plotter.files import scratch_folder
from plotter.formats.frame import Feature, Source, features, open_source
from plotter.places.grid import DEGREE
from plotter.places.model import KINDS, Box, OwnLayer, OwnShape
from plotter.places.store import SQLITE_FAULTS, is_sealed, sealed, sqlite_uri

SCHEMA = 2
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


def write_layer(connection: sqlite3.Connection, layer: OwnLayer) -> None:
    """Write what a layer is, last of all."""
    body = json.dumps({"schema": SCHEMA, **asdict(layer)}, ensure_ascii=False)
    connection.execute("INSERT INTO meta VALUES (?, ?)", (body, check_value(body)))


def empty(connection: sqlite3.Connection) -> None:
    """Make the tables of a new layer."""
    connection.executescript(_TABLES)


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
    return is_sealed(path)


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
        from plotter.datastore.layer_files import unpacked

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


# A file of the pilot's made into the store of one layer, feature by feature.

MOST_FEATURES = 1_000_000
NAME_COLUMNS = ("fullname", "name_full", "full_name", "name", "name_en", "label", "title")
"""Attributes that are a feature's name, the best first; capitals or not."""
MOST_LETTERS = 100_000
"""Attributes of one feature may have so many letters as JSON."""
WORDS = {
    "rivers": r"river|stream|hydro|water.?course",
    "lakes": r"lake|water.?bod|reservoir",
    "railways": r"rail",
    "roads": r"road|highway|street",
    "towers": r"tower|mast|obstacle|antenna",
    "landmarks": r"landmark|peak|elevation|summit",
}
"""What in a file's name says what it is, where nothing else does."""


def made(wanted: Wanted, name: str, today: dt.date) -> tuple[OwnLayer, bytes]:
    """The layer of a file and the store of it as bytes.

    Raises FileFault, naming the file, where it cannot be read or nothing of it can be kept.
    """
    try:
        with laid_out(wanted.path) as (path, kind), scratch_folder() as folder, offline():
            check_system(path, kind)
            source = open_source(path, kind, wanted.layer)
            return _stored(wanted, name, today, source, folder / "layer.sqlite")
    except FileFault as fault:
        raise FileFault("file", file=wanted.path.name, what=fault.said) from fault


def _stored(
    wanted: Wanted, name: str, today: dt.date, source: Source, path: Path
) -> tuple[OwnLayer, bytes]:
    every = features(source, MOST_FEATURES)
    kind, every = _kind(wanted, every)
    findings, notes = Findings(), system_notes(source)
    try:
        with closing(sqlite3.connect(path, isolation_level=None)) as connection:
            connection.executescript("PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF;")
            empty(connection)
            connection.execute("BEGIN")
            count = _fill(connection, every, kind, findings)
            if not count:
                raise FileFault("; ".join(["nothing of it can be kept", *findings.words()]))
            written = dt.datetime.fromtimestamp(wanted.path.stat().st_mtime, dt.UTC).date()
            layer = OwnLayer(
                name,
                kind,
                count,
                wanted.path.name,
                min(written, today).isoformat(),
                today.isoformat(),
                (*notes, *findings.words()),
            )
            write_layer(connection, layer)
            connection.execute("COMMIT")
        if path.stat().st_size > MOST_STORED:
            raise FileFault(f"it needs more than {MOST_STORED // 10**6} MB to be kept")
        return layer, sealed(path.read_bytes())
    except (sqlite3.Error, OSError) as fault:
        raise WriteFault(f"the layer could not be made: {fault}; is there room?") from fault


def _fill(
    connection: sqlite3.Connection, every: Iterator[Feature], kind: str, findings: Findings
) -> int:
    """Write every feature that can be kept; gives how many."""
    kept = 0
    for place, feature in enumerate(every, start=1):
        name = feature_name(feature.attributes)
        shape = sound(feature.geometry, kind, findings, f"feature {place} {name}".strip())
        given = json.dumps(dict(feature.attributes), ensure_ascii=False)
        if len(given) > MOST_LETTERS:
            findings.add("attributes too long, left out", f"feature {place} {name}".strip())
            given = "{}"
        if shape is None:
            continue
        kept += 1
        parts = zlib.compress(json.dumps(shape.parts, separators=(",", ":")).encode())
        west, south, east, north = shape.bounds
        check = check_value(kept, name, shape.family, zlib.crc32(parts), given)
        row = (kept, name, shape.family, parts, given, south, west, north, east, check)
        connection.execute(f"INSERT INTO features VALUES ({', '.join('?' * len(row))})", row)
        touched = [(cell, kept) for cell in shape.cells]
        connection.executemany("INSERT INTO touched VALUES (?, ?)", touched)
    return kept


def feature_name(attributes: Any) -> str:  # noqa: ANN401
    """The name among a feature's attributes; empty where there is none.

    >>> feature_name({"NAME": "Root", "name_full": "Root River"}), feature_name({"id": 7})
    ('Root River', '')
    """
    by_column = {column.lower(): value for column, value in attributes.items()}
    found = (by_column.get(column) for column in NAME_COLUMNS)
    return next((text(value)[:200] for value in found if isinstance(value, str) and value), "")


def _kind(wanted: Wanted, every: Iterator[Feature]) -> tuple[str, Iterator[Feature]]:
    """What the layer is: as asked, by the file's name, or points where the first is a point."""
    if wanted.kind:
        return wanted.kind, every
    stem = wanted.path.name.lower()
    for kind, words in WORDS.items():
        if re.search(words, stem):
            return kind, every
    first = next(every, None)
    if first is not None and first.geometry is not None:
        shape = first.geometry.geom_type
        if shape in ("Point", "MultiPoint"):
            return "points", _again(first, every)
    raise FileFault(f"nothing says what it is; add --as {'|'.join(KINDS)}")


def _again(first: Feature, rest: Iterator[Feature]) -> Iterator[Feature]:
    yield first
    yield from rest
