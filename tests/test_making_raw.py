"""Rows of the datasets' own tables: what is taken, what is named and left out, what refused."""

from __future__ import annotations

import pytest
import raw_tables
from hypothesis import given
from hypothesis import strategies as st

from plotter.datastore.making import raw
from plotter.datastore.making.places import witnesses
from plotter.errors import RefreshFault

TABLES = raw_tables.all_of_them()


@pytest.mark.parametrize("name", list(raw.RULES))
def test_tables_in_order_are_taken_whole(name: str) -> None:
    checked = raw.checked(name, TABLES[name])
    assert len(checked.rows) == TABLES[name].count(b"\n") - 1
    assert checked.findings == ()


@pytest.mark.parametrize(
    ("table", "column", "value", "words"),
    [
        ("airports", "latitude_deg", "95.2", "'95.2' is not a number from -90 to 90"),
        ("airports", "latitude_deg", "nan", "is not a number"),
        ("airports", "latitude_deg", "", "is not a number"),
        ("airports", "longitude_deg", "180.5", "is not a number from -180 to 180"),
        ("airports", "longitude_deg", "1_0", "is not a number"),
        ("airports", "elevation_ft", "90000", "from -2000 to 30000"),
        ("airports", "type", "spaceport", "is not one of"),
        ("airports", "ident", " ", "is empty"),
        ("airports", "ident", "KBBB", "stands there twice"),
        ("airports", "name", "x" * 501, "is over 500 letters"),
        ("runways", "lighted", "yes", "is not one of"),
        ("runways", "length_ft", "4200 ft", "is not a number"),
        ("runways", "le_heading_degT", "inf", "is not a number"),
        ("frequencies", "frequency_mhz", "", "is not a number"),
        ("frequencies", "airport_ref", "KAAA", "is not a number"),
        ("navaids", "type", "LORAN", "is not one of"),
        ("navaids", "slaved_variation_deg", "361", "is not a number from -180 to 180"),
        ("second", "lat", "N44", "is not a number"),
    ],
)
def test_a_row_that_breaks_a_rule_is_named(table: str, column: str, value: str, words: str) -> None:
    rows = getattr(raw_tables, table)()
    rows[0][column] = value
    if value == "KBBB":
        rows[0], rows[1] = rows[1], rows[0]
    columns = getattr(raw_tables, table.upper())
    with pytest.raises(RefreshFault, match=words) as caught:
        raw.checked(table, raw_tables.table(columns, rows))
    assert "none of it is used" in caught.value.message
    assert f"{table}, line {3 if value == 'KBBB' else 2}: {column}" in caught.value.message


def test_one_in_a_thousand_is_left_out_and_named() -> None:
    rows = [
        raw_tables.frequencies()[0] | {"id": str(number), "frequency_mhz": "122.8"}
        for number in range(1, 2001)
    ]
    rows[7]["frequency_mhz"] = "high"
    checked = raw.checked("frequencies", raw_tables.table(raw_tables.FREQUENCIES, rows))
    assert len(checked.rows) == 1999
    assert checked.findings == (
        "frequencies, line 9: frequency_mhz 'high' is not a number from 0 to 100000",
    )
    for number in (8, 9):
        rows[number]["frequency_mhz"] = "high"
    with pytest.raises(RefreshFault, match="3 of 2,000 rows of frequencies break a rule"):
        raw.checked("frequencies", raw_tables.table(raw_tables.FREQUENCIES, rows))


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "middle of a line"),
        (b"\n", "no column"),
        (TABLES["runways"][:-1], "middle of a line"),
        (TABLES["runways"][:-9] + b"\n", "fields where the header has"),
        (TABLES["airports"], "no column"),
        (TABLES["runways"].replace(b"surface", b"lighted", 1), "no column"),
        (b"\xff\xfe" + TABLES["runways"], "not a table of text"),
        (TABLES["runways"] + b'1,"\n', "not a table of text"),
        (TABLES["runways"] + b"<html>\n", "1 fields where the header has 16"),
    ],
    ids=range(9),
)
def test_what_is_no_such_table(content: bytes, words: str) -> None:
    with pytest.raises(RefreshFault, match=words):
        raw.checked("runways", content)


def test_more_rows_than_any_table_has(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(raw, "MOST_ROWS", 2)
    with pytest.raises(RefreshFault, match="more than 2 rows"):
        raw.checked("runways", TABLES["runways"])


@given(st.binary(max_size=300), st.integers(0, 400))
def test_no_bytes_make_it_fall_over(noise: bytes, place: int) -> None:
    content = TABLES["runways"]
    for hostile in (noise, content[:place] + noise + content[place:]):
        try:
            raw.checked("runways", hostile)
        except RefreshFault as fault:
            assert fault.message.startswith(("runways", "1 of", "2 of", "3 of"))


def test_towns_are_places_of_the_dump() -> None:
    assert list(witnesses(raw_tables.towns())) == [("Demo Town", "ZZ", "D", 44.02, -92.46)]
    for wrong in (b"a\tb\n", raw_tables.towns().replace(b"44.02", b"144"), b"\xff\n"):
        with pytest.raises(RefreshFault, match="towns"):
            list(witnesses(wrong))
