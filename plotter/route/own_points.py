"""The pilot's own points, used by name in a route."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from plotter.earth.position import Position
from plotter.places.spelling import names_alike


class OwnPoint(NamedTuple):
    """A named point of the pilot's: position, elevation [ft] if known, a note."""

    name: str
    position: Position
    elevation_ft: float | None = None
    note: str = ""


class OwnPoints:
    """Own points by name; the exact spelling first, then whatever the case of the letters.

    >>> points = OwnPoints([OwnPoint("Red Barn", Position(44.0, -92.0))])
    >>> points.find("red barn").name, points.find("blue barn")
    ('Red Barn', None)
    """

    def __init__(self, points: Iterable[OwnPoint] = ()) -> None:
        self._points = tuple(points)
        self._exact = {point.name: point for point in self._points}
        self._folded = {point.name.casefold(): point for point in reversed(self._points)}

    def find(self, name: str) -> OwnPoint | None:
        """The point of that name, or ``None``."""
        return self._exact.get(name) or self._folded.get(name.casefold())

    def like(self, name: str) -> tuple[str, ...]:
        """Names of points that ``name`` may be a slip of, the likeliest first.

        >>> OwnPoints([OwnPoint("Red barn", Position(44.0, -92.0))]).like("red bran")
        ('Red barn',)
        """
        return names_alike(name, [point.name for point in self._points])

    def __iter__(self) -> Iterator[OwnPoint]:
        return iter(self._points)

    def __len__(self) -> int:
        return len(self._points)
