"""Cautions for points whose place the newest tables know otherwise than those before."""

from __future__ import annotations

from typing import TYPE_CHECKING

from plotter.places.lookup import key_of
from plotter.places.store import Store
from plotter.route.cautions import Caution
from plotter.route.route import Route, Waypoint
from plotter.wording import distance

if TYPE_CHECKING:
    from plotter.places.changes import Change

_TABLES = "comparison of the newest tables with those before"
MOST_NAMED = 3
"""Changes named in one caution; a field with more has been made anew."""


def changes_cautions(route: Route, store: Store) -> list[Caution]:
    """A check for each point of a route whose place changed between two sets of tables."""
    points = {key_of(point.place): point for point in route.waypoints if point.place}
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
        "changed-place",
        f"{point.name} changed in the data{between}: {'; '.join([*named, *more])}. See its current "
        "publications; 'plotter data changes' lists every change.",
        _TABLES,
        point.name,
    )


def _words(change: Change) -> str:
    """One change in words.

    >>> from plotter.places.changes import Change, What
    >>> _words(Change("KAAA", What.MOVED, "", "", 3.02))
    'moved 3.0 NM'
    >>> _words(Change("KAAA", What.RENUMBERED, "13/31", "14/32"))
    'runway renumbered (13/31, now 14/32)'
    """
    if change.moved_nm:
        return f"moved {distance(change.moved_nm)}"
    said = ", now ".join(part for part in (change.before, change.after) if part)
    return f"{change.what.value} ({said})" if said else change.what.value
