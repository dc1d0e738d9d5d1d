"""The offline base of the map: which pre-made cells a view needs, cut to it.

Three tiers of the same layers (land, borders, states, lakes, rivers): one cell of the whole
world, coarse cells of 20°, fine cells of 5°. A map carries the world, over it the finest tier
that its size allows, cut to the view, and between them the coarse tier for some way round; so
there is land wherever one pans to, and no torn edge inside the view.

The coast is the edge of the land, so the map carries it once: its script draws the sides of the
land as coast, except those that only the cutting made, which lie on the ``x`` and ``y`` lines
that go with each cell.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Protocol

from plotter.maps.drawing import drawn_legs, route_bounds
from plotter.maps.packing import Box, clipped, encoded
from plotter.maps.view import View, view_round
from plotter.route.values import Route

# Cells of the base map: how they are named, and which of them a view touches.

Town = tuple[str, float, float, int]
"""Name, latitude, longitude (unrolled), population."""


class CellSource(Protocol):
    """What the base map asks of an open store."""

    def base_cell(self, tier: str, cell: str) -> str | None:
        """The JSON text of one cell, ``None`` where the table has none (open sea)."""

    def towns_cell(self, cell: str) -> Iterable[Town]:
        """Towns of one cell of 5°: name, latitude, longitude, population.

        The largest come first, towns of equal population by name, latitude and longitude.
        """


def cells_over(view: View, size_deg: int) -> Iterator[tuple[int, int]]:
    """South-west corners of all cells a view touches, counted from 90° S 180° W, unrolled.

    >>> list(cells_over(View(-1.0, 178.0, 4.0, 181.0), 5))
    [(-5, 175), (-5, 180), (0, 175), (0, 180)]
    """
    south = math.floor((view.south + 90) / size_deg) * size_deg - 90
    west = math.floor((view.west + 180) / size_deg) * size_deg - 180
    for latitude in range(south, math.ceil(view.north), size_deg):
        for longitude in range(west, math.ceil(view.east), size_deg):
            yield latitude, longitude


def cell_name(south: int, west: int) -> str:
    """The name of a cell: its south-west corner.

    >>> cell_name(40, -80), cell_name(-5, 175)
    ('+40-080', '-05+175')
    """
    return f"{south:+03d}{west:+04d}"


def turn_deg(west: float) -> int:
    """Whole turns [°] by which an unrolled longitude lies beyond −180 to 180.

    >>> turn_deg(175), turn_deg(180), turn_deg(-185)
    (0, 360, -360)
    """
    return 360 * math.floor((west + 180) / 360)


# Which towns a map names: the largest of each part of it, so that no part is left bare.

MOST_TOWNS_A_BLOCK = 2
BLOCKS = 12
TOWN_CELL_DEG = 5


def towns_for(source: CellSource, view: View) -> Iterator[Town]:
    """The most populous towns of each block of a view, so that none crowd out a bare corner.

    They come largest first: a script that draws them in turn while there is room names the
    most populous ones at any scale.
    """
    of_cells = [
        town for cell in cells_over(view, TOWN_CELL_DEG) for town in _of(source, view, cell)
    ]
    yield from _largest(sorted(of_cells, key=lambda t: (-t[3], t[0], t[1], t[2])), view)


def _of(source: CellSource, view: View, cell: tuple[int, int]) -> Iterator[Town]:
    """The towns of one cell that a block may name; no more of them are read."""
    south, west = cell
    blocks = _blocks(view, south, west)
    return _largest(_inside(source, view, cell), view, most=MOST_TOWNS_A_BLOCK * blocks)


def _inside(source: CellSource, view: View, cell: tuple[int, int]) -> Iterator[Town]:
    south, west = cell
    shift = turn_deg(west)
    for name, latitude, longitude, population in source.towns_cell(cell_name(south, west - shift)):
        if view.south <= latitude < view.north and view.west <= longitude + shift < view.east:
            yield name, latitude, longitude + shift, population


def _largest(ordered: Iterable[Town], view: View, most: int | None = None) -> Iterator[Town]:
    """The first towns of each block, of some that come largest first; at ``most`` it ends."""
    taken: dict[tuple[int, int], int] = {}
    named = 0
    for town in ordered:
        block = _block(view, town[1], town[2])
        taken[block] = taken.get(block, 0) + 1
        if taken[block] <= MOST_TOWNS_A_BLOCK:
            yield town
            named += 1
            if named == most:
                return


def _block(view: View, latitude: float, longitude: float) -> tuple[int, int]:
    """Which part of a view a position [°] lies in, counted from its south-west corner."""
    return (
        int((latitude - view.south) / (view.north - view.south) * BLOCKS),
        int((longitude - view.west) / (view.east - view.west) * BLOCKS),
    )


def _blocks(view: View, south: int, west: int) -> int:
    """How many parts of a view a cell touches."""
    first = _block(view, max(south, view.south), max(west, view.west))
    last = _block(
        view, min(south + TOWN_CELL_DEG, view.north), min(west + TOWN_CELL_DEG, view.east)
    )
    return math.prod(b - a + 1 for a, b in zip(first, last, strict=True))


AREAS = ("land", "lake")
LAYERS = ("land", "lake", "river", "state", "border")


@dataclass(frozen=True, slots=True)
class Tier:
    """One set of cells: the size of a cell and the unit of its coordinates, both in degrees."""

    name: str
    cell_deg: int
    unit_deg: float


FINE = Tier("fine", 5, 0.001)
COARSE = Tier("coarse", 20, 0.01)
WORLD = Tier("world", 360, 0.05)

WIDEST_DEG = {FINE: 18.0, COARSE: 100.0}
"""A view broader than this is drawn from the next tier: the finer one could not be told from it."""
MOST_LETTERS = {FINE: 58_000, COARSE: 140_000}
"""What a tier may weigh once cut: a whole map of a 300 NM route stays under 350,000 bytes."""
MOST_TOGETHER = 70_000
"""What the fine tier and the coarse one round it may weigh together."""
AROUND = 3.0
"""How many times the view the coarse tier reaches, where the view itself is fine."""
TIGHTER = 0.7
"""The part of a view tried in fine where the whole would weigh too much."""
LAKE_POINTS = 16
"""A lake of fewer points is left out of the world, when a finer tier covers the view."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One cell as it is drawn: layers as encoded shapes, moved east by whole turns [°].

    ``x`` and ``y`` are the lines it was cut along, in the tier's unit.
    """

    shift_deg: int
    x: tuple[int, ...]
    y: tuple[int, ...]
    layers: tuple[tuple[str, tuple[str, ...]], ...]

    @property
    def weight(self) -> int:
        """Letters of all shapes."""
        return sum(len(shape) + 3 for _, shapes in self.layers for shape in shapes)


@dataclass(frozen=True, slots=True)
class Layer:
    """One tier's pieces, and the box they fill; the whole world where ``box`` is none."""

    tier: Tier
    box: View | None
    pieces: tuple[Piece, ...]

    @property
    def weight(self) -> int:
        """Letters of all pieces."""
        return sum(piece.weight for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class Basemap:
    """Layers from the coarsest to the finest, and the towns worth a name, largest first."""

    layers: tuple[Layer, ...] = ()
    towns: tuple[Town, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """The base as plain values for JSON."""
        return {"layers": [_layer_json(layer) for layer in self.layers], "towns": self.towns}


def _layer_json(layer: Layer) -> dict[str, Any]:
    box = layer.box
    return {
        "unit": layer.tier.unit_deg,
        "box": box and [round(edge, 4) for edge in (box.south, box.west, box.north, box.east)],
        "cells": [
            {"shift": piece.shift_deg, "x": piece.x, "y": piece.y, "layers": dict(piece.layers)}
            for piece in layer.pieces
        ],
    }


def basemap_for(source: CellSource, route: Route) -> Basemap:
    """The base for a map of a route."""
    view = view_round(route_bounds(drawn_legs(route)))
    return Basemap(tuple(_layers(source, view)), tuple(towns_for(source, view)))


def world_base(source: CellSource) -> Basemap:
    """The world alone, to lie under whatever finer base is put over it."""
    return Basemap((_world(source, View(-1.0, -1.0, 1.0, 1.0), bare=False),))


def base_in_view(source: CellSource, view: View) -> Basemap:
    """The base inside a view without the world under it, and the towns it names."""
    finer = (layer for layer in _layers(source, view) if layer.tier is not WORLD)
    return Basemap(tuple(finer), tuple(towns_for(source, view)))


def _layers(source: CellSource, view: View) -> Iterator[Layer]:
    fine = _cut(source, FINE, view, MOST_LETTERS[FINE])
    if fine:
        around = _cut(source, COARSE, view.grown(AROUND), MOST_TOGETHER - fine.weight)
        yield _world(source, view, bare=True)
        yield from filter(None, (around, fine))
        return
    coarse = _cut(source, COARSE, view, MOST_LETTERS[COARSE])
    yield _world(source, view, bare=coarse is not None)
    if coarse:
        yield coarse
        yield from filter(None, [_cut(source, FINE, view.grown(TIGHTER), MOST_LETTERS[FINE])])


def _world(source: CellSource, view: View, *, bare: bool) -> Layer:
    """The world; ``bare`` without small lakes, where it only surrounds what is drawn better."""
    shapes = _shapes(source.base_cell(WORLD.name, "world"))
    if bare:
        shapes["lake"] = [ring for ring in shapes.get("lake", ()) if len(ring) > 2 * LAKE_POINTS]
    turn = 360 * round((view.west + view.east) / 720)
    edge = round(180 / WORLD.unit_deg)
    return Layer(WORLD, None, (_piece(turn, (-edge, edge), (-edge // 2, edge // 2), shapes),))


def _cut(source: CellSource, tier: Tier, view: View, most_letters: int) -> Layer | None:
    """The view in one tier; none where it is too wide or its coast too rich for that tier."""
    if view.breadth_deg > WIDEST_DEG[tier]:
        return None
    pieces: list[Piece] = []
    for piece in _pieces(source, tier, view):
        pieces.append(piece)
        most_letters -= piece.weight
        if most_letters < 0:
            return None
    return Layer(tier, view, tuple(pieces))


def _pieces(source: CellSource, tier: Tier, view: View) -> Iterator[Piece]:
    for south, west in cells_over(view, tier.cell_deg):
        shift = turn_deg(west)
        text = source.base_cell(tier.name, cell_name(south, west - shift))
        if text:
            box = _box(view, shift, tier.unit_deg)
            x, y = (
                tuple(round(degrees / tier.unit_deg) for degrees in (low, low + tier.cell_deg))
                for low in (west - shift, south)
            )
            yield _piece(shift, (*x, box[0], box[2]), (*y, box[1], box[3]), _clip(text, box))


def _clip(text: str, box: Box) -> dict[str, list[list[int]]]:
    return {
        name: [piece for flat in shapes for piece in clipped(flat, box, area=name in AREAS)]
        for name, shapes in _shapes(text).items()
    }


def _shapes(text: str | None) -> dict[str, list[list[int]]]:
    layers = json.loads(text)["layers"] if text else {}
    return {name: layers[name] for name in LAYERS if name in layers}


def _piece(
    shift: int, x: tuple[int, ...], y: tuple[int, ...], shapes: dict[str, list[list[int]]]
) -> Piece:
    layers = ((name, tuple(map(encoded, flats))) for name, flats in shapes.items() if flats)
    return Piece(shift, x, y, tuple(layers))


def _box(view: View, shift: int, unit: float) -> Box:
    west, east = ((edge - shift) / unit for edge in (view.west, view.east))
    return (
        math.floor(west),
        math.floor(view.south / unit),
        math.ceil(east),
        math.ceil(view.north / unit),
    )
