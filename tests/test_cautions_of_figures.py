"""Figures that cannot be are refused, those that are rather a slip are told; usual ones are not."""

from __future__ import annotations

from typing import Any

import pytest
from flights import aircraft, all_cruise, plan

from plotter.earth.atmosphere import hpa_from_inhg
from plotter.errors import InputError
from plotter.flight.aircraft import Airspeed, Cruise, VerticalRate
from plotter.flight.log import navigation_log
from plotter.flight.performance import CruiseRow, CruiseTable
from plotter.flight.plan.values import LegNotes, Weather
from plotter.places.store import Store


def told(store: Store, **changes: Any) -> str:
    log = navigation_log(plan(route="KRST KLSE", **changes), store)
    return next((one.text for one in log.cautions if one.code == "unlikely-figure"), "")


def cruise(knots: float, per_hour: float = 8.5) -> Any:
    return all_cruise(cruise=Cruise(Airspeed(knots), per_hour))


UNLIKELY = [
    ({"aircraft": cruise(39.0)}, "true airspeed of 39 kt in cruise (usual: 40–250 kt)"),
    ({"aircraft": cruise(251.0)}, "true airspeed of 251 kt in cruise"),
    ({"legs": (LegNotes(1, true_airspeed_kt=300.0),)}, "true airspeed of 300 kt in cruise"),
    (
        {"aircraft": aircraft(climb=VerticalRate(3001.0, Airspeed(80.0), 12.0))},
        "rate of climb of 3,001 ft/min (usual: up to 3,000)",
    ),
    (
        {"aircraft": aircraft(descent=VerticalRate(5000.0, Airspeed(110.0), 6.0))},
        "rate of descent of 5,000 ft/min",
    ),
    # 53 US gal at 54 an hour: 58.9 min; at 2 an hour: 26 h 30 min.
    (
        {"aircraft": cruise(110.0, 54.0)},
        "54 US gal an hour from tanks of 53 (full tanks last 0:58)",
    ),
    ({"aircraft": cruise(110.0, 2.0)}, "(full tanks last 26:30)"),
    (
        {"weather": (Weather("KRST", hpa_from_inhg(27.99)),)},
        "altimeter setting of 27.99 inHg (948 hPa) at KRST (usual: 28.00–31.00 inHg)",
    ),
    ({"weather": (Weather("KRST", 1050.0),)}, "31.01 inHg (1050 hPa)"),
]


@pytest.mark.parametrize(("changes", "words"), UNLIKELY)
def test_unlikely_figures_are_told(real_store: Store, changes: Any, words: str) -> None:
    assert words in told(real_store, **changes)


@pytest.mark.parametrize(
    "changes",
    [
        {"aircraft": cruise(40.0)},
        {"aircraft": cruise(250.0)},
        {"aircraft": aircraft(climb=VerticalRate(3000.0, Airspeed(80.0), 12.0))},
        {"aircraft": cruise(110.0, 53.0)},
        {"weather": (Weather("KRST", hpa_from_inhg(28.0)), Weather("KLSE", hpa_from_inhg(31.0)))},
    ],
)
def test_usual_figures_are_not(real_store: Store, changes: Any) -> None:
    assert told(real_store, **changes) == ""


def test_several_are_one_caution(real_store: Store) -> None:
    said = told(real_store, aircraft=cruise(300.0, 1.0), weather=(Weather("KRST", 900.0),))
    assert said.count("(usual: ") == 2
    assert said.count("; ") == 2


IMPOSSIBLE = [
    (lambda: Airspeed(5000.0), "true_airspeed_kt", "enter knots from 20 to 660"),
    (lambda: Airspeed(5.0, "calibrated"), "calibrated_airspeed_kt", "enter knots from 20 to 660"),
    (lambda: LegNotes(1, true_airspeed_kt=5.0), "true_airspeed_kt", "enter knots from 20 to 660"),
    (lambda: CruiseRow(2000.0, 700.0, 8.0), "true_airspeed_kt", "enter knots from 20 to 660"),
    (
        lambda: cruise(110.0, 1e6),
        "cruise_fuel_per_hour",
        "cruise_fuel_per_hour is 1,000,000, which empties the usable",
    ),
    (lambda: cruise(110.0, 159.1), "cruise_fuel_per_hour", "in less than 20 min"),
    (
        lambda: aircraft(climb=VerticalRate(500.0, Airspeed(80.0), 1200.0)),
        "climb_fuel_per_hour",
        "climb_fuel_per_hour is 1,200, which empties the usable fuel of 53 in less than 20 min",
    ),
    (
        lambda: all_cruise(cruise=CruiseTable((CruiseRow(2000.0, 110.0, 850.0),))),
        "cruise_table",
        "is 850, which",
    ),
    (
        lambda: Weather("KRST", hpa_from_inhg(25.5)),
        "altimeter",
        "out of range; enter 870 to 1085 hPa",
    ),
]


@pytest.mark.parametrize(("make", "code", "words"), IMPOSSIBLE)
def test_what_cannot_be_is_refused(make: Any, code: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        make()
    assert caught.value.code == code
    assert words in caught.value.message


def test_full_tanks_of_just_twenty_minutes_are_taken() -> None:
    assert cruise(110.0, 159.0).usable_fuel == 53.0
