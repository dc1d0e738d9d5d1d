"""Columns: every figure has one, printed alike everywhere and no finer than it is known."""

from __future__ import annotations

import dataclasses
import datetime as dt

import pytest
from flights import all_cruise, plan, printed_rows, wind
from hypothesis import given
from hypothesis import strategies as st

from plotter.flight.columns import COLUMNS
from plotter.flight.log import navigation_log
from plotter.flight.log_values import LogRow, NavigationLog
from plotter.flight.printed import PrintedRow
from plotter.places.store import Store


@pytest.fixture(scope="module")
def log(real_store: Store) -> NavigationLog:
    return navigation_log(plan(aircraft=all_cruise(), clock="utc"), real_store)


def first_with(log: NavigationLog, row: LogRow) -> PrintedRow:
    """The first row of a log in printed figures, with another in its place."""
    sector = log.sectors[0]._replace(rows=(row, *log.sectors[0].rows[1:]))
    return printed_rows(dataclasses.replace(log, sectors=(sector,)))[0]


def with_course(log: NavigationLog, course_deg: float, wca_deg: float = 0.0) -> PrintedRow:
    """The same in print, on a course without variation."""
    row = log.rows[0]
    course = row.course._replace(true_course_deg=course_deg, variation_deg_east=0.0)
    triangle = dataclasses.replace(row.triangle, wind_correction_angle_deg=wca_deg)
    return first_with(log, row._replace(course=course, triangle=triangle))


def printed(row: PrintedRow, key: str) -> str:
    return COLUMNS[key].printed(row)


def test_keys_and_headings_are_each_there_once() -> None:
    assert [column.key for column in COLUMNS.values()] == list(COLUMNS)
    headings = [column.heading for column in COLUMNS.values()]
    assert len(set(headings)) == len(headings)
    assert all(column.title and column.rounding for column in COLUMNS.values())


def test_a_key_with_a_unit_in_its_name_has_that_unit() -> None:
    units = {"_ft": "ft", "_nm": "NM", "_kt": "kt", "_min": "min"}
    for key, column in COLUMNS.items():
        for ending, unit in units.items():
            if key.endswith(ending):
                assert column.unit == unit
        if key.endswith(("_deg", "_deg_east")):
            assert column.unit.startswith("°")


@given(angle=st.floats(0.0, 360.0, exclude_max=True))
def test_north_is_360_and_never_000(log: NavigationLog, angle: float) -> None:
    shown = printed(with_course(log, angle), "compass_heading_deg")
    assert len(shown) == 3
    assert 1 <= int(shown) <= 360
    assert (int(shown) - angle + 180.0) % 360.0 - 180.0 == pytest.approx(0.0, abs=0.5 + 1e-9)


@pytest.mark.parametrize(
    ("angle", "shown"), [(0.0, "360"), (359.5, "360"), (0.49, "360"), (0.51, "001"), (180.5, "181")]
)
def test_headings_about_north(log: NavigationLog, angle: float, shown: str) -> None:
    assert printed(with_course(log, angle), "magnetic_heading_deg") == shown


@given(left=st.floats(-50.0, 500.0))
def test_fuel_left_is_never_printed_better_than_it_is(log: NavigationLog, left: float) -> None:
    made = first_with(log, log.rows[0]._replace(fuel_remaining=left))
    assert 0.0 - 1e-6 <= left - float(printed(made, "fuel_remaining")) < 0.1 + 1e-6
    used = float(printed(made, "fuel_used"))
    assert used == pytest.approx(40.0 - float(printed(made, "fuel_remaining")))


@pytest.mark.parametrize(
    ("angle", "shown"), [(0.0, "0"), (-0.4, "0"), (0.5, "1R"), (-7.5, "8L"), (12.2, "12R")]
)
def test_corrections_say_left_and_right(log: NavigationLog, angle: float, shown: str) -> None:
    made = with_course(log, 90.0, angle)
    assert printed(made, "wind_correction_angle_deg") == shown


def test_a_minute_is_rounded_over_midnight(log: NavigationLog) -> None:
    late = dt.datetime(2026, 7, 4, 23, 59, 40, tzinfo=dt.UTC)
    made = first_with(log, log.rows[0]._replace(eta=late))
    assert printed(made, "eta") == "00:00Z+1d"
    assert COLUMNS["eta"].value(made.row) == "2026-07-04T23:59:40Z"
    assert COLUMNS["eta"].plain(made) == "2026-07-05T00:00:00Z"
    assert printed(made, "ete_min") == "10:00"


def test_calm_is_nothing_from_north(real_store: Store) -> None:
    still = plan(aircraft=all_cruise(), winds=(wind(0.0, 0.0),))
    first = printed_rows(navigation_log(still, real_store))[0]
    assert (printed(first, "wind_from_true_deg"), printed(first, "wind_speed_kt")) == ("360", "0")
    assert printed(first, "compass_card_correction_deg") == ""
    assert printed(first, "compass_heading_deg") == printed(first, "magnetic_heading_deg")


def test_heights_are_printed_in_tens_below_the_sea_too(real_store: Store) -> None:
    down = plan(route="KTRM L06", cruise_altitudes_ft=(2500.0,))
    last = printed_rows(navigation_log(down, real_store))[-1]
    assert last.row.altitude_ft == pytest.approx(790.0)
    assert printed(last, "altitude_ft") == "790"
