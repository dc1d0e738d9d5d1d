"""What the pilot does to the route with hand or keys, done to the text of the route."""

from __future__ import annotations

from collections.abc import Sequence

from plotter.earth.position import Position
from plotter.errors import PlotterError
from plotter.places.nearness import place_near
from plotter.places.store import Store
from plotter.route import editing
from plotter.route.reading.points import OwnPoints, PointReader
from plotter.route.reading.text import coincide
from plotter.route.suggesting import to_type
from plotter.web.requests import Call, Edit, Order, Put, Remove, Write


def stands(route: str, among: Sequence[str]) -> bool:
    """Whether a route still begins with the points that a change was made among.

    A change says which point it means by its number; where the points before it are others by
    now, that number means another point.

    >>> stands("KAAA KBBB KCCC", ["KAAA", "KBBB"]), stands("KAAA KDDD KBBB", ["KAAA", "KBBB"])
    (True, False)
    """
    return editing.points_of(route)[: len(among)] == list(among)


def edited(route: str, edit: Edit | None, store: Store) -> str:
    """The route after one change; raises InputError for a point that is not there.

    A point put down on the one before or behind it changes nothing: no leg is without length.
    """
    if edit is None:
        return route
    if isinstance(edit, Put | Write):
        index = editing.point_count(route) if edit.index is None else edit.index
        changed = _put(route, index, edit, store)
        return route if _is_twice(changed, index, store) else changed
    if isinstance(edit, Call):
        return editing.named(route, edit.index, edit.name)
    if isinstance(edit, Remove):
        return editing.removed(route, edit.index)
    if isinstance(edit, Order):
        return editing.reordered(route, edit.order)
    return editing.turned_back(route)


def _put(route: str, index: int, edit: Put | Write, store: Store) -> str:
    if isinstance(edit, Write):
        change = editing.replaced if edit.kind == "write" else editing.inserted
        return change(route, index, edit.text)
    position = Position(edit.latitude_deg, edit.longitude_deg)
    place = place_near(store, position, edit.snap_nm)
    typed = to_type(store, place) if place else editing.typed_position(position)
    if edit.kind == "insert":
        return editing.inserted(route, index, typed)
    change = editing.replaced if place else editing.moved
    return change(route, index, typed)


def _is_twice(route: str, index: int, store: Store) -> bool:
    """Whether a point of a route is the same place as a neighbour of it."""
    points = editing.points_of(route)
    here = _position(points, index, store)
    beside = (_position(points, other, store) for other in (index - 1, index + 1))
    return here is not None and any(there and coincide(here, there) for there in beside)


def _position(points: Sequence[str], index: int, store: Store) -> Position | None:
    """Where a point is, as far as it can be read alone."""
    if not 0 <= index < len(points):
        return None
    text = points[index].rpartition("=")[2]
    try:
        return PointReader(store, OwnPoints(), None).read(text, None).waypoint.position
    except PlotterError:
        return None
