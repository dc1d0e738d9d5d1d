"""Laws of the compass card: periodic, without a jump, never beyond what is printed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.earth.angles import course_360, half_turn
from plotter.flight.compass import CompassCard, compass_card

HEADINGS = st.floats(min_value=0.0, max_value=360.0)
CORRECTIONS = st.floats(min_value=-30.0, max_value=30.0)
STEEPEST = 60.0
"""Corrections of ±30° on headings a degree apart: no card changes faster."""


@st.composite
def cards(draw: st.DrawFn) -> CompassCard:
    """Cards of whole degrees, each heading once."""
    headings = draw(
        st.lists(st.integers(min_value=0, max_value=359), min_size=2, max_size=12, unique=True)
    )
    return compass_card(
        [(heading, course_360(heading + draw(CORRECTIONS))) for heading in headings]
    )


@given(cards(), HEADINGS, st.integers(min_value=-3, max_value=3))
def test_a_whole_turn_changes_nothing(card: CompassCard, heading: float, turns: int) -> None:
    again = card.correction_deg(heading + 360.0 * turns)
    assert again == pytest.approx(card.correction_deg(heading), abs=1e-9)


@given(cards(), HEADINGS, st.floats(min_value=-0.01, max_value=0.01))
def test_nothing_jumps(card: CompassCard, heading: float, nudge: float) -> None:
    change = card.correction_deg(heading + nudge) - card.correction_deg(heading)
    assert abs(change) <= STEEPEST * abs(nudge) + 1e-9


@given(cards())
def test_exact_at_what_is_printed(card: CompassCard) -> None:
    for pair in card.pairs:
        off = pair.for_magnetic_deg + card.correction_deg(pair.for_magnetic_deg) - pair.steer_deg
        assert half_turn(off) == pytest.approx(0.0, abs=1e-9)


@given(cards(), HEADINGS)
def test_never_beyond_what_is_printed(card: CompassCard, heading: float) -> None:
    printed = [pair.correction_deg for pair in card.pairs]
    assert min(printed) - 1e-9 <= card.correction_deg(heading) <= max(printed) + 1e-9
