"""What the pilot does to the route with hand or keys, done to the text of the route."""

from __future__ import annotations

from plotter.earth.position import Position
from plotter.places.snapping import place_near
from plotter.places.store import Store
from plotter.route import editing
from plotter.route.to_type import to_type
from plotter.web.asked import Call, Edit, Order, Put, Remove, Write


def edited(route: str, edit: Edit | None, store: Store) -> str:
    """The route after one change; raises InputError for a point that is not there."""
    if edit is None:
        return route
    if isinstance(edit, Put):
        return _put(route, edit, store)
    if isinstance(edit, Write):
        change = editing.replaced if edit.kind == "write" else editing.inserted
        return change(route, edit.index, edit.text)
    if isinstance(edit, Call):
        return editing.named(route, edit.index, edit.name)
    if isinstance(edit, Remove):
        return editing.removed(route, edit.index)
    if isinstance(edit, Order):
        return editing.reordered(route, edit.order)
    return editing.turned_back(route)


def _put(route: str, edit: Put, store: Store) -> str:
    position = Position(edit.latitude_deg, edit.longitude_deg)
    place = place_near(store, position, edit.snap_nm)
    typed = to_type(store, place) if place else editing.typed_position(position)
    if edit.kind == "insert":
        return editing.inserted(route, edit.index, typed)
    change = editing.replaced if place else editing.moved
    return change(route, edit.index, typed)
