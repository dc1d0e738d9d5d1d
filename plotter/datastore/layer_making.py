"""A file of the pilot's made into the store of one layer, feature by feature."""

from __future__ import annotations

import datetime as dt
import json
import re
import sqlite3
import zlib
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

from plotter.atomic import scratch_folder
from plotter.datastore import layer_store
from plotter.datastore.layer_files import Wanted, laid_out
from plotter.datastore.layer_shapes import Findings, sound
from plotter.datastore.layer_system import check_system, system_notes
from plotter.datastore.making.tables import text
from plotter.datastore.offline import offline
from plotter.errors import FileFault, WriteFault
from plotter.formats.frame_in import Feature, Source, features, open_source
from plotter.places.own_layers import KINDS, OwnLayer

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
        raise FileFault(f"{wanted.path.name}: {fault.message}") from fault


def _stored(
    wanted: Wanted, name: str, today: dt.date, source: Source, path: Path
) -> tuple[OwnLayer, bytes]:
    every = features(source, MOST_FEATURES)
    kind, every = _kind(wanted, every)
    findings, notes = Findings(), system_notes(source)
    try:
        with closing(sqlite3.connect(path, isolation_level=None)) as connection:
            connection.executescript("PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF;")
            layer_store.empty(connection)
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
            layer_store.written(connection, layer)
            connection.execute("COMMIT")
        if path.stat().st_size > layer_store.MOST_STORED:
            raise FileFault(f"it needs more than {layer_store.MOST_STORED // 10**6} MB to be kept")
        return layer, layer_store.sealed(path.read_bytes())
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
        check = layer_store.check_value(kept, name, shape.family, zlib.crc32(parts), given)
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
