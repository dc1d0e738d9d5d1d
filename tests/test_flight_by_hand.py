"""The flight worked by hand in the documentation: every number of it worked again.

Three witnesses must agree: the page as it is printed, the same flight worked by
:mod:`by_hand` (sines, cosines, a geodesic of GeographicLib), and the log.
"""

from __future__ import annotations

import datetime as dt
import itertools
import tomllib
from pathlib import Path
from typing import Any

import pytest
from by_hand import Row, Sector, Stretch, Wind, cut_at, leg
from flights import printed_rows
from worked import Equation, boxes, clock_lines, equations, figure, numbers, tables

from plotter.flight.columns import COLUMNS
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.read import read_plan
from plotter.places.store import Store

PAGE = Path(__file__).parent.parent / "plotter/guide/tutorial/worked-by-hand.md"
TEXT = PAGE.read_text(encoding="utf-8")
EQUATIONS = equations(TEXT)
TABLES = tables(TEXT)
((_, PLAN),) = boxes(TEXT, "toml")
GIVEN: dict[str, Any] = tomllib.loads(PLAN)
# Numbers of the method, not of the flight: minutes an hour, half a turn, the mean of two, the
# height of a pattern and the offset of the clock, both said in the text.
METHOD = {2.0, 5.0, 60.0, 180.0, 1000.0}


def rounded(value: float, printed: str) -> bool:
    """Whether a value, rounded as it is printed, gives what is printed."""
    shown = figure(printed)
    return abs(value - shown.value) <= 0.5 * shown.last_place + 1e-9


@pytest.fixture(scope="module")
def log(real_store: Store) -> NavigationLog:
    return navigation_log(read_plan(PLAN, "flight.toml"), real_store)


def table_with(*headings: str) -> list[list[dict[str, str]]]:
    return [table for table in TABLES if set(headings) <= table[0].keys()]


((POINTS), (LEGS)) = table_with("latitude")[0], table_with("MC", "leg")[0]
LINES = [
    leg(one, other)
    for one, other in itertools.pairwise(
        (figure(row["latitude"]).value, figure(row["longitude"]).value) for row in POINTS
    )
]
ELEVATIONS = [figure(row["elevation, ft"]).value for row in POINTS]


def sector(first: int, last: int) -> Sector:
    """A sector over some of the legs, with what the plan on the page gives."""
    plane = GIVEN["aircraft"]
    ends = itertools.accumulate(length for length, _ in LINES[first:last])
    return Sector(
        legs=[(end, course) for end, (_, course) in zip(ends, LINES[first:last], strict=True)],
        levels=[
            (wind["altitude_ft"], Wind(wind["from_true_deg"], wind["speed_kt"]))
            for wind in GIVEN["wind"]
        ],
        field=ELEVATIONS[first],
        cruise=GIVEN["flight"]["cruise_altitude_ft"],
        pattern=ELEVATIONS[last] + 1000.0,
        up=tuple(
            plane[f"climb_{key}"] for key in ("rate_fpm", "true_airspeed_kt", "fuel_per_hour")
        ),
        level=(plane["true_airspeed_kt"], plane["cruise_fuel_per_hour"]),
        down=tuple(
            plane[f"descent_{key}"] for key in ("rate_fpm", "true_airspeed_kt", "fuel_per_hour")
        ),
    )


SECTORS = [sector(0, 2), sector(2, 3)]
FLOWN = [one.fly() for one in SECTORS]


def rows_by_hand() -> list[list[Row]]:
    """The rows of each sector, cut at turning points, checkpoints, TOC and TOD."""
    made, before = [], 0.0
    every = GIVEN["flight"]["checkpoints_every_nm"]
    for one, flown in zip(SECTORS, FLOWN, strict=True):
        length = one.legs[-1][0]
        checkpoints = [k * every - before for k in range(1, 10)]
        changes = [b.start for a, b in itertools.pairwise(flown) if a.phase != b.phase]
        ends = [end for end, _ in one.legs]
        marks = [0.0, *ends, *(at for at in checkpoints if 0.0 < at < length), *changes]
        made.append([Row(row) for row in cut_at(flown, sorted(marks))])
        before += length
    return made


ROWS = rows_by_hand()
ALL_ROWS = [row for rows in ROWS for row in rows]


@pytest.mark.parametrize("one", EQUATIONS, ids=lambda one: f"line {one.line}, {one.label}")
def test_every_equation_holds(one: Equation) -> None:
    assert one.worked == pytest.approx(one.result.value, abs=one.tolerance)


def test_every_number_put_in_was_given_or_found_above() -> None:
    lines = TEXT.splitlines()
    for one in EQUATIONS:
        known = METHOD | numbers("\n".join(lines[: one.line - 1]))
        unknown = numbers(one.expression) - known
        assert not unknown, f"line {one.line}: {unknown} come from nowhere"


def test_every_clock_line_holds() -> None:
    found = clock_lines(TEXT)
    assert len(found) == 6
    for before, added, after in found:
        assert before + added == pytest.approx(after, abs=1.0)


def test_the_points_are_those_of_the_data(log: NavigationLog) -> None:
    assert [row["point"] for row in POINTS] == GIVEN["flight"]["route"].split()
    for row, point in zip(POINTS, log.plot.route.waypoints, strict=True):
        assert rounded(point.position.latitude_deg, row["latitude"])
        assert rounded(point.position.longitude_deg, row["longitude"])
        assert point.elevation_ft is not None
        assert rounded(point.elevation_ft, row["elevation, ft"])


def test_courses_distances_and_variation(log: NavigationLog) -> None:
    for row, (length, course), own in zip(LEGS, LINES, log.plot.route.legs, strict=True):
        assert rounded(length, row["NM"])
        assert rounded(course, row["TC"])
        assert length == pytest.approx(own.distance_nm, abs=1e-6)
        assert course == pytest.approx(own.true_course_deg, abs=1e-6)
        assert rounded(own.variation.degrees_east, row["VAR"])
        assert rounded(own.magnetic_course_deg, row["MC"])


STEP_TABLES = [(name, table) for table in TABLES for name in table[0] if name.endswith("from, ft")]


@pytest.mark.parametrize(("name", "table"), STEP_TABLES, ids=[name for name, _ in STEP_TABLES])
def test_every_step_of_climb_and_descent(name: str, table: list[dict[str, str]]) -> None:
    phase, point = name.removesuffix(": from, ft").split()[::2]
    flown = FLOWN[0 if (phase, point) in (("climb", "KSTP"), ("descent", "KRGK")) else 1]
    steps = [one for one in flown if one.phase == phase]
    assert len(steps) == len(table)
    for row, step in zip(table, steps, strict=True):
        check_step(row, name, step)


def check_step(row: dict[str, str], name: str, step: Stretch) -> None:
    found = {
        name: step.low,
        "to, ft": step.high,
        "TC": step.course,
        "wind from": step.wind.from_deg,
        "kt": step.wind.kt,
        "WCA": step.wca,
        "GS": step.gs,
        "min": step.minutes,
        "NM": step.nm,
        "so far, NM": step.end,
    }
    assert found.keys() == row.keys()
    for heading, value in found.items():
        assert rounded(value, row[heading]), heading


def test_the_log_is_the_flight_worked_by_hand(log: NavigationLog) -> None:
    """Unrounded, to the last digits a computer keeps."""
    assert len(log.rows) == len(ALL_ROWS)
    for row, hand in zip(log.rows, ALL_ROWS, strict=True):
        triangle = row.triangle
        assert row.distance_nm == pytest.approx(hand.nm, abs=1e-6)
        assert row.ete_min == pytest.approx(hand.minutes, abs=1e-6)
        assert row.fuel_used == pytest.approx(hand.fuel, abs=1e-6)
        assert triangle.true_course_deg == pytest.approx(hand.course, abs=1e-6)
        assert triangle.wind.speed_kt == pytest.approx(hand.wind.kt, abs=1e-6)
        assert triangle.wind.from_true_deg == pytest.approx(hand.wind.from_deg, abs=1e-6)
        assert triangle.wind_correction_angle_deg == pytest.approx(hand.wca, abs=1e-6)
        assert triangle.groundspeed_kt == pytest.approx(hand.gs, abs=1e-6)


def test_the_rows_are_printed_as_they_were_worked(log: NavigationLog) -> None:
    (table,) = table_with("phase", "GS")
    for row, hand, own in zip(table, ALL_ROWS, log.rows, strict=True):
        assert (row["row"], row["to"]) == (str(own.number), own.end.name)
        assert row["phase"] == own.phase == hand.stretches[0].phase
        for heading, value in (
            ("NM", hand.nm),
            ("TC", hand.course),
            ("wind from", hand.wind.from_deg),
            ("kt", hand.wind.kt),
            ("WCA", hand.wca),
            ("GS", hand.gs),
            ("min", hand.minutes),
        ):
            assert rounded(value, row[heading]), heading


def card_correction(heading: float) -> float:
    """Between two headings of the card on the page, in proportion (none here lies across 360)."""
    pairs = sorted(
        (pair["for_magnetic_deg"] % 360, (pair["steer_deg"] - pair["for_magnetic_deg"] + 180) % 360)
        for pair in GIVEN["aircraft"]["compass_card"]
    )
    for (low, first), (high, last) in itertools.pairwise(pairs):
        if low <= heading <= high:
            return float(first - 180 + (last - first) * (heading - low) / (high - low))
    raise AssertionError(f"{heading} lies across north")


def test_headings_from_true_to_compass(log: NavigationLog) -> None:
    (table,) = table_with("DEV", "CH", "VAR", "MH")[:1]
    for row, hand, own in zip(table, ALL_ROWS, log.rows, strict=True):
        east = own.course.variation_deg_east
        true = hand.course + hand.wca
        correction = card_correction(true - east)
        compass = true - east + correction
        assert own.compass_heading_deg == pytest.approx(compass, abs=1e-6)
        for heading, value in (
            ("TC", hand.course),
            ("WCA", hand.wca),
            ("TH", true),
            ("VAR", east),
            ("MH", true - east),
            ("DEV", correction),
            ("CH", compass),
        ):
            assert rounded(value, row[heading]), heading


def test_times_and_fuel_row_by_row(log: NavigationLog) -> None:
    (table,) = table_with("elapsed, min")
    printed = iter(table)
    plane = GIVEN["aircraft"]
    left = plane["fuel_on_board"]
    clock = GIVEN["flight"]["departure"]
    for own, rows in zip(log.sectors, ROWS, strict=True):
        left -= plane["taxi_fuel"]
        elapsed = 0.0
        for hand, made in zip(rows, own.rows, strict=True):
            row = next(printed)
            elapsed, left = elapsed + hand.minutes, left - hand.fuel
            assert made.fuel_remaining == pytest.approx(left, abs=1e-6)
            assert made.elapsed_min == pytest.approx(elapsed, abs=1e-6)
            for heading, value in (
                ("min", hand.minutes),
                ("elapsed, min", elapsed),
                ("fuel used", hand.fuel),
                ("left", left),
            ):
                assert rounded(value, row[heading]), heading
            at = clock + dt.timedelta(minutes=elapsed, seconds=0.5)
            assert row["ETA"] == f"{at.astimezone(dt.UTC):%H:%M:%SZ}"
        clock += dt.timedelta(minutes=elapsed + GIVEN["stop"][0]["ground_min"])
        left += GIVEN["stop"][0]["fuel_added"]


def test_what_is_left_and_the_reserve_are_those_of_the_log(log: NavigationLog) -> None:
    found = {one.label: one.result.value for one in EQUATIONS}
    for own in log.sectors:
        field = own.end.name
        assert found[f"at take-off from {own.start.name}"] == pytest.approx(
            own.fuel.at_start - own.fuel.taxi, abs=0.005
        )
        assert found[f"left at {field}"] == pytest.approx(own.fuel.remaining, abs=0.005)
        assert found["reserve"] == own.reserve_fuel
        assert own.reserve.minutes == 30.0
        assert found[f"margin at {field}"] == pytest.approx(own.margin_fuel, abs=0.005)
        assert found[f"margin at {field} in time"] == pytest.approx(own.margin_min, abs=0.5)
        assert found[f"endurance from {own.start.name}"] == pytest.approx(
            own.fuel.endurance_min, abs=0.5
        )


def test_the_last_table_is_what_the_log_prints(log: NavigationLog) -> None:
    (table,) = table_with("ALT", "USED", "LEFT")
    by_heading = {column.heading: column for column in COLUMNS.values()}
    for row, own in zip(table, printed_rows(log), strict=True):
        assert (row.pop("row"), row.pop("to")) == (str(own.row.number), own.row.end.name)
        assert row == {heading: by_heading[heading].printed(own) for heading in row}
