"""Records of a plot: one key set for every table, cleaned names, unrounded figures."""

from __future__ import annotations

import awkward
import plots
import pytest

from plotter.formats.names import shown_name
from plotter.formats.records import checkpoint_records, leg_records, point_records
from plotter.route.plotting import Plot


@pytest.mark.parametrize("build", plots.GOLDEN.values(), ids=plots.GOLDEN)
def test_one_record_each_in_order_with_unrounded_figures(build: type[Plot]) -> None:
    plot = build()
    legs, points = list(leg_records(plot)), list(point_records(plot))
    marks = list(checkpoint_records(plot))
    assert [row["distance_nm"] for row in legs] == [leg.distance_nm for leg in plot.route.legs]
    assert [row["name"] for row in points] == [point.name for point in plot.route.waypoints]
    assert [row["distance_from_start_nm"] for row in marks] == [
        mark.distance_from_start_nm for mark in plot.checkpoints
    ]
    for rows in (legs, points, marks):
        assert [row["number"] for row in rows] == list(range(1, len(rows) + 1))


def test_gone_and_to_go_add_up_and_end_at_nought() -> None:
    plot = plots.mountain()
    points = list(point_records(plot))
    for row in points:
        total = row["distance_from_start_nm"] + row["distance_to_go_nm"]
        assert total == pytest.approx(plot.route.distance_nm)
    assert (points[0]["distance_from_start_nm"], points[-1]["distance_to_go_nm"]) == (0.0, 0.0)


def test_courses_are_below_360() -> None:
    plot = plots.plot_of(
        [plots.at_point("A", 10.0, 20.0), plots.at_point("B", 11.0, 20.0)], variations=(-0.0,)
    )
    (leg,) = leg_records(plot)
    assert (leg["true_course_deg"], leg["magnetic_course_deg"]) == (0.0, 0.0)


def test_names_are_cleaned_and_what_a_place_is_called_is_kept() -> None:
    hostile = plots.named(*awkward.NAMES.values())
    assert [row["name"] for row in point_records(hostile)] == list(
        map(shown_name, awkward.NAMES.values())
    )
    first, second, _ = point_records(plots.short())
    assert (first["ident"], first["place"], first["elevation_ft"]) == (
        "XDMA",
        "Demo Prairie Field",
        1317.0,
    )
    assert (second["ident"], second["place"], second["elevation_ft"]) == ("", "", None)
    assert second["note"] == "invented for the demo"
