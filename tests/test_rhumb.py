"""Rhumb lines against RhumbSolve's table, and the cases that have to be defined."""

from __future__ import annotations

from collections import Counter

import pytest
from line_tables import apart_deg, rows

from plotter.earth import rhumb
from plotter.earth.angles import half_turn
from plotter.earth.geodesic import distance_nm, measure
from plotter.earth.position import Position
from plotter.earth.units import metres_from_nm
from plotter.errors import PositionError

TABLE = rows("rhumb_lines")
RHUMB_M = 0.001
RHUMB_DEG = 1e-7
POLAR_MIDDLE_M = 0.002
"""A line that starts a metre from the pole spirals: RhumbSolve's own middle, made from a printed
course, is off the exact one by 1.3 mm there (checked with 40-digit arithmetic)."""


def test_the_table_is_large_and_covers_every_kind() -> None:
    counts = Counter(row.category for row in TABLE)
    assert sum(counts.values()) >= 2000
    assert counts["east-west"] >= 300
    assert {"short", "leg", "long", "polar", "pole", "antimeridian", "meridian"} <= set(counts)


@pytest.mark.parametrize("category", sorted({row.category for row in TABLE}))
def test_every_rhumb_line_of_the_table(category: str) -> None:
    middle_m = POLAR_MIDDLE_M if category == "polar" else RHUMB_M
    for row in TABLE:
        if row.category != category:
            continue
        line = measure(row.start, row.end, "rhumb")
        assert abs(metres_from_nm(line.distance_nm) - row.distance_m) <= RHUMB_M, row
        assert apart_deg(line.true_course_deg, row.courses_deg[0]) <= RHUMB_DEG, row
        assert metres_from_nm(distance_nm(line.middle, row.middle)) <= middle_m, row


@pytest.mark.parametrize("category", sorted({row.category for row in TABLE}))
def test_direct_undoes_inverse(category: str) -> None:
    for row in TABLE:
        if row.category != category:
            continue
        lat1, lon1 = row.start.latitude_deg, row.start.longitude_deg
        course, length = rhumb.inverse(lat1, lon1, row.end.latitude_deg, row.end.longitude_deg)
        if row.start.is_pole:
            lon1 = row.end.longitude_deg
        lat, lon = rhumb.direct(lat1, lon1, course, length)
        assert metres_from_nm(distance_nm(Position(lat, half_turn(lon)), row.end)) < RHUMB_M, row


def test_one_course_all_the_way() -> None:
    line = measure(Position(40.0, -100.0), Position(50.0, -70.0), "rhumb")
    assert line.initial_true_course_deg == line.true_course_deg == line.final_true_course_deg


def test_the_quarter_meridian() -> None:
    """10,001,965.729 m: the textbook constant of WGS 84."""
    assert rhumb.meridian_change_m(0.0, 90.0) == pytest.approx(10001965.729313, abs=1e-6)
    assert rhumb.meridian_change_m(90.0, -90.0) == pytest.approx(-2 * 10001965.729313, abs=2e-6)


def test_bowditch_dead_reckoning() -> None:
    """The American Practical Navigator, 2019, section 1220: 57.4 NM on 035 from 15°03.7'N."""
    lat, lon = rhumb.direct(15 + 3.7 / 60, 151 + 26.8 / 60, 35.0, metres_from_nm(57.4))
    minute_of_rounding = 0.06
    sphere_of_bowditch = 0.3
    assert lat * 60 == pytest.approx(15 * 60 + 50.7, abs=minute_of_rounding + sphere_of_bowditch)
    assert lon * 60 == pytest.approx(152 * 60 + 0.7, abs=minute_of_rounding + sphere_of_bowditch)


def test_between_opposite_meridians_the_eastward_way_is_taken() -> None:
    for ends in ((10.0, 0.0, 20.0, 180.0), (10.0, 0.0, 20.0, -180.0), (10.0, 90.0, 20.0, -90.0)):
        assert rhumb.inverse(*ends)[0] == pytest.approx(86.723959876, abs=1e-8)
    line = measure(Position(10.0, 90.0), Position(20.0, -90.0), "rhumb")
    assert line.ambiguous
    assert not measure(Position(10.0, 90.0), Position(20.0, -91.0), "rhumb").ambiguous
    assert not measure(Position(10.0, 90.0), Position(90.0, -90.0), "rhumb").ambiguous


@pytest.mark.parametrize("longitude", [0.0, 90.0, -180.0])
def test_to_and_from_a_pole_it_is_the_meridian(longitude: float) -> None:
    to_pole = measure(Position(40.0, 0.0), Position(90.0, longitude), "rhumb")
    assert to_pole.true_course_deg == 0.0
    assert metres_from_nm(to_pole.distance_nm) == pytest.approx(5572436.698962, abs=1e-5)
    assert to_pole.middle.longitude_deg == 0.0
    away = measure(Position(90.0, longitude), Position(40.0, 7.0), "rhumb")
    assert away.true_course_deg == 180.0
    assert away.middle.longitude_deg == 7.0


def test_from_pole_to_pole() -> None:
    line = measure(Position(-90.0, 0.0), Position(90.0, 50.0), "rhumb")
    assert line.true_course_deg == 0.0
    assert line.middle == Position(0.0, 50.0)


@pytest.mark.parametrize("start", [(89.0, 0.0, 10.0), (-89.9, 5.0, 170.0)])
def test_a_line_past_a_pole_is_refused(start: tuple[float, float, float]) -> None:
    with pytest.raises(PositionError, match="past a pole"):
        rhumb.direct(*start, 300_000.0)


def test_a_pole_is_left_along_a_meridian_only() -> None:
    assert rhumb.direct(90.0, 12.0, 180.0, 1_000_000.0)[1] == 12.0
    with pytest.raises(PositionError, match="a rhumb line leaves a pole only along a meridian"):
        rhumb.direct(90.0, 12.0, 150.0, 1_000_000.0)


def test_due_east_keeps_the_latitude_and_its_circle() -> None:
    lat, lon = rhumb.direct(60.0, 170.0, 90.0, rhumb.parallel_radius_m(60.0))
    assert lat == 60.0
    assert lon == pytest.approx(170.0 + 57.29577951308232, rel=1e-14)


@pytest.mark.parametrize("rise", [0.0, 1e-13, 1e-11, 1e-9, 1e-7, 1e-5])
def test_nearly_east_the_length_has_no_step(rise: float) -> None:
    """The trap of subtracting: at a rise of 1e-9° a plain quotient is wrong in the sixth digit."""
    level = rhumb.inverse(55.0, 0.0, 55.0, 10.0)[1]
    course, length = rhumb.inverse(55.0, 0.0, 55.0 + rise, 10.0)
    assert length == pytest.approx(level, rel=2e-8 * max(1.0, rise / 1e-6) + 1e-14)
    assert 90.0 - course == pytest.approx(rise / 10.0 / 0.5759 * 57.2957795, rel=0.02, abs=1e-12)
