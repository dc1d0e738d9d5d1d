"""The words that go into every file."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import awkward
import plots

from plotter import wording
from plotter.formats.descriptions import (
    caution_line,
    checkpoint_line,
    flight_line,
    leg_line,
    point_line,
    short_line,
    standing_lines,
)
from plotter.messages import literal
from plotter.route.values import Caution


def test_standing_lines_hold_the_fixed_ones_the_routes_own_and_the_dates() -> None:
    lines = standing_lines(plots.short())
    assert lines[:3] == list(wording.STANDING)
    assert lines[3:5] == [
        "CHECK XDMA: Check XDMA on the chart. (two datasets)",
        "NOTE: Every name on this route is invented.",
    ]
    assert lines[5] == "Plotted for 2026-06-01 at 4,500 ft, WGS 84, geodesic legs, 51.6 NM in all."
    assert "2025-12-02" in lines[6]


def test_a_flight_has_the_date_of_its_own_clock_and_utcs_where_that_differs() -> None:
    plot = plots.short()
    assert flight_line(replace(plot, local_date=plot.date)) == flight_line(plot)
    before = replace(plot, local_date=plot.date - dt.timedelta(days=1))
    assert flight_line(before).startswith("Plotted for 2026-05-31 (2026-06-01 in UTC) at")


def test_a_leg_and_a_checkpoint_are_said_as_a_pilot_reads_them() -> None:
    plot = plots.short()
    assert leg_line(plot.route.legs[0]) == "Leg 1: 333°T, variation 1°W, 334°M, 23.6 NM"
    assert checkpoint_line(plot.checkpoints[0]) == "Leg 1: 10.0 NM gone, 41.6 NM to go"


def test_a_point_says_its_place_its_elevation_and_its_note() -> None:
    first, second, last = plots.short().route.waypoints
    assert point_line(first) == "Demo Prairie Field; elevation 1,317 ft"
    assert point_line(second) == "invented for the demo"
    assert point_line(last) == "Demo River Airport; elevation not in the data"
    assert point_line(plots.at_point("bare", 1.0, 2.0)) == ""


def test_hostile_text_stays_on_one_line() -> None:
    for text in awkward.NAMES.values():
        lines = (
            caution_line(Caution("NOTE", literal("a", text), text, text)),
            point_line(plots.at_point("a", 1.0, 2.0, note=text)),
        )
        for line in lines:
            assert line == " ".join(line.split())
            assert line.encode("utf-8").decode("utf-8") == line


def test_one_line_for_a_small_screen_has_a_name_cut_short_and_counts_every_stop() -> None:
    plot = plots.short()
    stop = Caution("STOP", literal("closed", "KAAA is closed."), where="KAAA")
    assert "STOP" not in short_line(plot)
    line = short_line(replace(plot, cautions=(stop, *plot.cautions)), "Old mill " * 20)
    assert "STOP: 1, read the cautions." in line
    assert len(line) < 160
    assert "\n" not in line
