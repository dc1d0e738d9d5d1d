"""A base map made by hand: square islands, a lake and invented towns, for tests of the map."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, field

UNITS = {"world": 0.05, "coarse": 0.01, "fine": 0.001}
HAIR = 2

Shape = list[int]
Town = tuple[str, float, float, int]


def square(south: float, west: float, north: float, east: float, unit: float) -> Shape:
    """A packed ring round a box given in degrees."""
    s, w, n, e = (round(edge / unit) for edge in (south, west, north, east))
    return [w, s, e - w, 0, 0, n - s, w - e, 0]


def line(points: Sequence[tuple[float, float]], unit: float) -> Shape:
    """A packed line through (latitude, longitude) points."""
    flat: Shape = []
    x0 = y0 = 0
    for latitude, longitude in points:
        x, y = round(longitude / unit), round(latitude / unit)
        flat += [x - x0, y - y0]
        x0, y0 = x, y
    return flat


def cell(name: str, **layers: list[Shape]) -> str:
    """The JSON text of a cell, as the tables keep it."""
    return json.dumps({"cell": name, "layers": layers}, separators=(",", ":"))


def all_land(name: str, size: int, tier: str) -> str:
    """A cell that is land from edge to edge, and a hair beyond."""
    south, west, unit = int(name[:3]), int(name[3:]), UNITS[tier]
    s, w = round(south / unit) - HAIR, round(west / unit) - HAIR
    side = round(size / unit) + 2 * HAIR
    return cell(name, land=[[w, s, side, 0, 0, side, -side, 0]])


@dataclass
class Cells:
    """A source of cells that remembers what it was asked for."""

    base: dict[tuple[str, str], str] = field(default_factory=dict)
    towns: dict[str, list[Town]] = field(default_factory=dict)
    asked: list[tuple[str, str]] = field(default_factory=list)

    def base_cell(self, tier: str, cell: str) -> str | None:
        self.asked.append((tier, cell))
        return self.base.get((tier, cell))

    def towns_cell(self, cell: str) -> Sequence[Town]:
        self.asked.append(("towns", cell))
        return sorted(self.towns.get(cell, []), key=lambda town: (-town[3], *town[:3]))


def prairie() -> Cells:
    """Land without end under the short demo route, one lake, one river, three towns."""
    source = Cells()
    source.base["world", "world"] = cell(
        "world",
        land=[square(-60, -170, 70, 170, 0.05)],
        border=[line([(49, -120), (49, -95)], 0.05)],
        lake=[square(46, -92, 48, -85, 0.05)],
    )
    for name in ("+40-095", "+40-100", "+45-095", "+45-100", "+40-090", "+45-090"):
        source.base["fine", name] = all_land(name, 5, "fine")
    source.base["fine", "+40-095"] = cell(
        "+40-095",
        land=json.loads(all_land("+40-095", 5, "fine"))["layers"]["land"],
        lake=[square(44.1, -92.4, 44.2, -92.2, 0.001)],
        river=[line([(44.0, -92.9), (44.3, -92.6), (44.4, -92.1)], 0.001)],
        state=[line([(43.6, -94.0), (44.4, -91.0)], 0.001)],
    )
    for name in ("+30-100", "+30-120", "+50-100", "+50-120", "+30-080", "+50-080"):
        source.base["coarse", name] = all_land(name, 20, "coarse")
    source.towns["+40-095"] = [
        ("Demo City", 44.02, -92.47, 120_000),
        ("Demoville", 44.42, -92.6, 16_000),
        ("Little Demo", 44.3, -92.3, 900),
    ]
    return source


def atoll() -> Cells:
    """Two square islands, one on either side of 180°, and one that lies across it."""
    source = Cells()
    source.base["world", "world"] = cell("world", land=[square(-18, 177, -17, 178, 0.05)])
    west = [square(-17, 178, -16.5, 178.4, 0.001), square(-16.2, 179.8, -16.0, 180.002, 0.001)]
    east = [
        square(-16.6, -179.4, -16.3, -179.0, 0.001),
        square(-16.2, -180.002, -16, -179.8, 0.001),
    ]
    source.base["fine", "-20+175"] = cell("-20+175", land=west)
    source.base["fine", "-20-180"] = cell("-20-180", land=east)
    source.towns["-20-180"] = [("Demo Lagoon", -16.5, -179.2, 300)]
    return source
