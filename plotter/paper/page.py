"""Pages of a PDF, drawn in millimetres from the top left corner; the only home of reportlab.

A page asks the program that prints it for no scaling; that it was obeyed is for a bar to prove.

The same drawing gives the same bytes: no time, no random number, no name of this machine goes in.
The fonts (DejaVu Sans Condensed, in ``fonts/``) are embedded, so a page looks the same everywhere
and reads as text. Every page carries the standing cautions at its foot, and a line about letters
the font does not have where there are such.
"""

from __future__ import annotations

import hashlib
import io
import unicodedata
from collections.abc import Callable, Sequence
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from plotter.errors import CannotDo, DataFault
from plotter.formats.names import clean_text
from plotter.paper.style import (
    HAIRLINE,
    MM_PER_POINT,
    SMALL,
    WHITE,
    Box,
    Paper,
    Pen,
    Side,
    Style,
)
from plotter.wording import STANDING

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

# Letters a font does not have, named where they stand instead of left out or boxed.

NOTE = "[U+…] stands for a letter that the font of this page does not have, by its Unicode number."


def spelled(text: str, has: Callable[[str], bool]) -> str:
    """Text with every letter that cannot be printed replaced by its number in brackets.

    A mark that shows nothing (a direction mark, a joiner) is named too: it could hide that the
    order of letters is not what it seems.

    >>> spelled("Zürich 東", lambda letter: letter < "\\u2000")
    'Zürich [U+6771]'
    """
    return "".join(
        letter if has(letter) and unicodedata.category(letter) != "Cf" else f"[U+{ord(letter):04X}]"
        for letter in clean_text(text)
    )


def wrapped(text: str, width: float, measure: Callable[[str], float]) -> list[str]:
    """Text in lines no wider than ``width``; a word too wide for a line is cut.

    >>> wrapped("one two three", 7, len), wrapped("abcdefgh", 3, len)
    (['one two', 'three'], ['abc', 'def', 'gh'])
    """
    lines = [""]
    for word in text.split():
        grown = f"{lines[-1]} {word}".strip()
        if measure(grown) <= width:
            lines[-1] = grown
        else:
            lines += _pieces(word, width, measure)
    return [line for line in lines if line]


def _pieces(word: str, width: float, measure: Callable[[str], float]) -> list[str]:
    """A word in as many pieces as it takes; each holds one letter or more."""
    pieces = [""]
    for letter in word:
        if pieces[-1] and measure(pieces[-1] + letter) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces


def clipped(text: str, width: float, measure: Callable[[str], float]) -> str:
    """Text that fits, its end replaced by an ellipsis where it does not.

    >>> clipped("Minneapolis", 6, len), clipped("Duluth", 6, len)
    ('Minne…', 'Duluth')
    """
    if measure(text) <= width:
        return text
    kept = len(text)
    while kept and measure(text[:kept].rstrip() + "…") > width:
        kept -= 1
    return text[:kept].rstrip() + "…"


MARGIN_MM = 10.0
"""Printers leave 4 to 6 mm white at the edge (common practice); this keeps clear of it."""
_PDF_VERSION = (1, 6)
"""The first in which a document can ask to be printed unscaled (ISO 32000-1, table 150)."""
_NO_DATE = "D:20000101000000Z"
"""In place of the time: reportlab's own stand-in follows SOURCE_DATE_EPOCH where that is set, and
so does the signature that the document's number is made of, which is begun afresh."""
_FACES = {False: "DejaVuSansCondensed", True: "DejaVuSansCondensed-Bold"}


class Pages:
    """A document being drawn, page by page.

    ``body`` is the box between the margins and above the cautions. A page is begun with
    :meth:`begin` and ends with the next one or with :meth:`to_bytes`.
    """

    def __init__(self, paper: Paper, title: str, margin_mm: float = MARGIN_MM) -> None:
        self.paper = paper
        self._title = title
        self._number = 0
        self._named_a_letter = False
        self._held = io.BytesIO()
        self._canvas = _canvas(self._held, paper, title)
        width_mm = paper.width_mm - 2 * margin_mm
        self._caution_lines = self.lines(" ".join(STANDING), width_mm, SMALL)
        foot_mm = (len(self._caution_lines) + 2) * SMALL.line_mm
        height_mm = paper.height_mm - 2 * margin_mm - foot_mm
        self.body = Box(margin_mm, margin_mm, width_mm, height_mm)

    def begin(self) -> Box:
        """Begin a page and give its body."""
        self._end()
        self._number += 1
        self._named_a_letter = False
        return self.body

    def to_bytes(self) -> bytes:
        """The finished document; nothing can be drawn after it."""
        self._end()
        self._canvas.save()
        return self._held.getvalue()

    def line(
        self, start: tuple[float, float], end: tuple[float, float], pen: Pen = HAIRLINE
    ) -> None:
        """A straight line between two points [mm]."""
        self._take(pen)
        self._canvas.line(*self._at(*start), *self._at(*end))

    def outline(
        self, box: Box, pen: Pen = HAIRLINE, corner_mm: float = 0.0, fill: str | None = None
    ) -> None:
        """The edge of a box, its corners rounded with a radius [mm]; filled where asked."""
        self._take(pen, fill)
        left, bottom = self._at(box.left_mm, box.bottom_mm)
        width, height = _points(box.width_mm), _points(box.height_mm)
        filled = int(fill is not None)
        if corner_mm:
            self._canvas.roundRect(left, bottom, width, height, _points(corner_mm), fill=filled)
        else:
            self._canvas.rect(left, bottom, width, height, fill=filled)

    def circle(self, centre: tuple[float, float], radius_mm: float, pen: Pen = HAIRLINE) -> None:
        """A circle."""
        self._take(pen)
        self._canvas.circle(*self._at(*centre), _points(radius_mm))

    def shape(self, corners: Sequence[tuple[float, float]], fill: str) -> None:
        """A filled shape with straight sides, without an edge."""
        path = self._canvas.beginPath()
        path.moveTo(*self._at(*corners[0]))
        for corner in corners[1:]:
            path.lineTo(*self._at(*corner))
        path.close()
        self._canvas.setFillColor(fill)
        self._canvas.drawPath(path, stroke=0, fill=1)

    def text(
        self,
        where: tuple[float, float],
        words: str,
        style: Style = SMALL,
        side: Side = "left",
        turned_deg: float = 0.0,
    ) -> None:
        """Words on a line: ``where`` is the baseline at the ``side`` they are set from [mm].

        ``turned_deg`` turns them about that point, clockwise.
        """
        shown = self._printable(words, style)
        self._canvas.setFillColor(style.ink)
        self._canvas.setFont(_face(style), style.size_pt)
        shift_mm = {"left": 0.0, "middle": 0.5, "right": 1.0}[side] * self.width_mm(shown, style)
        if not turned_deg:
            self._canvas.drawString(*self._at(where[0] - shift_mm, where[1]), shown)
            return
        self._canvas.saveState()
        self._canvas.translate(*self._at(*where))
        self._canvas.rotate(-turned_deg)
        self._canvas.drawString(-_points(shift_mm), 0, shown)
        self._canvas.restoreState()

    def paragraph(
        self, where: tuple[float, float], words: str, width_mm: float, style: Style = SMALL
    ) -> float:
        """Words in lines from a first baseline down; gives the baseline of the next line [mm]."""
        left, y = where
        for line in self.lines(words, width_mm, style):
            self.text((left, y), line, style)
            y += style.line_mm
        return y

    def lines(self, words: str, width_mm: float, style: Style = SMALL) -> list[str]:
        """Words parted into lines that fit a width."""
        shown = self._printable(words, style)
        return wrapped(shown, width_mm, lambda text: self.width_mm(text, style))

    def fitted(self, words: str, width_mm: float, style: Style = SMALL) -> str:
        """Words cut to a width, with an ellipsis where something is left out."""
        shown = self._printable(words, style)
        return clipped(shown, width_mm, lambda text: self.width_mm(text, style))

    def width_mm(self, words: str, style: Style = SMALL) -> float:
        """Width of words on one line [mm]."""
        from reportlab.pdfbase.pdfmetrics import stringWidth

        return float(stringWidth(words, _face(style), style.size_pt)) * MM_PER_POINT

    def _printable(self, words: str, style: Style) -> str:
        held = _letters_of(style.bold)
        shown = spelled(words, lambda letter: ord(letter) in held)
        self._named_a_letter |= "[U+" in shown
        return shown

    def _end(self) -> None:
        if self._number:
            self._foot()
            self._canvas.showPage()

    def _foot(self) -> None:
        box, step = self.body, SMALL.line_mm
        y = box.bottom_mm + step
        if self._named_a_letter:
            self.text((box.left_mm, y), NOTE)
        self.text((box.right_mm, y), f"{self._title}, page {self._number}", SMALL, "right")
        y += 0.35 * step
        self.line((box.left_mm, y), (box.right_mm, y))
        for line in self._caution_lines:
            y += step
            self.text((box.left_mm, y), line)

    def _at(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        return _points(x_mm), _points(self.paper.height_mm - y_mm)

    def _take(self, pen: Pen, fill: str | None = None) -> None:
        self._canvas.setLineWidth(_points(pen.width_mm))
        self._canvas.setStrokeColor(pen.ink)
        self._canvas.setFillColor(fill or WHITE)
        self._canvas.setDash([_points(length) for length in pen.dash_mm or ()])


def _points(length_mm: float) -> float:
    return length_mm / MM_PER_POINT


def _canvas(held: io.BytesIO, paper: Paper, title: str) -> Canvas:
    """A blank document that holds no time and asks to be printed unscaled."""
    canvas = _blank(held, paper)
    canvas.setDateFormatter(lambda *_: _NO_DATE)
    canvas._doc.signature = hashlib.md5(usedforsecurity=False)
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setTitle(title)
    canvas.setAuthor("plotter")
    canvas.setCreator("plotter")
    canvas.setProducer("plotter")
    canvas.setSubject(STANDING[0])
    return canvas


def _blank(held: io.BytesIO, paper: Paper) -> Canvas:
    from reportlab.pdfgen.canvas import Canvas

    try:
        return Canvas(
            held,
            pagesize=(_points(paper.width_mm), _points(paper.height_mm)),
            invariant=1,
            pageCompression=1,
            lang="en",
            pdfVersion=_PDF_VERSION,
            initialFontName=_face(SMALL),
        )
    except ValueError as fault:  # reportlab reads SOURCE_DATE_EPOCH, wanted or not
        raise CannotDo("cannot-do.source-date-epoch") from fault


def _face(style: Style) -> str:
    _letters_of(style.bold)
    return _FACES[style.bold]


@cache
def _letters_of(bold: bool) -> frozenset[int]:
    """Register a face once and give the letters it has; raises DataFault where it is damaged."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFError, TTFont

    name = _FACES[bold]
    source = files("plotter.paper").joinpath("fonts", f"{name}.ttf")
    try:
        font: Any = TTFont(name, io.BytesIO(source.read_bytes()))
    except (OSError, TTFError) as fault:
        raise DataFault("font", name=name) from fault
    pdfmetrics.registerFont(font)
    return frozenset(font.face.charToGlyph)
