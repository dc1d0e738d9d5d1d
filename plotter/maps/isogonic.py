"""Isogonic lines: where variation is a whole number of degrees, for the view of a map and beyond.

Both stretches of the map, the view finely and the world round it coarsely, are laid out as grids
that are regular as Web Mercator draws them, so that what is straight between two nodes is straight
on the map. The magnetic model is asked for all nodes in one call; contourpy joins the lines.

The trap: declination jumps from 180° to −180° along a line that ends in the magnetic poles, and a
plain contour draws a bundle of false lines along the jump. So the lines of −90° to 90° are taken
from −180…180, the others from 0…360, each with the nodes at its own jump left out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple, cast

from plotter import wording
from plotter.earth.magnetism import BLACKOUT_BELOW_NT, field_array
from plotter.maps.packing import encoded
from plotter.maps.view import View, mercator
from plotter.route.plotting import Plot

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    LinesAt = Callable[[int], Iterable[Floats]]

TOLERANCE_DEG = 0.05
"""How far variation on a line of the view may be from the line's own [°]: a twentieth of the
space between two lines, and a fifth of what the model itself is sure of (0.26° at its best)."""
FAR_TOLERANCE_DEG = 0.25
"""The same beyond the view, where only every tenth degree is drawn."""
STEEPEST_DEG, FAR_STEEPEST_DEG = 3.0, 8.0
"""No line is drawn where variation changes by more than this from one node to the next [°]: near
a pole a straight step of d degrees is up to d² / 456 off, which these keep within the tolerance."""
REACH = 1.5
"""How many times the view is drawn finely: some way to pan and one step of zooming out."""
NODES_ALONG, FAR_NODES_ALONG = 240, 300
LEAST_SPACING_DEG = 0.1
FAR_STEP_DEG = 10
STEPS_DEG = (1, 2, 5, 10)
MOST_LINES = 120
"""Whole degrees that may be drawn in one view; near a magnetic pole every one would blacken it."""
STRAIGHTENED = 0.01
"""How far a line may be straightened, as a part of the space between nodes."""
NORTH_END_DEG = 85.0
"""Where the map ends, to a whole degree."""
UNIT_DEG, FAR_UNIT_DEG = 0.001, 0.01


@dataclass(frozen=True, slots=True)
class IsogonicLine:
    """One line as (latitude, unrolled longitude) points, and the variation along it [°]."""

    degrees_east: int
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Isogonics:
    """Lines within ``box`` every ``step_deg`` [°], those of the world round it, their source."""

    box: View
    step_deg: int
    near: tuple[IsogonicLine, ...]
    far: tuple[IsogonicLine, ...]
    model: str
    date_said: str
    altitude_ft: float

    @property
    def named(self) -> str:
        """What is drawn, by which model, for when: the words of the key.

        The height is named where it is not the sea's, as in the table of legs.
        """
        every = "every degree" if self.step_deg == 1 else f"every {self.step_deg}°"
        height = f" at {wording.altitude(self.altitude_ft)}" if self.altitude_ft else ""
        return f"variation {every}, {self.model} of {self.date_said}{height}"

    def as_json(self) -> dict[str, Any]:
        """The lines as plain values for JSON, packed as the base is."""
        return {
            "unit": UNIT_DEG,
            "farUnit": FAR_UNIT_DEG,
            "near": [_line_json(line, UNIT_DEG) for line in self.near],
            "far": [_line_json(line, FAR_UNIT_DEG) for line in self.far],
        }


def _line_json(line: IsogonicLine, unit_deg: float) -> list[str]:
    flat: list[int] = []
    x = y = 0
    for latitude, longitude in line.points:
        east, north = round(longitude / unit_deg), round(latitude / unit_deg)
        flat += (east - x, north - y)
        x, y = east, north
    return [label(line.degrees_east), encoded(flat)]


def label(degrees_east: int) -> str:
    """What stands on a line: degrees and letter; at 180° east and west are one.

    >>> label(-3), label(0), label(180)
    ('3°W', '0°', '180°')
    """
    return "180°" if degrees_east == 180 else wording.variation(degrees_east)


def isogonics(plot: Plot, view: View) -> Isogonics:
    """The isogonic lines for a map of a plot, on its date and at its altitude."""
    box = _within(view.grown(REACH))
    middle = (box.west + box.east) / 2
    world = View(-NORTH_END_DEG, middle - 180.0, NORTH_END_DEG, middle + 180.0)
    near, far = (
        _grid(box, NODES_ALONG, LEAST_SPACING_DEG),
        _grid(world, FAR_NODES_ALONG, LEAST_SPACING_DEG),
    )
    near, far = _filled((near, far), plot)
    step_deg, near_lines = _near_lines(near)
    return Isogonics(
        box=box,
        step_deg=step_deg,
        near=tuple(near_lines),
        far=tuple(_outside(box, _lines(far, FAR_STEP_DEG, FAR_STEEPEST_DEG))),
        model=plot.route.legs[0].variation.model,
        date_said=plot.date_said,
        altitude_ft=plot.altitude_ft,
    )


def _within(view: View) -> View:
    """The part of a view that is no more than once round the world, short of the poles."""
    south, north = max(view.south, -NORTH_END_DEG), min(view.north, NORTH_END_DEG)
    if south >= north:
        south, north = (84.0, NORTH_END_DEG) if view.south > 0 else (-NORTH_END_DEG, -84.0)
    middle, half = (view.west + view.east) / 2, min(180.0, (view.east - view.west) / 2)
    return View(south, middle - half, north, middle + half)


class _Grid(NamedTuple):
    """Longitudes, heights as drawn, and at each node variation and horizontal field."""

    x: Floats
    y: Floats
    degrees_east: Floats
    horizontal_nt: Floats

    @property
    def latitudes(self) -> Floats:
        return _latitudes(self.y)


def _latitudes(heights: Floats) -> Floats:
    import numpy as np

    latitudes: Floats = np.degrees(np.arctan(np.sinh(np.radians(heights))))
    return latitudes


def _grid(box: View, along: int, least_deg: float) -> _Grid:
    """An empty grid over a box, ``along`` steps on its longer side but none below ``least_deg``."""
    import numpy as np

    low, high = mercator(box.south), mercator(box.north)
    spacing = max((box.east - box.west) / along, (high - low) / along, least_deg)
    x = np.linspace(box.west, box.east, max(2, round((box.east - box.west) / spacing) + 1))
    y = np.linspace(low, high, max(2, round((high - low) / spacing) + 1))
    none = np.empty((0, 0))
    return _Grid(x, y, none, none)


def _filled(grids: Sequence[_Grid], plot: Plot) -> Iterator[_Grid]:
    """The grids with the field at each node; the model is asked once for all of them."""
    import numpy as np

    meshes = [np.meshgrid(grid.x, grid.latitudes) for grid in grids]
    longitudes = np.concatenate([east.ravel() for east, _ in meshes])
    field = field_array(
        np.concatenate([north.ravel() for _, north in meshes]),
        (longitudes + 180.0) % 360.0 - 180.0,
        plot.date,
        plot.altitude_ft,
        allow_old_model=True,
    )
    begin = 0
    for grid, (east, _) in zip(grids, meshes, strict=True):
        part = slice(begin, begin + east.size)
        begin += east.size
        yield grid._replace(
            degrees_east=field.degrees_east[part].reshape(east.shape),
            horizontal_nt=field.horizontal_nt[part].reshape(east.shape),
        )


def _near_lines(grid: _Grid) -> tuple[int, list[IsogonicLine]]:
    """Every degree; every second, fifth or tenth where that would be more than can be read."""
    for step_deg in STEPS_DEG:
        lines = list(_lines(grid, step_deg, STEEPEST_DEG))
        if len({line.degrees_east for line in lines}) <= MOST_LINES:
            break
    return step_deg, lines


def _lines(grid: _Grid, step_deg: int, steepest_deg: float) -> Iterator[IsogonicLine]:
    """The lines of a grid; none where a compass is useless or variation is too steep to follow."""
    useless = grid.horizontal_nt < BLACKOUT_BELOW_NT
    for round_turn, levels in ((False, range(-90, 91)), (True, range(91, 270))):
        values = grid.degrees_east % 360.0 if round_turn else grid.degrees_east
        lines_at = _contours(grid, values, _steep(values, steepest_deg) | useless)
        for level in levels:
            if level % step_deg == 0 and values.min() <= level <= values.max():
                for joined in lines_at(level):
                    yield from _line(level - 360 * (level > 180), joined, grid)


def _contours(grid: _Grid, values: Floats, left_out: NDArray[np.bool_]) -> LinesAt:
    """What gives the lines of a level as arrays of points, each line whole."""
    import contourpy
    import numpy as np

    contours = contourpy.contour_generator(
        grid.x,
        grid.y,
        np.ma.array(values, mask=left_out),
        name="serial",
        corner_mask=False,
        line_type=contourpy.LineType.Separate,
    )
    return cast("LinesAt", contours.lines)


def _steep(values: Floats, steepest_deg: float) -> NDArray[np.bool_]:
    """The nodes on either side of a step by more than so much; a jump round the turn is one."""
    import numpy as np

    marked = np.zeros(values.shape, dtype=bool)
    for axis in (0, 1):
        jump = np.abs(np.diff(values, axis=axis)) > steepest_deg
        ahead, behind = [(0, 0), (0, 0)], [(0, 0), (0, 0)]
        ahead[axis], behind[axis] = (1, 0), (0, 1)
        marked |= np.pad(jump, ahead) | np.pad(jump, behind)
    return marked


def _line(degrees_east: int, joined: Floats, grid: _Grid) -> Iterator[IsogonicLine]:
    """A joined line straightened by less than can be seen; a speck is none."""
    from shapely import LineString

    spacing = grid.x[1] - grid.x[0]
    kept = LineString(joined).simplify(STRAIGHTENED * spacing, preserve_topology=False)
    if kept.length > spacing / 2:
        x, y = kept.coords.xy
        yield IsogonicLine(degrees_east, _points(x, y))


def _points(x: Sequence[float], y: Sequence[float]) -> tuple[tuple[float, float], ...]:
    import numpy as np

    latitudes = _latitudes(np.asarray(y, dtype=np.float64)).tolist()
    return tuple(zip(latitudes, map(float, x), strict=True))


def _outside(box: View, lines: Iterator[IsogonicLine]) -> Iterator[IsogonicLine]:
    """What of the lines lies outside a box, cut at its edge."""
    from shapely import LineString, get_parts
    from shapely import box as rectangle

    hole = rectangle(box.west, mercator(box.south), box.east, mercator(box.north))
    for line in lines:
        drawn = LineString([(x, mercator(y)) for y, x in line.points])
        for part in get_parts(drawn.difference(hole)):
            if len(part.coords) > 1:
                yield IsogonicLine(line.degrees_east, _points(*part.coords.xy))
