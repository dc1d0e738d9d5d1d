"""Figures of the plan to start from that the pilot has neither replaced nor confirmed.

The page keeps which they are; here they have names, and they are a caution of the log that goes
into every file.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from typing import Any, NamedTuple

from plotter.flight.log_values import NavigationLog
from plotter.messages import literal
from plotter.route.values import Caution, ranked

Node = dict[str, Any]


class Part(NamedTuple):
    """What is invented: what it is called, and whether a log can be made without it."""

    called: str
    may_go: bool = False


PARTS: Mapping[str, Part] = {
    "flight.departure": Part("Time of take-off"),
    "flight.cruise_altitude_ft": Part("Altitude"),
    "aircraft.name": Part("Aircraft"),
    "aircraft.true_airspeed_kt": Part("Airspeed in cruise"),
    "aircraft.cruise_fuel_per_hour": Part("Fuel an hour in cruise"),
    "aircraft.fuel_on_board": Part("Fuel on board"),
    "aircraft.usable_fuel": Part("Usable fuel"),
    "aircraft.taxi_fuel": Part("Taxi fuel", may_go=True),
    "aircraft.climb_": Part("Climb", may_go=True),
    "aircraft.descent_": Part("Descent", may_go=True),
    "aircraft.pattern_height_ft": Part("Height where the descent ends", may_go=True),
    "aircraft.compass_card": Part("Compass correction card", may_go=True),
    "wind": Part("Wind", may_go=True),
}
"""By the beginning of the keys it is made of, in the order in which the page tells them."""


def parts_node(asked: Collection[str]) -> list[Node]:
    """The parts that are still invented, with their names."""
    return [{"part": part, **PARTS[part]._asdict()} for part in PARTS if part in asked]


def told_as_invented(log: NavigationLog, asked: Collection[str]) -> NavigationLog:
    """The log with a caution that names what is still invented; unchanged where nothing is."""
    parts = [PARTS[part].called for part in PARTS if part in asked]
    if not parts:
        return log
    names = ", ".join([parts[0], *(name[:1].lower() + name[1:] for name in parts[1:])])
    words = (
        f"Invented figures to start from are still in use: {names}. Replace or confirm each before "
        "anything is flown by this log."
    )
    return replace(
        log, cautions=ranked([Caution("CHECK", literal("invented", words)), *log.cautions])
    )
