"""A compass rose to lay a protractor on: a mark for every degree, true north up."""

from __future__ import annotations

import math

from plotter.paper.page import Pages
from plotter.paper.style import ACCENT, HAIRLINE, THIN, Pen, Style

_TICKS_MM = ((10, 6.0), (5, 4.4), (1, 2.6))
_NUMBER_IN_MM = 9.6
_INNER_MM = 14.0
_HOLE_MM = 1.5
_CROSS_GAP_MM = 0.4


def draw_rose(pages: Pages, centre: tuple[float, float], radius_mm: float) -> None:
    """Draw the rose about its centre; the mark of every degree ends on the outer circle."""
    pages.circle(centre, radius_mm, THIN)
    pages.circle(centre, radius_mm - _INNER_MM, HAIRLINE)
    for angle_deg in range(1, 361):
        _draw_tick(pages, centre, radius_mm, angle_deg)
    _draw_cross(pages, centre, radius_mm - _INNER_MM)
    _draw_north(pages, centre, radius_mm)


def on_circle(
    centre: tuple[float, float], radius_mm: float, angle_deg: float
) -> tuple[float, float]:
    """The point at an angle clockwise from the top [°T] on a circle about a centre [mm].

    >>> on_circle((50.0, 50.0), 10.0, 90)
    (60.0, 50.0)
    """
    angle = math.radians(angle_deg)
    x_mm = centre[0] + radius_mm * math.sin(angle)
    y_mm = centre[1] - radius_mm * math.cos(angle)
    return round(x_mm, 9), round(y_mm, 9)


def _draw_tick(pages: Pages, centre: tuple[float, float], radius_mm: float, angle_deg: int) -> None:
    length_mm = next(length for every, length in _TICKS_MM if angle_deg % every == 0)
    outer = on_circle(centre, radius_mm, angle_deg)
    inner = on_circle(centre, radius_mm - length_mm, angle_deg)
    pages.line(outer, inner, THIN if angle_deg % 10 == 0 else HAIRLINE)
    if angle_deg % 10 == 0:
        where = on_circle(centre, radius_mm - _NUMBER_IN_MM, angle_deg)
        style = Style(10.0, bold=True) if angle_deg % 30 == 0 else Style(9.0)
        pages.text(where, f"{angle_deg:03d}", style, "middle", turned_deg=angle_deg % 360)


def _draw_cross(pages: Pages, centre: tuple[float, float], radius_mm: float) -> None:
    """The meridian and the line across it, open where the plotter's hole is laid."""
    for angle_deg in (90, 180, 270, 360):
        start = on_circle(centre, _HOLE_MM + _CROSS_GAP_MM, angle_deg)
        pen = Pen(0.3) if angle_deg % 180 == 0 else HAIRLINE
        pages.line(start, on_circle(centre, radius_mm, angle_deg), pen)
    pages.circle(centre, _HOLE_MM, THIN)
    pages.line((centre[0] - 0.6, centre[1]), (centre[0] + 0.6, centre[1]), HAIRLINE)
    pages.line((centre[0], centre[1] - 0.6), (centre[0], centre[1] + 0.6), HAIRLINE)


def _draw_north(pages: Pages, centre: tuple[float, float], radius_mm: float) -> None:
    x_mm, tip_mm = centre[0], centre[1] - radius_mm - 6.0
    foot_mm = tip_mm + 5.0
    wings = [(x_mm + 1.7, foot_mm), (x_mm, foot_mm - 1.2), (x_mm - 1.7, foot_mm)]
    pages.shape([(x_mm, tip_mm), *wings], ACCENT)
    pages.text((x_mm + 3.0, foot_mm), "true north", Style(9.0), "left")
