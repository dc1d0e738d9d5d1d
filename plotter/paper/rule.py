"""The printed scale to test a plotter against, on two sheets laid lengthwise.

The first proves that the printer did not scale it and carries the rulers; the second carries a
compass rose and a table to note in what one's own plotter reads.
"""

from __future__ import annotations

from plotter.chart.scales import SCALES, ChartScale
from plotter.paper.page import Pages
from plotter.paper.proof import CARD_HEIGHT_MM, CARD_WIDTH_MM, draw_bars, draw_card
from plotter.paper.rose import draw_rose
from plotter.paper.ruler import HEIGHT_MM, MARKS, draw_ruler, longest_mark
from plotter.paper.sizes import Box, Paper
from plotter.paper.style import BODY, HEADING, SMALL, THIN, TITLE
from plotter.paper.table import Column, draw_table

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
