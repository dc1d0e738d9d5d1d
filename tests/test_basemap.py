"""The base under a route: which tiers and cells, cut to the view, and how much they weigh."""

from __future__ import annotations

import json

import base_cells as cells
import plots
import pytest

from plotter.maps import base
from plotter.maps.base import COARSE, FINE, WORLD, Basemap, Layer, basemap_for
from plotter.maps.drawing import drawn_legs, route_bounds
from plotter.maps.packing import decoded
from plotter.maps.view import view_round
from plotter.route.plotting import Plot


def tiers(made: Basemap) -> list[str]:
    return [layer.tier.name for layer in made.layers]


def shapes(layer: Layer, name: str) -> list[list[tuple[float, float]]]:
    """The (latitude, unrolled longitude) points of all shapes of one kind."""
    unit = layer.tier.unit_deg
    found = []
    for piece in layer.pieces:
        for text in dict(piece.layers).get(name, ()):
            flat, x, y, points = decoded(text), 0, 0, []
            for dx, dy in zip(flat[::2], flat[1::2], strict=True):
                x, y = x + dx, y + dy
                points.append((y * unit, x * unit + piece.shift_deg))
            found.append(points)
    return found


def test_a_short_route_has_the_world_then_coarse_round_it_then_fine() -> None:
    assert tiers(basemap_for(cells.prairie(), plots.short().route)) == ["world", "coarse", "fine"]


def test_a_long_route_has_no_fine_tier() -> None:
    assert tiers(basemap_for(cells.prairie(), plots.far_north().route)) == ["world", "coarse"]


def test_a_route_round_half_the_earth_has_the_world_alone() -> None:
    ends = [plots.at_point("A", 10.0, -100.0), plots.at_point("B", 15.0, 60.0)]
    assert tiers(basemap_for(cells.prairie(), plots.plot_of(ends).route)) == ["world"]


@pytest.mark.parametrize("plot", [plots.short(), plots.mountain(), plots.across_180()])
def test_the_fine_tier_fills_the_whole_view_that_any_screen_may_show(plot: Plot) -> None:
    made = basemap_for(cells.prairie(), plot.route)
    assert made.layers[-1].tier is FINE
    assert made.layers[-1].box == view_round(route_bounds(drawn_legs(plot.route)))


def test_the_coarse_tier_reaches_well_beyond_the_fine_one() -> None:
    _, coarse, fine = basemap_for(cells.prairie(), plots.short().route).layers
    assert coarse.box
    assert fine.box
    assert coarse.box.east - coarse.box.west == pytest.approx(
        base.AROUND * (fine.box.east - fine.box.west)
    )


def test_every_fine_shape_is_cut_to_the_view() -> None:
    fine = basemap_for(cells.prairie(), plots.short().route).layers[-1]
    box = fine.box
    assert box
    slack = 2 * FINE.unit_deg
    for name in ("land", "lake"):
        for ring in shapes(fine, name):
            for latitude, longitude in ring:
                assert box.south - slack <= latitude <= box.north + slack
                assert box.west - slack <= longitude <= box.east + slack


def test_lakes_and_rivers_come_along() -> None:
    fine = basemap_for(cells.prairie(), plots.short().route).layers[-1]
    (lake,) = shapes(fine, "lake")
    assert sorted(lake)[0] == pytest.approx((44.1, -92.4))
    (river,) = shapes(fine, "river")
    assert river[1] == pytest.approx((44.3, -92.6))


def test_each_piece_names_the_lines_it_was_cut_along() -> None:
    fine = basemap_for(cells.prairie(), plots.short().route).layers[-1]
    for piece in fine.pieces:
        assert piece.x[1] - piece.x[0] == piece.y[1] - piece.y[0] == 5000
        assert piece.x[0] % 5000 == piece.y[0] % 5000 == 0


def test_across_180_the_far_side_is_moved_beyond_it_and_islands_meet_themselves() -> None:
    made = basemap_for(cells.atoll(), plots.across_180().route)
    land = shapes(made.layers[-1], "land")
    longitudes = [longitude for ring in land for _, longitude in ring]
    assert min(longitudes) >= 178.0
    assert 180.5 < max(longitudes) < 181.5
    halves = [ring for ring in land if any(abs(longitude - 180) < 0.01 for _, longitude in ring)]
    assert len(halves) == 2
    assert max(lon for _, lon in halves[0]) > min(lon for _, lon in halves[1])  # they overlap
    assert [town[2] for town in made.towns] == [pytest.approx(180.8)]


def test_the_world_loses_its_small_lakes_only_where_something_better_lies_over_it() -> None:
    bare = basemap_for(cells.prairie(), plots.short().route).layers[0]
    assert "lake" not in dict(bare.pieces[0].layers)
    ends = [plots.at_point("A", 10.0, -100.0), plots.at_point("B", 15.0, 60.0)]
    whole = basemap_for(cells.prairie(), plots.plot_of(ends).route).layers[0]
    assert "lake" in dict(whole.pieces[0].layers)


def test_the_world_is_drawn_in_the_turn_the_route_is_in() -> None:
    eastward = [plots.at_point("A", -16.0, 175.0), plots.at_point("B", -16.0, -175.0)]
    for points, turns in ((eastward, {0, 360}), (eastward[::-1], {0, -360})):
        made = basemap_for(cells.atoll(), plots.plot_of(points).route)
        assert made.layers[0].pieces[0].shift_deg in turns
        assert {piece.shift_deg for piece in made.layers[-1].pieces} == turns


def test_coast_too_rich_for_the_fine_tier_falls_back_to_coarse_with_a_fine_middle(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    source = cells.prairie()
    whole = basemap_for(source, plots.short().route).layers[-1].weight
    monkeypatch.setitem(base.MOST_LETTERS, FINE, whole - 1)
    made = basemap_for(source, plots.short().route)
    assert tiers(made)[:2] == ["world", "coarse"]
    assert all(layer.weight < whole for layer in made.layers if layer.tier is FINE)


def test_a_store_without_a_base_still_gives_a_map() -> None:
    made = basemap_for(cells.Cells(), plots.short().route)
    assert all(not piece.layers for layer in made.layers for piece in layer.pieces)
    assert made.towns == ()


def test_only_cells_that_exist_are_asked_for() -> None:
    source = cells.prairie()
    for plot in (plots.short(), plots.across_180(), plots.far_north(), plots.rhumb()):
        basemap_for(source, plot.route)
    for tier, cell in source.asked:
        if cell == "world":
            continue
        south, west = int(cell[:3]), int(cell[3:])
        size = {"fine": FINE, "coarse": COARSE}.get(tier, FINE).cell_deg
        assert (south + 90) % size == (west + 180) % size == 0
        assert -90 <= south < 90
        assert -180 <= west < 180


def test_as_json_is_plain_and_repeats() -> None:
    made = basemap_for(cells.prairie(), plots.short().route)
    text = json.dumps(made.as_json())
    assert text == json.dumps(basemap_for(cells.prairie(), plots.short().route).as_json())
    assert json.loads(text)["layers"][0]["unit"] == WORLD.unit_deg


def test_an_empty_base_is_valid() -> None:
    assert Basemap().as_json() == {"layers": [], "towns": ()}
