"""The cautions that a plotted route gives rise to, few enough to be read."""

from __future__ import annotations

from collections.abc import Iterator

from plotter.earth.angles import half_turn
from plotter.earth.units import feet_from_metres, metres_from_nm
from plotter.places.model import Airport
from plotter.route.cautions import Caution
from plotter.route.route import Leg, Route, Waypoint

# Two datasets that put one airport further apart than this are worth a look at the chart: it is
# half a minute of latitude, and wider than the largest airports.
SOURCES_APART_LIMIT_NM = 0.5
# A plotter is read to about a degree or two (common practice).
COURSE_CHANGE_LIMIT_DEG = 2.0
# Shorter than a long runway: the ends are within what airport positions are known to.
SHORTEST_LEG_NM = 0.1

_TABLES = "OurAirports tables"
_MODEL_REPORT = "World Magnetic Model 2025, technical report, section 3.4"


def route_cautions(route: Route) -> list[Caution]:
    """The cautions of the waypoints and legs of one route, in the order of the route."""
    last = route.waypoints[-1]
    found: list[Caution] = []
    for waypoint in route.waypoints:
        found += _waypoint_cautions(waypoint, waypoint is last)
    for leg in route.legs:
        found += _leg_cautions(leg)
    return found + _name_cautions(route)


def _name_cautions(route: Route) -> list[Caution]:
    """A check for each name that two different places of the route are shown under."""
    first: dict[str, Waypoint] = {}
    names = [
        waypoint.name
        for waypoint in route.waypoints
        if first.setdefault(waypoint.name, waypoint).position != waypoint.position
    ]
    return [
        Caution(
            "CHECK",
            "same-name",
            f"Two different places of this route are called {name}: give one another name.",
            where=name,
        )
        for name in dict.fromkeys(names)
    ]


def _waypoint_cautions(waypoint: Waypoint, is_destination: bool) -> Iterator[Caution]:
    where = waypoint.name
    if (waypoint.sources_apart_nm or 0.0) > SOURCES_APART_LIMIT_NM:
        yield Caution(
            "CHECK",
            "sources-apart",
            f"Two datasets put {where} {waypoint.sources_apart_nm:.1f} NM apart"
            f"{_rule(waypoint)}: check its position on the chart.",
            _TABLES,
            where,
        )
    place = waypoint.place
    if not isinstance(place, Airport) or waypoint.kind != "airport":
        return
    if place.closed:
        yield Caution(
            "STOP" if is_destination else "CHECK",
            "closed",
            f"{where} ({place.name}) is marked closed in the data: "
            "it is a place on the ground, not somewhere to land.",
            _TABLES,
            where,
        )
    elif place.kind in ("heliport", "seaplane_base", "balloonport"):
        words = {"heliport": "a heliport", "seaplane_base": "a seaplane base"}
        yield Caution(
            "CHECK",
            place.kind.replace("_", "-"),
            f"{where} ({place.name}) is {words.get(place.kind, 'a balloonport')}: "
            "check that you can use it.",
            _TABLES,
            where,
        )


def _rule(waypoint: Waypoint) -> str:
    place = waypoint.place
    return f" ({place.position_rule})" if isinstance(place, Airport) else ""


def _leg_cautions(leg: Leg) -> Iterator[Caution]:
    where = f"leg {leg.number}"
    if leg.distance_nm < SHORTEST_LEG_NM:
        length_ft = feet_from_metres(metres_from_nm(leg.distance_nm))
        yield Caution(
            "CHECK",
            "short-leg",
            f"The ends of {where} are {length_ft:.0f} ft apart: its course means "
            "nothing. Are they meant to be one place?",
            where=where,
        )
    if leg.line.ambiguous:
        yield Caution(
            "CHECK",
            "near-antipodal",
            f"The ends of {where} lie almost opposite each other on the earth: the shortest way "
            "is not the only one. Put a turning point between them.",
            where=where,
        )
    if leg.variation.zone:
        yield Caution(
            "CHECK",
            f"magnetic-{leg.variation.zone}-zone",
            f"{leg.start.name} to {leg.end.name} lies in the magnetic model's "
            f"{leg.variation.zone} zone: a magnetic compass is unreliable there.",
            _MODEL_REPORT,
            where,
        )
    turn_deg = abs(half_turn(leg.line.final_true_course_deg - leg.line.initial_true_course_deg))
    if turn_deg >= COURSE_CHANGE_LIMIT_DEG and not leg.line.ambiguous:
        yield Caution(
            "NOTE",
            "course-changes",
            f"The true course changes by {turn_deg:.0f}° along {where}; the one given is at its "
            "middle. Split the leg to follow it more closely.",
            where=where,
        )


def model_caution(route: Route) -> list[Caution]:
    """A caution where the magnetic model was used outside its years."""
    old = next((leg.variation for leg in route.legs if leg.variation.out_of_date), None)
    if old is None:
        return []
    words = (
        f"Variation is by {old.model}: the date {old.date.isoformat()} is outside the model's "
        "years, so every magnetic figure is doubtful. Take variation from a current chart."
    )
    return [Caution("CHECK", "old-magnetic-model", words, _MODEL_REPORT)]
