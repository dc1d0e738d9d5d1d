"""Cautions about fuel: they say what the log says, and where and when the tanks run dry."""

from __future__ import annotations

import pytest
from flights import aircraft, all_cruise, plan, printed_rows, wind
from hypothesis import given
from hypothesis import strategies as st

from plotter.flight.aircraft import Airspeed, Cruise
from plotter.flight.cautions.fuel import fuel_cautions
from plotter.flight.columns import COLUMNS, margin
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import LegNotes, Stop
from plotter.formats.log_table import log_table
from plotter.messages import Message, message, text
from plotter.places.store import Store
from plotter.wording import fuel_left, fuel_used, zulu

CALM = (wind(0.0, 0.0),)


def flown(store: Store, on_board: float) -> NavigationLog:
    """KRST to KDLH, 176.5 NM of calm at 110 kt and 8 an hour: 96.3 min, 12.84 US gal."""
    craft = all_cruise(cruise=Cruise(Airspeed(110.0), 8.0), fuel_on_board=on_board)
    return navigation_log(plan(route="KRST KDLH", winds=CALM, aircraft=craft), store)


def said(log: NavigationLog) -> Message:
    return next(one.said for one in fuel_cautions(log) if one.code == "reserve")


def test_the_tanks_run_dry_between_two_points_at_a_time(real_store: Store) -> None:
    """8.1 US gal at 8 an hour last 60.75 min, 111.4 NM: past CP11 at 110 NM, at 15:00:45Z."""
    log = flown(real_store, 8.1)
    left = said(log)["left"]
    assert left["dry"] == message("reserve.dry", time="15:01Z", start="CP11", end="CP12", row=12)
    assert (fuel_used(left["amount"]), left["unit"]) == ("4.8", "US gal")
    assert log.rows[10].fuel_remaining > 0.0 > log.rows[11].fuel_remaining


@given(st.floats(min_value=0.2, max_value=16.7))
def test_stop_and_log_print_one_figure(real_store: Store, on_board: float) -> None:
    log = flown(real_store, on_board)
    (sector,) = log.sectors
    stop = said(log)
    left = COLUMNS["fuel_remaining"].printed(printed_rows(log)[-1])
    assert left == fuel_left(sector.fuel.remaining)
    assert (stop["minutes"], stop["needed"]) == (30.0, sector.reserve_fuel)
    assert f"30 min take {fuel_used(sector.reserve_fuel)} US gal" in text(stop)
    if sector.fuel.remaining >= 0.0:
        assert f"{left} US gal left at KDLH" in text(stop)
        return
    assert f"{left.removeprefix('-')} US gal short of KDLH" in text(stop)
    dry = stop["left"]["dry"]
    row = log.rows[dry["row"] - 1]
    assert row.fuel_remaining <= 1e-9
    assert row.fuel_remaining + row.fuel_used >= -1e-9
    assert dry["time"] <= zulu(row.eta)


def test_a_sector_after_dry_tanks_never_takes_off(real_store: Store) -> None:
    craft = aircraft(fuel_on_board=5.0)
    log = navigation_log(plan(aircraft=craft, stops=(Stop("KLSE"),)), real_store)
    first, second = (one.said["left"]["dry"] for one in fuel_cautions(log) if one.code == "reserve")
    assert first.key == "reserve.dry"
    assert second == message("reserve.dry-at-take-off", start="KLSE")


@pytest.mark.parametrize(("on_board", "left"), [(15.1, "2.2"), (16.6, "3.7")])
def test_what_is_left_is_rounded_down_in_both(
    real_store: Store, on_board: float, left: str
) -> None:
    log = flown(real_store, on_board)
    assert COLUMNS["fuel_remaining"].printed(printed_rows(log)[-1]) == left
    assert said(log)["left"].key == "reserve.left"
    assert f"{left} US gal left at KDLH" in text(said(log))


HOUR = LegNotes(1, distance_nm=110.0)
"""At 110 kt in calm air an hour, 8.0 US gal; the reserve of 30 min by day is 4.0: 12.0 in all."""


@pytest.mark.parametrize("every_nm", [10.0, 7.0, 3.0, 200.0])
@pytest.mark.parametrize(
    ("on_board", "met"),
    [(11.5, False), (11.9, False), (11.9999, False), (12.0, True), (12.0001, True), (12.5, True)],
)
def test_the_reserve_is_met_where_it_is_there_to_the_last_drop(
    real_store: Store, on_board: float, met: bool, every_nm: float
) -> None:
    """It is compared unrounded; only what the last digits of the sums leave counts as nothing."""
    craft = all_cruise(cruise=Cruise(Airspeed(110.0), 8.0), fuel_on_board=on_board)
    made = plan(route="KRST KDLH", winds=CALM, aircraft=craft, legs=(HOUR,), every_nm=every_nm)
    log = navigation_log(made, real_store)
    stops = [one.text for one in log.cautions if one.code == "reserve"]
    assert len(stops) == (not met)
    (sector,) = log.sectors
    assert (sector.margin_fuel >= 0.0) is met
    assert margin(sector).endswith("short") is not met
    if not met:
        assert f"Reserve not met: {fuel_left(on_board - 8.0)} US gal left" in stops[0]
        assert "30 min take 4.0 US gal" in stops[0]


@pytest.mark.parametrize(
    ("on_board", "printed"),
    [
        (11.9999, "0.1 US gal short"),
        (11.85, "0.2 US gal short"),
        (12.0, "0:00, 0.0 US gal"),
        (12.19, "0:01, 0.1 US gal"),
    ],
)
def test_what_is_missing_is_rounded_up_and_what_is_left_down(
    real_store: Store, on_board: float, printed: str
) -> None:
    craft = all_cruise(cruise=Cruise(Airspeed(110.0), 8.0), fuel_on_board=on_board)
    made = plan(route="KRST KDLH", winds=CALM, aircraft=craft, legs=(HOUR,))
    log = navigation_log(made, real_store)
    assert margin(log.sectors[0]) == printed
    assert f'"reserve 30 min, margin {printed}"' in log_table(log).decode("utf-8")
