"""Cells: every point has one, and a cap's cells hold every point of the cap."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.earth.geodesic import destination
from plotter.earth.position import Position
from plotter.places.grid import DEGREE, FIVE, TWENTY, Grid

LATITUDES = st.floats(-90.0, 90.0) | st.sampled_from([-90.0, -89.9999, 0.0, 89.9999, 90.0])
LONGITUDES = st.floats(-180.0, 180.0) | st.sampled_from([-180.0, -179.9999, 179.9999, 180.0])
ROUNDING_DEG = 1e-12
"""A latitude a last digit below a border [°] is rounded onto it when 90 is added."""
GRIDS = st.sampled_from([DEGREE, FIVE, TWENTY])
NM_A_DEGREE = 59.0
"""Fewer nautical miles than any degree of the meridian has (59.7 at the equator)."""


@given(GRIDS, LATITUDES, LONGITUDES)
def test_every_point_has_one_cell_whatever_the_turn(grid: Grid, lat: float, lon: float) -> None:
    number = grid.number(lat, lon)
    assert 0 <= number < grid.count
    if lon in (-180.0, 180.0) or lon == round(lon, 6):
        assert grid.number(lat, round(lon, 6) + 360.0) == grid.number(lat, round(lon, 6))
    middle, half = grid.middle(number), grid.step_deg / 2 + ROUNDING_DEG
    assert abs(middle.latitude_deg - lat) <= half
    assert abs((middle.longitude_deg - lon + 180.0) % 360.0 - 180.0) <= half
    assert grid.number(middle.latitude_deg, middle.longitude_deg) == number


@given(GRIDS, st.integers(0, 64799))
def test_names_lead_back_to_their_cells(grid: Grid, number: int) -> None:
    number %= grid.count
    row, column = divmod(number, grid.columns)
    south, west = row * grid.step_deg - 90, column * grid.step_deg - 180
    assert grid.number_of(f"{south:+03d}{west:+04d}") == number


@pytest.mark.parametrize(
    "name",
    ["", "world", "+90+000", "-95+000", "+40-185", "+40+180", "+42-080", "+4０-080", "+40-080 "],
)
def test_other_names_have_no_cell(name: str) -> None:
    assert FIVE.number_of(name) is None


@given(LATITUDES, LONGITUDES, st.floats(0.0, 3.0), st.floats(0.0, 360.0), st.floats(0.0, 1.0))
def test_a_caps_cells_hold_every_point_of_it(
    lat: float, lon: float, radius_deg: float, course_deg: float, part: float
) -> None:
    centre = Position(lat, lon)
    inside = destination(centre, course_deg, part * radius_deg * NM_A_DEGREE)
    cells = set(DEGREE.cells_round(centre, radius_deg))
    assert DEGREE.number(inside.latitude_deg, inside.longitude_deg) in cells
    assert all(0 <= cell < DEGREE.count for cell in cells)


@pytest.mark.parametrize(("radius_deg", "count"), [(0.0, 1), (0.4, 1), (1.0, 9), (180.0, 64800)])
def test_a_cap_takes_few_cells(radius_deg: float, count: int) -> None:
    cells = list(DEGREE.cells_round(Position(0.5, 0.5), radius_deg))
    assert len(cells) == len(set(cells)) == count


@pytest.mark.parametrize(
    ("box", "count"),
    [
        ((0.0, 0.0, 0.5, 0.5), 1),
        ((-0.5, 179.5, 0.5, 180.5), 4),
        ((-100.0, -200.0, 100.0, 500.0), 64800),
        ((89.5, 0.5, 90.0, 1.5), 2),
    ],
)
def test_a_boxs_cells(box: tuple[float, float, float, float], count: int) -> None:
    cells = list(DEGREE.cells_in(*box))
    assert len(cells) == len(set(cells)) == count


def test_no_latitude_beyond_a_pole_has_a_cell() -> None:
    for latitude in (90.001, 95.0, -90.001, 1000.0):
        assert not 0 <= DEGREE.number(latitude, 0.5) < DEGREE.count
