"""Where the tables lie, and what makes a register."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from small_tables import write_tables

from plotter.datastore.tables import (
    NAMES,
    content_hash,
    read_register,
    read_rows,
    read_table,
    tables_folder,
)
from plotter.errors import DataFault


def test_the_package_goes_before_the_checkout(tmp_path: Path) -> None:
    package = tmp_path / "plotter"
    with pytest.raises(DataFault) as caught:
        tables_folder(package)
    assert str(package / "data") in caught.value.message
    assert str(tmp_path / "data") in caught.value.message
    assert caught.value.code == "no-tables"
    beside = write_tables(tmp_path / "data")
    assert tables_folder(package) == beside
    inside = write_tables(package / "data")
    assert tables_folder(package) == inside


def test_a_data_folder_of_something_else_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "plotter" / "data").mkdir(parents=True)
    beside = write_tables(tmp_path / "data")
    assert tables_folder(tmp_path / "plotter") == beside


@pytest.mark.parametrize(
    "content",
    ["", "[]", "{}", "null", '{"airports": {}}', '{"airports": 1}', "\x00", "{"],
)
def test_what_is_no_register_is_a_fault(tmp_path: Path, content: str) -> None:
    write_tables(tmp_path)
    (tmp_path / "register.json").write_text(content, encoding="utf-8")
    with pytest.raises(DataFault, match="is not a register"):
        read_register(tmp_path)


@pytest.mark.parametrize("field", ["file", "source", "date", "licence", "sha256", "rows"])
def test_a_register_with_a_hole_is_a_fault(tmp_path: Path, field: str) -> None:
    write_tables(tmp_path)
    content = json.loads((tmp_path / "register.json").read_text(encoding="utf-8"))
    for value in (None, "") if field != "rows" else (None, "many"):
        content["towns"][field] = value
        (tmp_path / "register.json").write_text(json.dumps(content), encoding="utf-8")
        with pytest.raises(DataFault, match="is not a register"):
            read_register(tmp_path)


def test_bytes_that_are_no_text_are_a_fault(tmp_path: Path) -> None:
    write_tables(tmp_path)
    (tmp_path / "register.json").write_bytes(b"\xff\xfe")
    with pytest.raises(DataFault, match="is not a register"):
        read_register(tmp_path)


def test_every_table_counts_in_the_hash(tmp_path: Path) -> None:
    register = dict(read_register(write_tables(tmp_path)))
    hashes = {content_hash(register)}
    for name in NAMES:
        hashes.add(content_hash({**register, name: {**register[name], "sha256": "0" * 64}}))
    assert len(hashes) == 1 + len(NAMES)


def test_a_table_is_the_one_registered_or_a_fault(tmp_path: Path) -> None:
    register = read_register(write_tables(tmp_path))
    path = tmp_path / "towns.csv"
    assert read_table(tmp_path, register["towns"]).startswith("name,country")
    assert [row[0] for row in read_rows(tmp_path, register, "towns")] == [
        "Demo City",
        "Demo, Ville",
    ]
    content = path.read_bytes()
    path.write_bytes(content.replace(b"\n", b"\r\n"))
    with pytest.raises(DataFault, match="line endings"):
        read_table(tmp_path, register["towns"])
    path.unlink()
    with pytest.raises(DataFault, match=r"towns\.csv cannot be read"):
        read_table(tmp_path, register["towns"])


def test_the_real_register_names_every_table() -> None:
    register = read_register(tables_folder())
    assert set(NAMES) <= register.keys()
