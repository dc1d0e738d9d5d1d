"""The aircraft, checked when it is made."""

from __future__ import annotations

from typing import Any

import pytest

from plotter.earth.atmosphere import true_airspeed_kt
from plotter.errors import InputError
from plotter.flight.aircraft import FUEL_UNITS, Aircraft, Airspeed, Cruise, VerticalRate
from plotter.flight.performance import CruiseRow, CruiseTable

CRUISE = Cruise(Airspeed(112.0), 8.6)
FIGURES: dict[str, Any] = {
    "name": "Blue Wren, invented",
    "fuel_unit": "US gal",
    "usable_fuel": 53.0,
    "fuel_on_board": 40.0,
    "cruise": CRUISE,
    "taxi_fuel": 1.1,
}


def aircraft(**changes: Any) -> Aircraft:
    return Aircraft(**{**FIGURES, **changes})


def test_what_may_be_left_out() -> None:
    plain = aircraft()
    assert plain.climb is plain.descent is plain.compass_card is None
    assert plain.pattern_height_ft == 1000.0


def test_cruise_by_one_airspeed() -> None:
    assert aircraft().cruise_at(7500.0, 0.0) == (112.0, 8.6, "")
    calibrated = aircraft(cruise=Cruise(Airspeed(105.0, "calibrated"), 8.6))
    expected = true_airspeed_kt(105.0, 7500.0, 3.0)
    assert calibrated.cruise_at(7500.0, 3.0) == (expected, 8.6, "")
    assert expected > 115.0


def test_cruise_by_the_table() -> None:
    table = CruiseTable((CruiseRow(2000.0, 112.0, 8.8), CruiseRow(6000.0, 116.0, 8.4)))
    assert aircraft(cruise=table).cruise_at(4000.0, 7.0) == pytest.approx((114.0, 8.6, ""))
    assert aircraft(cruise=table).cruise_at(8000.0, 7.0).beyond == "above"


def test_a_true_airspeed_is_true_anywhere() -> None:
    assert Airspeed(112.0).true_kt(9000.0, -20.0) == 112.0


@pytest.mark.parametrize("unit", FUEL_UNITS)
def test_every_fuel_unit(unit: str) -> None:
    assert aircraft(fuel_unit=unit).fuel_unit == unit


@pytest.mark.parametrize("unit", ["", "gal", "litre", "us gal"])
def test_another_fuel_unit_is_refused(unit: str) -> None:
    with pytest.raises(InputError, match="'; enter one of US gal, L, lb, kg") as caught:
        aircraft(fuel_unit=unit)
    assert caught.value.code == "fuel_unit"


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("usable_fuel", 0.0),
        ("usable_fuel", -53.0),
        ("fuel_on_board", -1.0),
        ("fuel_on_board", 53.5),
        ("taxi_fuel", -0.1),
        ("taxi_fuel", 41.0),
        ("pattern_height_ft", -800.0),
    ],
)
def test_a_figure_that_cannot_be_is_refused(key: str, value: float) -> None:
    with pytest.raises(InputError) as caught:
        aircraft(**{key: value})
    assert caught.value.code == key


def test_full_and_empty_tanks_can_be() -> None:
    assert aircraft(fuel_on_board=53.0).fuel_on_board == 53.0
    assert aircraft(fuel_on_board=0.0, taxi_fuel=0.0).fuel_on_board == 0.0


@pytest.mark.parametrize("kind", ["true", "calibrated"])
def test_an_airspeed_of_nothing_is_refused(kind: Any) -> None:
    with pytest.raises(InputError) as caught:
        Airspeed(0.0, kind)
    assert caught.value.code == f"{kind}_airspeed_kt"


def test_rates_and_flows_that_cannot_be_are_refused() -> None:
    with pytest.raises(InputError, match="rate_fpm is 0"):
        VerticalRate(0.0, Airspeed(80.0), 12.0)
    with pytest.raises(InputError, match="fuel_per_hour is -1"):
        VerticalRate(500.0, Airspeed(80.0), -1.0)
    with pytest.raises(InputError, match="cruise_fuel_per_hour is 0"):
        Cruise(Airspeed(112.0), 0.0)


def test_coming_down_with_the_engine_off_can_be() -> None:
    assert VerticalRate(500.0, Airspeed(80.0), 0.0).fuel_per_hour == 0.0
