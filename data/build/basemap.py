"""The offline base map: land, coast, borders, states, lakes and rivers, cut into cells.

Three tiers: one cell of the whole world, coarse cells of 20 degrees, fine cells of 5. Shapes are
simplified whole, before they are cut, so that what crosses an edge meets itself again.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from cells import Cell, Pieces, cells, lines, rings
from shapes import natural_earth, rivers

AREAS = ("land", "lake")
EDGE_DEG = 1e-6
OUTLINED_DEG2 = 0.15  # a lake of some 20 by 20 NM


@dataclass(frozen=True, slots=True)
class Tier:
    """How fine a tier is: sizes in degrees."""

    name: str
    cell_deg: int
    unit_deg: float
    tolerance_deg: float
    hair_deg: float
    smallest_area_deg2: float
    shortest_deg: float
    layers: tuple[str, ...]


FINE = Tier(
    "fine", 5, 0.001, 0.004, 0.002, 0.0, 0.0, ("land", "coast", "border", "state", "lake", "river")
)
COARSE = Tier(
    "coarse",
    20,
    0.01,
    0.042,
    0.02,
    0.012,
    0.9,
    ("land", "coast", "border", "state", "lake", "river"),
)
WORLD = Tier("world", 360, 0.05, 0.3, 0.0, 0.8, 2.5, ("land", "border", "lake"))


def read(work: Path) -> dict[str, np.ndarray]:
    """The shapes of every layer, as their makers drew them."""
    return {
        "land": natural_earth("land", work),
        "lake": natural_earth("lakes", work),
        "border": _merged(natural_earth("admin_0_boundary_lines_land", work)),
        "state": _merged(natural_earth("admin_1_states_provinces_lines", work)),
        "river": rivers(work),
    }


def _merged(shapes: np.ndarray) -> Any:
    """Lines joined at their ends where only two meet."""
    return shapely.get_parts(shapely.line_merge(shapely.multilinestrings(shapes)))


def simplified(shapes: dict[str, np.ndarray], tier: Tier) -> dict[str, np.ndarray]:
    """Each layer as plain as its tier wants, without specks.

    The coast is the edge of the land, and of lakes large enough to be sailed out of sight.
    """
    made = {}
    for layer, drawn in shapes.items():
        plain = shapely.simplify(drawn, tier.tolerance_deg, preserve_topology=True)
        if layer in AREAS:
            plain = shapely.get_parts(shapely.make_valid(plain))
            made[layer] = plain[shapely.area(plain) > tier.smallest_area_deg2]
        else:
            made[layer] = plain[shapely.length(plain) > tier.shortest_deg]
    large = made["lake"][shapely.area(made["lake"]) > OUTLINED_DEG2]
    made["coast"] = np.concatenate((coast(made["land"]), shapely.boundary(large)))
    return {layer: made[layer] for layer in tier.layers}


def coast(land: np.ndarray) -> np.ndarray:
    """The edges of the land, without those that only cut it at 180 degrees and at the pole."""
    frame = shapely.box(-180 + EDGE_DEG, -90 + EDGE_DEG, 180 - EDGE_DEG, 90 - EDGE_DEG)
    edges = shapely.get_parts(shapely.boundary(land))
    west, south, east, _ = shapely.bounds(edges).T
    cut = (west < -180 + EDGE_DEG) | (east > 180 - EDGE_DEG) | (south < -90 + EDGE_DEG)
    clipped = shapely.get_parts(shapely.intersection(edges[cut], frame))
    return np.concatenate((edges[~cut], clipped))


def round_the_world(shapes: np.ndarray, hair_deg: float) -> np.ndarray:
    """The shapes, and those at one side of 180 degrees again beyond the other side."""
    west, _, east, _ = shapely.bounds(shapes).T
    from_west = shapely.transform(shapes[west <= -180 + hair_deg], lambda xy: xy + [360, 0])
    from_east = shapely.transform(shapes[east >= 180 - hair_deg], lambda xy: xy - [360, 0])
    return np.concatenate((shapes, from_west, from_east))


def encode(layer: str, pieces: Pieces, cell: Cell, tier: Tier) -> list[list[int]]:
    """One layer of one cell."""
    if layer in AREAS:
        return rings(pieces.cut(cell.box(tier.hair_deg)), tier.unit_deg)
    return lines(pieces.cut(cell.box()), tier.unit_deg)


def write_tier(shapes: dict[str, np.ndarray], tier: Tier, path: Path) -> None:
    """Write one tier, a line a cell, sorted by name."""
    plain = simplified(shapes, tier)
    pieces = {}
    for layer, drawn in plain.items():
        wrapped = round_the_world(drawn, tier.hair_deg) if layer in AREAS else drawn
        pieces[layer] = Pieces(wrapped)
    rows = {}
    for cell in [Cell(-90, -180, 360)] if tier.name == "world" else cells(tier.cell_deg):
        layers = {layer: encode(layer, pieces[layer], cell, tier) for layer in tier.layers}
        filled = {layer: drawn for layer, drawn in layers.items() if drawn}
        if filled:
            rows["world" if tier.name == "world" else cell.name] = filled
    with path.open("w", encoding="utf-8", newline="\n") as handle:
        for name in sorted(rows):
            line = json.dumps({"cell": name, "layers": rows[name]}, separators=(",", ":"))
            handle.write(line + "\n")


def build(work: Path, into: Path) -> None:
    """Write the three tiers."""
    shapes = read(work)
    for tier in (WORLD, COARSE, FINE):
        write_tier(shapes, tier, into / f"{tier.name}.jsonl")
