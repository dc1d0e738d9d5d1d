"""The pilot's own layers on the map: cut, thinned, bounded, in the view's own turn of the earth."""

from __future__ import annotations

import math

import pytest

from plotter.maps.drawing import MOST_PLACES, MOST_POINTS, own_drawing
from plotter.maps.view import View
from plotter.places.model import Family, OwnShape

VIEW = View(43.0, -93.0, 45.0, -90.0)
Part = tuple[tuple[float, float], ...]


def shape(
    family: Family, *parts: Part, kind: str = "rivers", number: int = 1, name: str = ""
) -> OwnShape:
    return OwnShape("mine", kind, number, name, family, parts)


def test_a_line_is_cut_to_the_view() -> None:
    made = own_drawing([shape("line", ((44.0, -95.0), (44.0, -91.0)))], VIEW)
    ((kind, flat),) = made.lines
    assert kind == "rivers"
    assert sorted(flat[1::2]) == [-93.0, -91.0]
    assert made.counts == (("rivers", 1),)


def test_what_lies_elsewhere_is_not_drawn() -> None:
    made = own_drawing([shape("line", ((10.0, 10.0), (11.0, 11.0)))], VIEW)
    assert (made.lines, made.counts, made.said) == ((), (), "")


def test_a_line_keeps_its_place_to_a_pixel_when_it_is_thinned() -> None:
    wave = tuple((44.0 + 0.0005 * math.sin(k), -92.5 + k * 0.001) for k in range(1500))
    ((_, flat),) = own_drawing([shape("line", wave)], VIEW).lines
    assert len(flat) / 2 < 100
    assert all(abs(latitude - 44.0) < 0.001 for latitude in flat[::2])


def test_an_area_keeps_its_island() -> None:
    lake = ((43.5, -92.0), (43.5, -91.0), (44.5, -91.0), (44.5, -92.0), (43.5, -92.0))
    island = ((43.9, -91.6), (43.9, -91.4), (44.1, -91.4), (44.1, -91.6), (43.9, -91.6))
    (rings,) = own_drawing([shape("area", lake, island, kind="lakes")], VIEW).areas
    assert len(rings) == 2


def test_points_have_their_names_made_visible() -> None:
    tower = shape("point", ((44.0, -91.0),), kind="towers", name="Mast\x07")
    assert own_drawing([tower], VIEW).points == ((44.0, -91.0, "Mast␇"),)


def test_across_180_everything_lies_in_the_turn_of_the_view() -> None:
    across = View(50.0, 178.0, 53.0, 184.0)
    made = own_drawing(
        [
            shape("line", ((51.0, 179.0), (51.0, -179.0))),
            shape("point", ((52.0, -177.0),), kind="towers", number=2),
        ],
        across,
    )
    ((_, flat),) = made.lines
    assert sorted(flat[1::2]) == [179.0, 181.0]
    assert made.points[0][:2] == (52.0, 183.0)


def test_more_than_a_map_can_carry_is_left_out_and_said() -> None:
    towers = [
        shape("point", ((44.0, -91.0 - k / 10_000),), kind="towers", number=k + 1)
        for k in range(MOST_POINTS + 7)
    ]
    made = own_drawing(towers, VIEW)
    assert len(made.points) == MOST_POINTS
    assert made.left_out == 7
    assert "7 more are too many for the map" in made.said


def test_the_longest_lines_stay_where_not_all_do() -> None:
    def zigzag(height: float, number: int) -> OwnShape:
        points = tuple((44.0 + height * (k % 2), -92.9 + k * 0.0004) for k in range(7000))
        return shape("line", points, number=number)

    made = own_drawing([zigzag(0.01, 1), zigzag(0.5, 2), zigzag(0.2, 3)], VIEW)
    assert sum(len(flat) for _, flat in made.lines) / 2 <= MOST_PLACES
    assert made.left_out == 2
    assert max(made.lines[0][1][::2]) == 44.5


@pytest.mark.parametrize("family", ["line", "area"])
def test_parts_of_a_single_point_draw_nothing(family: Family) -> None:
    made = own_drawing([shape(family, ((44.0, -91.0),))], VIEW)
    assert made.counts == ()


def test_the_same_shapes_give_the_same_drawing_in_any_order() -> None:
    shapes = [shape("line", ((44.0, -92.0 - k / 9), (44.2, -91.0)), number=k) for k in range(1, 9)]
    assert own_drawing(shapes, VIEW) == own_drawing(reversed(shapes), VIEW)
