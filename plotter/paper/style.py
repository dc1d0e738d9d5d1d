"""How words and lines look on paper: black on white, one accent, nothing told by colour alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from plotter.earth.units import MM_PER_INCH
from plotter.errors import InputError
from plotter.maps.palette import CAUTION

# Sizes of paper and boxes on it, in millimetres from the top left corner.
#
# Sources: ISO 216 for A4, 210 × 297 mm; ASME Y14.1 (formerly ANSI) size A for US letter,
# 8.5 × 11 in. The inch is 25.4 mm exactly (NIST SP 811, appendix B).


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper as it lies: its width and height [mm].

    >>> A4.landscape.width_mm, A4.landscape.height_mm
    (297.0, 210.0)
    """

    name: str
    title: str
    width_mm: float
    height_mm: float

    @property
    def landscape(self) -> Paper:
        """The same sheet with its long side across."""
        short, long = sorted((self.width_mm, self.height_mm))
        return Paper(self.name, self.title, long, short)


A4 = Paper("a4", "A4", 210.0, 297.0)
LETTER = Paper("letter", "US letter", 8.5 * MM_PER_INCH, 11.0 * MM_PER_INCH)
PAPERS: Mapping[str, Paper] = {paper.name: paper for paper in (A4, LETTER)}


@dataclass(frozen=True, slots=True)
class Box:
    """A stretch of a page: left and top edge, width and height [mm]; y grows downwards.

    >>> Box(10, 20, 100, 50).right_mm, Box(10, 20, 100, 50).bottom_mm
    (110, 70)
    """

    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float

    @property
    def right_mm(self) -> float:
        """Right edge [mm from the left of the paper]."""
        return self.left_mm + self.width_mm

    @property
    def bottom_mm(self) -> float:
        """Bottom edge [mm from the top of the paper]."""
        return self.top_mm + self.height_mm


def paper_named(name: str) -> Paper:
    """A size of paper by its name; raises InputError, code ``paper``, with the names there are.

    >>> paper_named("A4").height_mm
    297.0
    """
    found = PAPERS.get(name.strip().lower())
    if found is None:
        known = tuple(PAPERS)
        raise InputError("paper", candidates=known, name=name[:40], papers=known)
    return found


INK = "#000000"
ACCENT = CAUTION
"""For marks alone: on white it has not the contrast that words need."""
WHITE = "#FFFFFF"
SMALLEST_PT = 9.0
"""No word is smaller: read at arm's length, by the light of a cockpit."""
MM_PER_POINT = 25.4 / 72
LEADING = 1.22
"""Height of a line of text, in sizes of its letters."""

Side = Literal["left", "middle", "right"]


@dataclass(frozen=True, slots=True)
class Style:
    """How words are set: size [pt], weight, colour."""

    size_pt: float = SMALLEST_PT
    bold: bool = False
    ink: str = INK

    @property
    def line_mm(self) -> float:
        """Height of one line [mm]."""
        return self.size_pt * LEADING * MM_PER_POINT

    @property
    def digit_mm(self) -> float:
        """Height of a digit [mm]: 0.729 of the size in DejaVu Sans."""
        return self.size_pt * 0.729 * MM_PER_POINT

    def heavier(self) -> Style:
        """The same in bold."""
        return replace(self, bold=True)


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line is drawn: width [mm], colour, dashes [mm on, mm off] where it is broken.

    Lines end exactly at their ends (butt caps), so a bar is as long as it is drawn.
    """

    width_mm: float = 0.2
    ink: str = INK
    dash_mm: tuple[float, float] | None = None


SMALL = Style()
BODY = Style(10.0)
HEADING = Style(11.5, bold=True)
TITLE = Style(19.0, bold=True)
HAIRLINE = Pen(0.13)
THIN = Pen(0.2)
