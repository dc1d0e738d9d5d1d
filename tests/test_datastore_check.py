"""``plotter data check`` finds what is wrong, and finds nothing where all is well."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
from small_tables import (
    AIRPORT_ROWS,
    FREQUENCY_ROWS,
    NAVAID_ROWS,
    RUNWAY_ROWS,
    airport,
    write_tables,
)

from plotter.datastore import check as checking
from plotter.datastore.check import MOST_FINDINGS, check_store, check_tables, datasets
from plotter.datastore.opening import Keeper, open_store
from plotter.datastore.tables import tables_folder
from plotter.errors import DataFault
from plotter.places.store import Store


def test_whole_tables_have_no_findings(tmp_path: Path) -> None:
    assert check_tables(write_tables(tmp_path)) == []


def test_every_fault_of_the_tables_is_found(tmp_path: Path) -> None:
    write_tables(
        tmp_path,
        airports=[*AIRPORT_ROWS, airport("BAD", 95.0, 0.0), AIRPORT_ROWS[0]],
        runways=[*RUNWAY_ROWS, ("GONE", "1", "2", "10", "", "", "", "", "", "")],
        frequencies=[*FREQUENCY_ROWS, ("KAAA", "TWR", "", "high")],
        navaids=[*NAVAID_ROWS, (*NAVAID_ROWS[0][:4], "1", "2", "3", "inf", "ZZ", "", "")],
        towns=[("Demo", "ZZ", "1", "2", "many")],
    )
    (tmp_path / "basemap" / "fine.jsonl").write_bytes(b"changed\n")
    findings = check_tables(tmp_path)
    for part in (
        "latitude 95 is out of range",
        "airports: KAAA stands 2 times",
        "runways: there is no airport GONE",
        "could not convert string to float: 'high'",
        "'inf' is not a number",
        "navaids: AAA-VOR-DME-ZZ stands 2 times",
        "invalid literal for int",
        "fine.jsonl is not the file its register describes",
    ):
        assert len([finding for finding in findings if part in finding]) == 1, (part, findings)
    assert len(findings) == 8


def test_a_flood_of_findings_is_counted_not_listed(tmp_path: Path) -> None:
    rows = [airport(f"ZZ-{number}", 95.0, 0.0) for number in range(MOST_FINDINGS + 7)]
    findings = check_tables(write_tables(tmp_path, airports=rows, runways=(), frequencies=()))
    assert len(findings) == MOST_FINDINGS + 1
    assert findings[-1] == "and 7 more like it"


def test_missing_tables_are_a_finding(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "is not a register" in check_tables(tmp_path)[0]
    assert "is not a register" in check_store(tmp_path, tmp_path)[0]

    def nowhere() -> Path:
        raise DataFault("the tables are missing")

    monkeypatch.setattr(checking, "usual_tables", nowhere)
    assert check_tables() == check_store() == ["the tables are missing"]


def test_a_whole_store_or_none_has_no_findings(tmp_path: Path) -> None:
    tables = write_tables(tmp_path / "tables")
    cache = tmp_path / "cache"
    assert check_store(tables, cache) == []
    open_store(tables=tables, cache=cache).close()
    assert check_store(tables, cache) == []


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM towns WHERE number = (SELECT max(number) FROM towns)",
        "UPDATE navaids SET check_value = 0",
        "DROP INDEX airports_by_cell",
    ],
)
def test_a_damaged_store_is_found_and_set_aside(tmp_path: Path, statement: str) -> None:
    tables = write_tables(tmp_path / "tables")
    cache = tmp_path / "cache"
    open_store(tables=tables, cache=cache).close()
    path = Keeper(tables, cache).path
    assert path
    connection = sqlite3.connect(path)
    with connection:
        connection.execute(statement)
    connection.close()
    (finding,) = check_store(tables, cache)
    assert "is damaged" in finding
    assert "is set aside" in finding
    assert check_store(tables, cache) == []
    with open_store(tables=tables, cache=cache) as store:
        assert store.airport("KAAA")


def test_a_store_that_cannot_be_set_aside_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tables = write_tables(tmp_path / "tables")
    path = Keeper(tables, tmp_path).path
    assert path
    path.write_bytes(b"damaged")
    monkeypatch.setattr(checking, "set_aside", lambda path: False)
    (finding,) = check_store(tables, tmp_path)
    assert "remove it by hand" in finding


def test_datasets_with_dates_counts_and_licences(tmp_path: Path) -> None:
    rows = datasets(write_tables(tmp_path))
    assert [row.name for row in rows][:2] == ["airports", "runways"]
    assert (rows[0].rows, rows[0].date, rows[0].licence) == (16, "2026-01-31", "MIT")


def test_the_real_tables_and_their_store_are_whole(real_store: Store) -> None:
    assert check_tables(tables_folder()) == []
    assert check_store() == []
    assert all(row.rows and row.date and row.licence for row in datasets())
