"""The state a position lies in, by the borders and coasts of the base map.

The base map has lines, and the airports have states. From a position an airport is reached where
no border and no coast lies between the two; what is reached lies in one state.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import accumulate, pairwise
from typing import NamedTuple

from plotter.earth.position import Position
from plotter.places.grid import FIVE
from plotter.places.model import EVERY_KIND
from plotter.places.nearness import near
from plotter.places.store import Store

UNKNOWN = ""
BORDER_KNOWN_TO_NM = 3.0
"""How near a border a position has no state: half a millimetre on the 1:10,000,000 drawings of
Natural Earth is 2.7 NM, and the base map simplifies them by 0.24 NM more."""
LOOKS_NM = (15.0, 40.0, 100.0)
"""How far airports are looked for, in turns: most positions have one near."""
ENOUGH = 3
"""Airports that must agree, where so many are reached: one alone may lie beside a border."""
_UNIT_DEG = 0.001
_NM_PER_DEG = 60.0
_CELLS_REMEMBERED, _POSITIONS_REMEMBERED = 64, 4096


class _Stroke(NamedTuple):
    """A straight piece of a border or coast [°]."""

    x0: float
    y0: float
    x1: float
    y1: float


class _Lines(NamedTuple):
    """What one cell of the base map draws."""

    borders: tuple[_Stroke, ...]
    coasts: tuple[_Stroke, ...]
    land: tuple[_Stroke, ...]


@lru_cache(_POSITIONS_REMEMBERED)
def state_at(store: Store, position: Position) -> str:
    """Return the ISO 3166 code of the state a position lies in, empty where that is not known.

    It is not known at sea, within 3 NM of a border, more than 100 NM from any airport, and where
    the airports reached name several states.
    """
    if not _on_land(store, position) or _near_a_border(store, position):
        return UNKNOWN
    states: set[str] = set()
    for within_nm in LOOKS_NM:
        reached = list(_reached(store, position, within_nm))
        states = set(reached)
        if len(reached) >= ENOUGH or len(states) > 1:
            break
    return states.pop() if len(states) == 1 else UNKNOWN


def _reached(store: Store, position: Position, within_nm: float) -> Iterator[str]:
    """The states of the nearest airports with no border and no coast between.

    Airports beside a border do not count, because they may lie on either side of it as drawn.
    """
    count = 0
    for found in near(store, position, within_nm, EVERY_KIND).found:
        field = found.place.position
        if _is_open(store, position, field) and not _near_a_border(store, field):
            yield found.place.country
            count += 1
            if count == ENOUGH:
                return


def _is_open(store: Store, here: Position, there: Position) -> bool:
    """Whether the straight line between two positions crosses no border and no coast."""
    way = _Stroke(
        here.longitude_deg,
        here.latitude_deg,
        _unrolled(there.longitude_deg, here.longitude_deg),
        there.latitude_deg,
    )
    return not any(
        _cross(way, stroke)
        for each in _lines_over(store, way)
        for strokes in (each.borders, each.coasts)
        for stroke in _meeting(strokes, way)
    )


def _on_land(store: Store, position: Position) -> bool:
    """Whether a position is inside the land of its cell, by the even-odd rule; lakes are land."""
    x, y = position.longitude_deg, position.latitude_deg
    here = _Stroke(x, y, x, y)
    crossed = sum(
        (stroke.y0 > y) != (stroke.y1 > y)
        and x < stroke.x0 + (y - stroke.y0) / (stroke.y1 - stroke.y0) * (stroke.x1 - stroke.x0)
        for lines in _lines_over(store, here)
        for stroke in lines.land
    )
    return crossed % 2 == 1


def _near_a_border(store: Store, position: Position) -> bool:
    """Whether a border lies nearer to a position than it is drawn to."""
    x, y = position.longitude_deg, position.latitude_deg
    # Degrees of longitude are short near a pole, and no border runs there.
    east = math.cos(math.radians(min(abs(y), 85.0)))
    reach = BORDER_KNOWN_TO_NM / _NM_PER_DEG
    box = _Stroke(x - reach / east, y - reach, x + reach / east, y + reach)
    return any(
        _distance(stroke, x, y, east) < reach
        for lines in _lines_over(store, box)
        for stroke in _meeting(lines.borders, box)
    )


def _meeting(strokes: Sequence[_Stroke], box: _Stroke) -> Iterator[_Stroke]:
    """The strokes whose bounding box meets that of another: few of the thousands of a cell."""
    west, east = sorted((box.x0, box.x1))
    south, north = sorted((box.y0, box.y1))
    for stroke in strokes:
        x0, y0, x1, y1 = stroke
        across = (x0 >= west or x1 >= west) and (x0 <= east or x1 <= east)
        if across and (y0 >= south or y1 >= south) and (y0 <= north or y1 <= north):
            yield stroke


def _lines_over(store: Store, box: _Stroke) -> Iterator[_Lines]:
    """The lines of the cells that the box round a stroke touches, unrolled to lie beside it."""
    west, east = sorted((box.x0, box.x1))
    south, north = sorted((box.y0, box.y1))
    middle = (west + east) / 2.0
    for number in set(FIVE.cells_in(south, west, north, east)):
        turn = _unrolled(FIVE.middle(number).longitude_deg, middle)
        yield _lines_of(store, number, round(turn - FIVE.middle(number).longitude_deg))


@lru_cache(_CELLS_REMEMBERED)
def _lines_of(store: Store, number: int, turn_deg: int) -> _Lines:
    text = store.base_cell("fine", FIVE.name(number))
    layers = json.loads(text)["layers"] if text else {}
    return _Lines(
        *(
            tuple(
                stroke
                for flat in layers.get(name, ())
                for stroke in _strokes(flat, turn_deg, closed=name == "land")
            )
            for name in ("border", "coast", "land")
        )
    )


def _strokes(flat: list[int], turn_deg: int, *, closed: bool) -> Iterator[_Stroke]:
    """The pieces of a packed line or ring (data/README.md: first a point, then differences)."""
    steps = zip(accumulate(flat[::2]), accumulate(flat[1::2]), strict=True)
    points = [(x * _UNIT_DEG + turn_deg, y * _UNIT_DEG) for x, y in steps]
    for (x0, y0), (x1, y1) in pairwise([*points, points[0]] if closed else points):
        yield _Stroke(x0, y0, x1, y1)


def _unrolled(longitude_deg: float, beside_deg: float) -> float:
    """The longitude in the turn that lies within 180° of another."""
    return longitude_deg + 360.0 * round((beside_deg - longitude_deg) / 360.0)


def _cross(one: _Stroke, other: _Stroke) -> bool:
    """Whether two strokes whose boxes meet cross: the ends of each on either side of the other.

    An end exactly on the other stroke counts as across, because a border is never to be missed.
    """
    return (
        _side(one, other.x0, other.y0) * _side(one, other.x1, other.y1) <= 0.0
        and _side(other, one.x0, one.y0) * _side(other, one.x1, one.y1) <= 0.0
    )


def _side(stroke: _Stroke, x: float, y: float) -> float:
    """Above zero where a point lies to the left of a stroke, below to the right."""
    x0, y0, x1, y1 = stroke
    return (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)


def _distance(stroke: _Stroke, x: float, y: float, east: float) -> float:
    """How far a point is from a stroke, in degrees of latitude; ``east`` shortens longitudes."""
    along_x, along_y = (stroke.x1 - stroke.x0) * east, stroke.y1 - stroke.y0
    to_x, to_y = (x - stroke.x0) * east, y - stroke.y0
    length2 = along_x * along_x + along_y * along_y
    share = (to_x * along_x + to_y * along_y) / length2 if length2 else 0.0
    share = min(1.0, max(0.0, share))
    return math.hypot(to_x - share * along_x, to_y - share * along_y)
