"""The flight manual's tables: in proportion between rows, the difference of two for a climb."""

from __future__ import annotations

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.errors import InputError
from plotter.flight.performance import ClimbRow, ClimbTable, CruiseRow, CruiseTable

# Invented figures, in the manner of a light aeroplane's manual.
CLIMB = ClimbTable(
    (
        ClimbRow(0.0, 0.0, 0.0, 0.0),
        ClimbRow(2000.0, 3.0, 0.7, 4.0),
        ClimbRow(4000.0, 6.0, 1.5, 8.0),
        ClimbRow(8000.0, 15.0, 3.1, 19.0),
    )
)
CRUISE = CruiseTable((CruiseRow(2000.0, 112.0, 8.8), CruiseRow(6000.0, 116.0, 8.4)))
HEIGHTS = st.floats(min_value=-500.0, max_value=8000.0)


def test_from_one_row_to_another() -> None:
    assert CLIMB.between(2000.0, 8000.0) == pytest.approx((12.0, 2.4, 15.0))
    assert CLIMB.between(0.0, 4000.0) == pytest.approx((6.0, 1.5, 8.0))


def test_from_a_field_to_an_altitude_between_rows_by_hand() -> None:
    """3,000 ft: 4.5 min, 1.1, 6 NM. 1,000 ft: 1.5 min, 0.35, 2 NM. The climb is the difference."""
    assert CLIMB.between(1000.0, 3000.0) == pytest.approx((3.0, 0.75, 4.0))


def test_from_below_sea_level_the_first_row_goes_on() -> None:
    assert CLIMB.between(-1000.0, 0.0) == pytest.approx((1.5, 0.35, 2.0))


def test_no_climb_takes_nothing() -> None:
    assert CLIMB.between(3000.0, 3000.0) == (0.0, 0.0, 0.0)


def test_sea_level_is_added_where_it_is_left_out() -> None:
    assert ClimbTable(CLIMB.rows[1:]) == CLIMB
    assert CLIMB.highest_ft == 8000.0


@given(HEIGHTS, HEIGHTS, HEIGHTS)
def test_a_climb_in_two_parts_is_the_whole(one: float, other: float, third: float) -> None:
    low, middle, high = sorted((one, other, third))
    first, second = CLIMB.between(low, middle), CLIMB.between(middle, high)
    whole = CLIMB.between(low, high)
    for a, b, both in zip(first, second, whole, strict=True):
        assert a + b == pytest.approx(both, abs=1e-9)
        assert a >= 0.0


def test_above_the_table_is_refused() -> None:
    with pytest.raises(InputError, match="ends at 8,000 ft, below 8,500 ft") as caught:
        CLIMB.between(1000.0, 8500.0)
    assert caught.value.code == "climb_table"


def test_a_climb_that_goes_down_is_refused() -> None:
    with pytest.raises(InputError, match="that is no climb"):
        CLIMB.between(3000.0, 2000.0)


@pytest.mark.parametrize("rows", [(), (ClimbRow(0.0, 0.0, 0.0, 0.0),)])
def test_a_table_without_a_climb_is_refused(rows: tuple[ClimbRow, ...]) -> None:
    with pytest.raises(InputError, match="needs a row above sea level"):
        ClimbTable(rows)


def test_a_table_that_does_not_start_from_nothing_is_refused() -> None:
    with pytest.raises(InputError, match="starts from sea level with 0 min"):
        ClimbTable((ClimbRow(0.0, 1.0, 0.0, 0.0), CLIMB.rows[1]))


@pytest.mark.parametrize(
    ("key", "value", "words"),
    [
        ("altitude_ft", 2000.0, "altitude_ft 2000 after 2000"),
        ("minutes", 3.0, "minutes 3 after 3"),
        ("distance_nm", 3.5, "distance_nm 3.5 after 4"),
        ("fuel", 0.6, "fuel 0.6 after 0.7"),
    ],
)
def test_a_row_that_does_not_rise_is_refused(key: str, value: float, words: str) -> None:
    rows = list(CLIMB.rows)
    rows[2] = dataclasses.replace(rows[2], **{key: value})
    with pytest.raises(InputError, match=words):
        ClimbTable(tuple(rows))


def test_fuel_may_be_printed_too_coarsely_to_rise() -> None:
    rows = (CLIMB.rows[0], CLIMB.rows[1], dataclasses.replace(CLIMB.rows[2], fuel=0.7))
    assert ClimbTable(rows).between(2000.0, 4000.0).fuel == 0.0


@pytest.mark.parametrize("key", ["altitude_ft", "minutes", "fuel", "distance_nm"])
def test_a_negative_climb_figure_is_refused(key: str) -> None:
    with pytest.raises(InputError) as caught:
        dataclasses.replace(CLIMB.rows[1], **{key: -1.0})
    assert caught.value.code == key


@pytest.mark.parametrize(
    ("altitude", "figures"),
    [
        (2000.0, (112.0, 8.8, "")),
        (5000.0, (115.0, 8.5, "")),
        (6000.0, (116.0, 8.4, "")),
        (1000.0, (112.0, 8.8, "below")),
        (9000.0, (116.0, 8.4, "above")),
    ],
)
def test_cruise(altitude: float, figures: tuple[float, float, str]) -> None:
    found = CRUISE.at(altitude)
    assert found[:2] == pytest.approx(figures[:2])
    assert found.beyond == figures[2]


def test_a_table_of_one_row() -> None:
    table = CruiseTable(CRUISE.rows[:1])
    assert table.at(2000.0) == (112.0, 8.8, "")
    assert table.at(2001.0).beyond == "above"


@pytest.mark.parametrize("rows", [(), CRUISE.rows[::-1], CRUISE.rows[:1] * 2])
def test_a_cruise_table_that_does_not_rise_is_refused(rows: tuple[CruiseRow, ...]) -> None:
    with pytest.raises(InputError) as caught:
        CruiseTable(rows)
    assert caught.value.code == "cruise_table"


@pytest.mark.parametrize("key", ["true_airspeed_kt", "fuel_per_hour"])
def test_a_cruise_figure_of_nothing_is_refused(key: str) -> None:
    with pytest.raises(InputError) as caught:
        dataclasses.replace(CRUISE.rows[0], **{key: 0.0})
    assert caught.value.code == key
