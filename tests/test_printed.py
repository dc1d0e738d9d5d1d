"""Printed figures of a log: shared rows, the clock of the ETA, verdicts, the cruising rule."""

from __future__ import annotations

import datetime as dt

import pytest
from flights import aircraft, all_cruise, plan, printed_rows, wind

from plotter.flight.aircraft import Airspeed, Cruise
from plotter.flight.columns import COLUMNS, margin
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import LegNotes
from plotter.flight.printed import printed_log, tops_words, verdict
from plotter.flight.working.answers import working
from plotter.places.store import Store


def shared(store: Store, every_nm: float) -> NavigationLog:
    """KRST to KLSE; the climb to 5,500 ft ends some 13 NM out, wherever checkpoints stand."""
    made = plan(route="KRST KLSE", cruise_altitudes_ft=(5500.0,), every_nm=every_nm)
    return navigation_log(made, store)


def top_of_climb(store: Store) -> float:
    (top,) = (row.end for row in shared(store, 500.0).rows if row.end.kind == "TOC")
    return top.at_nm


@pytest.mark.parametrize("beyond_nm", [-0.9, -0.3, 0.0, 0.4, 0.9])
def test_a_checkpoint_near_a_top_shares_its_row(real_store: Store, beyond_nm: float) -> None:
    at_nm = top_of_climb(real_store)
    log = shared(real_store, at_nm - beyond_nm)
    assert "TOC" not in [row.end.kind for row in log.rows]
    row = next(row for row in log.rows if row.tops)
    (top,) = row.tops
    assert row.end.name == "CP1"
    assert top.name == "TOC"
    assert top.beyond_nm == pytest.approx(beyond_nm, abs=1e-6)
    assert row.phase == "climb"


@pytest.mark.parametrize("beyond_nm", [-1.1, 1.1])
def test_farther_than_a_mile_it_keeps_its_own(real_store: Store, beyond_nm: float) -> None:
    log = shared(real_store, top_of_climb(real_store) - beyond_nm)
    assert "TOC" in [row.end.kind for row in log.rows]
    assert not any(top.name == "TOC" for row in log.rows for top in row.tops)


@pytest.mark.parametrize("beyond_nm", [-0.9, 0.7])
def test_time_and_fuel_run_through_the_true_top(real_store: Store, beyond_nm: float) -> None:
    """The same totals as without any checkpoint, and the minute of the top itself."""
    alone = shared(real_store, 500.0)
    log = shared(real_store, top_of_climb(real_store) - beyond_nm)
    assert log.ete_min == pytest.approx(alone.ete_min)
    assert log.fuel_used == pytest.approx(alone.fuel_used)
    assert log.sectors[0].fuel.climb == pytest.approx(alone.sectors[0].fuel.climb)
    made = next(row for row in printed_rows(log) if row.row.tops)
    (top,) = made.row.tops
    (own,) = (row.eta for row in alone.rows if row.end.kind == "TOC")
    assert abs(top.eta - own) < dt.timedelta(milliseconds=5)
    side = "past" if beyond_nm > 0 else "before"
    (words,) = tops_words(made)
    assert words == f"TOC {abs(beyond_nm):.1f} NM {side} CP1 at 09:08"


def test_the_last_row_has_the_clock_of_the_destination_too(real_store: Store) -> None:
    """South Bend keeps Eastern time, an hour ahead of Rochester."""
    made = plan(route="KRST KSBN", cruise_altitudes_ft=(5500.0,))
    first, *_, last = printed_rows(navigation_log(made, real_store))
    assert len(first.clock) == 5
    assert last.clock.endswith(" EDT)")
    hours = (int(last.clock[7:9]) - int(last.clock[:2])) % 24
    assert hours == 1
    utc = printed_rows(navigation_log(plan(route="KRST KSBN", clock="utc"), real_store))
    assert all(row.clock.endswith("Z") for row in utc)


HOUR = LegNotes(1, distance_nm=110.0)
"""An hour at 110 kt in calm air: 8.0 US gal; the reserve by day is 4.0."""


def test_a_verdict_takes_more_decimals_where_one_would_contradict(real_store: Store) -> None:
    craft = all_cruise(cruise=Cruise(Airspeed(110.0), 8.1), fuel_on_board=12.19)
    made = plan(route="KRST KDLH", winds=(wind(0, 0),), aircraft=craft, legs=(HOUR,), every_nm=500)
    (sector,) = navigation_log(made, real_store).sectors
    # 12.19 − 8.10 = 4.09 left, 4.05 asked for: met, where one decimal would print 4.0 and 4.1.
    found = verdict(sector)
    assert (found.places, found.words(found.left), found.words(found.reserve)) == (
        2,
        "4.09",
        "4.05",
    )
    assert margin(sector) == "0:00, 0.04 US gal"


def cruising(store: Store, course_deg: float, variation: float, altitude_ft: float) -> list[str]:
    notes = LegNotes(1, true_course_deg=course_deg, variation_deg_east=variation)
    made = plan(route="KRST KLSE", cruise_altitudes_ft=(altitude_ft,), legs=(notes,))
    log = navigation_log(made, store)
    return [one.text for one in log.cautions if one.code == "cruising-altitude"]


def test_the_cruising_rule_is_asked_at_the_printed_course(real_store: Store) -> None:
    """TC 178.6 prints 179 and VAR −0.4 prints 0: MC 179, and no caution about 180 beside it."""
    assert cruising(real_store, 178.6, 0.2, 5500.0) == []
    (said,) = cruising(real_store, 178.6, 0.2, 6500.0)
    assert "6,500 ft on 179°M" in said


@pytest.mark.parametrize(
    ("course", "variation", "printed"),
    [(179.6, 0.4, "180°M"), (180.4, 0.4, "180°M"), (179.4, -0.9, "180°M"), (0.4, 0.6, "359°M")],
)
def test_on_the_line_one_caution_names_both_altitudes(
    real_store: Store, course: float, variation: float, printed: str
) -> None:
    unrounded = (course - variation) % 360.0
    apart = (unrounded < 180.0) != (int(printed[:3]) % 360 < 180)
    found = cruising(real_store, course, variation, 5500.0) + cruising(
        real_store, course, variation, 6500.0
    )
    if not apart:
        assert len(found) == 1
        return
    for said, altitude in zip(found, ("5,500 ft", "6,500 ft"), strict=True):
        assert said.startswith(f"Leg 1: {altitude} on {printed}, unrounded {unrounded:.2f}°M")
        assert "the course is where the rule changes" in said
        assert "5,500 ft" in said.partition("changes")[2] or "7,500 ft" in said
        assert "6,500 ft" in said.partition("changes")[2] or "4,500 ft" in said


def test_the_working_says_how_far_print_is_from_the_unrounded(real_store: Store) -> None:
    log = navigation_log(plan(), real_store)
    for made in printed_rows(log):
        for key in ("true_heading_deg", "compass_heading_deg", "ete_min", "distance_nm"):
            one = working(log, made.row.number, key)
            assert one.printed == COLUMNS[key].printed(made)
            note = one.notes[-1]
            assert note.startswith("printed ")
            value, plain = one.result, COLUMNS[key].plain(made)
            assert isinstance(value, float)
            assert isinstance(plain, int | float)
            apart = abs((plain - value + 180.0) % 360.0 - 180.0)
            assert f": {apart:.2f}" in note


def test_taxi_and_phases_are_what_print_takes_from_the_tanks(real_store: Store) -> None:
    (sector,) = printed_log(navigation_log(plan(aircraft=aircraft()), real_store)).sectors
    assert dict(sector.fuel_parts)["taxi"] == "1.1"
    assert sector.fuel_at_start == 40.0
