"""Independent readers of what the writers write: GDAL, gpxpy, fastkml."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

import numpy as np
import pyogrio
import shapely

from plotter.earth.position import Position
from plotter.formats.names import shown_name
from plotter.route.plotting import Plot

Seen = tuple[str, float, float]
"""A point as read back: name, latitude and longitude [°] to six decimals."""


def seen(name: str, latitude: float, longitude: float) -> Seen:
    return name, round(latitude, 6), round(longitude, 6)


def turning_points(plot: Plot) -> list[Seen]:
    """What a reader should see of a plot's turning points."""
    return [_expected(point.name, point.position) for point in plot.route.waypoints]


def checkpoints(plot: Plot) -> list[Seen]:
    """What a reader should see of a plot's checkpoints."""
    return [_expected(mark.name, mark.position) for mark in plot.checkpoints]


def _expected(name: str, where: Position) -> Seen:
    return seen(shown_name(name), where.latitude_deg, where.longitude_deg)


def gdal(path: Path, layer: str) -> list[dict[str, Any]]:
    """The rows of one layer as GDAL reads them, each with its ``geometry``."""
    meta, _, geometry, columns = pyogrio.raw.read(path, layer=layer)
    fields: dict[str, Iterable[Any]] = dict(zip(meta["fields"], columns, strict=True))
    fields["geometry"] = shapely.from_wkb(geometry)
    return [dict(zip(fields, row, strict=True)) for row in zip(*fields.values(), strict=True)]


def gdal_points(path: Path, layer: str, name: str) -> list[Seen]:
    """The points of one layer as GDAL reads them."""
    return [seen(row[name], row["geometry"].y, row["geometry"].x) for row in gdal(path, layer)]


def close(first: list[Seen], second: list[Seen]) -> bool:
    """Same names, same order, same positions to six decimals (half of the last may differ)."""
    if [point[0] for point in first] != [point[0] for point in second]:
        return False
    a, b = (np.array([point[1:] for point in points]) for points in (first, second))
    return bool(np.all(np.abs(a - b) < 1.01e-6))
