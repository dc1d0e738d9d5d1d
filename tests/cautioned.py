"""The cautions of a flight with changes, and flights that several tests of cautions look at."""

from __future__ import annotations

import datetime as dt
from typing import Any

from flights import plan

from plotter.flight.log import navigation_log
from plotter.flight.plan.values import LegNotes, WindsAloft
from plotter.places.store import Store
from plotter.route.values import Caution

EVENING = dt.datetime(2026, 7, 4, 20, 30, tzinfo=dt.timezone(dt.timedelta(hours=-5)))
ALOFT = WindsAloft(
    "VALID 041800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000\n"
    "FT  3000    6000    9000\nMSP 2215 2422+12 2530+06",
    ("MSP",),
)
QUIET_FLIGHT = {
    "route": "KRST KONA KLSE",
    "cruise_altitudes_ft": (5500.0,),
    "legs": (
        LegNotes(1, highest_ground_ft=1400.0, highest_obstacle_ft=1890.0),
        LegNotes(2, highest_ground_ft=1500.0, highest_obstacle_ft=1700.0),
    ),
}


def cautions(store: Store, **changes: Any) -> dict[str, Caution]:
    """What is told of the flight of ``flights.plan`` with these changes, by code."""
    return {one.code: one for one in navigation_log(plan(**changes), store).told}
