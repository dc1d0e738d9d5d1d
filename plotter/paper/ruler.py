"""A printed scale: nautical miles along its upper edge, statute miles along its lower one.

Zero stands in from the end, as on a plotter, and is marked.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from plotter.chart.own_plotter import EDGES, Edge, mile_mm
from plotter.chart.scales import SECTIONAL, TERMINAL, WORLD, ChartScale
from plotter.paper.page import Pages
from plotter.paper.sizes import Box
from plotter.paper.style import ACCENT, HAIRLINE, SMALL, THIN, Pen, Style

HEIGHT_MM = 25.0
ZERO_IN_MM = 13.0
"""From the end of the scale to its zero."""
_CLEAR_MM = 2.5
_LONG_MM, _MIDDLE_MM, _SHORT_MM = 5.2, 3.6, 2.2
_ZERO = Pen(0.35, ACCENT)
_NUMBER = Style(9.0)
_NAME = Style(10.5, bold=True)
_NUMBER_OFF_MM = 0.8
_ARROW_MM = 3.2
_ARROW_HALF_MM = 0.7
"""Slim, so that the first fine mark stands clear of it."""


@dataclass(frozen=True, slots=True)
class Marks:
    """How often a scale is numbered and marked, in its miles: whole parts of each other."""

    numbered: float
    middle: float
    finest: float

    @property
    def in_a_number(self) -> int:
        """Finest marks from one number to the next."""
        return round(self.numbered / self.finest)

    @property
    def in_a_middle(self) -> int:
        """Finest marks from one middle mark to the next."""
        return round(self.middle / self.finest)


MARKS: Mapping[str, Marks] = {
    SECTIONAL.name: Marks(5.0, 1.0, 0.5),
    TERMINAL.name: Marks(1.0, 0.5, 0.1),
    WORLD.name: Marks(10.0, 5.0, 1.0),
}
"""The finest marks stand 0.6 to 1.9 mm apart: what is between them is judged by eye."""


def longest_mark(scale: ChartScale, edge: Edge, width_mm: float) -> float:
    """The last number of an edge on a scale so wide, in its miles.

    >>> from plotter.chart.scales import SECTIONAL
    >>> longest_mark(SECTIONAL, "nm", 277), longest_mark(SECTIONAL, "sm", 277)
    (70.0, 80.0)
    """
    room_mm = width_mm - ZERO_IN_MM - _CLEAR_MM
    step = MARKS[scale.name].numbered
    return math.floor(room_mm / (mile_mm(scale, edge) * step)) * step


def draw_ruler(pages: Pages, box: Box, scale: ChartScale) -> None:
    """Draw the scale of a chart into a box, both edges on one zero."""
    pages.outline(box, THIN, corner_mm=1.5)
    for edge in EDGES:
        _draw_edge(pages, box, scale, edge)
    zero_mm = box.left_mm + ZERO_IN_MM
    pages.line((zero_mm, box.top_mm), (zero_mm, box.bottom_mm), _ZERO)
    for edge_mm, inward_mm in ((box.top_mm, _ARROW_MM), (box.bottom_mm, -_ARROW_MM)):
        foot = [(zero_mm + side * _ARROW_HALF_MM, edge_mm + inward_mm) for side in (-1, 1)]
        pages.shape([(zero_mm, edge_mm), *foot], ACCENT)
    _draw_names(pages, box, scale)


def _draw_edge(pages: Pages, box: Box, scale: ChartScale, edge: Edge) -> None:
    marks = MARKS[scale.name]
    at_mm, inward = (box.top_mm, 1.0) if edge == "nm" else (box.bottom_mm, -1.0)
    unit_mm = mile_mm(scale, edge)
    for count in range(1, round(longest_mark(scale, edge, box.width_mm) / marks.finest) + 1):
        x_mm = box.left_mm + ZERO_IN_MM + count * marks.finest * unit_mm
        numbered, middle = count % marks.in_a_number == 0, count % marks.in_a_middle == 0
        length_mm = _LONG_MM if numbered else _MIDDLE_MM if middle else _SHORT_MM
        pen = THIN if numbered or middle else HAIRLINE
        pages.line((x_mm, at_mm), (x_mm, at_mm + inward * length_mm), pen)
        if numbered:
            _draw_number(pages, x_mm, at_mm, inward, round(count * marks.finest))


def _draw_number(pages: Pages, x_mm: float, at_mm: float, inward: float, number: int) -> None:
    off_mm = _LONG_MM + _NUMBER_OFF_MM + (_NUMBER.digit_mm if inward > 0 else 0.0)
    pages.text((x_mm, at_mm + inward * off_mm), str(number), _NUMBER, "middle")


def _draw_names(pages: Pages, box: Box, scale: ChartScale) -> None:
    """The units before zero, the zeros beside its line, the chart along the middle."""
    heavy = SMALL.heavier()
    left_mm, zero_mm = box.left_mm + 2.2, box.left_mm + ZERO_IN_MM
    upper_mm = box.top_mm + _LONG_MM + _NUMBER_OFF_MM + _NUMBER.digit_mm
    lower_mm = box.bottom_mm - _LONG_MM - _NUMBER_OFF_MM
    for y_mm, unit in ((upper_mm, "NM"), (lower_mm, "SM")):
        pages.text((left_mm, y_mm), unit, heavy)
        pages.text((zero_mm - 1.0, y_mm), "0", heavy, "right")
    middle_mm = box.top_mm + box.height_mm / 2 + SMALL.digit_mm / 2
    pages.text((zero_mm + 3.0, middle_mm), f"{scale.title} 1:{scale.denominator:,}", _NAME)
    fine = f"finest mark {MARKS[scale.name].finest:g} mile"
    lengths = f"1 NM = {scale.mm_per_nm:.3f} mm, 1 SM = {mile_mm(scale, 'sm'):.3f} mm"
    pages.text((box.right_mm - 4.0, middle_mm), f"{lengths}; {fine}", SMALL, "right")
