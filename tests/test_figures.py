"""Numbers as interchange files hold them."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.formats.records import degrees, direction, fixed, longitude_below_180, number_of

angles = st.floats(-180, 180)


@given(angles)
def test_degrees_have_six_decimals_and_lose_no_more_than_half_of_the_last(angle: float) -> None:
    text = degrees(angle)
    assert re.fullmatch(r"-?\d{1,3}\.\d{6}", text)
    assert text != "-0.000000"
    assert float(text) == pytest.approx(angle, abs=0.50001e-6)


@given(angles)
def test_a_longitude_for_gpx_is_below_180(angle: float) -> None:
    value = float(longitude_below_180(angle))
    assert -180.0 <= value < 180.0
    turned = abs(value - angle)
    assert min(turned, abs(turned - 360.0)) < 1e-6


@given(st.floats(-720, 720), st.integers(0, 6))
def test_a_direction_is_in_0_to_360(angle: float, places: int) -> None:
    value = float(direction(angle, places))
    assert 0.0 <= value < 360.0
    turned = abs(value - angle % 360.0)
    assert min(turned, abs(turned - 360.0)) <= 0.50001 * 10.0**-places


def test_rounding_to_whole_numbers() -> None:
    assert [fixed(value, 0) for value in (1317.4, -0.2, 1e6)] == ["1317", "0", "1000000"]


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_number_is_read_as_it_is_written(value: float) -> None:
    assert number_of(repr(value)) == number_of(value) == value


@pytest.mark.parametrize(
    "value",
    [
        *("", "4_4.5", "٤٤", "\uff14\uff14", "nan", "inf", "-", ".", "1e", "0x1F", "4 4", "44,5"),
        *(True, None, [], 10**400),
    ],
)
def test_what_is_no_number_is_refused(value: object) -> None:
    with pytest.raises(ValueError, match="no number"):
        number_of(value)
