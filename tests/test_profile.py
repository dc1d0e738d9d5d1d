"""Up and down in steps: they join, and their sums are those of the rate or the table."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.earth.atmosphere import standard_temperature_c, true_airspeed_kt
from plotter.errors import InputError
from plotter.flight.aircraft import Airspeed, VerticalRate
from plotter.flight.performance import ClimbRow, ClimbTable
from plotter.flight.track import STEP_FT, Conditions, VerticalStep, climb_steps, descent_steps

RATE = VerticalRate(600.0, Airspeed(80.0), 12.0)
BY_CALIBRATED = VerticalRate(600.0, Airspeed(76.0, "calibrated"), 12.0)
TABLE = ClimbTable((ClimbRow(2000.0, 3.0, 0.7, 4.0), ClimbRow(10_000.0, 19.0, 3.9, 24.0)))
ALTITUDES = st.floats(min_value=-500.0, max_value=9500.0)


def standard(altitude_ft: float) -> Conditions:
    return Conditions(altitude_ft, standard_temperature_c(altitude_ft))


def low_pressure(altitude_ft: float) -> Conditions:
    return Conditions(altitude_ft + 400.0, standard_temperature_c(altitude_ft))


def total(steps: tuple[VerticalStep, ...]) -> tuple[float, float, float]:
    return (
        math.fsum(step.minutes for step in steps),
        math.fsum(step.fuel for step in steps),
        math.fsum(step.true_airspeed_kt * step.minutes / 60.0 for step in steps),
    )


@given(ALTITUDES, ALTITUDES)
def test_the_steps_join_and_are_short(one: float, other: float) -> None:
    low, high = sorted((one, other))
    up, down = climb_steps(RATE, low, high, standard), descent_steps(RATE, high, low, standard)
    for steps, start, end in ((up, low, high), (down, high, low)):
        if low == high:
            assert steps == ()
            continue
        assert (steps[0].from_ft, steps[-1].to_ft) == (start, end)
        assert all(a.to_ft == b.from_ft for a, b in itertools.pairwise(steps))
        for step in steps:
            assert 0.0 < abs(step.to_ft - step.from_ft) <= STEP_FT
            assert step.middle_ft == (step.from_ft + step.to_ft) / 2.0
        assert all(step.to_ft % STEP_FT == 0.0 for step in steps[:-1])


@given(ALTITUDES, ALTITUDES)
def test_the_sums_of_a_rate(one: float, other: float) -> None:
    low, high = sorted((one, other))
    minutes = (high - low) / 600.0
    for steps in (climb_steps(RATE, low, high, standard), descent_steps(RATE, high, low, standard)):
        assert total(steps) == pytest.approx(
            (minutes, 12.0 * minutes / 60.0, 80.0 * minutes / 60.0), abs=1e-9
        )


@given(ALTITUDES, ALTITUDES)
def test_the_sums_of_a_table(one: float, other: float) -> None:
    low, high = sorted((one, other))
    steps = climb_steps(TABLE, low, high, standard)
    assert total(steps) == pytest.approx(tuple(TABLE.between(low, high)), abs=1e-9)


def test_a_climb_by_hand() -> None:
    """From 900 to 2,000 ft at 600 ft/min: 100, 500 and 500 ft; 1.83 min, 0.37 gal, 2.44 NM."""
    steps = climb_steps(RATE, 900.0, 2000.0, standard)
    assert [step.to_ft for step in steps] == [1000.0, 1500.0, 2000.0]
    assert total(steps) == pytest.approx((1.8333, 0.36667, 2.4444), abs=1e-4)


def test_a_table_is_read_by_pressure_altitude() -> None:
    steps = climb_steps(TABLE, 1000.0, 6000.0, low_pressure)
    assert total(steps) == pytest.approx(tuple(TABLE.between(1400.0, 6400.0)), abs=1e-9)


def test_the_airspeed_of_a_table_is_its_mean_over_the_climb() -> None:
    climb = TABLE.between(1000.0, 6000.0)
    speeds = {step.true_airspeed_kt for step in climb_steps(TABLE, 1000.0, 6000.0, standard)}
    assert speeds == {climb.distance_nm / climb.minutes * 60.0}


def test_a_calibrated_airspeed_grows_with_altitude() -> None:
    steps = climb_steps(BY_CALIBRATED, 0.0, 8000.0, low_pressure)
    speeds = [step.true_airspeed_kt for step in steps]
    assert speeds == sorted(speeds)
    first = low_pressure(steps[0].middle_ft)
    assert speeds[0] == true_airspeed_kt(76.0, *first)


def test_no_height_is_no_step() -> None:
    assert climb_steps(RATE, 3000.0, 3000.0, standard) == ()
    assert climb_steps(TABLE, 3000.0, 3000.0, standard) == ()
    assert descent_steps(RATE, 3000.0, 3000.0, standard) == ()


def test_the_wrong_way_is_refused() -> None:
    with pytest.raises(InputError, match="a climb from 3,000 ft cannot end at 2,000 ft"):
        climb_steps(RATE, 3000.0, 2000.0, standard)
    with pytest.raises(InputError, match="a descent from 2,000 ft cannot end at 3,000 ft"):
        descent_steps(RATE, 2000.0, 3000.0, standard)


def test_above_the_table_is_refused() -> None:
    with pytest.raises(InputError, match="the climb table ends at 10,000 ft"):
        climb_steps(TABLE, 1000.0, 10_500.0, standard)
