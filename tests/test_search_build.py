"""The search index as it is written: its layout, its numbers, the same bytes each time."""

from __future__ import annotations

import hashlib
import sqlite3
from pathlib import Path

import pytest
from small_tables import TOWN_ROWS, airport, write_tables

from plotter.datastore.check import check_store
from plotter.datastore.opening import open_store
from plotter.datastore.search_build import SCHEMA, build_search, search_name
from plotter.datastore.tables import read_register
from plotter.errors import DataFault
from plotter.places import search_index as shelves
from plotter.places.search import CLASSES, of_airport, of_navaid, of_town, search
from plotter.places.shelves import HELD, check_value, holds

LAYOUT = (1, "3c8860b5063cd3e7")
"""The schema number and a hash of all rows built from the small tables. A new hash means that the
layout changed: raise SCHEMA, or an installed plotter reads indexes it does not understand."""


def built(folder: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(":memory:")
    build_search(connection, folder, read_register(folder), lambda done: None)
    return connection


def test_the_layout_belongs_to_its_schema_number(tmp_path: Path) -> None:
    connection = built(write_tables(tmp_path))
    found = hashlib.sha256()
    for shelf in shelves.SEARCH_SHELVES:
        found.update(f"{shelf.name} {shelf.count}\n".encode())
        for row in connection.execute(f"SELECT number, body FROM {shelf.name} ORDER BY number"):
            found.update(repr(row).encode())
    connection.close()
    assert (SCHEMA, found.hexdigest()[:16]) == LAYOUT


def test_every_row_is_checked_and_said_to_be_there(tmp_path: Path) -> None:
    folder = write_tables(tmp_path)
    name = search_name(read_register(folder))
    connection = built(folder)
    for shelf in shelves.SEARCH_SHELVES:
        rows = connection.execute(f"SELECT number, check_value, body FROM {shelf.name}").fetchall()
        assert all(check_value(name, shelf, n, body) == value for n, value, body in rows)
        (bits,) = (body for number, _, body in rows if number == HELD)
        numbers = {number for number, _, _ in rows} - {HELD}
        assert numbers == {n for n in range(shelf.count) if holds(bits, n)}
    connection.close()


def test_same_tables_same_bytes(tmp_path: Path) -> None:
    folder = write_tables(tmp_path)
    first, second = built(folder), built(folder)
    assert first.serialize() == second.serialize()
    first.close()
    second.close()


def test_a_row_that_cannot_be_read_is_said(tmp_path: Path) -> None:
    folder = write_tables(tmp_path, towns=[(*TOWN_ROWS[0][:4], "many")])
    with pytest.raises(DataFault, match="cannot be read for the search"):
        built(folder)


def test_letters_of_other_scripts_share_rows_and_are_told_apart(tmp_path: Path) -> None:
    """Row numbers are letters' places; many letters have one place, the keys tell them apart."""
    names = [chr(0x400 + n) * 4 for n in range(80)] + ["abcd"]
    rows = [airport(f"ZZ-{n:04d}", 44.0, -92.5, name=name) for n, name in enumerate(names)]
    folder = write_tables(tmp_path / "t", airports=rows, runways=(), frequencies=())
    with open_store(tables=folder, cache=tmp_path / "c") as store:
        for name in names:
            assert {hit.place.name.casefold() for hit in search(store, name)} == {name.casefold()}


def test_the_check_of_the_store_looks_at_the_index_too(tmp_path: Path) -> None:
    folder, cache = write_tables(tmp_path / "t"), tmp_path / "c"
    with open_store(tables=folder, cache=cache) as store:
        search(store, "demo")
    assert check_store(folder, cache) == []
    (path,) = cache.glob("search-*.sqlite")
    connection = sqlite3.connect(path)
    with connection:
        connection.execute("UPDATE search_traits SET body = 'ZZaZZa' WHERE number = 0")
    connection.close()
    (finding,) = check_store(folder, cache)
    assert "search-" in finding
    assert not path.exists()


def test_the_order_of_importance() -> None:
    ordered = [
        of_airport("large_airport", 9_000.0),
        of_airport("large_airport", None),
        of_airport("medium_airport", 20_000.0),
        of_town(100_000),
        of_town(99_999),
        of_airport("small_airport", 3_000.0),
        of_navaid(),
        of_town(9_999),
        of_town(0),
        of_airport("heliport", None),
        of_airport("closed", 9_000.0),
    ]
    assert ordered == sorted(ordered)
    assert set(CLASSES) >= set(shelves.KINDS)


def test_the_rows_of_a_beginning_hold_all_longer_ones() -> None:
    for text in ("a", "ab", "abc", "9", "zz", "ж"):
        assert shelves.key_row(text + "xyz") in shelves.rows_of(text)
    assert shelves.rows_of("abc") == shelves.rows_of("abcd")
    assert shelves.rows_of("999").stop <= shelves.KEYS.count
