"""The words and figures that stand on the map and in its tables.

Every string that leaves this module is text to be shown as text: what cannot be seen is made
visible, nothing is marked up. Rounding is done by :mod:`plotter.wording`.
"""

from __future__ import annotations

import re
from functools import lru_cache

from plotter import wording
from plotter.earth.angles import course_360, upright_angle
from plotter.earth.geodesic import Line
from plotter.earth.units import sm_from_nm
from plotter.formats.names import DIRECTION_MARKS, DIRECTION_ORDERS
from plotter.places.model import Airport, Frequency, Runway
from plotter.route.parts import LegPart
from plotter.route.plotting import DataDates

LETTERS_ON_MAP = 22
_REMEMBERED = 20_000
"""Words kept at hand: while a route is drawn the same fields come again with every change."""
AIRPORTS_REMEMBERED = 4096
ON_THE_LINE_NM = 0.05
EN_SPACES = "\u2002"

FIRST_STRONG_ISOLATE, POP_ISOLATE = "\u2068", "\u2069"
_RIGHT_TO_LEFT = (
    "[\u0590-\u08ff\u200f\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff]"
)
_RIGHT_TO_LEFT_RUN = re.compile(rf"{_RIGHT_TO_LEFT}+(?:\W*{_RIGHT_TO_LEFT}+)*")

KIND_WORDS = {
    "large_airport": "large airport",
    "medium_airport": "medium airport",
    "small_airport": "small airport",
    "heliport": "heliport",
    "seaplane_base": "seaplane base",
    "balloonport": "balloonport",
    "closed": "closed",
}


@lru_cache(_REMEMBERED)
def visible(text: str) -> str:
    """Text with each character that cannot be shown replaced by one that can.

    Control characters become their Unicode pictures; halves of surrogate pairs, which no file
    can carry, and orders to turn the writing direction become the replacement character; line and
    paragraph separators become spaces, marks of direction alone go. Letters that are written from
    right to left stay.

    >>> visible("a\\x07b\\u2028c\\ud800"), visible("exe\\u202egpx")
    ('a␇b c�', 'exe�gpx')
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(_shown(letter) for letter in text)


def _shown(letter: str) -> str:
    code = ord(letter)
    if code < 0x20:
        return chr(0x2400 + code)
    if code == 0x7F:
        return "␡"
    if 0x80 <= code < 0xA0 or 0xD800 <= code < 0xE000 or _noncharacter(code):
        return "�"
    if letter in DIRECTION_ORDERS:
        return "�"
    if letter in DIRECTION_MARKS:
        return ""
    return " " if letter in "\u2028\u2029" else letter


def _noncharacter(code: int) -> bool:
    return 0xFDD0 <= code <= 0xFDEF or code & 0xFFFE == 0xFFFE


@lru_cache(_REMEMBERED)
def apart(text: str) -> str:
    """A line made of several parts, with what runs from right to left kept to its own place.

    A name of such letters would otherwise take the figures beside it along.

    >>> apart("Demo 12 NM")
    'Demo 12 NM'
    >>> apart("\u05e9\u05d3\u05d4 12 NM").encode("ascii", "backslashreplace").decode()
    '\\\\u2068\\\\u05e9\\\\u05d3\\\\u05d4\\\\u2069 12 NM'
    """
    shown = visible(text)
    if shown.isascii():
        return shown
    return _RIGHT_TO_LEFT_RUN.sub(rf"{FIRST_STRONG_ISOLATE}\g<0>{POP_ISOLATE}", shown)


def shortened(text: str, letters: int = LETTERS_ON_MAP) -> str:
    """Text no longer than fits beside a symbol, with an ellipsis where it was cut.

    >>> shortened("Water tower"), shortened("A name of far too many letters", 12)
    ('Water tower', 'A name of f…')
    """
    shown = visible(text)
    return shown if len(shown) <= letters else shown[: letters - 1].rstrip() + "…"


def courses(part: LegPart) -> str:
    """Both courses of a leg or part of one, true then magnetic, as they stand above its line."""
    true = wording.course(part.true_course_deg, "T")
    magnetic = wording.magnetic_course(part.true_course_deg, part.variation_deg_east)
    return f"{true}{EN_SPACES}{magnetic}"


def distances(distance_nm: float, *, sm: bool = False) -> str:
    """A distance in NM, and in SM beside it where the pilot asks.

    >>> distances(40.0), distances(40.0, sm=True)
    ('40.0 NM', '40.0 NM\\u200246.0 SM')
    """
    words = wording.distance(distance_nm)
    return f"{words}{EN_SPACES}{statute(distance_nm)}" if sm else words


def statute(distance_nm: float) -> str:
    """A distance given in NM, printed in statute miles.

    >>> statute(40.0)
    '46.0 SM'
    """
    return f"{sm_from_nm(distance_nm):.1f} SM"


def angle_deg(line: Line) -> float:
    """How far the label of a line is turned [°, clockwise] to lie along its middle, upright."""
    return upright_angle(course_360(line.true_course_deg))


def off(off_nm: float, beyond: str = "") -> str:
    """How far beside the line, and on which hand when flying along it, or beyond which end.

    >>> off(1.44), off(-12.0), off(0.01)
    ('1.4 NM right', '12.0 NM left', 'on the line')
    >>> off(-3.2, "before the departure")
    '3.2 NM before the departure'
    """
    if abs(off_nm) < ON_THE_LINE_NM:
        return "on the line"
    return f"{wording.distance(abs(off_nm))} {beyond or ('right' if off_nm > 0 else 'left')}"


def height(height_ft: float | None) -> str:
    """A height, or that the data has none.

    >>> height(1317.0), height(None)
    ('1,317 ft', 'not in the data')
    """
    return wording.NOT_IN_DATA if height_ft is None else wording.altitude(height_ft)


def code(airport: Airport) -> str:
    """The code an airport goes by on the map: the most official one it has."""
    return airport.codes[0]


@lru_cache(_REMEMBERED)
def runway(strip: Runway) -> str:
    """One runway in one line; what is not in the data is left out."""
    ends = "/".join(end for end in (strip.end_1, strip.end_2) if end) or "unnamed"
    parts = [_size(strip), strip.surface.lower(), _headings(strip)]
    parts += ["lighted"] * strip.lighted + ["closed"] * strip.closed
    return apart(f"{ends}: " + (", ".join(filter(None, parts)) or wording.NOT_IN_DATA))


def _size(strip: Runway) -> str:
    if not strip.length_ft:
        return "length " + wording.NOT_IN_DATA
    across = f" × {strip.width_ft:,.0f}" if strip.width_ft else ""
    return f"{strip.length_ft:,.0f}{across} ft"


def _headings(strip: Runway) -> str:
    ends = (strip.heading_1_true_deg, strip.heading_2_true_deg)
    return " / ".join(wording.course(end, "T") for end in ends if end is not None)


@lru_cache(_REMEMBERED)
def frequency(radio: Frequency) -> str:
    """One radio frequency in one line."""
    said = radio.description if radio.description != radio.kind else ""
    return apart(" ".join(filter(None, (radio.kind, f"{radio.frequency_mhz:.3f} MHz", said))))


def dates_of_data(data: DataDates) -> str:
    """The dates of the tables and of the magnetic model, in one line."""
    tables = [
        f"{name} of {date}"
        for name, date in (
            ("Airports", data.airports),
            ("runways", data.runways),
            ("frequencies", data.frequencies),
            ("navaids", data.navaids),
        )
        if date
    ]
    model = f"magnetic model {data.magnetic_model}, valid to {data.magnetic_model_valid_to}."
    return "; ".join([*tables, model])
