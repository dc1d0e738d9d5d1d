"""How old the tables are, told once for all of them."""

from __future__ import annotations

import datetime as dt

import pytest

from plotter.messages.figures import age
from plotter.route.checks import age_cautions, age_days

DATES = {"airports": "2025-12-02", "navaids": "2022-10-11", "frequencies": "2022-10-11"}


@pytest.mark.parametrize(
    ("flight", "told"), [("2025-12-02", 0), ("2026-12-02", 0), ("2026-12-03", 1), ("2029-01-01", 1)]
)
def test_a_table_over_a_year_old_is_a_note(flight: str, told: int) -> None:
    found = age_cautions(DATES, ["airports"], dt.date.fromisoformat(flight))
    assert [(caution.rank, caution.code) for caution in found] == [("NOTE", "data-age")] * told


def test_all_old_tables_are_one_note_the_oldest_first() -> None:
    (note,) = age_cautions(DATES, ["airports", *DATES], dt.date(2027, 1, 1), today=True)
    assert "today: navaids and frequencies of 2022-10-11 (4.2 years), airports of" in note.text
    assert note.text.count("airports") == 1


def test_only_tables_that_are_shown_are_told() -> None:
    assert age_cautions(DATES, ["airports"], dt.date(2026, 7, 4)) == []
    assert age_cautions(DATES, [], dt.date(2036, 7, 4)) == []


def test_an_age_is_in_days_for_a_year_then_in_years() -> None:
    day = dt.date(2026, 1, 2)
    dates = ("2026-01-01", "2026-01-03", "2025-01-02", "2024-01-01")
    assert [age(age_days(date, day)) for date in dates] == [
        "1 day",
        "0 days",
        "365 days",
        "2.0 years",
    ]
