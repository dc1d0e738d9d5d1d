"""The working of winds and of climbs: every line worked again from the numbers it shows."""

from __future__ import annotations

import itertools
import math
import re
from typing import Any

import pytest
from flights import aircraft, all_cruise, plan, wind

from plotter.flight.aircraft import Airspeed, VerticalRate
from plotter.flight.log import navigation_log
from plotter.flight.log_values import LogRow, NavigationLog
from plotter.flight.plan.values import LegNotes, WindsAloft
from plotter.flight.wind import Wind
from plotter.flight.working.answers import working
from plotter.flight.working.arithmetic import steps_of, wind_lines
from plotter.places.store import Store

NUMBER = r"(−?[0-9][0-9,]*(?:\.[0-9]+)?)"


def numbers(line: str) -> list[float]:
    return [float(one.replace("−", "-").replace(",", "")) for one in re.findall(NUMBER, line)]


def cruised(store: Store, **changes: Any) -> tuple[NavigationLog, LogRow]:
    """A log, and its first row of cruise alone: one that shares a top has several winds."""
    log = navigation_log(plan(route="KRST KDLH", **changes), store)
    return log, next(row for row in log.rows if {one.phase for one in row.flown} == {"cruise"})


def test_a_wind_between_two_levels_is_written_out(real_store: Store) -> None:
    """4,500 ft lies half-way from 3,000 to 6,000 ft: 240/15 and 270/25, by components."""
    log, row = cruised(real_store, cruise_altitudes_ft=(4500.0,))
    lower, upper, share, north, east = wind_lines(log, row)
    assert lower.startswith("3,000 ft: 240°T 15.0 kt is")
    assert upper.startswith("6,000 ft: 270°T 25.0 kt is")
    assert share.endswith("= 0.500 of the way up")
    for line, part in ((north, math.cos), (east, math.sin)):
        below, way, above, again, result = numbers(line)
        assert below == again
        assert result == pytest.approx(below + way * (above - below), abs=0.11)
        expected = (15.0 * part(math.radians(240.0)) + 25.0 * part(math.radians(270.0))) / 2.0
        assert result == pytest.approx(expected, abs=0.051)


def test_the_parts_written_out_make_the_wind_of_the_row(real_store: Store) -> None:
    log, row = cruised(real_store, cruise_altitudes_ft=(7500.0,))
    north, east = (numbers(line)[-1] for line in list(wind_lines(log, row))[-2:])
    blowing = row.triangle.wind
    assert math.hypot(north, east) == pytest.approx(blowing.speed_kt, abs=0.1)
    direction = math.degrees(math.atan2(east, north)) % 360.0
    assert direction == pytest.approx(blowing.from_true_deg, abs=0.5)


@pytest.mark.parametrize(
    "changes",
    [
        {"cruise_altitudes_ft": (2500.0,)},
        {"cruise_altitudes_ft": (10_500.0,), "aircraft": all_cruise()},
        {"cruise_altitudes_ft": (6000.0,)},
        {"legs": (LegNotes(1, wind=Wind(100.0, 9.0)),)},
        {"winds": ()},
        {"winds": (wind(240.0, 10.0),)},
    ],
    ids=["below", "above", "at a level", "typed", "none", "one"],
)
def test_where_nothing_lies_between_nothing_is_written(
    real_store: Store, changes: dict[str, Any]
) -> None:
    assert list(wind_lines(*cruised(real_store, **changes))) == []


def test_a_forecast_says_its_stations_instead(real_store: Store) -> None:
    text = (
        "VALID 041800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000\n"
        "FT  3000    6000    9000\nMSP 2215 2422+12 2530+06"
    )
    log, row = cruised(real_store, winds=(), winds_aloft=WindsAloft(text, ("MSP",)))
    assert list(wind_lines(log, row)) == []
    notes = working(log, row.number, "WIND").notes
    assert any(note.startswith("wind of MSP (") for note in notes)


def test_steps_of_a_climb_add_up_to_its_row(real_store: Store) -> None:
    log = navigation_log(plan(route="KRST KLSE"), real_store)
    climb = log.rows[0]
    lines = [numbers(line) for line in steps_of(climb)]
    assert len(lines) == len(climb.flown) > 3
    low, high, _, _, _, _, minutes, miles, fuel = zip(*lines, strict=True)
    assert list(low[1:]) == list(high[:-1])
    close = 0.005 * len(lines)
    assert sum(minutes) == pytest.approx(climb.ete_min, abs=close)
    assert sum(miles) == pytest.approx(climb.distance_nm, abs=close)
    assert sum(fuel) == pytest.approx(climb.fuel_used, abs=close)


def test_each_step_is_its_speed_times_its_time(real_store: Store) -> None:
    log = navigation_log(plan(route="KRST KLSE"), real_store)
    for row in log.rows:
        for line in steps_of(row):
            low, high, _, _, _, made, minutes, miles, _ = numbers(line)
            assert miles == pytest.approx(made * minutes / 60.0, abs=0.02)
            assert minutes == pytest.approx(abs(high - low) / 500.0, abs=0.006)


def test_a_row_of_one_stretch_has_no_steps(real_store: Store) -> None:
    _, row = cruised(real_store)
    assert steps_of(row) == ()


def test_the_flow_in_the_working_is_the_one_that_was_given(real_store: Store) -> None:
    """Not worked back from the result it is to explain."""
    log, row = cruised(real_store)
    (flow, ete) = working(log, row.number, "USED").put_in
    assert flow.value == 8.5
    assert isinstance(ete.value, float)
    assert row.fuel_used == pytest.approx(8.5 * ete.value / 60.0)


def test_no_figure_of_a_working_is_a_negative_nothing(real_store: Store) -> None:
    along = plan(route="KRST KLSE", winds=(wind(271.9, 20.0),), aircraft=aircraft())
    log = navigation_log(along, real_store)
    for row, column in itertools.product(log.rows, ("WCA", "TH", "GS", "CH", "MH")):
        for line in working(log, row.number, column).arithmetic:
            assert not re.search(r"−0(\.0+)?(?![0-9.])", line), line


def test_times_of_a_working_are_rounded_as_the_row_is(real_store: Store) -> None:
    log = navigation_log(plan(), real_store)
    for row in log.rows:
        made = working(log, row.number, "ETA")
        assert isinstance(made.result, str)
        assert made.arithmetic[-1].endswith(made.result[11:])


def test_a_calibrated_climb_shows_how_its_airspeed_grows(real_store: Store) -> None:
    climbing = aircraft(climb=VerticalRate(500.0, Airspeed(80.0, "calibrated"), 12.0))
    log = navigation_log(plan(aircraft=climbing), real_store)
    speeds = [numbers(line)[4] for line in working(log, 1, "TAS").arithmetic[1:]]
    assert speeds == sorted(speeds)
    assert speeds[0] > 80.0
