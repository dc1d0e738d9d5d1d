"""Names of cells, and which a view touches."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from plotter.maps.base import cell_name, cells_over, turn_deg
from plotter.maps.view import View

ROUNDING = 1e-9  # degrees lost when a float is counted from the corner of the grid

views = st.builds(
    lambda south, west, up, across: View(south, west, south + up, west + across),
    st.floats(-80, 60),
    st.floats(-400, 400),
    st.floats(0.1, 20),
    st.floats(0.1, 40),
)


@given(views, st.sampled_from([5, 20]))
def test_the_cells_cover_the_view_and_no_cell_lies_wholly_outside(view: View, size: int) -> None:
    cells = list(cells_over(view, size))
    assert min(south for south, _ in cells) <= view.south + ROUNDING
    assert max(south for south, _ in cells) + size >= view.north - ROUNDING
    assert min(west for _, west in cells) <= view.west + ROUNDING
    assert max(west for _, west in cells) + size >= view.east - ROUNDING
    for south, west in cells:
        assert south < view.north
        assert south + size > view.south
        assert west < view.east
        assert west + size > view.west


@given(views, st.sampled_from([5, 20]))
def test_every_name_is_one_of_the_grid_counted_from_the_south_west_corner(
    view: View, size: int
) -> None:
    for south, west in cells_over(view, size):
        home = west - turn_deg(west)
        assert (south + 90) % size == (home + 180) % size == 0
        assert -180 <= home < 180
        assert len(cell_name(south, home)) == 7


def test_names_carry_their_signs() -> None:
    assert cell_name(0, 0) == "+00+000"
    assert cell_name(-90, -180) == "-90-180"
    assert cell_name(85, 175) == "+85+175"


def test_no_cell_twice() -> None:
    cells = list(cells_over(View(-20.0, 170.0, 20.0, 200.0), 5))
    assert len(cells) == len(set(cells)) == 8 * 6
