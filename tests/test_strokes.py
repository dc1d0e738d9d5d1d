"""A leg's strokes in the files stay on its line, however a reader draws them."""

from __future__ import annotations

from itertools import pairwise

import pytest

from plotter.earth.geodesic import Line, LineKind, along, beside, destination, distance_nm, measure
from plotter.earth.position import Position
from plotter.formats.strokes import TOLERANCE_NM, strokes

# The widest gap can lie a little beside the middle of a stroke, where it is judged.
ALLOWED_NM = 1.1 * TOLERANCE_NM
STARTS = (Position(0.0, 0.0), Position(45.0, -93.0), Position(-63.0, 175.0), Position(75.0, -40.0))
COURSES = (0.0, 37.0, 90.0, 200.0, 291.0)


def lines(kind: LineKind, distance_nm: float) -> list[Line]:
    ends = [(a, destination(a, course, distance_nm)) for a in STARTS for course in COURSES]
    return [measure(start, end, kind) for start, end in ends]


def rolled(latitude: float, longitude: float) -> Position:
    return Position(latitude, (longitude + 180.0) % 360.0 - 180.0)


@pytest.mark.parametrize("kind", ["geodesic", "rhumb"])
@pytest.mark.parametrize("length_nm", [5.0, 60.0, 150.0, 300.0, 900.0])
def test_straight_strokes_in_latitude_and_longitude_stay_on_the_line(
    kind: LineKind, length_nm: float
) -> None:
    for line in lines(kind, length_nm):
        for (y1, x1), (y2, x2) in pairwise(strokes(line)):
            shares = (0.25, 0.5, 0.75)
            points = [rolled(y1 + share * (y2 - y1), x1 + share * (x2 - x1)) for share in shares]
            assert max(abs(off) for _, off in beside(line, points)) < ALLOWED_NM


@pytest.mark.parametrize("length_nm", [60.0, 150.0, 300.0, 900.0])
def test_great_circles_between_the_points_of_a_rhumb_line_stay_on_it(length_nm: float) -> None:
    for line in lines("rhumb", length_nm):
        for (y1, x1), (y2, x2) in pairwise(strokes(line)):
            stroke = measure(rolled(y1, x1), rolled(y2, x2))
            ((_, off),) = beside(line, [stroke.middle])
            assert abs(off) < ALLOWED_NM


@pytest.mark.parametrize("kind", ["geodesic", "rhumb"])
def test_both_ends_are_exact_and_the_points_are_even(kind: LineKind) -> None:
    for line in lines(kind, 250.0):
        points = strokes(line)
        assert points[0] == (line.start.latitude_deg, line.start.longitude_deg)
        assert rolled(*points[-1]).latitude_deg == line.end.latitude_deg
        assert rolled(*points[-1]).longitude_deg == pytest.approx(line.end.longitude_deg, abs=1e-9)
        step_nm = line.distance_nm / (len(points) - 1)
        (second,) = along(line, [step_nm])
        assert distance_nm(rolled(*points[1]), second) < 1e-6


def test_a_short_leg_is_one_stroke() -> None:
    start = Position(44.0, -92.0)
    assert len(strokes(measure(start, destination(start, 135.0, 15.0)))) == 2


def test_longitudes_run_on_over_180_both_ways() -> None:
    a, b = Position(-16.0, 170.0), Position(-17.0, -170.0)
    east, west = strokes(measure(a, b)), strokes(measure(b, a))
    assert (east[0][1], east[-1][1]) == (170.0, pytest.approx(190.0))
    assert (west[0][1], west[-1][1]) == (-170.0, pytest.approx(-190.0))
    for points in (east, west):
        assert max(abs(p[1] - q[1]) for p, q in pairwise(points)) < 10.0


@pytest.mark.parametrize("pole", [90.0, -90.0])
def test_a_pole_is_drawn_on_the_meridian_the_line_has_there(pole: float) -> None:
    top, low = Position(pole, 0.0), Position(pole / 1.5, 50.0)
    for points in (strokes(measure(top, low)), strokes(measure(low, top))):
        assert {round(longitude, 6) for _, longitude in points} == {50.0}


def test_a_line_over_the_pole_ends_and_is_near_it() -> None:
    points = strokes(measure(Position(85.0, 10.0), Position(85.0, -170.0)))
    assert max(latitude for latitude, _ in points) > 89.9
    assert {round(longitude % 360.0, 6) for _, longitude in points} <= {10.0, 190.0}
    assert len(points) < 2_000
