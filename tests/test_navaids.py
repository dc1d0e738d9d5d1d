"""The one navaid that is near, if there is only one."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.earth.geodesic import destination, distance_nm
from plotter.earth.position import Position
from plotter.places.lookup import the_near_one
from plotter.places.model import Navaid

HERE = Position(60.0, 179.9)


def beacon(key: str, away_nm: float, course_deg: float = 90.0) -> Navaid:
    where = destination(HERE, course_deg, away_nm)
    return Navaid(key, "ABC", "Demo", "NDB", where, None, 350.0, "ZZ", None)


@pytest.mark.parametrize(
    ("nearest_nm", "next_nm", "plain"),
    [
        (1.0, 150.1, True),
        (1.0, 149.9, False),  # both within reach
        (60.0, 180.1, True),
        (60.0, 179.9, False),  # not three times as far
        (149.9, 450.1, True),
        (150.1, 5000.0, False),  # nothing near
        (0.0, 151.0, True),
    ],
)
def test_near_alone_is_not_enough(nearest_nm: float, next_nm: float, plain: bool) -> None:
    found = the_near_one([beacon("FAR", next_nm), beacon("NEAR", nearest_nm, 271.0)], HERE)
    assert (found is not None) is plain
    if found:
        assert found.navaid.key == "NEAR"
        assert found.distance_nm == pytest.approx(nearest_nm, abs=1e-6)
        assert found.next_nm == pytest.approx(next_nm, abs=1e-6)
        assert found.distance_nm == distance_nm(HERE, found.navaid.position)


def test_two_at_one_spot_are_not_told_apart() -> None:
    assert the_near_one([beacon("A", 5.0), beacon("B", 5.0)], HERE) is None


def test_order_does_not_matter() -> None:
    beacons = [beacon("A", 300.0), beacon("B", 20.0), beacon("C", 900.0)]
    assert the_near_one(beacons, HERE) == the_near_one(beacons[::-1], HERE)


@given(st.floats(0.0, 5000.0), st.floats(0.0, 5000.0))
def test_the_next_is_always_beyond_reach(one_nm: float, other_nm: float) -> None:
    found = the_near_one([beacon("A", one_nm), beacon("B", other_nm)], HERE)
    if found:
        assert found.distance_nm <= 150.0 < found.next_nm
        assert found.next_nm > 3.0 * found.distance_nm
