"""What a steel rule or a bank card is laid on, to prove that the printer did not scale the page.

Source: ISO/IEC 7810, size ID-1 (bank cards, most licences): 85.60 × 53.98 mm, corners rounded
with 3.18 mm.
"""

from __future__ import annotations

from plotter.earth.units import MM_PER_INCH
from plotter.paper.page import Pages
from plotter.paper.sizes import Box
from plotter.paper.style import HAIRLINE, INK, SMALL, THIN

CARD_WIDTH_MM = 85.60
CARD_HEIGHT_MM = 53.98
CARD_CORNER_MM = 3.18
BAR_MM = 100.0
BAR_IN = 4.0
BAR_HEIGHT_MM = 2.4
BAR_MARK_MM = 1.8
BAR_STEP_MM = 14.0
"""From the top of one bar to the top of the next."""


def draw_card(pages: Pages, where: tuple[float, float]) -> Box:
    """Draw the outline of a card from its top left corner; gives its box."""
    box = Box(*where, CARD_WIDTH_MM, CARD_HEIGHT_MM)
    pages.outline(box, THIN, CARD_CORNER_MM)
    return box


def draw_bars(pages: Pages, where: tuple[float, float]) -> Box:
    """Draw the bar of 100 mm above the bar of 4 in from their top left corner; gives their box."""
    left_mm, top_mm = where
    lower_mm = top_mm + BAR_STEP_MM
    _draw_bar(pages, where, BAR_MM, [f"{10 * n}" for n in range(11)], "mm")
    inches = [f"{n // 2}" if n % 2 == 0 else "" for n in range(9)]
    _draw_bar(pages, (left_mm, lower_mm), BAR_IN * MM_PER_INCH, inches, "in")
    return Box(left_mm, top_mm, BAR_IN * MM_PER_INCH, 2 * BAR_STEP_MM)


def _draw_bar(
    pages: Pages, where: tuple[float, float], length_mm: float, numbers: list[str], unit: str
) -> None:
    """A bar with a number at every end of its blocks; its end marks stand out above and below."""
    left_mm, top_mm = where
    block_mm = length_mm / (len(numbers) - 1)
    bar = Box(left_mm, top_mm + BAR_MARK_MM, length_mm, BAR_HEIGHT_MM)
    for number in range(0, len(numbers) - 1, 2):
        _fill(pages, Box(left_mm + number * block_mm, bar.top_mm, block_mm, bar.height_mm))
    pages.outline(bar, HAIRLINE)
    for end_mm in (bar.left_mm, bar.right_mm):
        pages.line((end_mm, top_mm), (end_mm, bar.bottom_mm + BAR_MARK_MM), THIN)
    baseline_mm = bar.bottom_mm + BAR_MARK_MM + SMALL.digit_mm + 0.8
    for number, words in enumerate(numbers):
        pages.text((left_mm + number * block_mm, baseline_mm), words, SMALL, "middle")
    pages.text((bar.right_mm + 4.2, baseline_mm), unit, SMALL.heavier())


def _fill(pages: Pages, box: Box) -> None:
    left, right, top, bottom = box.left_mm, box.right_mm, box.top_mm, box.bottom_mm
    pages.shape([(left, top), (right, top), (right, bottom), (left, bottom)], INK)
