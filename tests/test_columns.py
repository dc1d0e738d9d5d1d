"""Columns: every figure has one, printed alike everywhere and no finer than it is known."""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import Any

import pytest
from flights import all_cruise, plan, wind
from hypothesis import given
from hypothesis import strategies as st

from plotter.flight.columns import COLUMNS
from plotter.flight.log import navigation_log
from plotter.flight.log_values import LogRow
from plotter.places.store import Store


@pytest.fixture(scope="module")
def row(real_store: Store) -> LogRow:
    return navigation_log(plan(), real_store).rows[0]


def with_triangle(row: LogRow, **changes: Any) -> LogRow:
    return row._replace(triangle=dataclasses.replace(row.triangle, **changes))


def printed(row: LogRow, key: str) -> str:
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
def test_north_is_360_and_never_000(row: LogRow, angle: float) -> None:
    shown = printed(with_triangle(row, true_heading_deg=angle), "true_heading_deg")
    assert len(shown) == 3
    assert 1 <= int(shown) <= 360
    assert (int(shown) - angle + 180.0) % 360.0 - 180.0 == pytest.approx(0.0, abs=0.5 + 1e-9)


@pytest.mark.parametrize(
    ("angle", "shown"), [(0.0, "360"), (359.5, "360"), (0.49, "360"), (0.51, "001"), (180.0, "180")]
)
def test_headings_about_north(row: LogRow, angle: float, shown: str) -> None:
    assert printed(with_triangle(row, true_heading_deg=angle), "true_heading_deg") == shown


@given(used=st.floats(0.0, 500.0), left=st.floats(-50.0, 500.0))
def test_fuel_is_never_printed_better_than_it_is(row: LogRow, used: float, left: float) -> None:
    made = row._replace(fuel_used=used, fuel_remaining=left)
    assert 0.0 - 1e-6 <= float(printed(made, "fuel_used")) - used < 0.1 + 1e-6
    assert 0.0 - 1e-6 <= left - float(printed(made, "fuel_remaining")) < 0.1 + 1e-6


@pytest.mark.parametrize(
    ("angle", "shown"), [(0.0, "0"), (-0.4, "0"), (0.6, "1R"), (-7.6, "8L"), (12.2, "12R")]
)
def test_corrections_say_left_and_right(row: LogRow, angle: float, shown: str) -> None:
    made = with_triangle(row, wind_correction_angle_deg=angle)
    assert printed(made, "wind_correction_angle_deg") == shown


def test_a_minute_is_rounded_over_midnight(row: LogRow) -> None:
    late = dt.datetime(2026, 7, 4, 23, 59, 40, tzinfo=dt.UTC)
    made = row._replace(eta=late, ete_min=59.6)
    assert printed(made, "eta") == "00:00Z+1d"
    assert COLUMNS["eta"].value(made) == "2026-07-04T23:59:40Z"
    assert printed(made, "ete_min") == "1:00"


def test_calm_is_nothing_from_north(real_store: Store) -> None:
    still = plan(aircraft=all_cruise(), winds=(wind(0.0, 0.0),))
    first = navigation_log(still, real_store).rows[0]
    assert (printed(first, "wind_from_true_deg"), printed(first, "wind_speed_kt")) == ("360", "0")
    assert printed(first, "compass_card_correction_deg") == ""
    assert printed(first, "compass_heading_deg") == printed(first, "magnetic_heading_deg")


def test_heights_are_printed_in_tens_below_the_sea_too(real_store: Store) -> None:
    down = plan(route="KTRM L06", cruise_altitudes_ft=(2500.0,))
    last = navigation_log(down, real_store).rows[-1]
    assert last.altitude_ft == pytest.approx(790.0)
    assert printed(last, "altitude_ft") == "790"
