"""The search for the nearest point, on a sphere where the answer is known without it."""

from __future__ import annotations

from itertools import pairwise

import pytest

from plotter.earth.geodesic import along, beside, distance_nm, measure
from plotter.earth.lines import (
    EVERY_M,
    MARK_TURN_DEG,
    Sight,
    frame,
    improved,
    marks,
    rough_along_m,
    search,
    surest,
)
from plotter.earth.position import Position
from plotter.earth.units import MEAN_RADIUS_M

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


def test_a_foot_past_a_quarter_of_the_globe_is_as_far_as_it_is() -> None:
    far = 100.0 * DEGREE_M
    assert improved(10.0, 20.0, Sight(far, -90.0, 0.0)).off_m == pytest.approx(-far)


def test_marks_crowd_where_the_longitude_runs() -> None:
    def longitudes(lengths_m: list[float]) -> list[float]:
        return [90.0 * (1.0 - each / 1e6) ** 8 for each in lengths_m]

    lengths = marks(1e6, longitudes)
    lons = longitudes(lengths)
    assert (lengths[0], lengths[-1]) == (0.0, 1e6)
    assert all(0.0 < b - a <= EVERY_M for a, b in pairwise(lengths))
    assert all(a - b <= MARK_TURN_DEG for a, b in pairwise(lons))


def test_the_sure_search_takes_the_deeper_of_two_valleys() -> None:
    def look(along_m: float) -> Sight:
        left, right = abs(along_m - 200.0) + 50.0, abs(along_m - 733.0) + 40.0
        foot_m = 200.0 if left < right else 733.0
        return Sight(min(left, right), 0.0 if along_m < foot_m else 180.0, 0.0)

    lengths = [100.0 * k for k in range(11)]
    found = surest(lengths, [look(each) for each in lengths], look)
    assert (found.along_m, found.settled) == (pytest.approx(733.0, abs=1e-5), True)
    assert abs(found.off_m) == pytest.approx(40.0, abs=1e-5)


ASTRAY = {
    "round the pole": (
        (Position(88.89565136196657, 20.0), Position(89.97683796193708, -160.0)),
        Position(88.16699489081782, 140.93876819566435),
    ),
    "the opposite pole": (
        (Position(87.44932319959653, -88.1751507338082), Position(85.97757991016373, 75.1915138)),
        Position(-89.99, 40.0),
    ),
    "a quarter of the globe and more": (
        (Position(87.44932319959653, -88.1751507338082), Position(85.97757991016373, 75.1915138)),
        Position(-84.7393443907547, -19.660610140271473),
    ),
    "the quick search ends at the wrong end": (
        (Position(89.97673990597, -19.52869050891), Position(89.68268057375, 169.63832023532)),
        Position(88.53913095447305, 78.98589108356867),
    ),
    "hard by the pole": (
        (Position(-89.9997251690841, 91.307489), Position(-89.9952043677353, -86.3705113)),
        Position(-82.51745224421887, 50.11922639211758),
    ),
    "across the equator, far": (
        (Position(-63.07728804, 113.42727136), Position(-80.00647928, -25.13328860)),
        Position(22.979853858301524, 57.82670538700211),
    ),
    "from the pole": (
        (Position(90.0, 0.0), Position(80.0, 30.0)),
        Position(-85.0, 60.0),
    ),
}


@pytest.mark.parametrize(("ends", "position"), ASTRAY.values(), ids=ASTRAY)
def test_beside_a_polar_rhumb_line_nothing_on_it_is_nearer(
    ends: tuple[Position, Position], position: Position
) -> None:
    """The oracle is 20,000 samples along the line."""
    line = measure(*ends, "rhumb")
    ((reached_nm, off_nm),) = beside(line, [position])
    samples = along(line, [line.distance_nm * k / 20_000 for k in range(20_001)])
    nearest_nm = min(distance_nm(each, position) for each in samples)
    assert nearest_nm - line.distance_nm / 20_000 < abs(off_nm) <= nearest_nm + 1e-9
    (foot,) = along(line, [reached_nm])
    assert distance_nm(foot, position) == pytest.approx(abs(off_nm), abs=1e-9)
