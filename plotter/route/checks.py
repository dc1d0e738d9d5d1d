"""The cautions that a plotted route gives rise to, few enough to be read."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from plotter.earth.angles import half_turn
from plotter.earth.units import feet_from_metres, metres_from_nm
from plotter.messages import Message, message
from plotter.places.lookup import key_of
from plotter.places.model import Airport
from plotter.places.store import Store
from plotter.route.measuring import FlightMagnetism
from plotter.route.values import Caution, Leg, Route, Waypoint

if TYPE_CHECKING:
    from plotter.places.model import Change

# Two datasets that put one airport further apart than this are worth a look at the chart: it is
# half a minute of latitude, and wider than the largest airports.
SOURCES_APART_LIMIT_NM = 0.5
# A plotter is read to about a degree or two (common practice).
COURSE_CHANGE_LIMIT_DEG = 2.0
# Shorter than a long runway: the ends are within what airport positions are known to.
SHORTEST_LEG_NM = 0.1

# Kinds of airport that not every aircraft can use, and the caution for each.
_NO_RUNWAY = {
    "heliport": "heliport",
    "seaplane_base": "seaplane-base",
    "balloonport": "balloonport",
}

_ZONES = {"caution": "magnetic-caution-zone", "blackout": "magnetic-blackout-zone"}
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
            message("same-name", name=name),
            where=name,
        )
        for name in dict.fromkeys(names)
    ]


def _waypoint_cautions(waypoint: Waypoint, is_destination: bool) -> Iterator[Caution]:
    where = waypoint.name
    rule = waypoint.place.position_rule if isinstance(waypoint.place, Airport) else ""
    if (waypoint.sources_apart_nm or 0.0) > SOURCES_APART_LIMIT_NM:
        yield Caution(
            "CHECK",
            message(
                "sources-apart.rule" if rule else "sources-apart",
                point=where,
                apart_nm=waypoint.sources_apart_nm,
                rule=rule,
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
            message("closed", point=where, place=place.name),
            _TABLES,
            where,
        )
    elif place.kind in _NO_RUNWAY:
        yield Caution(
            "CHECK",
            message(_NO_RUNWAY[place.kind], point=where, place=place.name),
            _TABLES,
            where,
        )


def _leg_cautions(leg: Leg) -> Iterator[Caution]:
    where = f"leg {leg.number}"
    if leg.distance_nm < SHORTEST_LEG_NM:
        length_ft = feet_from_metres(metres_from_nm(leg.distance_nm))
        yield Caution(
            "CHECK",
            message("short-leg", leg=leg.number, length_ft=length_ft),
            where=where,
        )
    if leg.line.ambiguous:
        yield Caution(
            "CHECK",
            message("near-antipodal", leg=leg.number),
            where=where,
        )
    if leg.variation.zone:
        yield Caution(
            "CHECK",
            message(
                _ZONES[leg.variation.zone],
                leg=leg.number,
                start=leg.start.name,
                end=leg.end.name,
            ),
            _MODEL_REPORT,
            where,
        )
    turn_deg = abs(half_turn(leg.line.final_true_course_deg - leg.line.initial_true_course_deg))
    if turn_deg >= COURSE_CHANGE_LIMIT_DEG and not leg.line.ambiguous:
        yield Caution(
            "NOTE",
            message("course-changes", leg=leg.number, turn_deg=turn_deg),
            where=where,
        )


def model_caution(route: Route) -> list[Caution]:
    """A caution where the magnetic model was used outside its years."""
    old = next((leg.variation for leg in route.legs if leg.variation.out_of_date), None)
    if old is None:
        return []
    said = message("old-magnetic-model", model=old.model, date=old.date.isoformat())
    return [Caution("CHECK", said, _MODEL_REPORT)]


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
    said = message("variation-changes", leg=leg.number, first_deg=first, last_deg=last)
    return [Caution("NOTE", said, where=f"leg {leg.number}")]


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
    listed = [_change(change) for change in changes[:MOST_NAMED]]
    if len(changes) > MOST_NAMED:
        listed.append(message("changed-place.more", count=len(changes) - MOST_NAMED))
    before, after = dates or ("", "")
    return Caution(
        "CHECK",
        message(
            "changed-place.between" if dates else "changed-place",
            point=point.name,
            changes=tuple(listed),
            before=before,
            after=after,
        ),
        _BOTH_TABLES,
        point.name,
    )


def _change(change: Change) -> Message:
    """Return one change as a part of a caution.

    >>> from plotter.messages import text
    >>> from plotter.places.model import Change, What
    >>> text(_change(Change("KAAA", What.MOVED, "", "", 3.02)))
    'moved 3.0 NM'
    >>> text(_change(Change("KAAA", What.RENUMBERED, "13/31", "14/32")))
    'runway renumbered (13/31, now 14/32)'
    """
    if change.moved_nm:
        return message("changed-place.moved", moved_nm=change.moved_nm)
    values = tuple(part for part in (change.before, change.after) if part)
    key = "changed-place.change" if values else "changed-place.kind"
    return message(key, what=change.what.value, values=values)


# How old the tables behind a figure are, said where the figure is shown.

LIMIT_DAYS = 365
"""Older tables are told. Twelve months are our choice: airport data is published every 28 days
(ICAO Annex 15, the AIRAC cycle), so no table here is ever as new as a current chart."""


def age_cautions(
    dates: Mapping[str, str], tables: Iterable[str], day: dt.date, today: bool = False
) -> list[Caution]:
    """Return one note for all tables more than a year old on the day of the flight, or today.

    ``dates`` [ISO 8601] are by table.

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
    listed = [
        message("data-age.table", tables=tuple(names), date=date, days=age_days(date, day))
        for date, names in sorted(old.items())
    ]
    key = "data-age.today" if today else "data-age"
    return [Caution("NOTE", message(key, listed=tuple(listed)))]


def table_dates(store: Store) -> dict[str, str]:
    """The date [ISO 8601] of each table of a store."""
    return {name: entry["date"] for name, entry in store.register.items()}


def age_days(table_date: str, day: dt.date) -> int:
    """How old [days] a table of a date is on a day."""
    return (day - dt.date.fromisoformat(table_date)).days
