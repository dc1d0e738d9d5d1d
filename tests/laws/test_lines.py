"""Laws of lines: whatever the ends, these hold."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st

from plotter.earth.angles import half_turn
from plotter.earth.geodesic import Line, along, beside, densify, destination, distance_nm, measure
from plotter.earth.position import Position
from plotter.earth.units import metres_from_nm, nm_from_metres
from plotter.earth.web_mercator import LIMIT_DEG, northing

MILLIMETRE_NM = nm_from_metres(0.001)
EARTH_RADIUS_NM = nm_from_metres(6378137.0)
MICROMETRE_NM = nm_from_metres(1e-6)

LATITUDES = st.floats(min_value=-90.0, max_value=90.0)
LONGITUDES = st.floats(min_value=-180.0, max_value=180.0)
POSITIONS = st.builds(Position, LATITUDES, LONGITUDES)
TEMPERATE = st.builds(Position, st.floats(min_value=-80.0, max_value=80.0), LONGITUDES)
COURSES = st.floats(min_value=0.0, max_value=360.0)
LEGS_NM = st.floats(min_value=0.1, max_value=600.0)
KINDS = st.sampled_from(["geodesic", "rhumb"])
Kind = Literal["geodesic", "rhumb"]


def leg(start: Position, end: Position, kind: Kind = "geodesic") -> Line:
    assume(distance_nm(start, end) > 0.001)
    return measure(start, end, kind)


@given(POSITIONS, POSITIONS)
@example(Position(0.0, 0.0), Position(0.5, 179.7))
@example(Position(0.0, 0.0), Position(0.0, -180.0))
@example(Position(90.0, 5.0), Position(-90.0, 170.0))
def test_an_independent_implementation_agrees(start: Position, end: Position) -> None:
    """Oracle: geographiclib, the geodesic algorithm's own Python package."""
    line = leg(start, end)
    other = Geodesic.WGS84.Inverse(
        start.latitude_deg, start.longitude_deg, end.latitude_deg, end.longitude_deg
    )
    assert metres_from_nm(line.distance_nm) == pytest.approx(other["s12"], abs=1e-6)
    assert distance_nm(start, line.middle) == pytest.approx(line.distance_nm / 2, abs=MICROMETRE_NM)


@given(POSITIONS, POSITIONS, KINDS)
def test_there_and_back_is_as_long(start: Position, end: Position, kind: Kind) -> None:
    there = leg(start, end, kind)
    assert measure(end, start, kind).distance_nm == pytest.approx(
        there.distance_nm, abs=MICROMETRE_NM
    )


@given(TEMPERATE, COURSES, LEGS_NM)
def test_the_way_back_is_the_other_way_round(start: Position, course: float, length: float) -> None:
    there = measure(start, destination(start, course, length))
    back = measure(there.end, there.start)
    assert half_turn(there.initial_true_course_deg - course) == pytest.approx(0.0, abs=1e-6)
    turned = back.initial_true_course_deg - there.final_true_course_deg
    assert abs(half_turn(turned)) == pytest.approx(180.0, abs=1e-6)
    turned = back.true_course_deg - there.true_course_deg
    assert abs(half_turn(turned)) == pytest.approx(180.0, abs=1e-6)


@given(POSITIONS, POSITIONS, KINDS, st.floats(min_value=0.0, max_value=1.0))
def test_what_lies_along_lies_beside_at_nothing(
    start: Position, end: Position, kind: Kind, part: float
) -> None:
    line = leg(start, end, kind)
    assume(not line.ambiguous)
    far = part * line.distance_nm
    (place,) = along(line, [far])
    ((reached, off),) = beside(line, [place])
    assert off == pytest.approx(0.0, abs=MILLIMETRE_NM)
    (foot,) = along(line, [reached])
    assert distance_nm(foot, place) == pytest.approx(0.0, abs=2 * MILLIMETRE_NM)


@given(
    TEMPERATE,
    COURSES,
    LEGS_NM,
    st.floats(min_value=0.01, max_value=0.99),
    st.floats(min_value=-100.0, max_value=100.0),
)
def test_a_perpendicular_is_found_again(
    start: Position, course: float, length: float, part: float, off: float
) -> None:
    """Right of the line is plus. The foot is known because the position was built from it."""
    line = measure(start, destination(start, course, length))
    far = part * line.distance_nm
    foot = along(line, [far])[0]
    assume(distance_nm(foot, line.end) > 1e-3)
    here = measure(foot, line.end).initial_true_course_deg
    position = destination(foot, here + math.copysign(90.0, off), abs(off))
    assert beside(line, [position]) == [
        (pytest.approx(far, abs=MILLIMETRE_NM), pytest.approx(off, abs=MILLIMETRE_NM))
    ]


@given(TEMPERATE, TEMPERATE, POSITIONS, KINDS)
@example(
    Position(0.0, 4.5625), Position(-70.556640625, 42.0), Position(-71.0, 0.0), "rhumb"
)  # 3e-16 of the length beyond the end
@settings(suppress_health_check=[HealthCheck.filter_too_much])
def test_nothing_on_the_line_is_nearer(
    start: Position, end: Position, position: Position, kind: Kind
) -> None:
    line = leg(start, end, kind)
    steps = [line.distance_nm * k / 50 for k in range(51)]
    nearest = min(distance_nm(place, position) for place in along(line, steps))
    assume(nearest < 3000.0)
    ((reached, off),) = beside(line, [position])
    assert 0.0 <= reached <= line.distance_nm
    assert distance_nm(along(line, [reached])[0], position) == pytest.approx(
        abs(off), abs=MILLIMETRE_NM
    )
    assert abs(off) <= nearest + MILLIMETRE_NM


@given(TEMPERATE, POSITIONS, KINDS, st.sampled_from([0.05, 1.0]))
@example(Position(29.0, 0.0), Position(86.0, 1.0), "geodesic", 0.05)
@example(Position(51.0, 170.0), Position(51.0, -160.0), "geodesic", 0.05)
@example(Position(80.0, 0.0), Position(80.0, 180.0), "geodesic", 0.05)
@settings(deadline=None)
def test_the_drawn_line_keeps_its_tolerance(
    start: Position, end: Position, kind: Kind, tolerance: float
) -> None:
    line = leg(start, end, kind)
    points = densify(line, tolerance)
    assert points[0] == (start.latitude_deg, pytest.approx(start.longitude_deg))
    assert points[-1][0] == end.latitude_deg
    strokes = drawn(points)
    assert np.all(np.abs(np.diff(strokes[:, 0])) <= math.pi + 1e-9)
    for place in along(line, [line.distance_nm * k / 97 for k in range(1, 97)]):
        if abs(place.latitude_deg) < LIMIT_DEG:
            assert off_the_strokes_nm(strokes, place) <= tolerance


def drawn(points: list[tuple[float, float]]) -> np.ndarray:
    """Points on a Web Mercator map of a unit sphere, east then north."""
    return np.array([(math.radians(lon), northing(lat)) for lat, lon in points])


def off_the_strokes_nm(strokes: np.ndarray, place: Position) -> float:
    """How far over the ground [NM] a place is from the strokes on the map, any turn of it."""
    base, step = strokes[:-1], np.diff(strokes, axis=0)
    square = np.maximum((step**2).sum(axis=1), 1e-300)
    nearest = math.inf
    for turn in (-360.0, 0.0, 360.0):
        to = drawn([(place.latitude_deg, place.longitude_deg + turn)]) - base
        part = np.clip((to * step).sum(axis=1) / square, 0.0, 1.0)
        nearest = min(nearest, float(np.hypot(*(to - part[:, None] * step).T).min()))
    return nearest * math.cos(math.radians(place.latitude_deg)) * EARTH_RADIUS_NM
