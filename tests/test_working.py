"""The working of every figure: each formula worked again from the numbers it shows."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable

import pytest
from flights import aircraft, plan

from plotter.errors import InputError
from plotter.flight.aircraft import Aircraft, Airspeed, Cruise
from plotter.flight.columns import COLUMNS
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.performance import ClimbRow, ClimbTable, CruiseRow, CruiseTable
from plotter.flight.plan.values import LegNotes, Stop
from plotter.flight.working.answers import column_named, working
from plotter.flight.working.values import Working
from plotter.places.store import Store


@pytest.fixture(scope="module")
def log(real_store: Store) -> NavigationLog:
    return navigation_log(plan(stops=(Stop("KEAU", 30.0),)), real_store)


def put(made: Working) -> dict[str, float]:
    return {one.symbol: float(one.value) for one in made.put_in if isinstance(one.value, float)}


def sine(angle_deg: float) -> float:
    return math.sin(math.radians(angle_deg))


def cosine(angle_deg: float) -> float:
    return math.cos(math.radians(angle_deg))


AGAIN: dict[str, Callable[[dict[str, float]], float]] = {
    "distance_nm": lambda n: n["end"] - n["start"],
    "distance_to_go_nm": lambda n: n["last"] - n["end"],
    "magnetic_course_deg": lambda n: (n["TC"] - n["VAR"]) % 360,
    "wind_correction_angle_deg": lambda n: math.degrees(
        math.asin(n["W"] * sine(n["wind"] - n["TC"]) / n["TAS"])
    ),
    "true_heading_deg": lambda n: (n["TC"] + n["WCA"]) % 360,
    "magnetic_heading_deg": lambda n: (n["TH"] - n["VAR"]) % 360,
    "compass_heading_deg": lambda n: (n["MH"] + n["DEV"]) % 360,
    "groundspeed_kt": lambda n: n["TAS"] * cosine(n["WCA"]) - n["W"] * cosine(n["wind"] - n["TC"]),
    "ete_min": lambda n: n["D"] / n["GS"] * 60,
    "fuel_used": lambda n: n["flow"] * n["ETE"] / 60,
    "fuel_remaining": lambda n: n["before"] - n["used"],
}


@pytest.mark.parametrize("column", AGAIN)
def test_the_formula_gives_the_result_from_the_numbers_shown(
    log: NavigationLog, column: str
) -> None:
    for row in log.rows:
        made = working(log, row.number, column)
        assert isinstance(made.result, float)
        assert AGAIN[column](put(made)) == pytest.approx(made.result, abs=3e-6), row.number


def test_variation_says_whose_date_it_is_for(log: NavigationLog, real_store: Store) -> None:
    """At 19:30 in Minnesota it is already tomorrow in UTC, whose date the model is asked for."""
    (line,) = working(log, 1, "VAR").arithmetic
    assert line == "WMM2025 on 2026-07-04 at mid-leg"
    zone = dt.timezone(dt.timedelta(hours=-5))
    late = plan(departure=dt.datetime(2026, 7, 4, 19, 30, tzinfo=zone))
    (line,) = working(navigation_log(late, real_store), 1, "VAR").arithmetic
    assert line == "WMM2025 on 2026-07-04 (2026-07-05 in UTC) at mid-leg"


def test_eta_is_the_one_before_and_the_time(log: NavigationLog) -> None:
    for row in log.rows:
        made = working(log, row.number, "ETA")
        before, minutes = (one.value for one in made.put_in)
        assert isinstance(minutes, float)
        since = dt.datetime.fromisoformat(str(before))
        assert abs(since + dt.timedelta(minutes=minutes) - row.eta) <= dt.timedelta(seconds=1)


def test_every_figure_of_every_row_has_one(log: NavigationLog) -> None:
    for row in log.rows:
        for column in COLUMNS:
            one = working(log, row.number, column)
            assert one.formula
            assert one.source
            assert one.rounding


def test_what_is_printed_stands_in_the_arithmetic(log: NavigationLog) -> None:
    made = working(log, 4, "GS")
    assert made.arithmetic[-1].startswith("GS = 110.0 × cos(")
    assert f"{made.result:.1f} kt" in made.arithmetic[-1]
    assert made.printed == f"{made.result:.0f}"


def test_a_climb_shows_its_stretches(log: NavigationLog) -> None:
    made = working(log, 1, "ETE")
    assert any("1,500 to 2,000 ft: wind 240°T 15.0 kt" in line for line in made.arithmetic)


def test_the_airspeed_of_several_stretches_is_worked_again(log: NavigationLog) -> None:
    several = [row for row in log.rows if len(row.flown) > 1]
    assert several
    for row in several:
        n = put(working(log, row.number, "TAS"))
        made = math.hypot(n["GS"] + n["H"], n["X"])
        assert made == pytest.approx(row.triangle.true_airspeed_kt, abs=3e-6)


TABLE = ClimbTable((ClimbRow(2000, 3, 0.7, 4), ClimbRow(8000, 15, 3.1, 19)))
LEVEL = CruiseTable((CruiseRow(2000, 112, 8.8), CruiseRow(8000, 116, 8.4)))


@pytest.mark.parametrize(
    ("craft", "phase", "symbols", "words"),
    [
        (aircraft(), "cruise", [], "TAS as given"),
        (aircraft(cruise=Cruise(Airspeed(99.0, "calibrated"), 8.5)), "cruise", ["PA", "OAT"], ""),
        (aircraft(cruise=LEVEL), "cruise", ["PA"], "by the cruise table at PA"),
        (aircraft(climb=TABLE), "climb", [], "distance / time of the climb table"),
    ],
)
def test_only_what_enters_an_airspeed_is_put_in(
    real_store: Store, craft: Aircraft, phase: str, symbols: list[str], words: str
) -> None:
    made = navigation_log(plan(aircraft=craft, every_nm=0.5), real_store)
    single = [row for row in made.rows if row.phase == phase and len(row.flown) == 1]
    told = working(made, single[0].number, "TAS")
    assert [one.symbol for one in told.put_in] == symbols
    assert words in told.formula
    assert bool(told.notes) is bool(symbols)
    several = [row for row in made.rows if row.phase == phase and len(row.flown) > 1]
    for row in several[:1]:
        again = working(made, row.number, "TAS")
        assert [one.symbol for one in again.put_in] == ["GS", "H", "X"]
        assert words in again.arithmetic[0]


def test_airspeeds_say_how_they_are_given(real_store: Store) -> None:
    by_cas = aircraft(cruise=Cruise(Airspeed(100.0, "calibrated"), 8.5))
    typed = LegNotes(3, true_airspeed_kt=105.0)
    made = navigation_log(plan(aircraft=by_cas, legs=(typed,)), real_store)
    level = [row for row in made.rows if row.phase == "cruise"]
    assert "CAS 100.0 kt gives TAS" in working(made, level[0].number, "TAS").arithmetic[0]
    assert working(made, level[-1].number, "TAS").formula == "TAS as typed for this leg"


def test_typed_courses_say_what_was_computed(real_store: Store) -> None:
    own = LegNotes(1, true_course_deg=95.0, variation_deg_east=-2.0)
    made = navigation_log(plan(legs=(own,)), real_store)
    assert working(made, 1, "TC").notes == ("computed: 91.9°T",)
    assert working(made, 1, "VAR").notes[0].startswith("computed: −1.")


@pytest.mark.parametrize("text", ["gs", "GS", "groundspeed_kt", " Gs "])
def test_a_column_answers_to_heading_and_key(text: str) -> None:
    assert column_named(text) == "groundspeed_kt"


def test_what_is_not_there_is_told(log: NavigationLog) -> None:
    with pytest.raises(InputError, match="the columns are ALT, NM"):
        column_named("speed")
    with pytest.raises(InputError, match="its rows are 1 to"):
        working(log, 999, "GS")
