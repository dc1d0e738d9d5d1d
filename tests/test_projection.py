"""The line on the paper, against published figures and against what must hold anywhere."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyproj import Geod, Proj

from plotter.chart.projection import (
    HIGHEST_LATITUDE_DEG,
    LONGEST_NM,
    DrawnLine,
    drawn_line,
    standard_parallels,
)
from plotter.chart.scales import scale_named
from plotter.earth.angles import half_turn
from plotter.earth.geodesic import Line, destination, measure
from plotter.earth.position import Position
from plotter.errors import InputError

ROWS = {
    row["id"]: row
    for row in json.loads(
        (Path(__file__).parent / "published" / "charts.json").read_text(encoding="utf-8")
    )
}
SCALE_ERROR = 0.0025
"""Largest scale error of a leg whose middle lies in a band of 8° and whose ends may leave it."""
CHORD_TURNS_DEG = 0.2
"""How far the straight line runs off the geodesic at mid-leg over 300 NM, below 70° [°]."""


def scale_error(line: Line) -> float:
    """The length on paper over the true one, less one."""
    return drawn_line(line).length_nm / line.distance_nm - 1.0


def convergence_deg(drawn: DrawnLine) -> float:
    """How far the meridians turn [°] from the start of the line to its end."""
    return half_turn(drawn.end_true_course_deg - drawn.start_true_course_deg)


def row(name: str) -> Any:
    return ROWS[name]


def test_the_projection_agrees_with_snyders_example() -> None:
    published = row("snyder-lambert-ellipsoid")
    asked = dict(published["given"])
    at = asked.pop("longitude_deg"), asked.pop("latitude_deg")
    chart = Proj(proj="lcc", **asked)
    x, y = chart(*at)
    wanted, near = published["expected"], published["tolerance"]
    assert x == pytest.approx(wanted["x_m"], abs=near["x_m"])
    assert y == pytest.approx(wanted["y_m"], abs=near["y_m"])
    factor = chart.get_factors(*at).meridional_scale
    assert factor == pytest.approx(wanted["scale_factor"], abs=near["scale_factor"])


def test_the_parallels_are_those_of_the_sectionals() -> None:
    published = row("sectional-parallels")
    low, high = standard_parallels(published["given"]["latitude_deg"])
    assert low == pytest.approx(published["expected"]["low_deg"], abs=1e-9)
    assert high == pytest.approx(published["expected"]["high_deg"], abs=1e-9)


@pytest.mark.parametrize("name", ["inch-500000", "inch-250000", "inch-1000000"])
def test_miles_to_the_inch(name: str) -> None:
    published = row(name)
    found = 25.4 / scale_named(published["given"]["chart"]).mm_per_nm
    wanted = published["expected"]["nm_per_inch"]
    assert found == pytest.approx(wanted, abs=published["tolerance"]["nm_per_inch"])


def test_every_published_row_is_tried() -> None:
    text = Path(__file__).read_text(encoding="utf-8")
    assert all(f'"{name}"' in text for name in ROWS)


def test_along_a_standard_parallel_the_scale_is_true() -> None:
    low = 33.0 + 1.0 / 3.0
    assert abs(scale_error(measure(Position(low, -98.01), Position(low, -97.99)))) < 1e-8


def test_between_the_parallels_the_paper_is_too_small_and_beyond_too_large() -> None:
    inside = scale_error(measure(Position(36.0, -98.0), Position(36.1, -98.0)))
    outside = scale_error(measure(Position(39.8, -98.0), Position(39.9, -98.0)))
    assert inside == pytest.approx(-0.0011, abs=0.0001)
    assert outside > 0.0005


def test_meridians_converge_by_the_sine_of_the_middle_latitude() -> None:
    # Convergence = change of longitude × sin(latitude), Bowditch; exact for a cone of one parallel.
    drawn = drawn_line(measure(Position(44.0, -92.0), Position(44.0, -89.0)))
    assert convergence_deg(drawn) == pytest.approx(3.0 * 0.6947, abs=0.01)


def test_latitude_and_longitude_are_not_swapped_on_the_way_to_pyproj() -> None:
    north = drawn_line(measure(Position(44.0, -92.0), Position(45.0, -92.0)))
    assert north.true_course_deg == pytest.approx(0.0, abs=1e-6)
    assert north.length_nm == pytest.approx(60.0, abs=0.2)


def test_the_other_half_of_the_earth_is_its_mirror() -> None:
    north = drawn_line(measure(Position(34.0, 150.0), Position(36.0, 152.0)))
    south = drawn_line(measure(Position(-34.0, 150.0), Position(-36.0, 152.0)))
    assert south.length_nm == pytest.approx(north.length_nm, rel=1e-12)
    assert south.true_course_deg == pytest.approx(180.0 - north.true_course_deg, abs=1e-9)
    assert convergence_deg(south) == pytest.approx(-convergence_deg(north), abs=1e-9)


@pytest.mark.parametrize(
    ("latitude", "course", "length_nm"),
    [(34.0, 45.0, 300.0), (44.0, 45.0, 590.0), (60.0, 60.0, 590.0), (70.0, 45.0, 500.0)],
)
def test_the_course_at_the_middle_of_the_paper_line_by_two_points_beside_it(
    latitude: float, course: float, length_nm: float
) -> None:
    """Two points of the pencil line a few metres either side of its middle, taken off a sheet with
    another meridian upright, and the geodesic between them (the projection is conformal).

    The middle of the line on paper is not that of the leg: on these legs it turns the course by up
    to 0.025°.
    """
    start = Position(latitude, -100.0)
    line = measure(start, destination(start, course, length_nm))
    low, high = standard_parallels(line.middle.latitude_deg)
    sheet = Proj(proj="lcc", lat_1=low, lat_2=high, lat_0=10.0, lon_0=-90.0, ellps="WGS84")
    ends = [np.array(sheet(at.longitude_deg, at.latitude_deg)) for at in (line.start, line.end)]
    beside = [ends[0] + (ends[1] - ends[0]) * share for share in (0.5 - 2e-6, 0.5 + 2e-6)]
    (lon_1, lat_1), (lon_2, lat_2) = (sheet(*at, inverse=True) for at in beside)
    by_points_deg = Geod(ellps="WGS84").inv(lon_1, lat_1, lon_2, lat_2)[0] % 360.0
    assert drawn_line(line).true_course_deg == pytest.approx(by_points_deg, abs=2e-4)


def test_a_leg_across_180_is_drawn_as_anywhere() -> None:
    across = drawn_line(measure(Position(60.0, 179.0), Position(61.0, -178.0)))
    elsewhere = drawn_line(measure(Position(60.0, 10.0), Position(61.0, 13.0)))
    assert across.length_nm == pytest.approx(elsewhere.length_nm, rel=1e-12)
    assert across.true_course_deg == pytest.approx(elsewhere.true_course_deg, abs=1e-9)


@pytest.mark.parametrize(
    ("start", "end", "words"),
    [
        (Position(84.0, 0.0), Position(85.0, 10.0), "80°"),
        (Position(44.0, -92.0), Position(44.0, -60.0), "split it"),
    ],
)
def test_what_is_on_no_sheet_is_said(start: Position, end: Position, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        drawn_line(measure(start, end))
    assert caught.value.code == "off-chart"


@given(
    st.floats(-68.0, 68.0),
    st.floats(-180.0, 180.0),
    st.floats(0.0, 359.9),
    st.floats(1.0, 300.0),
)
def test_a_straight_line_is_nearly_the_geodesic(
    latitude: float, longitude: float, course: float, length: float
) -> None:
    start = Position(latitude, longitude)
    line = measure(start, destination(start, course, length))
    drawn = drawn_line(line)
    assert abs(scale_error(line)) < SCALE_ERROR
    assert abs(half_turn(drawn.true_course_deg - line.true_course_deg)) < CHORD_TURNS_DEG


@given(st.floats(-HIGHEST_LATITUDE_DEG, HIGHEST_LATITUDE_DEG))
def test_every_latitude_has_its_parallels(latitude: float) -> None:
    low, high = standard_parallels(latitude)
    assert low < high
    assert high - low == pytest.approx(16.0 / 3.0)
    assert low - 4.0 / 3.0 - 1e-9 <= latitude <= high + 4.0 / 3.0 + 1e-9


def test_the_longest_leg_is_longer_than_a_sheet() -> None:
    across_nm = measure(Position(34.0, -100.0), Position(34.0, -92.0)).distance_nm
    assert across_nm < LONGEST_NM
