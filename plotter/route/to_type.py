"""What to type in a route for a place that was found, so that it and no other is meant."""

from __future__ import annotations

from plotter.places.candidates import what_to_type
from plotter.places.lookup import chooser, key_of
from plotter.places.model import Airport, Navaid, Town
from plotter.places.naming import Found
from plotter.places.store import Store
from plotter.route.item15 import read_cruise_group
from plotter.route.points import as_typed, is_airway, may_be_coordinate
from plotter.route.route_text import DIRECT


def to_type(store: Store, place: Found) -> str:
    """The shortest text that names this place in a route wherever it stands there.

    A town has no identifier: its name and position, in quotes where the name holds a space.

    >>> from plotter.earth.position import Position
    >>> to_type(None, Town("Demo City", "ZZ", Position(44.02, -92.46), None))
    '"Demo City=44.0200,-92.4600"'
    """
    if isinstance(place, Town):
        return as_typed(f"{_plain_name(place.name)}={_figures(place)}")
    chosen = chooser(store)
    codes = place.codes if isinstance(place, Airport) else (place.ident,)
    for code in codes:
        if chosen("", code) == key_of(place) and _reads_as_itself(code, place):
            return code
    return what_to_type(place, codes[0], chosen)


def _reads_as_itself(code: str, place: Airport | Navaid) -> bool:
    """Whether a route takes a bare code for an identifier and for nothing else."""
    if code.upper() == DIRECT or read_cruise_group(code) or may_be_coordinate(code):
        return False
    return isinstance(place, Airport) or not is_airway(code)


def _plain_name(name: str) -> str:
    """A name without the marks that mean something in a route."""
    return " ".join("".join(" " if mark in '="/' else mark for mark in name).split()).lstrip("'")


def _figures(place: Town) -> str:
    return f"{place.position.latitude_deg:.4f},{place.position.longitude_deg:.4f}"
