"""What holds of every change to a typed route, whatever was typed."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from plotter.route.editing import (
    inserted,
    moved,
    point_count,
    points_of,
    removed,
    reordered,
    turned_back,
)

WORDS = st.sampled_from(
    ["KAAA", "KBBB", "BARN=44.1,-92.5", "'44 30 N 092 15 W'", "DCT", "N0105A055", "4620N07805W"]
)
ROUTES = st.lists(WORDS, max_size=9).map(" ".join)
ANY_TEXT = st.text(max_size=60)


@given(ROUTES | ANY_TEXT)
def test_turned_back_twice_is_the_same(route: str) -> None:
    assert turned_back(turned_back(route)) == route
    assert points_of(turned_back(route)) == points_of(route)[::-1]


@given(ROUTES, st.data())
def test_a_point_put_in_and_taken_out_leaves_the_points(route: str, data: st.DataObject) -> None:
    index = data.draw(st.integers(0, point_count(route)))
    longer = inserted(route, index, "KNEW")
    assert points_of(longer)[index] == "KNEW"
    assert points_of(removed(longer, index)) == points_of(route)


@given(ROUTES.filter(point_count), st.data())
def test_moving_changes_one_point_only(route: str, data: st.DataObject) -> None:
    index = data.draw(st.integers(0, point_count(route) - 1))
    before, after = points_of(route), points_of(moved(route, index, "KNEW"))
    assert after[:index] == before[:index]
    assert after[index + 1 :] == before[index + 1 :]
    assert after[index].endswith("KNEW")


@given(ROUTES, st.randoms(use_true_random=False))
def test_an_order_can_be_put_back(route: str, random: object) -> None:
    order = list(range(point_count(route)))
    random.shuffle(order)  # type: ignore[attr-defined]
    back = [order.index(number) for number in range(len(order))]
    assert reordered(reordered(route, order), back) == route
