"""CSV: flown order, units, and no cell that a spreadsheet would run."""

from __future__ import annotations

import csv
import io
import re

import awkward
import plots
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter import wording
from plotter.formats.names import clean_name
from plotter.formats.table import COLUMNS, guarded, table, unguarded
from plotter.route.plotting import Plot


def rows(plot: Plot) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(table(plot).decode("utf-8"), newline="")))


def test_rows_are_in_the_order_they_are_flown() -> None:
    plot = plots.short()
    seen = [(row["row"], row["number"], row["leg"]) for row in rows(plot) if row["row"] != "note"]
    assert seen == [
        ("turning point", "1", ""),
        ("leg", "1", "1"),
        ("checkpoint", "1", "1"),
        ("checkpoint", "2", "1"),
        ("turning point", "2", ""),
        ("leg", "2", "2"),
        ("checkpoint", "3", "2"),
        ("checkpoint", "4", "2"),
        ("checkpoint", "5", "2"),
        ("turning point", "3", ""),
    ]
    gone = [
        float(row["distance_from_start_nm"]) for row in rows(plot) if row["distance_from_start_nm"]
    ]
    assert gone == sorted(gone)


def test_every_row_has_every_column_and_rfc_4180_line_ends() -> None:
    text = table(plots.mountain()).decode("utf-8")
    assert text.startswith(",".join(COLUMNS) + "\r\n")
    assert text.endswith("\r\n")
    assert re.sub("\r\n", "", text).count("\n") == 0
    assert {len(row) for row in csv.reader(io.StringIO(text, newline=""))} == {len(COLUMNS)}


def test_legs_have_the_figures_of_the_plot() -> None:
    plot = plots.mountain()
    legs = [row for row in rows(plot) if row["row"] == "leg"]
    for row, leg in zip(legs, plot.route.legs, strict=True):
        assert (row["start"], row["end"]) == (leg.start.name, leg.end.name)
        assert float(row["distance_nm"]) == pytest.approx(leg.distance_nm, abs=5.1e-4)
        assert float(row["true_course_deg"]) == pytest.approx(leg.true_course_deg, abs=5.1e-3)
        assert float(row["variation_deg_east"]) == leg.variation.degrees_east
        assert float(row["magnetic_course_deg"]) == pytest.approx(
            leg.magnetic_course_deg, abs=5.1e-3
        )


def test_points_have_the_positions_and_distances_of_the_plot() -> None:
    plot = plots.across_180()
    read = rows(plot)
    turns = [row for row in read if row["row"] == "turning point"]
    for row, point in zip(turns, plot.route.waypoints, strict=True):
        assert float(row["latitude_deg"]) == round(point.position.latitude_deg, 6)
        assert float(row["longitude_deg"]) == round(point.position.longitude_deg, 6)
    marks = [row for row in read if row["row"] == "checkpoint"]
    for row, mark in zip(marks, plot.checkpoints, strict=True):
        assert float(row["longitude_deg"]) == round(mark.position.longitude_deg, 6)
        assert float(row["distance_to_go_nm"]) == pytest.approx(mark.distance_to_go_nm, abs=5.1e-4)
    assert [turns[-1]["distance_to_go_nm"], turns[0]["distance_from_start_nm"]] == [
        "0.000",
        "0.000",
    ]
    assert turns[0]["elevation_ft"] == "20"
    assert turns[1]["elevation_ft"] == ""


def test_notes_carry_cautions_and_data_dates() -> None:
    plot = plots.short()
    notes = [row["note"] for row in rows(plot) if row["row"] == "note"]
    assert notes[:3] == list(wording.STANDING)
    assert any("Check XDMA on the chart." in note for note in notes)
    for date in (plot.data.airports, plot.data.navaids, plot.data.magnetic_model_valid_to):
        assert date in notes[-1]


def test_hostile_names_are_read_back() -> None:
    plot = plots.named(*awkward.NAMES.values())
    turns = [row for row in rows(plot) if row["row"] == "turning point"]
    names = [unguarded(row["name"]) for row in turns]
    assert names == [clean_name(name) for name in awkward.NAMES.values()]


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_no_cell_starts_a_formula_whichever_way_a_spreadsheet_parts_the_line(
    delimiter: str,
) -> None:
    text = table(plots.named(*awkward.NAMES.values())).decode("utf-8")
    for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter):
        for cell in row:
            start = cell.lstrip(' "')[:1]
            assert start not in ("=", "+", "@", "＝", "＋", "＠", "－")
            assert start != "-" or re.fullmatch(r"-\d+(\.\d+)?(,.*)?", cell, re.S)


@pytest.mark.parametrize("risky", [*"=+-@'", *"＝＋－＠"])
def test_each_start_of_a_formula_is_guarded_at_every_start_of_a_cell(risky: str) -> None:
    """Also in the full width that East Asian keyboards type; spreadsheets take it for the same."""
    assert guarded(f"{risky}A1") == f"'{risky}A1"
    assert guarded(f"mill; {risky}A1") == f"mill; '{risky}A1"
    assert guarded(f"mill {risky}A1") == f"mill {risky}A1"


@given(st.text(alphabet="'=+-@＝＋－＠; ab", max_size=12))
def test_guarding_is_reversible(text: str) -> None:
    assert unguarded(guarded(text)) == text


def test_ordinary_names_are_left_alone() -> None:
    assert guarded("KRST, the old mill; 5-7") == "KRST, the old mill; 5-7"
