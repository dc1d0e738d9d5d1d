"""Sectors: where a flight is cut, what it takes on, what no tank and no altitude allows."""

from __future__ import annotations

from typing import Any

import pytest
from flights import aircraft, plan

from plotter.errors import InputError
from plotter.flight.log import navigation_log, wishes_of
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import Stop
from plotter.flight.sectors import Ground, grounds
from plotter.places.store import Store
from plotter.route.plotting import plot_route


def cut(store: Store, *stops: Stop, route: str = "KRST KLSE KEAU KDLH") -> list[Ground]:
    made = plan(route=route, stops=stops)
    return grounds(made, plot_route(route, store, wishes_of(made)).route)


def flown(store: Store, **changes: Any) -> NavigationLog:
    return navigation_log(plan(**changes), store)


def ends(found: list[Ground]) -> list[tuple[str, str, list[int]]]:
    return [(one.start.name, one.end.name, list(one.leg_numbers)) for one in found]


def test_without_a_stop_the_flight_is_one_sector(real_store: Store) -> None:
    assert ends(cut(real_store)) == [("KRST", "KDLH", [1, 2, 3])]


def test_stops_on_consecutive_points_give_sectors_of_one_leg(real_store: Store) -> None:
    assert ends(cut(real_store, Stop("KLSE"), Stop("KEAU"))) == [
        ("KRST", "KLSE", [1]),
        ("KLSE", "KEAU", [2]),
        ("KEAU", "KDLH", [3]),
    ]


def test_a_point_that_is_passed_twice_is_landed_at_in_order(real_store: Store) -> None:
    route = "KRST KLSE KRST KLSE KRST"
    assert ends(cut(real_store, Stop("KLSE"), Stop("KLSE"), route=route)) == [
        ("KRST", "KLSE", [1]),
        ("KLSE", "KLSE", [2, 3]),
        ("KLSE", "KRST", [4]),
    ]


def test_stops_must_come_in_the_order_of_the_route(real_store: Store) -> None:
    with pytest.raises(InputError, match="none is left for it") as caught:
        cut(real_store, Stop("KEAU"), Stop("KLSE"))
    assert caught.value.code == "stop"


def test_tanks_that_ran_dry_are_empty_at_the_stop_not_below(real_store: Store) -> None:
    """What is put in there is what the next sector begins with; no tank holds a debt."""
    dry = aircraft(fuel_on_board=5.0)
    log = flown(real_store, stops=(Stop("KLSE", fuel_added=40.0),), aircraft=dry)
    first, second = log.sectors
    assert first.fuel.remaining < 0.0
    assert second.fuel.at_start == 40.0
    assert ("reserve", "KLSE") in {(one.code, one.where) for one in log.cautions}


def test_a_stop_at_the_departure_is_no_stop(real_store: Store) -> None:
    with pytest.raises(InputError, match="choose from KLSE, KEAU") as caught:
        cut(real_store, Stop("KRST"))
    assert list(caught.value.candidates) == ["KLSE", "KEAU"]


def test_a_stop_that_passes_over_a_point_still_finds_later_ones(real_store: Store) -> None:
    first, second = cut(real_store, Stop(" keau "))
    assert (first.end.name, second.start.name) == ("KEAU", "KEAU")
    assert second.stop_before == Stop(" keau ")


def test_what_the_tanks_take_is_rounded_down(real_store: Store) -> None:
    """Typed as it is told, the amount must be taken."""
    with pytest.raises(InputError, match="more than the tanks take") as caught:
        flown(real_store, stops=(Stop("KEAU", fuel_added=50.0),))
    room = float(str(caught.value.said["room"]))
    log = flown(real_store, stops=(Stop("KEAU", fuel_added=room),))
    assert log.sectors[1].fuel.at_start == pytest.approx(53.0, abs=0.1)
    assert log.sectors[1].fuel.at_start <= 53.0
    with pytest.raises(InputError):
        flown(real_store, stops=(Stop("KEAU", fuel_added=room + 0.1),))


def test_taxi_is_burnt_once_a_full_stop(real_store: Store) -> None:
    stops = (Stop("KLSE", full_stop=False), Stop("KEAU"))
    taxi = [sector.fuel.taxi for sector in flown(real_store, stops=stops).sectors]
    assert taxi == [1.1, 0.0, 1.1]


def test_a_landing_that_rolls_on_takes_no_time(real_store: Store) -> None:
    first, second = flown(real_store, stops=(Stop("KEAU", full_stop=False),)).sectors
    assert second.take_off == first.landing
    assert second.fuel.at_start == pytest.approx(first.fuel.remaining)


def test_tanks_that_ran_dry_stay_dry_until_filled(real_store: Store) -> None:
    """The first sector is short, and the second begins with nothing: each says what it lacks."""
    plane = aircraft(fuel_on_board=3.0)
    first, second = flown(real_store, aircraft=plane, stops=(Stop("KLSE"),)).sectors
    assert first.fuel.remaining < 0.0
    assert second.fuel.at_start == 0.0
    assert second.fuel.endurance_min == 0.0
    assert second.fuel.remaining == pytest.approx(-second.fuel.used)
    assert first.margin_fuel < 0.0
    assert second.margin_fuel < 0.0


@pytest.mark.parametrize(
    ("altitudes_ft", "field"),
    [((600.0, 3500.0, 3500.0), "KRST"), ((3500.0, 600.0, 3500.0), "KLSE")],
)
def test_a_cruise_below_a_field_of_its_sector(
    real_store: Store, altitudes_ft: tuple[float, ...], field: str
) -> None:
    with pytest.raises(InputError, match=f"is not above {field}") as caught:
        flown(real_store, cruise_altitudes_ft=altitudes_ft, stops=(Stop("KLSE"),))
    assert caught.value.code == "cruise_altitude_ft"


@pytest.mark.parametrize("unit", ["US gal", "L", "lb", "kg"])
def test_every_unit_of_fuel_is_only_a_name(real_store: Store, unit: str) -> None:
    """No amount is turned into another: what is typed is what is counted."""
    made = flown(real_store, aircraft=aircraft(fuel_unit=unit))
    same = flown(real_store)
    assert made.sectors[0].fuel.unit == unit
    assert made.fuel_used == same.fuel_used
    assert made.sectors[0].margin_fuel == same.sectors[0].margin_fuel
