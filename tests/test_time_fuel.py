"""Time, speed, distance and fuel against the handbooks' sums."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import published

from plotter.earth.units import sm_from_nm
from plotter.errors import InputError
from plotter.flight.reserve import DAY_MIN, NIGHT_MIN, ROTORCRAFT_MIN
from plotter.flight.time_fuel import (
    distance_flown_nm,
    endurance_min,
    ete_min,
    fuel_used,
    groundspeed_made_kt,
)
from plotter.wording import duration

ROWS = published("time_fuel")


def test_published_hours_and_minutes() -> None:
    half = ROWS["phak-tsd-1"]
    assert half["inputs"]["minutes"] / 60.0 == half["expected"]["hours"]
    three_quarters = ROWS["phak-tsd-2"]
    minutes = three_quarters["inputs"]["hours"] * 60.0
    assert duration(minutes) == f"0:{three_quarters['expected']['minutes']:02.0f}"


def test_published_time() -> None:
    row = ROWS["phak-tsd-3"]
    minutes = ete_min(row["inputs"]["distance_nm"], row["inputs"]["gs_kt"])
    assert minutes == row["expected"]["hours"] * 60.0
    assert duration(minutes) == row["expected"]["text"]


def test_published_distance() -> None:
    row = ROWS["phak-tsd-4"]
    hours, minutes = map(int, row["inputs"]["time"].split(":"))
    flown = distance_flown_nm(row["inputs"]["gs_kt"], hours * 60.0 + minutes)
    assert flown == row["expected"]["distance_nm"]


def test_published_groundspeed() -> None:
    row = ROWS["phak-tsd-5"]
    made = groundspeed_made_kt(row["inputs"]["distance_nm"], row["inputs"]["hours"] * 60.0)
    assert made == row["expected"]["gs_kt"]


def test_published_knots_and_miles_an_hour() -> None:
    row = ROWS["phak-tsd-6"]
    assert sm_from_nm(row["inputs"]["knots"]) == pytest.approx(row["expected"]["mph"], abs=0.5)


def test_published_fuel() -> None:
    row = ROWS["phak-fuel-1"]
    minutes = ete_min(row["inputs"]["distance_nm"], row["inputs"]["gs_kt"])
    assert minutes / 60.0 == row["expected"]["hours"]
    assert fuel_used(row["inputs"]["gph"], minutes) == row["expected"]["gallons"]


def test_published_fuel_by_slide_rule() -> None:
    row = ROWS["si-fuel-ex6"]
    used = fuel_used(row["inputs"]["gph"], row["inputs"]["hours"] * 60.0)
    assert used == pytest.approx(row["expected"]["gallons"], abs=row["tolerance"]["abs"])


def test_published_reserve() -> None:
    expected = ROWS["cfr-91.151"]["expected"]
    assert expected["airplane_day_min"] == DAY_MIN
    assert expected["airplane_night_min"] == NIGHT_MIN
    assert expected["rotorcraft_min"] == ROTORCRAFT_MIN


def test_every_published_row_is_tried() -> None:
    tried = {f"phak-tsd-{k}" for k in range(1, 7)}
    assert set(ROWS) == tried | {"phak-fuel-1", "si-fuel-ex6", "cfr-91.151"}


@given(st.floats(min_value=0.1, max_value=5000.0), st.floats(min_value=20.0, max_value=400.0))
def test_there_and_back(distance: float, speed: float) -> None:
    minutes = ete_min(distance, speed)
    assert distance_flown_nm(speed, minutes) == pytest.approx(distance)
    assert groundspeed_made_kt(distance, minutes) == pytest.approx(speed)


@given(st.floats(min_value=0.0, max_value=500.0), st.floats(min_value=0.5, max_value=100.0))
def test_what_lasts_so_long_is_used_by_then(fuel: float, flow: float) -> None:
    assert fuel_used(flow, endurance_min(fuel, flow)) == pytest.approx(fuel)


def test_no_fuel_lasts_no_time() -> None:
    assert endurance_min(0.0, 8.0) == endurance_min(-3.0, 8.0) == 0.0


@pytest.mark.parametrize("speed", [0.0, -5.0, math.nan])
def test_no_groundspeed_is_refused(speed: float) -> None:
    with pytest.raises(InputError) as caught:
        ete_min(10.0, speed)
    assert caught.value.code == "no-groundspeed"


@pytest.mark.parametrize("figure", [0.0, -5.0, math.nan])
def test_no_time_and_no_flow_are_refused(figure: float) -> None:
    with pytest.raises(InputError, match="min is out of range; it must be above 0"):
        groundspeed_made_kt(10.0, figure)
    with pytest.raises(InputError, match="an hour is out of range; it must be 0 or more"):
        endurance_min(10.0, figure)


@pytest.mark.parametrize(
    ("minutes", "said"),
    [(0.0, "0:00"), (0.4, "0:00"), (59.6, "1:00"), (119.4, "1:59"), (1440.0, "24:00")],
)
def test_rounding_never_prints_sixty_minutes(minutes: float, said: str) -> None:
    assert duration(minutes) == said
