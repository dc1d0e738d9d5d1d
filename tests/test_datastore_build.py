"""What is in a store, and that its layout does not change behind its schema number."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from small_tables import (
    AIRPORT_ROWS,
    CELLS,
    TOWN_ROWS,
    airport,
    register_tables,
    write_tables,
)

from plotter.datastore.build import build
from plotter.datastore.opening import open_store
from plotter.datastore.tables import SCHEMAS, read_register, store_name
from plotter.errors import DataFault
from plotter.places.search import CLASSES, KINDS, of_airport, of_navaid, of_town, search
from plotter.places.store import KINDS_OF_STORE, Kind, check_value, seed_of

LAYOUTS = {
    "places": (4, "94966fea92139a91"),
    "ground": (1, "d2acdaabdbc7dfc0"),
    "search": (2, "97d4323d48792e14"),
}
"""The schema number and a hash of all that is built from the small tables. A new hash means that
the layout changed: raise the number, or an installed plotter reads files it does not understand."""
CHECKED = {"places": ("airports", "navaids", "towns", "codes"), "ground": ("cells",)}


def built(folder: Path, kind: Kind = "places") -> sqlite3.Connection:
    connection = sqlite3.connect(":memory:")
    build(connection, kind, folder, read_register(folder), lambda done: None)
    return connection


@pytest.mark.parametrize("kind", KINDS_OF_STORE)
def test_the_layout_belongs_to_its_schema_number(tmp_path: Path, kind: Kind) -> None:
    connection = built(write_tables(tmp_path), kind)
    digest = hashlib.sha256()
    for table, sql in connection.execute("SELECT name, sql FROM sqlite_schema").fetchall():
        digest.update(f"{sql}\n".encode())
        if str(sql).startswith("CREATE TABLE"):
            for row in connection.execute(f"SELECT * FROM {table}"):
                digest.update(repr(row).encode())
    connection.close()
    assert (SCHEMAS[kind], digest.hexdigest()[:16]) == LAYOUTS[kind]


@pytest.mark.parametrize("kind", CHECKED)
def test_every_row_of_a_place_and_of_the_ground_is_checked(tmp_path: Path, kind: Kind) -> None:
    folder = write_tables(tmp_path)
    name = store_name(kind, read_register(folder))
    connection = built(folder, kind)
    for table in CHECKED[kind]:
        rows = connection.execute(f"SELECT * FROM {table}").fetchall()
        assert rows
        assert all(check_value(seed_of(name, table), row[:-1]) == row[-1] for row in rows)
    connection.close()


def test_a_stranger_reads_the_tables_as_they_are(tmp_path: Path) -> None:
    """By SQL alone: numbers are numbers, runways JSON, a code's places lines."""
    connection = built(write_tables(tmp_path))
    queries = {
        "SELECT name, latitude_deg + 1, elevation_ft FROM airports WHERE icao = 'KAAA'": (
            "Demo KAAA",
            45.0,
            812.0,
        ),
        "SELECT json_extract(runways, '$[1][2]') FROM airports WHERE ident = 'KAAA'": (4200.0,),
        "SELECT frequencies FROM airports WHERE ident = 'KBBB'": ("[]",),
        "SELECT places FROM codes WHERE code = 'AAA'": (
            "airports\tKAAA\tlocal iata\nnavaids\tAAA-VOR-DME-ZZ\tident",
        ),
        "SELECT count(*), max(population) FROM towns": (len(TOWN_ROWS), 118_000),
    }
    for query, row in queries.items():
        assert connection.execute(query).fetchone() == row
    connection.close()


def test_the_ground_has_the_cells_of_every_tier(tmp_path: Path) -> None:
    connection = built(write_tables(tmp_path), "ground")
    rows = connection.execute("SELECT tier, cell FROM cells").fetchall()
    assert sorted(rows) == sorted((tier, cell) for tier, cells in CELLS.items() for cell in cells)
    connection.close()


@pytest.mark.parametrize("kind", KINDS_OF_STORE)
def test_same_tables_same_bytes(tmp_path: Path, kind: Kind) -> None:
    folder = write_tables(tmp_path)
    first, second = built(folder, kind), built(folder, kind)
    assert first.serialize() == second.serialize()
    first.close()
    second.close()


def test_the_name_says_schema_and_content(tmp_path: Path) -> None:
    register = read_register(write_tables(tmp_path))
    assert store_name("places", register).startswith(f"places-{SCHEMAS['places']}-")
    other = dict(register) | {"towns": {**register["towns"], "sha256": "0" * 64}}
    assert store_name("places", other) != store_name("places", register)
    assert store_name("ground", other) == store_name("ground", register)
    older = dict(register) | {"towns": {**register["towns"], "date": "2001-01-01"}}
    assert store_name("places", older) == store_name("places", register)


def replaced(file: str, old: str, new: str) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        path = folder / file
        path.write_bytes(path.read_bytes().replace(old.encode(), new.encode(), 1))

    return change


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (replaced("airports.csv", "44.0,", "north,"), "airports cannot be read"),
        (
            replaced("airports.csv", "44.0,-92.5,", "99944.0,-92.5,"),
            "99944.0, -92.5 is not a position",
        ),
        (replaced("airports.csv", "44.0,-92.5,", "nan,-92.5,"), "airports cannot be read"),
        (replaced("airports.csv", "Demo KAAA", "Demo\tKAAA"), "control characters"),
        (replaced("airports.csv", "Demo KAAA", '"Demo\nKAAA"'), "control characters, or does not"),
        (replaced("airports.csv", "Demo KAAA", '"Demo'), "cannot be read"),
        (replaced("airports.csv", "iata,gps", "gps,iata"), "has other columns"),
        (replaced("navaids.csv", "44.02,", ","), "navaids cannot be read"),
        (replaced("towns.csv", "44.02", "x"), "towns cannot be read"),
        (replaced("basemap/fine.jsonl", "+40-095", "+41-095"), "no such cell"),
        (replaced("basemap/fine.jsonl", '{"cell', '{"sell'), "no such cell"),
    ],
)
def test_a_table_that_cannot_be_read_is_a_fault(
    tmp_path: Path, change: Callable[[Path], None], words: str
) -> None:
    folder = write_tables(tmp_path)
    rows = (folder / "register.json").read_bytes()
    change(folder)
    register_tables(folder)
    if "does not" in words:  # the count registered before the line feed came into a field
        (folder / "register.json").write_bytes(with_hash(rows, folder / "airports.csv"))
    with pytest.raises(DataFault, match=words):
        built(folder, "ground" if "cell" in words else "places")


def with_hash(register: bytes, path: Path) -> bytes:
    """A register that names the file as it is now, with the count of before."""
    import json

    content = json.loads(register)
    content["airports"]["sha256"] = hashlib.sha256(path.read_bytes()).hexdigest()
    return json.dumps(content).encode()


def test_small_letters_in_a_table_are_found_all_the_same(tmp_path: Path) -> None:
    rows = [*AIRPORT_ROWS, airport("zz-low", 1.0, 1.0, local="lower")]
    tables = write_tables(tmp_path / "tables", airports=rows)
    with open_store(tables=tables, cache=tmp_path / "cache") as store:
        assert [match.columns for match in store.by_code("LOWER")] == [("local",)]
        assert store.airport("ZZ-LOW")


def test_letters_of_other_scripts_are_told_apart(tmp_path: Path) -> None:
    names = [chr(0x400 + n) * 4 for n in range(80)] + ["abcd"]
    rows = [airport(f"ZZ-{n:04d}", 44.0, -92.5, name=name) for n, name in enumerate(names)]
    folder = write_tables(tmp_path / "t", airports=rows, runways=(), frequencies=())
    with open_store(tables=folder, cache=tmp_path / "c") as store:
        for name in names:
            assert {hit.place.name.casefold() for hit in search(store, name)} == {name.casefold()}


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
    assert set(CLASSES) >= set(KINDS)
