"""The printed scale to test a plotter against, on two sheets laid lengthwise.

The first proves that the printer did not scale it and carries the rulers; the second carries a
compass rose and a table to note in what one's own plotter reads.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from plotter.chart.own_plotter import EDGES, Edge, mile_mm
from plotter.chart.scales import SCALES, SECTIONAL, TERMINAL, WORLD, ChartScale
from plotter.earth.units import MM_PER_INCH
from plotter.paper.page import Pages
from plotter.paper.style import (
    ACCENT,
    BODY,
    HAIRLINE,
    HEADING,
    INK,
    SMALL,
    THIN,
    TITLE,
    Box,
    Paper,
    Pen,
    Style,
)
from plotter.paper.table import Column, draw_table

# A printed scale: nautical miles along its upper edge, statute miles along its lower one.
#
# Zero stands in from the end, as on a plotter, and is marked.

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


# What a steel rule or a bank card is laid on, to prove that the printer did not scale the page.
#
# Source: ISO/IEC 7810, size ID-1 (bank cards, most licences): 85.60 × 53.98 mm, corners rounded
# with 3.18 mm.

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


# A compass rose to lay a protractor on: a mark for every degree, true north up.

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


RULE_TITLE = "Scale to test a plotter"
PROOF_LIMIT_MM = 0.5
"""A bar or card that far off is a page half a hundredth wrong: 0.3 NM in 70 (common practice)."""
PRINT_IT = "Print at 100% (“actual size”), never “fit to page”."
PROVE_IT = (
    "Prove the print: a steel rule on a bar, or a bank card on its outline, along and across, "
    f"never the plotter you test. If it is more than {PROOF_LIMIT_MM:g} mm off, print again."
)
LAY_IT = (
    "Lay your plotter’s zero, not its end, on the zero line, its edge along the scale. Read it at "
    "marks near and far and note it on sheet 2."
)
LAY_HERE = "Lay the plotter here: its zero on the zero line"
STEPS = (PRINT_IT, PROVE_IT, LAY_IT)
_ROSE_RADIUS_MM = 60.0
LAY_ROSE = (
    "Lay the hole of your plotter on the small circle and its lines along the meridian. Read both "
    "of its scales where a mark meets them. Up and across, the circle measures "
    f"{2 * _ROSE_RADIUS_MM:g} mm: prove it as you proved the bars."
)
TYPE_IT = "Then type two marks or more, one near zero and one far from it, as in:"
TYPED = 'plotter rule --my-plotter "ruler 20 = plotter 20.1, ruler 60 = plotter 60.4"'
TYPE_CHART = "For the other rulers add --chart terminal or --chart world."
ANGLES_DEG = tuple(range(30, 331, 45))
_GAP_MM = 5.0
_ROW_MM = 10.5
_STEP = {"sectional": 2, "terminal": 5, "world": 2}
"""Every so many numbers of a ruler is a row of the table: 10, 5 and 20 NM."""


def rule_pages(paper: Paper) -> bytes:
    """The two sheets as a PDF, on a size of paper."""
    pages = Pages(paper.landscape, RULE_TITLE)
    _draw_rulers(pages, pages.begin())
    _draw_notes(pages, pages.begin())
    return pages.to_bytes()


def _draw_rulers(pages: Pages, body: Box) -> None:
    top_mm = _draw_title(
        pages, body, "Prove the print with a steel rule or a bank card, then use it"
    )
    _draw_proof(pages, Box(body.left_mm, top_mm, body.width_mm, CARD_HEIGHT_MM))
    height_mm = len(SCALES) * (HEIGHT_MM + _GAP_MM) - _GAP_MM
    y_mm = body.bottom_mm - height_mm - 0.5
    pages.text((body.left_mm, y_mm - 3.0), LAY_HERE, HEADING)
    for scale in SCALES.values():
        draw_ruler(pages, Box(body.left_mm, y_mm, body.width_mm, HEIGHT_MM), scale)
        y_mm += HEIGHT_MM + _GAP_MM


def _draw_title(pages: Pages, body: Box, words: str) -> float:
    """The title and what is to be done, on one line; gives where the rest begins [mm]."""
    baseline_mm = body.top_mm + TITLE.digit_mm + 0.5
    pages.text((body.left_mm, baseline_mm), RULE_TITLE, TITLE)
    pages.text((body.right_mm, baseline_mm), words, HEADING, "right")
    under_mm = baseline_mm + 2.6
    pages.line((body.left_mm, under_mm), (body.right_mm, under_mm), THIN)
    return under_mm + 4.0


def _draw_proof(pages: Pages, box: Box) -> None:
    card = draw_card(pages, (box.left_mm, box.top_mm))
    _draw_card_words(pages, card)
    bars_left_mm = card.right_mm + 10.0
    bars = draw_bars(pages, (bars_left_mm, box.top_mm))
    _draw_bar_words(pages, Box(bars_left_mm, bars.bottom_mm, bars.width_mm, 20.0))
    steps_left_mm = bars.right_mm + 13.0
    _draw_steps(pages, (steps_left_mm, box.top_mm), box.right_mm - steps_left_mm)


def _draw_card_words(pages: Pages, card: Box) -> None:
    left_mm, y_mm = card.left_mm + 7.0, card.top_mm + 18.0
    pages.text((left_mm, y_mm), "A bank card fits this outline", HEADING)
    pages.paragraph(
        (left_mm, y_mm + 6.5),
        f"{CARD_WIDTH_MM:.2f} × {CARD_HEIGHT_MM:.2f} mm, the size ID-1 of ISO/IEC 7810, which most "
        "licences and identity cards have too. Lay it on the line: all four edges must meet it.",
        card.width_mm - 14.0,
        BODY,
    )


def _draw_bar_words(pages: Pages, box: Box) -> None:
    pages.paragraph(
        (box.left_mm, box.top_mm + 5.0),
        "Each bar is measured from the middle of its first end mark to the middle of its last: "
        "100 mm and 4 in (101.6 mm). A page printed at 97%, which “fit to page” often does, shows "
        "97 mm: its rulers would call a good plotter 3% short, and one that has shrunk as much "
        "good.",
        box.width_mm,
    )


def _draw_steps(pages: Pages, where: tuple[float, float], width_mm: float) -> None:
    left_mm, y_mm = where[0], where[1] + BODY.digit_mm
    for number, words in enumerate(STEPS, start=1):
        pages.text((left_mm, y_mm), str(number), BODY.heavier())
        y_mm = pages.paragraph((left_mm + 5.0, y_mm), words, width_mm - 5.0, SMALL) + 1.6


def _draw_notes(pages: Pages, body: Box) -> None:
    top_mm = _draw_title(pages, body, "Note here what your own plotter reads")
    centre = (body.left_mm + _ROSE_RADIUS_MM, top_mm + 8.0 + _ROSE_RADIUS_MM)
    draw_rose(pages, centre, _ROSE_RADIUS_MM)
    under_mm = centre[1] + _ROSE_RADIUS_MM + 7.0
    pages.paragraph((body.left_mm, under_mm), LAY_ROSE, 2 * _ROSE_RADIUS_MM)
    left_mm = body.left_mm + 2 * _ROSE_RADIUS_MM + 11.0
    form = Box(left_mm, top_mm, body.right_mm - left_mm, body.bottom_mm - top_mm)
    _draw_form(pages, form, readings(body.width_mm))


def _draw_form(pages: Pages, box: Box, rows: list[list[str]]) -> None:
    """What was tested and how, the table to fill in, what to type then."""
    y_mm = box.top_mm + 5.0
    for label in ("Plotter", "Date", "Proved with (steel rule or bank card)"):
        start_mm = box.left_mm + pages.width_mm(label) + 2.0
        pages.text((box.left_mm, y_mm), label)
        pages.line((start_mm, y_mm + 0.6), (box.right_mm, y_mm + 0.6))
        y_mm += 8.0
    columns = _columns(box.width_mm)
    _draw_groups(pages, (box.left_mm, y_mm + 1.0), columns)
    table = draw_table(pages, (box.left_mm, y_mm + 3.0), columns, rows, _ROW_MM)
    _draw_uprights(pages, table, columns)
    where = (box.left_mm, table.bottom_mm + 8.0)
    for words, style in ((TYPE_IT, SMALL), (TYPED, SMALL.heavier()), (TYPE_CHART, SMALL)):
        where = (box.left_mm, pages.paragraph(where, words, box.width_mm, style) + 1.0)


def readings(width_mm: float) -> list[list[str]]:
    """Rows of the table for rulers so wide: a mark of each scale, an angle, room for readings.

    >>> readings(277.0)[0], readings(277.0)[-1]
    (['10', '', '5', '', '20', '', '030°', ''], ['70', '', '35', '', '140', '', '300°', ''])
    """
    marks = [_marks(scale, width_mm) for scale in SCALES.values()]
    angles = [f"{angle:03d}°" for angle in ANGLES_DEG]
    rows = zip(*marks, angles, strict=False)
    return [[cell for mark in row for cell in (mark, "")] for row in rows]


def _marks(scale: ChartScale, width_mm: float) -> list[str]:
    step = MARKS[scale.name].numbered * _STEP[scale.name]
    return [f"{n * step:g}" for n in range(1, int(longest_mark(scale, "nm", width_mm) / step) + 1)]


def _columns(width_mm: float) -> list[Column]:
    pair_mm = width_mm / 4
    titles = ["NM"] * len(SCALES) + ["rose"]
    return [
        column
        for title in titles
        for column in (
            Column(title, 0.42 * pair_mm, "right"),
            Column("plotter", 0.58 * pair_mm, "middle"),
        )
    ]


def _draw_groups(pages: Pages, where: tuple[float, float], columns: list[Column]) -> None:
    x_mm = where[0]
    for number, name in enumerate([*SCALES, "angle"]):
        width_mm = sum(column.width_mm for column in columns[2 * number : 2 * number + 2])
        pages.text((x_mm + width_mm / 2, where[1]), name, SMALL.heavier(), "middle")
        x_mm += width_mm


def _draw_uprights(pages: Pages, table: Box, columns: list[Column]) -> None:
    """A line between the pairs of columns, and one at each side."""
    pair_mm = table.width_mm / (len(columns) / 2)
    for number in range(len(columns) // 2 + 1):
        x_mm = table.left_mm + number * pair_mm
        pages.line((x_mm, table.top_mm), (x_mm, table.bottom_mm), THIN)
