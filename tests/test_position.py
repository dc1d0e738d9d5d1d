"""A position that cannot be is never made."""

from __future__ import annotations

import dataclasses
import math

import pytest

from plotter.earth.position import Position
from plotter.errors import PositionError


@pytest.mark.parametrize("latitude", [90.0000001, -95.0, math.nan, math.inf, -math.inf])
def test_latitude_that_cannot_be(latitude: float) -> None:
    with pytest.raises(PositionError, match="latitude"):
        Position(latitude, 0.0)


@pytest.mark.parametrize("longitude", [180.0000001, -540.0, math.nan, math.inf])
def test_longitude_that_cannot_be(longitude: float) -> None:
    with pytest.raises(PositionError, match="longitude"):
        Position(0.0, longitude)


@pytest.mark.parametrize("corner", [(90.0, 180.0), (-90.0, -180.0), (0.0, 0.0)])
def test_the_corners_of_the_range_are_positions(corner: tuple[float, float]) -> None:
    assert dataclasses.astuple(Position(*corner)) == corner


def test_a_position_does_not_change() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        Position(1.0, 2.0).latitude_deg = 3.0  # type: ignore[misc]


def test_poles() -> None:
    assert Position(90.0, 12.0).is_pole
    assert Position(-90.0, 0.0).is_pole
    assert not Position(89.999999, 0.0).is_pole
