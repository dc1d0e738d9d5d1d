"""A route made to fit a unit: split, thinned, named, rounded; and what cannot be made to fit."""

from __future__ import annotations

from itertools import pairwise
from xml.etree import ElementTree as ET

import plots
import pytest
import schemas
from examples import TIMES
from hypothesis import given, settings
from hypothesis import strategies as st

from plotter.earth.geodesic import beside, measure
from plotter.errors import InputError
from plotter.formats.gps_unit import fitted
from plotter.formats.gpx import NAMESPACE, gpx, gpx_cautions
from plotter.formats.unit_limits import Choices, UnitLimits
from plotter.messages import message, text
from plotter.route.plotting import Plot

N = {"g": NAMESPACE}
MANY = plots.many(40)


def unit(**limits: object) -> Choices:
    return Choices(unit=UnitLimits(**limits))  # type: ignore[arg-type]


def routes(plot: Plot, choices: Choices) -> list[tuple[str, list[str]]]:
    """The routes of the file written: each its name and the names of its points."""
    document = gpx(plot, choices)
    schemas.validate("gpx.xsd", document)
    return [
        (
            route.findtext("g:name", "", N),
            [point.findtext("g:name", "", N) for point in route.iterfind("g:rtept", N)],
        )
        for route in ET.fromstring(document).iterfind("g:rte", N)
    ]


def test_without_limits_nothing_changes() -> None:
    assert fitted(MANY, Choices()).changes == ()
    assert len(fitted(MANY, Choices()).parts) == 1


@settings(max_examples=40 * TIMES, deadline=None)
@given(legs=st.integers(1, 60), limit=st.integers(2, 30))
def test_parts_keep_to_the_limit_share_their_joints_and_lose_nothing(legs: int, limit: int) -> None:
    plot = plots.many(legs)
    parts = fitted(plot, unit(route_points=limit)).parts
    assert all(2 <= len(part) <= limit for part in parts)
    assert len(parts) == -(-legs // (limit - 1)), "no fewer parts would do"
    for before, after in pairwise(parts):
        assert before[-1] == after[0]
    sizes = [len(part) for part in parts]
    assert max(sizes) - min(sizes) <= 1
    names = [mark.name for mark in fitted(plot, unit(route_points=limit)).all]
    assert names == [point.name for point in plot.route.waypoints]


def test_parts_are_numbered_in_the_file_and_said() -> None:
    choices = unit(route_points=21)
    (first, one), (second, two) = routes(MANY, choices)
    assert (first, second) == ("many 1", "many 2")
    assert one[-1] == two[0] == "P20"
    (caution,) = gpx_cautions(MANY, choices)
    assert (caution.rank, caution.code) == ("CHECK", "unit-split")
    assert "1: P0 to P20, 21 points; 2: P20 to P40, 21 points" in caution.text


def test_numbers_stay_within_a_short_name() -> None:
    plot = plots.plot_of(
        [plots.at_point(f"P{i}", 44 + i / 10, -92) for i in range(4)], name="A long name"
    )
    assert [name for name, _ in routes(plot, unit(route_points=2, name_length=4))] == [
        "ALO1",
        "ALO2",
        "ALO3",
    ]


def test_too_many_parts_are_refused_with_what_to_do() -> None:
    with pytest.raises(InputError, match=r"needs 3 routes of 15 points.*add over=thin") as caught:
        gpx(MANY, unit(route_points=15, routes=2))
    assert caught.value.code == "unit"


def test_thinning_leaves_out_checkpoints_first() -> None:
    plot = plots.short()
    choices = Choices(gpx_checkpoints=True, unit=UnitLimits(route_points=3, over="thin"))
    fit = fitted(plot, choices)
    assert [mark.name for mark in fit.all] == ["XDMA", "Water tower", "XDMB"]
    assert [change.said.key for change in fit.changes] == ["unit-checkpoints"]


@settings(max_examples=30 * TIMES, deadline=None)
@given(limit=st.integers(2, 40))
def test_thinning_keeps_the_ends_the_order_and_the_limit_and_says_how_far_off(limit: int) -> None:
    fit = fitted(MANY, unit(route_points=limit, over="thin"))
    names = [mark.name for mark in fit.all]
    meant = [point.name for point in MANY.route.waypoints]
    assert len(names) == limit
    assert (names[0], names[-1]) == (meant[0], meant[-1])
    assert names == [name for name in meant if name in names]
    (change,) = fit.changes
    at = {point.name: point.position for point in MANY.route.waypoints}
    worst = 0.0
    for first, last in pairwise(names):
        gone = [at[name] for name in meant[meant.index(first) + 1 : meant.index(last)]]
        if gone:
            line = measure(at[first], at[last])
            worst = max(worst, *(abs(off) for _, off in beside(line, gone)))
    assert round(float(str(change.said["most_nm"])), 1) == round(worst, 1)
    assert (change.said["left_out"], change.said["points"]) == (41 - limit, 41)


def test_the_point_that_moves_the_line_least_goes_first() -> None:
    points = [
        plots.at_point("A", 44.0, -92.0),
        plots.at_point("Far", 45.0, -91.5),
        plots.at_point("Near", 44.51, -91.25),
        plots.at_point("D", 44.0, -91.0),
    ]
    fit = fitted(plots.plot_of(points), unit(route_points=3, over="thin"))
    assert [mark.name for mark in fit.all] == ["A", "Far", "D"]
    assert fit.all[1].lines == ("",), "the leg that was there is gone, and its words too"


def test_a_route_there_and_back_is_thinned_too() -> None:
    there, turn = plots.at_point("A", 44.0, -92.0), plots.at_point("B", 45.0, -92.0)
    fit = fitted(plots.plot_of([there, turn, there]), unit(route_points=2, over="thin"))
    assert [mark.name for mark in fit.all] == ["A", "A"]
    assert "B (60.0 NM off)" in text(fit.changes[0].said)


def test_waypoints_of_a_file() -> None:
    choices = Choices(gpx_as="track", gpx_checkpoints=True, unit=UnitLimits(waypoints=3))
    assert len(fitted(plots.short(), choices).all) == 3
    with pytest.raises(InputError, match="3 turning points and the unit takes 2"):
        fitted(plots.short(), Choices(unit=UnitLimits(waypoints=2)))
    thin = Choices(unit=UnitLimits(waypoints=2, over="thin"))
    assert [mark.name for mark in fitted(plots.short(), thin).all] == ["XDMA", "XDMB"]


def test_names_are_cut_and_said_once() -> None:
    fit = fitted(plots.short(), unit(name_length=6))
    assert [mark.name for mark in fit.all] == ["XDMA", "WATERT", "XDMB"]
    assert [change.said for change in fit.changes] == [
        message("unit-name", old="Water tower", new="WATERT")
    ]
    assert fit.all[1].lines[0] == "Water tower"


def test_any_letters_are_only_cut() -> None:
    plot = plots.named("Old mill north", "Old mill south", "Zürich")
    names = [mark.name for mark in fitted(plot, unit(name_length=8, letters="any")).all]
    assert names == ["Old mill", "Old mil2", "Zürich"]


@pytest.mark.parametrize("decimals", [2, 3, 4, 5])
def test_positions_are_rounded_and_by_how_much_is_said(decimals: int) -> None:
    choices = Choices(gpx_as="both", unit=UnitLimits(decimals=decimals))
    document = gpx(plots.across_180(), choices)
    schemas.validate("gpx.xsd", document)
    for point in ET.fromstring(document).iter():
        for value in (point.get("lat"), point.get("lon")):
            assert value is None or len(value.partition(".")[2]) == decimals
    (change,) = fitted(plots.short(), unit(decimals=decimals)).changes
    assert change.said["decimals"] == decimals


def test_a_rough_rounding_is_a_caution_a_fine_one_is_not() -> None:
    plot = plots.plot_of([plots.at_point("A", 44.00499, -92.0), plots.at_point("B", 45.0, -92.0)])
    assert [each.code for each in gpx_cautions(plot, unit(decimals=2))] == ["unit-decimals"]
    assert gpx_cautions(plot, unit(decimals=4)) == []


def test_elevations_are_left_out() -> None:
    choices = unit(elevations=False)
    assert b"<ele>" in gpx(plots.mountain())
    assert b"<ele>" not in gpx(plots.mountain(), choices)
    assert fitted(plots.mountain(), choices).changes[0].said.key == "unit-elevations"
