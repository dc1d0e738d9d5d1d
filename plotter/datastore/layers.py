"""The pilot's own layers: brought from a file, listed, read for a box, dropped.

Each is one SQLite file ``layers/NAME.sqlite`` in the user's own folder, written whole and never
changed after that: ``features`` with their geometry and attributes, and ``touched``, which says
for each cell of 1° which features touch it, so that a view is read without the rest. Every row
carries a check value.
"""

from __future__ import annotations

import datetime as dt
import json
import re
import sqlite3
import zlib
from collections.abc import Collection, Iterator, Sequence
from contextlib import closing, suppress
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from plotter import atomic
from plotter.datastore.home import needed_folder, user_folder
from plotter.datastore.lock import only_one
from plotter.errors import DataFault, FileFault, InputError, TargetExists, WriteFault
from plotter.places.grid import DEGREE
from plotter.places.own_layers import KINDS, Box, OwnLayer, OwnShape
from plotter.places.store import SQLITE_FAULTS, sqlite_uri

FOLDER, SUFFIX, LOCK = "layers", ".sqlite", "lock"
SCHEMA = 1
MOST_FEATURES = 1_000_000
MOST_STORED = 500 * 10**6
"""The most a layer may have as it is kept [bytes]."""
MOST_CELLS = 2_000
"""A box of more cells is read by the bounds of the features: 2,000 cells are 45° of longitude by
45° of latitude."""
BUSY = "another layer is being brought or dropped; wait until it has ended"
_NAME = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}", re.ASCII)
_TABLES = """
CREATE TABLE meta (body TEXT, check_value INTEGER);
CREATE TABLE features (number INTEGER PRIMARY KEY, name TEXT, family TEXT, parts BLOB,
    attributes TEXT, south REAL, west REAL, north REAL, east REAL, check_value INTEGER);
CREATE TABLE touched (cell INTEGER, number INTEGER, PRIMARY KEY (cell, number)) WITHOUT ROWID;
"""
_SHAPE = "SELECT number, name, family, parts, attributes, check_value FROM features"


@dataclass(frozen=True, slots=True)
class Wanted:
    """A file to bring: what it is, under which name; ``own`` is a folder for tests."""

    path: Path
    kind: str = ""
    name: str = ""
    layer: str | None = None
    replace: bool = False
    own: Path | None = None


def add(wanted: Wanted, today: dt.date) -> OwnLayer:
    """Bring a file into the user's store as a layer; ``today`` is noted as the day.

    Raises FileFault where the file cannot be read or nothing of it can be kept, InputError for a
    kind or name that cannot be, TargetExists where a layer of that name is there and is not to be
    replaced, WriteFault where the disk refuses.
    """
    from plotter.datastore.layer_making import made

    name = _name(wanted)
    if wanted.kind and wanted.kind not in KINDS:
        raise InputError(f"no layer can be '{wanted.kind}'; use --as {'|'.join(KINDS)}")
    folder = (wanted.own or needed_folder()) / FOLDER
    with only_one(folder / LOCK, BUSY):
        path = folder / f"{name}{SUFFIX}"
        if path.exists() and not wanted.replace:
            raise TargetExists(
                f"there is a layer '{name}' already; choose another --name, or --replace it"
            )
        layer, content = made(wanted, name, today)
        atomic.write_bytes(path, content)
        return layer


def drop(name: str, own: Path | None = None) -> None:
    """Remove a layer; raises InputError where there is none of that name."""
    folder = (own or needed_folder()) / FOLDER
    with only_one(folder / LOCK, BUSY):
        names = _names(folder)
        if name not in names:
            listed = ", ".join(names) or "no layer at all"
            raise InputError(f"there is no layer '{name}'; there is {listed}", candidates=names)
        path = folder / f"{name}{SUFFIX}"
        try:
            path.unlink()
        except OSError as fault:
            raise WriteFault(f"{path} was not removed: {atomic.reason(fault)}") from fault


def layers(own: Path | None = None) -> tuple[OwnLayer, ...]:
    """Every layer by its name; raises DataFault where one is damaged."""
    folder = _folder(own)
    return tuple(_opened(folder, name).layer for name in _names(folder)) if folder else ()


def shapes_in(
    box: Box, kinds: Collection[str] | None = None, own: Path | None = None
) -> Iterator[OwnShape]:
    """The shapes of all layers (of these ``kinds``) near a box of south, west, north, east [°].

    ``west`` > ``east`` runs through 180°. All that touch the box are given, and some beside it.
    Layer by layer, in the order of their features. Raises DataFault where one is damaged.
    """
    folder = _folder(own)
    for name in _names(folder) if folder else ():
        assert folder is not None
        found = _opened(folder, name)
        if kinds is None or found.layer.kind in kinds:
            yield from found.shapes(box)


def attributes(layer: str, number: int, own: Path | None = None) -> dict[str, Any]:
    """All that the file said of one feature of a layer, as it was given."""
    folder = _folder(own)
    if folder is None or layer not in _names(folder):
        raise InputError(f"there is no layer '{layer}'")
    return _opened(folder, layer).attributes(number)


def check_layers(own: Path | None = None) -> list[str]:
    """What is wrong with the layers, in words: every row of each is read and its check compared."""
    folder, findings = _folder(own), []
    for name in _names(folder) if folder else ():
        assert folder is not None
        try:
            found = _opened(folder, name)
            count = sum(1 for _ in found.every())
            if count != found.layer.features:
                findings.append(f"layer {name} has {count} of {found.layer.features} features")
        except DataFault as fault:
            findings.append(fault.message)
    return findings


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


class _Layer:
    """One layer's file, opened for each question and closed after it."""

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


def _opened(folder: Path, name: str) -> _Layer:
    return _Layer(folder / f"{name}{SUFFIX}")


def _folder(own: Path | None) -> Path | None:
    home = own or user_folder()
    return home and home / FOLDER


def _names(folder: Path) -> list[str]:
    """The layers that are there; a file of another name is none."""
    with suppress(OSError):
        found = (path.stem for path in folder.iterdir() if path.suffix == SUFFIX)
        return sorted(name for name in found if _NAME.fullmatch(name))
    return []


def _name(wanted: Wanted) -> str:
    """The name asked for, or one made of the file's."""
    if wanted.name:
        if not _NAME.fullmatch(wanted.name):
            raise InputError(
                f"'{wanted.name}' cannot be a layer's name; use a-z, 0-9, - and _, 40 at most"
            )
        return wanted.name
    stem = wanted.path.name.split(".")[0].lower()
    made = re.sub(r"[^a-z0-9]+", "-", stem).strip("-")[:40].strip("-")
    if not made:
        raise FileFault(f"no name can be made of '{wanted.path.name}'; give one with --name")
    return made
