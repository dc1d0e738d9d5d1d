"""What is in a store, and that its layout does not change behind its schema number."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from small_tables import AIRPORT_ROWS, CELLS, airport, register_tables, write_tables

from plotter.datastore.build import SCHEMA, build, store_name
from plotter.datastore.tables import read_register
from plotter.errors import DataFault
from plotter.places.shelves import BASE, HELD, SHELVES, check_value, holds

LAYOUT = (3, "a665b3068436966a")
"""The schema number and a hash of all rows built from the small tables. A new hash means that the
layout changed: raise SCHEMA, or an installed plotter reads stores it does not understand."""


def built(folder: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(":memory:")
    build(connection, folder, read_register(folder), lambda done: None)
    return connection


def test_the_layout_belongs_to_its_schema_number(tmp_path: Path) -> None:
    connection = built(write_tables(tmp_path))
    found = hashlib.sha256()
    for shelf in SHELVES:
        found.update(f"{shelf.name} {shelf.count}\n".encode())
        for row in connection.execute(f"SELECT number, body FROM {shelf.name} ORDER BY number"):
            found.update(repr(row).encode())
    connection.close()
    assert (SCHEMA, found.hexdigest()[:16]) == LAYOUT


def test_a_store_holds_one_checked_row_for_each_cell_or_hash(tmp_path: Path) -> None:
    folder = write_tables(tmp_path)
    name = store_name(read_register(folder))
    connection = built(folder)
    for shelf in SHELVES:
        rows = connection.execute(f"SELECT number, check_value, body FROM {shelf.name}").fetchall()
        assert all(check_value(name, shelf, n, body) == value for n, value, body in rows)
        (bits,) = (body for number, _, body in rows if number == HELD)
        numbers = {number for number, _, _ in rows} - {HELD}
        assert numbers == {n for n in range(shelf.count) if holds(bits, n)}
    for tier, cells in CELLS.items():
        (count,) = connection.execute(f"SELECT count(*) FROM {BASE[tier][0].name}").fetchone()
        assert count == len(cells) + 1
    connection.close()


def test_same_tables_same_bytes(tmp_path: Path) -> None:
    folder = write_tables(tmp_path)
    first, second = built(folder), built(folder)
    assert first.serialize() == second.serialize()
    first.close()
    second.close()


def test_the_name_says_schema_and_content(tmp_path: Path) -> None:
    register = read_register(write_tables(tmp_path))
    assert store_name(register).startswith(f"places-{SCHEMA}-")
    other = dict(register) | {"towns": {**register["towns"], "sha256": "0" * 64}}
    assert store_name(other) != store_name(register)
    older = dict(register) | {"towns": {**register["towns"], "date": "2001-01-01"}}
    assert store_name(older) == store_name(register)


def replaced(file: str, old: str, new: str) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        path = folder / file
        path.write_bytes(path.read_bytes().replace(old.encode(), new.encode(), 1))

    return change


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (replaced("airports.csv", "44.0,", "north,"), "airports cannot be read"),
        (replaced("airports.csv", "44.0,-92.5,", "99944.0,-92.5,"), "nowhere on earth"),
        (replaced("airports.csv", "44.0,-92.5,", "nan,-92.5,"), "airports cannot be read"),
        (replaced("airports.csv", "Demo KAAA", "Demo\tKAAA"), "control characters"),
        (replaced("airports.csv", "Demo KAAA", '"Demo\nKAAA"'), "control characters, or other"),
        (replaced("airports.csv", "Demo KAAA", '"Demo'), "cannot be read"),
        (replaced("airports.csv", "iata,gps", "gps,iata"), "has the columns"),
        (replaced("navaids.csv", "44.02,", ","), "navaids cannot be read"),
        (replaced("towns.csv", "44.02", "x"), "towns cannot be read"),
        (replaced("basemap/fine.jsonl", "+40-095", "+41-095"), "base map cannot be read"),
        (replaced("basemap/fine.jsonl", '{"cell', '{"sell'), "base map cannot be read"),
    ],
)
def test_a_table_that_cannot_be_read_is_a_fault(
    tmp_path: Path, change: Callable[[Path], None], words: str
) -> None:
    folder = write_tables(tmp_path)
    rows = (folder / "register.json").read_bytes()
    change(folder)
    register_tables(folder)
    if "other" in words:  # the count registered before the line feed came into a field
        (folder / "register.json").write_bytes(with_hash(rows, folder / "airports.csv"))
    with pytest.raises(DataFault, match=words):
        built(folder)


def with_hash(register: bytes, path: Path) -> bytes:
    """A register that names the file as it is now, with the count of before."""
    import json

    content = json.loads(register)
    content["airports"]["sha256"] = hashlib.sha256(path.read_bytes()).hexdigest()
    return json.dumps(content).encode()


def test_small_letters_in_a_table_are_found_all_the_same(tmp_path: Path) -> None:
    rows = [*AIRPORT_ROWS, airport("zz-low", 1.0, 1.0, local="lower")]
    connection = built(write_tables(tmp_path, airports=rows))
    bodies = b"".join(row[0] for row in connection.execute("SELECT body FROM codes"))
    connection.close()
    assert b"LOWER\tairport\tzz-low\t" in bodies
