"""The generated tables of lines, read once."""

from __future__ import annotations

import csv
import math
from functools import cache
from pathlib import Path
from typing import NamedTuple

from plotter.earth.position import Position

PUBLISHED = Path(__file__).parent / "published"


class Row(NamedTuple):
    """One line of a table: its ends and what GeographicLib says of it."""

    category: str
    start: Position
    end: Position
    distance_m: float
    courses_deg: tuple[float, float, float]
    middle: Position


@cache
def rows(name: str) -> tuple[Row, ...]:
    """The rows of ``geodesics`` or ``rhumb_lines``."""
    with (PUBLISHED / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(_row(line) for line in csv.DictReader(file))


def apart_deg(one: float, other: float) -> float:
    """The angle [°] between two directions, whichever way they are counted."""
    return abs(math.remainder(one - other, 360.0))


def _row(line: dict[str, str]) -> Row:
    def number(column: str) -> float:
        return float(line[column])

    return Row(
        line["category"],
        Position(number("lat1_deg"), number("lon1_deg")),
        Position(number("lat2_deg"), number("lon2_deg")),
        number("distance_m"),
        (number("azimuth1_deg"), number("mid_azimuth_deg"), number("azimuth2_deg")),
        Position(number("mid_lat_deg"), number("mid_lon_deg")),
    )
