"""Planned flights for tests. Aircraft and winds are invented; the airports are real."""

from __future__ import annotations

import datetime as dt
from typing import Any

from plotter.flight.aircraft import Aircraft, Airspeed, Cruise, VerticalRate
from plotter.flight.compass import compass_card
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import GivenWind, Plan, PlannedWind
from plotter.flight.printed import PrintedRow, printed_log

ROUTE = "KRST KLSE KEAU KDLH"
TAKE_OFF = dt.datetime(2026, 7, 4, 9, 0, tzinfo=dt.timezone(dt.timedelta(hours=-5)))
CARD = compass_card(
    [(0, 2), (45, 46.5), (90, 91), (135, 134.5), (180, 178), (225, 223.5), (270, 269), (315, 315.5)]
)
WINDS = (
    PlannedWind(3000.0, GivenWind(240.0, "true", 15.0), 18.0),
    PlannedWind(6000.0, GivenWind(270.0, "true", 25.0), 12.0),
    PlannedWind(9000.0, GivenWind(280.0, "true", 32.0), 6.0),
)


def aircraft(**changes: Any) -> Aircraft:
    """The invented aeroplane Blue Wren, with what a test changes of it."""
    given: dict[str, Any] = {
        "name": "Blue Wren, invented",
        "fuel_unit": "US gal",
        "usable_fuel": 53.0,
        "fuel_on_board": 40.0,
        "cruise": Cruise(Airspeed(110.0), 8.5),
        "taxi_fuel": 1.1,
        "climb": VerticalRate(500.0, Airspeed(80.0), 12.0),
        "descent": VerticalRate(500.0, Airspeed(115.0), 6.0),
        "compass_card": CARD,
    }
    return Aircraft(**{**given, **changes})


def all_cruise(**changes: Any) -> Aircraft:
    """The same without climb, descent, taxi or card: one speed all the way."""
    none = {"climb": None, "descent": None, "taxi_fuel": 0.0, "compass_card": None}
    return aircraft(**{**none, **changes})


def plan(**changes: Any) -> Plan:
    """A plan along the demo route, with what a test changes of it."""
    given: dict[str, Any] = {
        "route": ROUTE,
        "departure": TAKE_OFF,
        "cruise_altitudes_ft": (6500.0,),
        "aircraft": aircraft(),
        "winds": WINDS,
    }
    return Plan(**{**given, **changes})


def wind(from_true_deg: float, speed_kt: float, altitude_ft: float = 6500.0) -> PlannedWind:
    """One wind by true north."""
    return PlannedWind(altitude_ft, GivenWind(from_true_deg, "true", speed_kt))


def printed_rows(log: NavigationLog) -> list[PrintedRow]:
    """The rows of a log in printed figures."""
    return [row for sector in printed_log(log).sectors for row in sector.rows]
