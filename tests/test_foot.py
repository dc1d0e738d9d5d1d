"""The search for the nearest point, on a sphere where the answer is known without it."""

from __future__ import annotations

import pytest

from plotter.earth.ellipsoid import MEAN_RADIUS_M
from plotter.earth.foot import EVERY_M, Sight, frame, improved, rough_along_m, search
from plotter.earth.position import Position

DEGREE_M = MEAN_RADIUS_M * 0.017453292519943295


def test_a_first_guess_along_the_equator() -> None:
    frames = [frame(k * DEGREE_M, 0.0, float(k), 90.0) for k in range(11)]
    for lon in (0.0, 3.4, 9.9):
        guess = rough_along_m(frames, Position(2.0, lon))
        assert guess == pytest.approx(lon * DEGREE_M, rel=1e-9, abs=1e-3)


def test_a_first_guess_never_jumps_further_than_the_frames_stand_apart() -> None:
    frames = [frame(0.0, 0.0, 0.0, 90.0)]
    assert rough_along_m(frames, Position(10.0, 90.0)) == EVERY_M


def test_ahead_astern_and_abeam() -> None:
    near = 1000.0
    assert improved(5000.0, 9000.0, Sight(near, 0.0, 0.0)).along_m == pytest.approx(6000.0)
    assert improved(5000.0, 9000.0, Sight(near, 180.0, 0.0)).along_m == pytest.approx(4000.0)
    abeam = improved(5000.0, 9000.0, Sight(near, -90.0, 0.0))
    assert (abeam.along_m, abeam.off_m) == (pytest.approx(5000.0), pytest.approx(-1000.0))
    assert abeam.settled


def test_beyond_an_end_the_end_is_the_nearest_point() -> None:
    past = improved(9000.0, 9000.0, Sight(500.0, 30.0, 0.0))
    assert past == (9000.0, 500.0, True)
    before = improved(0.0, 9000.0, Sight(500.0, -150.0, 0.0))
    assert before == (0.0, -500.0, True)
    jumped = improved(8000.0, 9000.0, Sight(5000.0, 10.0, 0.0))
    assert (jumped.along_m, jumped.settled) == (9000.0, False)


def test_the_search_asks_again_only_for_those_not_settled() -> None:
    asked: list[list[int]] = []

    def look(lengths_m: list[float], which: list[int]) -> list[Sight]:
        asked.append(which)
        return [
            Sight(100.0, 90.0, 0.0) if i == 0 or len(asked) > 1 else Sight(9e5, 45.0, 0.0)
            for i in which
        ]

    frames = [frame(0.0, 0.0, 0.0, 90.0)]
    found = search(frames, 1e6, [Position(0.0, 0.1), Position(5.0, 1.0)], look)
    assert asked == [[0, 1], [1]]
    assert all(each.settled for each in found)
    assert search(frames, 1e6, [], look) == []
