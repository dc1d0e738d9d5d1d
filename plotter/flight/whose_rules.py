"""Whose rules hold where a flight goes: those of the United States, or another state's.

The data gives each place its state; of a typed position or a point of the pilot's own the borders
of the base map are asked. Where they do not tell (at sea, beside a border), a point is where the
others of its leg, and after them those of the flight, are.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from plotter.flight.plan.values import Plan
from plotter.flight.rules import VisualRules
from plotter.places.states import UNKNOWN, state_at
from plotter.places.store import Store
from plotter.route.values import Leg, Route, Waypoint

UNITED_STATES = frozenset({"US", "PR", "VI", "GU", "MP", "AS", "UM"})
"""ISO 3166 codes of the states and territories where 14 CFR part 91 holds ("United States" in
14 CFR 1.1: the States, the District of Columbia, Puerto Rico, the possessions)."""


@dataclass(frozen=True, slots=True)
class Law:
    """Whose law holds where something is flown.

    ``inside`` is the United States; ``abroad`` are the other states of it, by ISO 3166 code, and
    none where no state is known; ``us_registered`` aircraft keep 14 CFR part 91 there too.
    """

    inside: bool
    abroad: tuple[str, ...]
    us_registered: bool

    @property
    def is_icao(self) -> bool:
        """Whether any of it lies outside the United States, as far as is known."""
        return bool(self.abroad) or not self.inside

    @property
    def is_us(self) -> bool:
        """Whether the law of the United States holds in any of it.

        In the United States for every civil aircraft (14 CFR 91.1(a)), outside for those
        registered there, so far as it is not inconsistent with the state's own (91.703(a)(3)).
        """
        return self.inside or self.us_registered

    @property
    def own(self) -> str:
        """The words for the state's own rule."""
        return (
            f"the state's own rule ({', '.join(self.abroad)})"
            if self.abroad
            else "the rule of the state flown in"
        )

    def source(self, united_states: str, icao: str) -> str:
        """Return the sources that hold: abroad the state's own rule first, because it decides.

        >>> Law(False, ("NZ",), us_registered=False).source("14 CFR 91.209(a)", "ICAO Annex 2")
        "the state's own rule (NZ) decides; ICAO Annex 2"
        """
        if not self.is_icao:
            return united_states
        decides = f"{self.own} decides{' there' if self.inside else ''}; {icao}"
        if self.inside:
            return f"{decides}; {united_states} in the US"
        registered = f"; {united_states} too, for a US registration (91.703)"
        return decides + (registered if self.us_registered else "")


def law_over(points: Sequence[Waypoint], plan: Plan, route: Route) -> Law:
    """Return whose law holds over some points of a route; over those of all where none tells."""
    known: dict[str, None] = {}
    for some in (points, route.waypoints):
        known = {state: None for state in map(state_of, some) if state}
        if known:
            break
    inside = not UNITED_STATES.isdisjoint(known) or (not known and plan.visual_rules == "US")
    abroad = tuple(state for state in known if state not in UNITED_STATES)
    return Law(inside, abroad, plan.aircraft.registered_in.upper() in UNITED_STATES)


def with_states(route: Route, store: Store) -> Route:
    """Return the route with the state of each point that no place of the data gives one."""
    points = tuple(
        point if point.place else replace(point, state=state_at(store, point.position))
        for point in route.waypoints
    )
    ends = zip(route.legs, pairwise(points), strict=True)
    legs = tuple(replace(leg, start=start, end=end) for leg, (start, end) in ends)
    return replace(route, waypoints=points, legs=legs)


def state_of(point: Waypoint) -> str:
    """The ISO 3166 code of the state a point lies in; empty where it is not known."""
    return point.place.country if point.place else point.state


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
