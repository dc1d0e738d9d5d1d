"""Lines are cut at 180° and nowhere else."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.formats.strokes import LatLon, split_at_180

latitudes = st.floats(-89, 89)
steps = st.lists(st.tuples(latitudes, st.floats(-100, 100)), min_size=1, max_size=12)


@pytest.mark.parametrize(
    ("line", "pieces"),
    [
        ([(0, 10), (0, 20)], [[(0, 10), (0, 20)]]),
        ([(0, 179), (2, 181)], [[(0, 179), (1, 180)], [(1, -180), (2, -179)]]),
        ([(0, -179), (2, -181)], [[(0, -179), (1, -180)], [(1, 180), (2, 179)]]),
        ([(0, 180), (2, 181)], [[(0, -180), (2, -179)]]),
        ([(0, 180), (2, 179)], [[(0, 180), (2, 179)]]),
        ([(0, -180), (2, -181)], [[(0, 180), (2, 179)]]),
        ([(0, 179), (1, 180), (2, 181)], [[(0, 179), (1, 180)], [(1, -180), (2, -179)]]),
        ([(0, 179), (1, 180), (2, 179)], [[(0, 179), (1, 180), (2, 179)]]),
        (
            [(0, 179), (1, 181), (2, 179)],
            [[(0, 179), (0.5, 180)], [(0.5, -180), (1, -179), (1.5, -180)], [(1.5, 180), (2, 179)]],
        ),
        ([(0, 179.99999999999997)] * 2, [[(0, 179.99999999999997)] * 2]),
        ([(0, -179.99999999999997)] * 2, [[(0, -179.99999999999997)] * 2]),
        ([(0, -180.00000000000003)] * 2, [[(0, 179.99999999999997)] * 2]),
        ([(0, 539), (2, 541)], [[(0, 179), (1, 180)], [(1, -180), (2, -179)]]),
    ],
)
def test_known_lines(line: list[LatLon], pieces: list[list[LatLon]]) -> None:
    assert split_at_180(line) == pieces


def test_a_line_along_180_is_one_piece() -> None:
    (piece,) = split_at_180([(0.0, 180.0), (1.0, 180.0), (2.0, 180.0)])
    assert len({longitude for _, longitude in piece}) == 1


@given(st.floats(-180, 180), latitudes, steps)
def test_pieces_stay_within_180_and_join_up(start: float, latitude: float, moves: list) -> None:
    line = [(latitude, start)]
    for north, east in moves:
        line.append((north, line[-1][1] + east))
    pieces = split_at_180(line)
    assert all(-180 <= longitude <= 180 for piece in pieces for _, longitude in piece)
    assert all(len(piece) >= 2 for piece in pieces)
    for before, after in pairwise(pieces):
        assert before[-1][0] == after[0][0]
        assert {before[-1][1], after[0][1]} == {-180.0, 180.0}
    for piece in pieces:
        assert all(abs(b[1] - a[1]) <= 100.001 for a, b in pairwise(piece))
