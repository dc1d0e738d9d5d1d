"""The pilot's own points by name, and names that are nearly one."""

from __future__ import annotations

import pytest

from plotter.earth.position import Position
from plotter.route.reading.points import OwnPoint, OwnPoints

HERE = Position(43.95, -92.41)
POINTS = OwnPoints([OwnPoint("Red barn", HERE), OwnPoint("Mill", HERE), OwnPoint("mill", HERE)])


def test_the_exact_spelling_goes_before_another_case() -> None:
    found = POINTS.find("mill")
    assert found is not None
    assert found.name == "mill"
    assert [point.name for point in POINTS if point is POINTS.find("MILL")] == ["Mill"]
    assert len(POINTS) == 3


@pytest.mark.parametrize("typed", ["Red bran", "red barm", "Redbarn", "RED BARNN"])
def test_a_slip_is_known(typed: str) -> None:
    assert POINTS.like(typed) == ("Red barn",)
    assert POINTS.find(typed) is None


@pytest.mark.parametrize("typed", ["Blue barge", "KRST", ""])
def test_another_name_is_no_slip(typed: str) -> None:
    assert POINTS.like(typed) == ()
    assert OwnPoints().like(typed) == ()
