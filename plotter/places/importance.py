"""Which of several places of one name is more likely meant: the order of equals in a search.

Classes from the most to the least important; within one, airports by their longest runway, towns
by their people. Where the classes begin is our choice: a town of 10,000 is better known than most
strips.
"""

from __future__ import annotations

from plotter.places.model import Airport, Town
from plotter.places.naming import NAVAID, TOWN, Found

CLASSES = (
    "large_airport",
    "medium_airport",
    "city",
    "larger_town",
    "small_airport",
    NAVAID,
    TOWN,
    "seaplane_base",
    "heliport",
    "balloonport",
    "closed",
)
CITY_PEOPLE, LARGER_TOWN_PEOPLE = 100_000, 10_000
_CLASS = {name: number for number, name in enumerate(CLASSES)}
Importance = tuple[int, float]
"""Sorts the more important first."""


def of_airport(kind: str, longest_runway_ft: float | None) -> Importance:
    """The importance of an airport; a runway that is not in the data counts as the shortest.

    >>> of_airport("large_airport", 12_000.0) < of_airport("large_airport", None)
    True
    """
    return _CLASS[kind], -(longest_runway_ft or 0.0)


def importance_of(place: Found) -> Importance:
    """Return the importance of a place.

    >>> from plotter.earth.position import Position
    >>> here = Position(0, 0)
    >>> importance_of(Town("Demo", "ZZ", here, 9)) < importance_of(Town("Demo", "ZZ", here, 8))
    True
    """
    if isinstance(place, Town):
        return of_town(place.population or 0)
    if isinstance(place, Airport):
        return of_airport(place.kind, place.longest_runway_ft)
    return of_navaid()


def class_of(place: Found) -> int:
    """The class of a place by itself, the most important 0.

    >>> from plotter.earth.position import Position
    >>> class_of(Town("Demo", "ZZ", Position(0, 0), 200_000)) == CLASSES.index("city")
    True
    """
    return importance_of(place)[0]


def of_navaid() -> Importance:
    """The importance of a beacon; they are all alike."""
    return _CLASS[NAVAID], 0.0


def of_town(people: int) -> Importance:
    """The importance of a town; 0 people is "not in the data"."""
    name = "city" if people >= CITY_PEOPLE else TOWN
    if LARGER_TOWN_PEOPLE <= people < CITY_PEOPLE:
        name = "larger_town"
    return _CLASS[name], -float(people)
