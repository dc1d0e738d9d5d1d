"""Cutting to a box, held against shapely, which the program itself never uses for it."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from plotter.maps.packing import (
    Box,
    Point,
    clip_line,
    clip_ring,
    clipped,
    packed,
    relation,
    unpacked,
)

BOX: Box = (0, 0, 100, 100)
coordinate = st.integers(-150, 250)
points = st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=24)


@given(points)
def test_packing_is_undone_by_unpacking(found: list[Point]) -> None:
    single = [p for i, p in enumerate(found) if i == 0 or p != found[i - 1]]
    assert unpacked(packed(found)) == single


@given(points)
def test_relation_is_never_inside_for_a_shape_that_leaves_the_box(found: list[Point]) -> None:
    where = relation(packed(found), BOX)
    inside = all(0 <= x <= 100 and 0 <= y <= 100 for x, y in found)
    assert (where == "inside") == inside
    if where == "outside":
        hull = shapely.box(*shapely.MultiPoint(found).bounds)
        assert hull.intersection(shapely.box(*BOX)).area == 0


@given(points)
def test_a_cut_ring_lies_in_the_box(found: list[Point]) -> None:
    assert all(0 <= x <= 100 and 0 <= y <= 100 for x, y in clip_ring(found, BOX))


@given(points)
def test_a_cut_ring_fills_what_the_ring_fills_in_the_box(found: list[Point]) -> None:
    large = [(1000 * x, 1000 * y) for x, y in found]
    ring = shapely.Polygon(large)
    if not ring.is_valid or ring.area == 0:
        return
    box: Box = (0, 0, 100_000, 100_000)
    expected = ring.intersection(shapely.box(*box)).area
    # A crossing is rounded to a whole unit, so each cut side may turn by half a unit at its end.
    slack = len(found) * 0.5 * ring.length
    assert _area(clip_ring(large, box)) == pytest.approx(expected, abs=slack, rel=1e-9)


def _area(ring: list[Point]) -> float:
    turned = zip(ring, [*ring[1:], *ring[:1]], strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in turned)) / 2


@given(points)
def test_a_ring_within_the_box_is_left_alone(found: list[Point]) -> None:
    small = [(x % 100, y % 100) for x, y in found]
    assert clip_ring(small, BOX) == small


@given(points)
def test_cut_lines_keep_all_that_lies_in_the_box(found: list[Point]) -> None:
    whole = shapely.LineString(found)
    runs = [shapely.LineString(run) for run in clip_line(found, BOX)]
    kept = shapely.union_all(runs) if runs else shapely.LineString()
    inside = whole.intersection(shapely.box(*BOX))
    assert inside.length == pytest.approx(kept.intersection(shapely.box(*BOX)).length, abs=1e-6)


def test_a_ring_round_the_whole_box_becomes_the_box() -> None:
    around = [(-50, -50), (150, -50), (150, 150), (-50, 150)]
    assert _area(clip_ring(around, BOX)) == 100 * 100


def test_a_shape_far_away_leaves_nothing() -> None:
    assert clipped(packed([(200, 200), (210, 200), (210, 210)]), BOX, area=True) == []
    assert clipped(packed([(200, 200), (210, 200)]), BOX, area=False) == []


def test_what_lies_inside_is_handed_on_untouched() -> None:
    flat = packed([(10, 10), (20, 10), (20, 20)])
    assert clipped(flat, BOX, area=True)[0] is flat


def test_a_line_that_leaves_and_returns_is_cut_in_two() -> None:
    line = [(50, 50), (150, 50), (300, 50), (300, 80), (150, 80), (50, 80)]
    assert clip_line(line, BOX) == [[(50, 50), (150, 50)], [(150, 80), (50, 80)]]
