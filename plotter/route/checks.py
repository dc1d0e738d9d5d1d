"""The cautions that a plotted route gives rise to, few enough to be read."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from plotter.earth.angles import half_turn
from plotter.earth.units import feet_from_metres, metres_from_nm
from plotter.messages import literal
from plotter.places.lookup import key_of
from plotter.places.model import Airport
from plotter.places.store import Store
from plotter.route.measuring import FlightMagnetism
from plotter.route.values import Caution, Leg, Route, Waypoint
from plotter.wording import distance, variation

if TYPE_CHECKING:
    from plotter.places.model import Change

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
            literal(
                "same-name",
                f"Two different places of this route are called {name}: give one another name.",
            ),
            where=name,
        )
        for name in dict.fromkeys(names)
    ]


def _waypoint_cautions(waypoint: Waypoint, is_destination: bool) -> Iterator[Caution]:
    where = waypoint.name
    if (waypoint.sources_apart_nm or 0.0) > SOURCES_APART_LIMIT_NM:
        yield Caution(
            "CHECK",
            literal(
                "sources-apart",
                f"Two datasets put {where} {waypoint.sources_apart_nm:.1f} NM apart"
                f"{_rule(waypoint)}: check its position on the chart.",
            ),
            _TABLES,
            where,
        )
    place = waypoint.place
    if not isinstance(place, Airport) or waypoint.kind != "airport":
        return
    if place.closed:
        yield Caution(
            "STOP" if is_destination else "CHECK",
            literal(
                "closed",
                f"{where} ({place.name}) is marked closed in the data: "
                "it is a place on the ground, not somewhere to land.",
            ),
            _TABLES,
            where,
        )
    elif place.kind in ("heliport", "seaplane_base", "balloonport"):
        words = {"heliport": "a heliport", "seaplane_base": "a seaplane base"}
        yield Caution(
            "CHECK",
            literal(
                place.kind.replace("_", "-"),
                f"{where} ({place.name}) is {words.get(place.kind, 'a balloonport')}: "
                "check that you can use it.",
            ),
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
            literal(
                "short-leg",
                f"The ends of {where} are {length_ft:.0f} ft apart: its course means "
                "nothing. Are they meant to be one place?",
            ),
            where=where,
        )
    if leg.line.ambiguous:
        yield Caution(
            "CHECK",
            literal(
                "near-antipodal",
                f"The ends of {where} lie almost opposite each other on the earth: the shortest way "
                "is not the only one. Put a turning point between them.",
            ),
            where=where,
        )
    if leg.variation.zone:
        yield Caution(
            "CHECK",
            literal(
                f"magnetic-{leg.variation.zone}-zone",
                f"{leg.start.name} to {leg.end.name} lies in the magnetic model's "
                f"{leg.variation.zone} zone: a magnetic compass is unreliable there.",
            ),
            _MODEL_REPORT,
            where,
        )
    turn_deg = abs(half_turn(leg.line.final_true_course_deg - leg.line.initial_true_course_deg))
    if turn_deg >= COURSE_CHANGE_LIMIT_DEG and not leg.line.ambiguous:
        yield Caution(
            "NOTE",
            literal(
                "course-changes",
                f"The true course changes by {turn_deg:.0f}° along {where}; the one given is at its "
                "middle. Split the leg to follow it more closely.",
            ),
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
    return [Caution("CHECK", literal("old-magnetic-model", words), _MODEL_REPORT)]


# Cautions where one variation a leg hides how much it changes along it.

# As for true courses: a plotter is read to about a degree or two (common practice).
VARIATION_CHANGE_LIMIT_DEG = 2.0
# On a shorter leg variation hardly changes by so much, outside the magnetic model's polar zones.
SHORTEST_LEG_ASKED_NM = 60.0


def variation_cautions(route: Route, magnetism: FlightMagnetism) -> list[Caution]:
    """A note for each long leg whose ends differ by 2° or more in variation."""
    return [
        note
        for leg in route.legs
        if leg.distance_nm >= SHORTEST_LEG_ASKED_NM
        for note in _leg_note(leg, magnetism)
    ]


def _leg_note(leg: Leg, magnetism: FlightMagnetism) -> list[Caution]:
    first = magnetism.degrees_east(leg.start.position)
    last = magnetism.degrees_east(leg.end.position)
    if abs(half_turn(last - first)) < VARIATION_CHANGE_LIMIT_DEG:
        return []
    words = (
        f"Variation changes from {variation(first)} to {variation(last)} along leg {leg.number}; "
        "the magnetic course given is for its middle. Split the leg to follow it more closely."
    )
    return [Caution("NOTE", literal("variation-changes", words), where=f"leg {leg.number}")]


# Cautions for points whose place the newest tables know otherwise than those before.

_BOTH_TABLES = "comparison of the newest tables with those before"
MOST_NAMED = 3
"""Changes named in one caution; a field with more has been made anew."""


def changes_cautions(route: Route, store: Store) -> list[Caution]:
    """A check for each point of a route whose place changed between two sets of tables."""
    return point_changes(route.waypoints, store)


def point_changes(waypoints: Iterable[Waypoint], store: Store) -> list[Caution]:
    """A check for each of these points whose place changed between two sets of tables."""
    points = {key_of(point.place): point for point in waypoints if point.place}
    changes = store.changes_of(list(points)) if points else None
    if changes is None:
        return []
    return [
        _told(point, found, changes.dates.get("airports"))
        for key, point in points.items()
        if (found := changes.of(key))
    ]


def _told(point: Waypoint, changes: tuple[Change, ...], dates: tuple[str, str] | None) -> Caution:
    named = [_words(change) for change in changes[:MOST_NAMED]]
    more = [f"{len(changes) - MOST_NAMED} more"] if len(changes) > MOST_NAMED else []
    between = f" between {dates[0]} and {dates[1]}" if dates else ""
    return Caution(
        "CHECK",
        literal(
            "changed-place",
            f"{point.name} changed in the data{between}: {'; '.join([*named, *more])}. See its current "
            "publications; 'plotter data changes' lists every change.",
        ),
        _BOTH_TABLES,
        point.name,
    )


def _words(change: Change) -> str:
    """One change in words.

    >>> from plotter.places.model import Change, What
    >>> _words(Change("KAAA", What.MOVED, "", "", 3.02))
    'moved 3.0 NM'
    >>> _words(Change("KAAA", What.RENUMBERED, "13/31", "14/32"))
    'runway renumbered (13/31, now 14/32)'
    """
    if change.moved_nm:
        return f"moved {distance(change.moved_nm)}"
    said = ", now ".join(part for part in (change.before, change.after) if part)
    return f"{change.what.value} ({said})" if said else change.what.value


# How old the tables behind a figure are, said where the figure is shown.

LIMIT_DAYS = 365
"""Older tables are told. Twelve months are our choice: airport data is published every 28 days
(ICAO Annex 15, the AIRAC cycle), so no table here is ever as new as a current chart."""


def age_cautions(
    dates: Mapping[str, str], tables: Iterable[str], day: dt.date, day_of: str = "the flight"
) -> list[Caution]:
    """One note for all tables more than a year old on a day; ``dates`` [ISO 8601] by table.

    ``day_of`` says what happens that day.

    >>> dates = {"airports": "2025-12-02", "navaids": "2022-10-11"}
    >>> age_cautions(dates, ["airports", "navaids"], dt.date(2026, 7, 4))[0].text
    'More than a year old on the day of the flight: navaids of 2022-10-11 (3.7 years). \
Check against current publications.'
    """
    old: dict[str, list[str]] = defaultdict(list)
    for table in dict.fromkeys(tables):
        if age_days(dates[table], day) > LIMIT_DAYS:
            old[dates[table]].append(table.replace("_", " "))
    if not old:
        return []
    listed = ", ".join(_listed(names, date, day) for date, names in sorted(old.items()))
    when = "today" if day_of == "today" else f"on the day of {day_of}"
    words = f"More than a year old {when}: {listed}. Check against current publications."
    return [Caution("NOTE", literal("data-age", words))]


def table_dates(store: Store) -> dict[str, str]:
    """The date [ISO 8601] of each table of a store."""
    return {name: entry["date"] for name, entry in store.register.items()}


def age_days(table_date: str, day: dt.date) -> int:
    """How old [days] a table of a date is on a day."""
    return (day - dt.date.fromisoformat(table_date)).days


def age(table_date: str, day: dt.date) -> str:
    """The age of a table in words.

    >>> age("2022-10-11", dt.date(2026, 7, 4)), age("2026-06-04", dt.date(2026, 7, 4))
    ('3.7 years', '30 days')
    """
    days = age_days(table_date, day)
    return f"{days / 365.25:.1f} years" if days > LIMIT_DAYS else f"{max(0, days)} days"


def _listed(names: list[str], date: str, day: dt.date) -> str:
    return f"{' and '.join(names)} of {date} ({age(date, day)})"
