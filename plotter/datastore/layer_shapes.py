"""Geometry of the pilot's own layers, checked: taken, repaired or left out, and counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import shapely

from plotter.places.grid import DEGREE
from plotter.places.own_layers import KINDS, Family

PER_DEG = 100_000
"""Positions are kept in whole parts of a degree: 1.1 m or less."""
MOST_POINTS = 500_000
"""Points of one feature; the whole coast of Canada at 1:10,000,000 has fewer."""
_FAMILIES: dict[str, Family] = {
    **{"Point": "point", "MultiPoint": "point"},
    **{"LineString": "line", "MultiLineString": "line", "LinearRing": "line"},
    **{"Polygon": "area", "MultiPolygon": "area"},
}
_FEWEST: dict[Family, int] = {"point": 1, "line": 2, "area": 4}
Part = list[int]
"""Longitude, latitude of the first point, then differences, in units."""


@dataclass(frozen=True, slots=True)
class Sound:
    """A geometry that can be kept: its family, its parts in units, the 1° cells it touches."""

    family: Family
    parts: list[Part]
    cells: list[int]
    bounds: tuple[float, float, float, float]


@dataclass(slots=True)
class Findings:
    """What was repaired and what was left out, by reason, with the first feature of each."""

    counts: Counter[str] = field(default_factory=Counter)
    first: dict[str, str] = field(default_factory=dict)

    def add(self, reason: str, which: str) -> None:
        """Count one."""
        self.counts[reason] += 1
        self.first.setdefault(reason, which)

    def words(self) -> tuple[str, ...]:
        """A line for each reason, the most frequent first."""
        return tuple(
            f"{count:,} {reason} (first: {self.first[reason]})"
            for reason, count in self.counts.most_common()
        )


def sound(geometry: Any, kind: str, findings: Findings, which: str) -> Sound | None:  # noqa: ANN401
    """A geometry of shapely as it is kept; ``None`` where it is left out, which is counted."""
    wrong = _wrong(geometry, kind)
    if wrong:
        findings.add(f"left out: {wrong}", which)
        return None
    family = _FAMILIES[geometry.geom_type]
    if family == "area" and not geometry.is_valid:
        geometry = _areas_of(shapely.make_valid(geometry))
        findings.add("repaired: an outline that crosses itself", which)
    parts = [part for part in map(_packed, _lines(geometry)) if len(part) >= 2 * _FEWEST[family]]
    if not parts:
        findings.add("left out: smaller than a metre", which)
        return None
    return Sound(family, parts, list(_cells(geometry)), geometry.bounds)


def _wrong(geometry: Any, kind: str) -> str:  # noqa: ANN401
    """Why a geometry cannot be kept; empty where it can."""
    if geometry is None or geometry.is_empty:
        return "no position"
    family = _FAMILIES.get(geometry.geom_type)
    if family not in KINDS[kind]:
        return f"a {geometry.geom_type} is none of {kind}"
    points = shapely.get_coordinates(geometry)
    if len(points) > MOST_POINTS:
        return f"more than {MOST_POINTS:,} points"
    limits = np.array([180.0, 90.0])
    return "" if (np.abs(points) <= limits).all() else "lies nowhere on earth"


def _areas_of(geometry: Any) -> Any:  # noqa: ANN401
    """The areas among what a repair has made."""
    parts = shapely.get_parts(shapely.get_parts(geometry))
    return shapely.multipolygons([part for part in parts if part.geom_type == "Polygon"])


def _lines(geometry: Any) -> Iterator[Any]:  # noqa: ANN401
    """The points, lines or rings a geometry is made of."""
    for part in shapely.get_parts(geometry):
        yield from shapely.get_rings(part) if part.geom_type == "Polygon" else (part,)


def _packed(line: Any) -> Part:  # noqa: ANN401
    """A line in whole units, without points that fall together."""
    whole = np.rint(shapely.get_coordinates(line) * PER_DEG).astype(np.int64)
    kept = np.ones(len(whole), dtype=bool)
    kept[1:] = (np.diff(whole, axis=0) != 0).any(axis=1)
    whole = whole[kept]
    steps: Part = np.vstack((whole[:1], np.diff(whole, axis=0))).ravel().tolist()
    return steps


def _cells(geometry: Any) -> Iterator[int]:  # noqa: ANN401
    """The numbers of the 1° cells that a geometry touches."""
    west, south, east, north = geometry.bounds
    numbers = np.array(sorted(set(DEGREE.cells_in(south, west, north, east))))
    if len(numbers) == 1:
        yield int(numbers[0])
        return
    rows, columns = np.divmod(numbers, DEGREE.columns)
    boxes = shapely.box(columns - 180.0, rows - 90.0, columns - 179.0, rows - 89.0)
    shapely.prepare(geometry)
    touched = numbers[shapely.intersects(geometry, boxes)]
    yield from (int(number) for number in touched)


def unpacked(part: Part) -> tuple[tuple[float, float], ...]:
    """Latitude, longitude [°] of each point of a part.

    >>> unpacked([-9250000, 4400000, 5, 0])
    ((44.0, -92.5), (44.0, -92.49995))
    """
    points = np.array(part, dtype=np.int64).reshape(-1, 2).cumsum(axis=0)
    return tuple((y / PER_DEG, x / PER_DEG) for x, y in points.tolist())
