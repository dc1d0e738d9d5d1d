"""What rounds to nought is north or east in every way a position is written."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter import wording
from plotter.earth.coordinates import doc4444, split_position
from plotter.earth.position import Position
from plotter.route.editing import typed_position

NEAR_NOUGHT = st.floats(min_value=-0.02, max_value=0.02)


@pytest.mark.parametrize("written", [wording.position, doc4444, typed_position])
@given(NEAR_NOUGHT, NEAR_NOUGHT)
def test_nought_is_north_and_east(
    written: Callable[[Position], str], latitude_deg: float, longitude_deg: float
) -> None:
    text = written(Position(latitude_deg, longitude_deg))
    for half in re.findall(r"[^NSEW]+[NSEW]", text):
        is_nought = not re.search(r"[1-9]", half)
        assert not (is_nought and half[-1] in "SW"), text


@given(
    st.floats(min_value=-90.0, max_value=90.0),
    st.floats(min_value=-180.0, max_value=180.0),
    st.sampled_from([60, 3600, 6000]),
)
def test_split_angles_are_the_angle_within_half_a_part(
    latitude_deg: float, longitude_deg: float, parts: int
) -> None:
    position = Position(latitude_deg, longitude_deg)
    split = split_position(position, parts)
    for angle, whole in zip(split, (latitude_deg, position.longitude_deg), strict=True):
        assert 0 <= angle.rest < parts
        sign = -1.0 if angle.letter in "SW" else 1.0
        read = sign * (angle.degrees + angle.rest / parts)
        assert abs(read - whole) <= 0.5000001 / parts
