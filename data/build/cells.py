"""Cut shapes into cells and write them as short whole numbers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

Ring = list[int]


@dataclass(frozen=True, slots=True)
class Cell:
    """A square of the map, named by its south-west corner [degrees]."""

    south: int
    west: int
    size: int

    @property
    def name(self) -> str:
        """The corner with signs.

        >>> Cell(40, -80, 5).name
        '+40-080'
        """
        return f"{self.south:+03d}{self.west:+04d}"

    def box(self, grown_deg: float = 0.0) -> shapely.Polygon:
        """The square, grown by a hair where neighbours are to overlap."""
        south, west = self.south - grown_deg, self.west - grown_deg
        north, east = self.south + self.size + grown_deg, self.west + self.size + grown_deg
        return shapely.box(west, south, east, north)


def cells(size: int) -> Iterator[Cell]:
    """Every cell of the world."""
    for south in range(-90, 90, size):
        for west in range(-180, 180, size):
            yield Cell(south, west, min(size, 90 - south))


class Pieces:
    """Shapes of one layer, ready to be cut."""

    def __init__(self, shapes: np.ndarray) -> None:
        self.shapes = shapes
        self.tree = shapely.STRtree(shapes)

    def cut(self, box: shapely.Polygon) -> Any:
        """What of the shapes lies in a box."""
        touched = self.shapes[np.sort(self.tree.query(box, predicate="intersects"))]
        return shapely.get_parts(shapely.intersection(touched, box))


def rings(shapes: np.ndarray, unit_deg: float) -> list[Ring]:
    """The outlines of polygons, outer and inner alike, for even-odd filling, sorted."""
    polygons = shapes[shapely.get_type_id(shapes) == shapely.GeometryType.POLYGON]
    outlines = shapely.get_rings(shapely.simplify(polygons, 0))
    made = (_steps(shapely.get_coordinates(ring)[:-1], unit_deg, 3) for ring in outlines)
    return sorted(ring for ring in made if ring)


def lines(shapes: np.ndarray, unit_deg: float) -> list[Ring]:
    """Lines, joined where they meet, sorted."""
    parts = shapes[shapely.get_type_id(shapes) == shapely.GeometryType.LINESTRING]
    joined = shapely.get_parts(shapely.line_merge(shapely.multilinestrings(parts)))
    made = (_steps(shapely.get_coordinates(line), unit_deg, 2) for line in joined)
    return sorted(line for line in made if line)


def _steps(points: np.ndarray, unit_deg: float, fewest: int) -> Ring:
    """Longitude, latitude of the first point, then differences, all in units; or nothing.

    Points that fall together are one. The longitude comes first, as the map wants it.
    """
    whole = np.rint(points / unit_deg).astype(int)
    moved = np.ones(len(whole), dtype=bool)
    moved[1:] = (np.diff(whole, axis=0) != 0).any(axis=1)
    kept = whole[moved]
    if fewest == 3 and len(kept) > 1 and (kept[0] == kept[-1]).all():
        kept = kept[:-1]
    if len(kept) < fewest:
        return []
    return np.vstack((kept[:1], np.diff(kept, axis=0))).ravel().tolist()
