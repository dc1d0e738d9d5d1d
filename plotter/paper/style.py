"""How words and lines look on paper: black on white, one accent, nothing told by colour alone."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from plotter.maps.palette import CAUTION

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
