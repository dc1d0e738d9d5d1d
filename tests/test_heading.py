"""The head of a map and a sheet: what the figures below were made with."""

from __future__ import annotations

from typing import Any

import flights
import pytest

from plotter.flight.aircraft import Airspeed, Cruise
from plotter.flight.log import navigation_log
from plotter.flight.performance import CruiseRow, CruiseTable
from plotter.flight.plan.values import GivenWind, PlannedWind
from plotter.maps.page import figures
from plotter.places.store import Store


def head(store: Store, **changes: Any) -> dict[str, str]:
    log = navigation_log(flights.plan(**changes), store)
    return dict(figures(log.plot, log, sm=False))


def test_a_plot_alone_says_nothing_of_an_aircraft(real_store: Store) -> None:
    log = navigation_log(flights.plan(), real_store)
    assert [term for term, _ in figures(log.plot, None, sm=False)] == [
        *("Distance", "Legs", "Checkpoints", "Date", "Altitude")
    ]


def test_every_cruising_altitude_in_the_order_of_the_legs(real_store: Store) -> None:
    found = head(real_store, cruise_altitudes_ft=(5500.0, 4500.0, 6500.0))
    assert found["Altitude"] == "5,500 ft, then 4,500 ft, then 6,500 ft"


@pytest.mark.parametrize(
    ("wind", "words"),
    [
        (GivenWind(240.0, "true", 15.0), "6,500 ft 240/15"),
        (GivenWind(0.0, "true", 7.0), "6,500 ft 360/7"),
        (GivenWind(50.0, "magnetic", 12.5), "6,500 ft 050/12.5 magnetic"),
        (GivenWind(50.0, "true", 0.0), "6,500 ft calm"),
    ],
)
def test_a_wind_with_its_north(real_store: Store, wind: GivenWind, words: str) -> None:
    assert head(real_store, winds=(PlannedWind(6500.0, wind),))["Wind"] == words


def test_no_wind_is_said_to_be_calm(real_store: Store) -> None:
    assert head(real_store, winds=())["Wind"] == "none given: calm"


def test_an_aircraft_with_the_speed_it_was_given(real_store: Store) -> None:
    slow = flights.aircraft(cruise=Cruise(Airspeed(95.0, "calibrated"), 7.0), name="")
    assert head(real_store, aircraft=slow)["Aircraft"] == "95 kt calibrated, 7 US gal an hour"


def test_a_name_from_outside_is_made_visible(real_store: Store) -> None:
    named = flights.aircraft(name="Wren\x1b[2J\u202e")
    assert head(real_store, aircraft=named)["Aircraft"].startswith("Wren␛[2J\ufffd, 110 kt")


def test_a_table_is_named_not_repeated(real_store: Store) -> None:
    rows = (CruiseRow(2000.0, 105.0, 8.0), CruiseRow(8000.0, 110.0, 7.5))
    tabled = flights.aircraft(cruise=CruiseTable(rows))
    assert head(real_store, aircraft=tabled)["Aircraft"].endswith("cruise by its table")
