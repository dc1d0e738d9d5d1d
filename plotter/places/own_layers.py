"""The pilot's own layers as values: what kinds there are, and the shapes of one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from plotter.earth.position import Position

Family = Literal["point", "line", "area"]
Box = tuple[float, float, float, float]
"""South, west, north, east [°]."""

KINDS: Mapping[str, tuple[Family, ...]] = MappingProxyType(
    {
        "rivers": ("line", "area"),
        "lakes": ("area",),
        "railways": ("line",),
        "roads": ("line",),
        "towers": ("point",),
        "landmarks": ("point",),
        "points": ("point",),
    }
)
"""What a layer may hold, and the families of shape that can be such a thing."""


@dataclass(frozen=True, slots=True)
class OwnLayer:
    """One layer: its name and kind, how many features it has, the file it came from.

    ``file_date`` is the day the file was last written, ``added`` the day it was brought, both as
    ``2026-08-22``; ``notes`` say in words what was repaired, left out or taken for granted.
    """

    name: str
    kind: str
    features: int
    file: str
    file_date: str
    added: str
    notes: tuple[str, ...] = ()

    def age_days(self, today: str) -> int:
        """How old the file is on a day [days]; the layer may be older still.

        >>> OwnLayer("a", "roads", 1, "a.csv", "2026-08-22", "2026-09-01").age_days("2026-08-25")
        3
        """
        from datetime import date

        return (date.fromisoformat(today) - date.fromisoformat(self.file_date)).days


@dataclass(frozen=True, slots=True)
class OwnShape:
    """One feature of a layer: a point, lines, or the rings of areas (filled by the even-odd rule).

    ``parts`` hold latitude, longitude [°] of each point, to 0.00001° (about 1 m); a ring ends
    where it began. ``number`` counts the features of the layer from 1.
    """

    layer: str
    kind: str
    number: int
    name: str
    family: Family
    parts: tuple[tuple[tuple[float, float], ...], ...]

    @property
    def position(self) -> Position:
        """Where a point is; for a line or area, its first point."""
        return Position(*self.parts[0][0])
