"""Whose rules hold where a flight goes: those of the United States, or another state's.

The data gives each place its state. A typed position or a point of the pilot's own has none; it
then is where the others of its leg, and after them those of the flight, are.
"""

from __future__ import annotations

from collections.abc import Iterable

from plotter.flight.plan import Plan
from plotter.flight.rules import VisualRules
from plotter.route.route import Leg, Route, Waypoint

UNITED_STATES = frozenset({"US", "PR", "VI", "GU", "MP", "AS", "UM"})
"""ISO 3166 codes of the states and territories where 14 CFR part 91 holds ("United States" in
14 CFR 1.1: the States, the District of Columbia, Puerto Rico, the possessions)."""
UNKNOWN = ""


def state_of(point: Waypoint) -> str:
    """The ISO 3166 code of the state a point lies in; empty where it is not in the data."""
    return point.place.country if point.place else UNKNOWN


def abroad(points: Iterable[Waypoint]) -> tuple[Waypoint, ...]:
    """Those of some points that the data puts outside the United States."""
    return tuple(point for point in points if state_of(point) not in {*UNITED_STATES, UNKNOWN})


def in_the_united_states(leg: Leg, route: Route) -> bool | None:
    """Whether a leg lies in the United States, by its ends; ``None`` where nothing tells."""
    for points in ((leg.start, leg.end), route.waypoints):
        if abroad(points):
            return False
        if any(state_of(point) for point in points):
            return True
    return None


def rules_of_flight(plan: Plan, route: Route) -> VisualRules:
    """The rules a whole flight is held against: those of ICAO where the plan says so, or where a
    point of it lies outside the United States."""
    return "ICAO" if plan.visual_rules == "ICAO" or abroad(route.waypoints) else "US"
