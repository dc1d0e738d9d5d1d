"""Which altitude a group belongs to: by place, by form, or refused."""

from __future__ import annotations

import pytest

from plotter.errors import InputError
from plotter.flight.air.forecast_text import Columns, placed, read_columns, words_of

SENT = "FT  3000    6000    9000   12000   18000   24000  30000  34000  39000"
SQUEEZED = "FT 3000 6000 9000 12000 18000 24000 30000 34000 39000"
LOW = "FT  3000    6000    9000   12000"
WHOLE = "OMA 2219 2919+06 3417+02 3216-01 2722-13 2837-25 275639 267748 269056"
PLAINS = "GLD      1923    2022+03 2119+00 2023-13 2332-25 236539 237448 248554"
MOUNTAINS = "ABQ              3325+03 3427-02 3343-16 3347-30 355547 354956 285561"
"""Laid out as sent: nothing at 3,000 ft, or at 3,000 and 6,000."""


def columns_of(row: str) -> Columns:
    columns = read_columns(row)
    assert columns is not None
    return columns


def altitudes(row: str, line: str) -> list[int]:
    return [ft for ft, _ in placed(columns_of(row), words_of(line)[1:], line, 7)]


def test_the_altitude_row() -> None:
    columns = columns_of(SENT)
    assert columns.altitudes_ft == (3000, 6000, 9000, 12000, 18000, 24000, 30000, 34000, 39000)
    assert SENT[columns.ends[0] - 4 : columns.ends[0]] == "3000"
    assert [WHOLE[start:].split()[0] for start in columns.starts] == WHOLE.split()[1:]


@pytest.mark.parametrize("line", ["", "FT", "FT 3000 abc", WHOLE, "DATA BASED ON 180000Z"])
def test_another_line_is_no_altitude_row(line: str) -> None:
    assert read_columns(line) is None


def test_lower_case_is_read() -> None:
    assert columns_of("ft 3000 6000").altitudes_ft == (3000, 6000)


@pytest.mark.parametrize("row", ["FT 3000 6000 6000", "FT 6000 3000"])
def test_altitudes_that_do_not_rise_are_refused(row: str) -> None:
    with pytest.raises(InputError, match="do not rise") as caught:
        read_columns(row, 3)
    assert caught.value.where is not None
    assert caught.value.where.line == 3


@pytest.mark.parametrize("indent", ["", "    "])
@pytest.mark.parametrize(("line", "lowest"), [(WHOLE, 3000), (PLAINS, 6000), (MOUNTAINS, 9000)])
def test_by_place(line: str, lowest: int, indent: str) -> None:
    """Also where the whole bulletin is indented, as in a plan file."""
    found = altitudes(indent + SENT, indent + line)
    assert found[0] == lowest
    assert found[-1] == 39000


@pytest.mark.parametrize("row", [SENT, SQUEEZED])
@pytest.mark.parametrize(("line", "lowest"), [(WHOLE, 3000), (PLAINS, 6000), (MOUNTAINS, 9000)])
def test_by_form_where_the_spaces_are_lost(line: str, lowest: int, row: str) -> None:
    """The two or three groups without a sign can only be those above 24,000 ft."""
    found = altitudes(row, " ".join(line.split()))
    assert found[0] == lowest
    assert found[-1] == 39000


def test_by_place_in_a_bulletin_without_high_levels() -> None:
    assert altitudes(LOW, "GLD      1923    2022+03 2119+00") == [6000, 9000, 12000]
    assert altitudes(LOW, "ABQ              3325    3427-02") == [9000, 12000]


def test_spaces_lost_and_no_form_to_tell_is_refused() -> None:
    with pytest.raises(InputError, match="the spaces that tell which are left out are lost"):
        altitudes("FT 3000 6000 9000 12000", "GLD 1923 2022+03 2119+00")


@pytest.mark.parametrize("kept", range(1, 9))
def test_cut_off_at_any_group_is_refused(kept: int) -> None:
    line = WHOLE[: columns_of(SENT).ends[kept - 1]]
    next_ft = columns_of(SENT).altitudes_ft[kept]
    with pytest.raises(InputError, match=f"cut off: nothing at {next_ft:,} ft") as caught:
        altitudes(SENT, line)
    where = caught.value.where
    assert where is not None
    assert where.text[where.start : where.end] == line.split()[-1]
    assert where.line == 7


def test_squeezed_into_the_places_of_other_columns_is_refused_too() -> None:
    """Three groups that happen to stand where 3,000 to 9,000 ft belong: cut off, or squeezed."""
    with pytest.raises(InputError, match="cut off: nothing at 12,000 ft"):
        altitudes(LOW, "GLD 1923 2022+03 2119+00")


def test_cut_off_and_squeezed_is_refused() -> None:
    with pytest.raises(InputError):
        altitudes(SQUEEZED, " ".join(WHOLE.split()[:5]))


def test_a_gap_between_groups_is_refused() -> None:
    at = columns_of(SENT).starts[3]
    line = f"{WHOLE[:at]}{' ' * 7}{WHOLE[at + 7 :]}"
    with pytest.raises(InputError, match=r"nothing stands at 12,000 ft after 3417\+02"):
        altitudes(SENT, line)


def test_more_groups_than_altitudes_is_refused() -> None:
    with pytest.raises(InputError, match="10 groups stand under 9 altitudes") as caught:
        altitudes(SENT, WHOLE + " 999999")
    where = caught.value.where
    assert where is not None
    assert where.text[where.start : where.end] == "999999"


def test_tabs_for_spaces() -> None:
    assert altitudes(SENT.replace(" ", "\t"), "\t".join(PLAINS.split()))[0] == 6000
