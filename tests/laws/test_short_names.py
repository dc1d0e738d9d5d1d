"""Law: names for units are plain, short, one a place, and stay as they are when made again."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st

from plotter.formats.gps_unit import unit_names

LETTERS = st.text(st.sampled_from("aAb2 é-機"), max_size=9) | st.text(max_size=12)
POINTS = st.lists(st.tuples(LETTERS, st.integers(0, 3)), max_size=12)
LIMITS = st.sampled_from([6, 10])


@given(POINTS, LIMITS)
def test_plain_short_and_one_a_place(points: list[tuple[str, int]], limit: int) -> None:
    short = unit_names([name for name, _ in points], [place for _, place in points], limit)
    assert all(re.fullmatch(rf"[A-Z0-9]{{1,{limit}}}", name) for name in short)
    assert len(set(short)) == len(set(points))
    assert len(set(zip(points, short, strict=True))) == len(set(points))


@given(POINTS, LIMITS)
def test_made_again_they_stay(points: list[tuple[str, int]], limit: int) -> None:
    places = list(dict.fromkeys(points))
    once = unit_names([name for name, _ in places], places, limit)
    assert unit_names(once, places, limit) == once
