"""The straight line through readings: exact where it can be known, silent where it cannot."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from judged import heading_for, judged, leg


def test_a_constant_and_a_share_come_out_of_a_short_leg_and_a_long_one() -> None:
    found = judged(leg(15.0, "14.00"), leg(75.0, "75.20")).fitted
    # (75.20 − 14.00) / (75 − 15) = 1.02; 14 − 1.02 × 15 = −1.3.
    assert (found.factor, found.offset_nm) == pytest.approx((1.02, -1.3))


def test_one_length_gives_what_its_explanation_is_about() -> None:
    short = judged(leg(60.0, "58.20")).fitted
    assert short.factor is None
    assert short.offset_nm == pytest.approx(-1.8)
    long = judged(leg(40.0, "46.03")).fitted
    assert long.offset_nm is None
    assert long.factor == pytest.approx(1.1508, abs=1e-3)


@pytest.mark.parametrize("reading", ["40.0", "50.0", "13.1"])
def test_otherwise_nothing_is_said(reading: str) -> None:
    found = judged(leg(40.0, reading)).fitted
    assert (found.offset_nm, found.factor) == (None, None)


def test_courses_alone_have_no_line() -> None:
    found = judged(heading_for(247.0, 0.0, "247T"))
    assert (found.fitted.offset_nm, found.fitted.factor) == (None, None)
    assert found.distance is None
    assert found.residual_mm == (None,)


@given(st.floats(-3.0, 3.0), st.floats(0.9, 1.1), st.floats(8.0, 20.0), st.floats(60.0, 75.0))
def test_readings_on_a_line_give_that_line(
    offset: float, factor: float, short: float, long: float
) -> None:
    found = judged(
        leg(short, f"{factor * short + offset:.6f}"), leg(long, f"{factor * long + offset:.6f}")
    ).fitted
    assert found.factor == pytest.approx(factor, abs=1e-5)
    assert found.offset_nm == pytest.approx(offset, abs=1e-4)
