"""A table on paper: every column as wide and every row as high as it is said, in millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plotter.paper.page import Pages
from plotter.paper.style import HAIRLINE, SMALL, THIN, Box, Pen, Side, Style

PAD_MM = 1.2


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its title, its width [mm], the side its cells are set to."""

    title: str
    width_mm: float
    side: Side = "left"


def draw_table(
    pages: Pages,
    where: tuple[float, float],
    columns: Sequence[Column],
    rows: Sequence[Sequence[str]],
    row_mm: float,
    *,
    style: Style = SMALL,
) -> Box:
    """Draw a table from its top left corner; what does not fit a cell ends in an ellipsis.

    Gives the box it took, head and all. The trap: it does not look where the page ends.
    """
    width_mm = sum(column.width_mm for column in columns)
    box = Box(*where, width_mm, row_mm * (len(rows) + 1))
    head = Box(*where, width_mm, row_mm)
    _draw_row(pages, head, columns, [column.title for column in columns], style.heavier())
    for number, cells in enumerate(rows, start=1):
        row = Box(box.left_mm, box.top_mm + number * row_mm, width_mm, row_mm)
        _across(pages, box, row.top_mm, THIN if number == 1 else HAIRLINE)
        _draw_row(pages, row, columns, cells, style)
    for y_mm in (box.top_mm, box.bottom_mm):
        _across(pages, box, y_mm, THIN)
    return box


def _across(pages: Pages, box: Box, y_mm: float, pen: Pen) -> None:
    pages.line((box.left_mm, y_mm), (box.right_mm, y_mm), pen)


def _draw_row(
    pages: Pages,
    row: Box,
    columns: Sequence[Column],
    cells: Sequence[str],
    style: Style,
) -> None:
    left_mm, baseline_mm = row.left_mm, row.top_mm + (row.height_mm + style.digit_mm) / 2
    for column, cell in zip(columns, cells, strict=True):
        room_mm = column.width_mm - 2 * PAD_MM
        x_mm = {
            "left": left_mm + PAD_MM,
            "middle": left_mm + column.width_mm / 2,
            "right": left_mm + column.width_mm - PAD_MM,
        }[column.side]
        pages.text((x_mm, baseline_mm), pages.fitted(cell, room_mm, style), style, column.side)
        left_mm += column.width_mm
