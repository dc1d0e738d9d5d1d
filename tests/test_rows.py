"""Rows between marks: which mark stays where two fall together, and the mean triangle."""

from __future__ import annotations

import datetime as dt
import itertools
from typing import Any

import pytest
from flights import aircraft, plan, printed_rows

from plotter.earth.position import Position
from plotter.flight.aircraft import Airspeed, VerticalRate
from plotter.flight.columns import COLUMNS
from plotter.flight.log import navigation_log
from plotter.flight.log_values import Mark, MarkKind
from plotter.flight.rows import in_order, part_name
from plotter.flight.sun_clock import iso_instant, local, zone_of
from plotter.places.store import Store
from plotter.route.values import Waypoint

HERE = Position(44.0, -92.0)


def mark(at_nm: float, name: str, kind: MarkKind = "checkpoint") -> Mark:
    return Mark(at_nm, name, kind, HERE)


def test_marks_stand_in_order_and_the_first_given_stays() -> None:
    given = [mark(0.0, "A"), mark(10.0, "B"), mark(9.9999999, "TOC"), mark(4.0, "C")]
    assert [one.name for one in in_order(given)] == ["A", "C", "B"]


def test_marks_a_little_apart_both_stay() -> None:
    assert len(in_order([mark(10.0, "A"), mark(10.00001, "B")])) == 2


def test_a_climb_through_one_wind_has_the_airspeed_it_was_given(real_store: Store) -> None:
    one_wind = plan(winds=plan().winds[:1])
    row = navigation_log(one_wind, real_store).rows[0]
    assert len(row.flown) > 5
    assert row.triangle.true_airspeed_kt == pytest.approx(80.0)
    assert row.triangle.wind.speed_kt == pytest.approx(15.0)


def test_a_calibrated_climb_speed_grows_with_height(real_store: Store) -> None:
    climbing = VerticalRate(500.0, Airspeed(80.0, "calibrated"), 12.0)
    made = navigation_log(plan(aircraft=aircraft(climb=climbing)), real_store)
    speeds = [one.triangle.true_airspeed_kt for one in made.rows[0].flown]
    assert speeds == sorted(speeds)
    assert speeds[0] > 80.0


def test_columns_print_as_the_trade_does(real_store: Store) -> None:
    row = printed_rows(navigation_log(plan(), real_store))[0]
    printed = {key: column.printed(row) for key, column in COLUMNS.items()}
    assert printed["true_course_deg"] == "092"
    assert printed["variation_deg_east"] == "1°W"
    assert printed["wind_correction_angle_deg"] == "5R"
    assert printed["ete_min"] == "0:06"
    assert printed["eta"] == "09:06"
    assert float(printed["fuel_used"]) >= row.row.fuel_used
    assert float(printed["fuel_remaining"]) <= row.row.fuel_remaining


def test_clocks_follow_zone_daylight_saving_and_midnight() -> None:
    # In Chicago 01:59 CST is followed by 03:00 CDT on 8 March 2026 (US Energy Policy Act 2005).
    before = dt.datetime(2026, 3, 8, 7, 59, tzinfo=dt.UTC)
    assert f"{local(before, 'America/Chicago'):%H:%M %Z}" == "01:59 CST"
    after = before + dt.timedelta(minutes=1)
    assert f"{local(after, 'America/Chicago'):%H:%M %Z}" == "03:00 CDT"
    assert iso_instant(dt.datetime(2026, 7, 4, 23, 59, 59, 700_000, dt.UTC)) == (
        "2026-07-05T00:00:00Z"
    )


def test_a_point_without_a_zone_keeps_the_offset_of_the_plan() -> None:
    barn = Waypoint("BARN", "44,-92", "position", HERE)
    typed = dt.datetime(2026, 7, 4, 9, tzinfo=dt.timezone(dt.timedelta(hours=-5)))
    assert zone_of(barn, typed) == "UTC-05:00"
    assert zone_of(barn, typed.astimezone(dt.UTC)) == "UTC"


def test_parts_of_legs_have_names_of_their_own_that_fit_a_column() -> None:
    names = [part_name(leg, part) for leg in (1, 2, 12, 100) for part in range(1, 800)]
    assert len(set(names)) == len(names)
    assert max(map(len, names)) <= 10


def test_the_parts_of_a_split_leg_follow_one_another(real_store: Store) -> None:
    log = navigation_log(plan(route="KRST KBIL", every_nm=500.0), real_store)
    parts = [row.end.name for row in log.rows if row.end.kind == "part"]
    assert parts[:3] == ["leg 1b", "leg 1c", "leg 1d"]
    (told,) = [one.text for one in log.cautions if one.code == "leg-split"]
    assert f"Parts begin at {', '.join(parts)}." in told


@pytest.mark.parametrize("changes", [{"every_nm": 10.0}, {"every_nm": 33.0}, {"every_min": 9.0}])
def test_a_split_leg_is_parted_at_its_checkpoints(
    real_store: Store, changes: dict[str, Any]
) -> None:
    log = navigation_log(plan(route="KRST KBIL", **changes), real_store)
    assert log.rows[0].course.parts > 3
    pairs = itertools.pairwise(log.rows)
    joints = [first.end for first, after in pairs if first.course.part != after.course.part]
    assert {mark.kind for mark in joints} == {"checkpoint"}
    (told,) = [one.text for one in log.cautions if one.code == "leg-split"]
    assert f"Parts begin at {', '.join(mark.name for mark in joints)}." in told
