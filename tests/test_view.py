"""The view: what a map must fill on any screen."""

from __future__ import annotations

import math

import pytest

from plotter.earth.web_mercator import LIMIT_DEG
from plotter.maps.view import (
    TALLEST_ASPECT,
    WIDEST_ASPECT,
    View,
    bounds,
    mercator,
    unmercator,
    view_round,
)


def test_mercator_against_its_definition() -> None:
    # Snyder, Map Projections: A Working Manual (USGS PP 1395), eq. 7-2: y = ln tan(π/4 + φ/2).
    for latitude in (-80.0, -45.0, 0.0, 12.5, 60.0, 84.0):
        expected = math.degrees(math.log(math.tan(math.pi / 4 + math.radians(latitude) / 2)))
        assert mercator(latitude) == pytest.approx(expected, abs=1e-9)


def test_the_projection_ends_where_the_world_is_a_square() -> None:
    assert mercator(LIMIT_DEG) == pytest.approx(180.0, abs=1e-9)
    assert mercator(89.0) == mercator(90.0) == mercator(LIMIT_DEG)
    assert mercator(-90.0) == -mercator(90.0)


def test_unmercator_undoes_mercator() -> None:
    for latitude in range(-85, 86, 5):
        assert unmercator(mercator(latitude)) == pytest.approx(latitude, abs=1e-9)


@pytest.mark.parametrize(
    "box", [(44.0, -92.0, 44.0, -91.0), (45.0, -92.0, 44.0, -91.0), (44.0, 10.0, 45.0, 10.0)]
)
def test_a_view_that_is_no_box_is_refused(box: tuple[float, float, float, float]) -> None:
    with pytest.raises(ValueError, match="no box"):
        View(*box)


def test_bounds_of_one_point_or_of_a_straight_line_still_are_a_box() -> None:
    assert bounds([(44.0, -92.0)]).south == 44.0
    north_south = bounds([(44.0, -92.0), (45.0, -92.0)])
    assert north_south.west < north_south.east
    east_west = bounds([(44.0, -92.0), (44.0, -91.0)])
    assert east_west.south < east_west.north


def test_bounds_stay_where_the_map_can_draw() -> None:
    polar = bounds([(88.0, 0.0), (89.0, 40.0)])
    assert polar.north == LIMIT_DEG
    assert polar.south < polar.north
    antarctic = bounds([(-88.0, 0.0), (-89.0, 40.0)])
    assert antarctic.south == -LIMIT_DEG


def drawn_size(view: View) -> tuple[float, float]:
    return view.east - view.west, mercator(view.north) - mercator(view.south)


@pytest.mark.parametrize(
    "route",
    [
        View(44.0, -93.0, 44.01, -88.0),
        View(40.0, -93.0, 47.0, -92.99),
        View(60.0, 5.0, 68.0, 15.0),
        View(-18.0, 177.0, -16.0, 181.0),
        View(44.0, -93.0, 44.001, -92.999),
    ],
)
@pytest.mark.parametrize("aspect", [TALLEST_ASPECT, 1.0, WIDEST_ASPECT])
def test_a_window_of_any_shape_that_holds_the_route_lies_in_the_view(
    route: View, aspect: float
) -> None:
    across, up = drawn_size(route)
    window_across = max(across, up * aspect) * 1.3
    window_up = window_across / aspect
    view_across, view_up = drawn_size(view_round(route))
    assert window_across <= view_across
    assert window_up <= view_up


def test_the_view_stands_about_the_route_and_runs_on_past_180() -> None:
    view = view_round(View(-18.0, 177.0, -16.0, 181.0))
    assert (view.west + view.east) / 2 == pytest.approx(179.0)
    assert view.east > 180.0
    assert view.centre[1] == pytest.approx(179.0)


def test_growing_keeps_the_middle_and_scales_what_is_drawn() -> None:
    view = view_round(View(60.0, 5.0, 64.0, 15.0))
    grown = view.grown(2.0)
    assert grown.centre == pytest.approx(view.centre)
    assert drawn_size(grown) == pytest.approx([2 * side for side in drawn_size(view)])


def test_breadth_counts_degrees_of_a_great_circle() -> None:
    assert View(-1.0, 0.0, 1.0, 10.0).breadth_deg == pytest.approx(10.0)
    # At 60° a degree of longitude is half a degree of a great circle.
    assert View(59.0, 0.0, 60.99, 10.0).breadth_deg == pytest.approx(5.0, abs=0.01)
    assert View(50.0, 0.0, 60.0, 1.0).breadth_deg == pytest.approx(10.0)
