"""Single figures of an aircraft: what is refused, and by which key."""

from __future__ import annotations

import math

import pytest

from plotter.errors import InputError
from plotter.flight.checks import check_above_zero, check_not_above, check_not_negative


@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf])
def test_not_above_zero(value: float) -> None:
    with pytest.raises(InputError, match="enter a number above 0") as caught:
        check_above_zero("climb_rate_fpm", value)
    assert caught.value.code == "climb_rate_fpm"


@pytest.mark.parametrize("value", [-0.1, math.nan, math.inf])
def test_negative(value: float) -> None:
    with pytest.raises(InputError, match="enter 0 or more") as caught:
        check_not_negative("taxi_fuel", value)
    assert caught.value.code == "taxi_fuel"


@pytest.mark.parametrize("value", [5e-324, 9e-7])
def test_too_small_to_reckon_with(value: float) -> None:
    with pytest.raises(InputError, match=r"enter 0\.000001 or more"):
        check_above_zero("climb_rate_fpm", value)


@pytest.mark.parametrize("value", [1.1e6, 1e308])
def test_too_large_to_reckon_with(value: float) -> None:
    for check in (check_above_zero, check_not_negative):
        with pytest.raises(InputError, match="enter 1,000,000 or less"):
            check("usable_fuel", value)


def test_more_than_another() -> None:
    with pytest.raises(InputError, match="more than usable_fuel, 53; correct one") as caught:
        check_not_above("fuel_on_board", 53.1, "usable_fuel", 53.0)
    assert caught.value.code == "fuel_on_board"


def test_what_can_be_passes() -> None:
    check_above_zero("x", 0.001)
    check_above_zero("x", 1e6)
    check_not_negative("x", 0.0)
    check_not_above("x", 53.0, "y", 53.0)
