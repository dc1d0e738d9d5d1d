"""A file of readings: what it may look like, and all that is wrong with it at once."""

from __future__ import annotations

from pathlib import Path

import pytest
from awkward import NAMES
from hypothesis import given
from hypothesis import strategies as st

from plotter.chart.asking import ReadingRow
from plotter.chart.measurement import MOST_LEGS
from plotter.chart.readings import CourseReading, Reading
from plotter.errors import FileFault, InputError
from plotter.formats.readings_file import COLUMNS, read_readings_file

HEADER = "start,end,reading,unit,course\n"
WANTED = [
    ReadingRow(("KRST", "KLSE"), Reading("53.9", "nm"), CourseReading("093", "M"), 2),
    ReadingRow(("KLSE", "KEAU"), Reading("222", "mm"), None, 3),
    ReadingRow(("KEAU", "KDLH"), None, CourseReading("346", "T"), 4),
]
ROWS = "KRST,KLSE,53.9,,093M\nKLSE,KEAU,222,MM,\nKEAU,KDLH,,,346T\n"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "readings.csv"


def read(file: Path, text: str | bytes) -> list[ReadingRow]:
    file.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass"))
    return read_readings_file(file)


def test_the_columns_are_those_that_are_published() -> None:
    assert ",".join(COLUMNS) + "\n" == HEADER


@pytest.mark.parametrize(
    "text",
    [
        HEADER + ROWS,
        "\ufeff" + HEADER + ROWS,
        (HEADER + ROWS).replace("\n", "\r\n"),
        (HEADER + ROWS).replace(",", ";"),
        (HEADER + ROWS).upper(),
    ],
    ids=["plain", "byte-order-mark", "crlf", "semicolons", "capitals"],
)
def test_ways_to_write_it(file: Path, text: str) -> None:
    assert read(file, text) == WANTED


def test_columns_in_any_order_and_columns_of_ones_own(file: Path) -> None:
    rows = read(file, "Note,Reading,End,Start\nby hand,53.9,KLSE,KRST\n")
    assert rows == [ReadingRow(("KRST", "KLSE"), Reading("53.9"), None, 2)]


def test_blank_lines_are_passed_over(file: Path) -> None:
    assert [row.line for row in read(file, HEADER + "\nKRST,KLSE,53.9\n,,,,\n")] == [3]


def test_the_unit_of_a_row_that_names_none(file: Path) -> None:
    file.write_text(HEADER + "KRST,KLSE,62,,\n")
    assert read_readings_file(file, "sm")[0].reading == Reading("62", "sm")


def test_gaps_are_told_line_by_line_and_all_at_once(file: Path) -> None:
    text = (
        HEADER
        + "KRST,,53.9,,\n,KEAU,60,,\nKEAU,KDLH,,,\nKRST,KLSE,0,,\nKRST,KLSE,-3,,\n"
        + "KRST,KLSE,54,furlong,\nKRST,KLSE,54,nm,93\n"
    )
    with pytest.raises(FileFault) as caught:
        read(file, text)
    words = caught.value.message
    for line, said in (
        (2, "the end is missing"),
        (3, "the start is missing"),
        (4, "no reading and no course"),
        (5, "'0' is not a valid reading"),
        (6, "'-3' is not a valid reading"),
        (7, "nm, sm, km, mm, in"),
        (8, "'93' has no reference"),
    ):
        assert any(f"line {line}:" in each and said in each for each in words.splitlines())
    assert caught.value.where is not None
    assert caught.value.where.line == 2


def test_many_faults_are_counted_rather_than_listed(file: Path) -> None:
    with pytest.raises(FileFault, match="and 15 more"):
        read(file, HEADER + "KRST,KLSE,0,,\n" * 25)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no column start"),
        (HEADER, "no reading"),
        ("start,end\nKRST,KLSE\n", "no column reading"),
        ("start,reading\nKRST,5\n", "no column end"),
        ("start,end,reading,reading\n", "two columns are named reading"),
        (HEADER + 'KRST,"KLSE,5\n', "not CSV"),
        (HEADER.encode() + b"K\xff,KLSE,5\n", "line 2: not UTF-8"),
        (b"x" * 1_000_001, "larger than 1 MB, which is too large for a file of readings"),
        (HEADER + "KRST,KLSE,54,,\n" * (MOST_LEGS + 1), f"enter at most {MOST_LEGS}"),
    ],
)
def test_what_is_no_such_file(file: Path, text: str | bytes, words: str) -> None:
    with pytest.raises(FileFault, match=words):
        read(file, text)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(FileFault, match="cannot be read"):
        read_readings_file(tmp_path / "none.csv")


@pytest.mark.parametrize("name", NAMES)
def test_awkward_names_come_through_or_are_told(file: Path, name: str) -> None:
    quoted = NAMES[name].replace('"', '""')
    try:
        rows = read(file, HEADER + f'"{quoted}",KLSE,54,,\n')
    except InputError as fault:
        assert str(file) in fault.message
    else:
        assert rows[0].points == (NAMES[name].strip(), "KLSE")


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_told(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    file = tmp_path_factory.mktemp("bytes") / "readings.csv"
    try:
        read(file, HEADER.encode() + data)
    except FileFault as fault:
        assert fault.message
