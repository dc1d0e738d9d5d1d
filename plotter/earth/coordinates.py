"""A position as a pilot types it, and as it is written back.

Latitude is always first. Read are: ICAO Doc 4444 (PANS-ATM) Appendix 2, item 15, degrees
``46N078W`` or degrees and minutes ``4620N07805W``; the same with seconds, which Doc 4444 does not
have and a filed flight plan does not take; ISO 6709 Annex H; decimal degrees ``41.234,-95.5``;
degrees and minutes or degrees, minutes and seconds with hemisphere letters.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Literal, NamedTuple

from plotter.earth.coordinate_angles import (
    Axis,
    Half,
    Word,
    degrees,
    fault,
    half,
    has_shape,
    parted,
    summed,
    swapped,
    unpacked,
    words,
)
from plotter.earth.position import Position
from plotter.errors import PositionError
from plotter.messages import message

# Coordinates as one string without a space: ISO 6709, Annex H, ``+4012.22-07500.25/``.
#
# Source: ISO 6709:2008, Annex H: a sign, two digits of latitude or three of longitude for degrees,
# two more with minutes, two more with seconds, decimals on the last; then a height with its sign
# and the reference system (``CRS…``), then a solidus.

_MINUS = "\u2212"
_SHAPE = re.compile(
    r"\s*(?P<sign1>[-+])(?P<first>[0-9]+(?:\.[0-9]+)?)"
    r"(?P<sign2>[-+])(?P<second>[0-9]+(?:\.[0-9]+)?)"
    r"(?P<height>[-+][0-9]+(?:\.[0-9]+)?)?"
    r"(?P<system>CRS[^/\s]*)?/?\s*"
)


class IsoReading(NamedTuple):
    """Latitude and longitude [°], height [m] if given, name of the reference system or ""."""

    latitude_deg: float
    longitude_deg: float
    height_m: float | None
    reference_system: str


def read_iso6709(text: str) -> IsoReading | None:
    """The reading of an ISO 6709 string; ``None`` where the text has another shape.

    The solidus may be left out: nothing else starts with a sign and has a second one inside.
    Raises PositionError where the shape is right and the figures are not.

    >>> read_iso6709("+401213-0750015+2.79CRSWGS_84/").height_m
    2.79
    >>> read_iso6709("41.2,-95.5") is None
    True
    """
    match = _SHAPE.fullmatch(text.replace(_MINUS, "-"))
    if match is None:
        return None
    first, second = _word(match, "first"), _word(match, "second")
    if _digits(first) in (3, 5, 7) and _digits(second) in (2, 4, 6):
        turned = f"{match['sign2']}{match['second']}{match['sign1']}{match['first']}/"
        raise swapped(turned, text)
    if _digits(second) - _digits(first) != 1:
        raise fault(
            message("coordinate.precision"),
            text,
            first.start,
            second.end,
        )
    height = match["height"]
    return IsoReading(
        _degrees(match, "sign1", first, "latitude", text),
        _degrees(match, "sign2", second, "longitude", text),
        float(height) if height else None,
        (match["system"] or "").removeprefix("CRS"),
    )


def _word(match: re.Match[str], group: str) -> Word:
    return Word("number", match[group], match.start(group), match.end(group), False)


def _digits(figure: Word) -> int:
    return len(figure.text.partition(".")[0])


def _degrees(match: re.Match[str], sign: str, figure: Word, axis: Axis, text: str) -> float:
    return summed(unpacked(figure, axis, text), axis, text, negative=match[sign] == "-")


__all__ = [
    "ParsedCoordinate",
    "decimal_text",
    "doc4444",
    "looks_like_coordinate",
    "parse_coordinate",
]

Notation = Literal[
    "doc-4444", "packed", "iso-6709", "decimal", "degrees-minutes", "degrees-minutes-seconds"
]
_UNSPACED = re.compile(
    r"\s*(?:[0-9]+[NSEW][0-9]+[NSEW]|[NSEW][0-9]+[NSEW][0-9]+)\s*", re.IGNORECASE
)
_DOC_4444 = re.compile(r"\s*[0-9]{2}(?:[0-9]{2})?[NS][0-9]{3}(?:[0-9]{2})?[EW]\s*", re.IGNORECASE)
_WIDTHS = {(2, 3), (4, 5), (6, 7)}


@dataclass(frozen=True, slots=True)
class ParsedCoordinate:
    """A position read from text, the height [m] given with it if any, and how it was written.

    ``reference_system`` is what an ISO 6709 string names after ``CRS``, else empty; the figures
    are taken as WGS 84 whatever it says.
    """

    position: Position
    height_m: float | None
    notation: Notation
    reference_system: str = ""

    def __post_init__(self) -> None:
        if self.height_m is not None and not math.isfinite(self.height_m):
            raise fault(message("coordinate.height", height_m=self.height_m), "")


def parse_coordinate(text: str) -> ParsedCoordinate:
    """The position that one typed coordinate stands for.

    Raises PositionError that points at the wrong part and says what to type: code ``coordinate``
    where it cannot be read, ``coordinate-range`` where a figure is too large,
    ``coordinate-swapped`` where longitude came first, with the pair turned round as candidate.

    >>> parse_coordinate("4620N07805W").position
    Position(latitude_deg=46.333333333333336, longitude_deg=-78.08333333333333)
    >>> parse_coordinate("078W46N")
    Traceback (most recent call last):
    plotter.errors.PositionError: latitude comes first: did you mean 46N078W?
    """
    iso = read_iso6709(text)
    if iso is not None:
        position = Position(iso.latitude_deg, iso.longitude_deg)
        return ParsedCoordinate(position, iso.height_m, "iso-6709", iso.reference_system)
    first, second = (half(part, text) for part in parted(words(text), text))
    _refuse_swapped(first, second, text)
    _refuse_unequal(first, second, text)
    position = Position(*_both(first, second, text))
    return ParsedCoordinate(position, None, _notation(first, second, text))


def looks_like_coordinate(text: str) -> bool:
    """Whether text is meant as a coordinate, right or wrong, and not as an identifier.

    An identifier such as ``46N``, ``SE-0012``, ``46N180040`` or ``S1130`` is none.

    >>> [looks_like_coordinate(text) for text in ("4660N07805W", "41.5,195", "nan,5")]
    [True, True, True]
    >>> [looks_like_coordinate(text) for text in ("46N", "SE-0012", "46N180040", "S1130", "KOMA")]
    [False, False, False, False, False]
    """
    if has_shape(text):
        return True
    try:
        parse_coordinate(text)
    except PositionError:
        return False
    return True


def doc4444(position: Position) -> str:
    """Degrees and minutes as ICAO Doc 4444 item 15 writes a point; half a minute is 0.5 NM.

    >>> doc4444(Position(46.9996, -78.9996)), doc4444(Position(-0.001, 180.0))
    ('4700N07900W', '0000N18000E')
    """
    return "".join(
        f"{angle.degrees:0{angle.width}d}{angle.rest:02d}{angle.letter}"
        for angle in split_position(position, 60)
    )


class SplitAngle(NamedTuple):
    """A latitude or longitude as it is written: whole degrees, the rest in parts of one, letter.

    ``width`` is how many digits its degrees take, 2 or 3.
    """

    degrees: int
    rest: int
    letter: str
    width: int


def split_position(position: Position, parts: int) -> tuple[SplitAngle, SplitAngle]:
    """Latitude and longitude rounded to so many parts of a degree: 60 for minutes.

    What rounds to nought is north or east, never south or west.

    >>> split_position(Position(-0.00001, -78.5), 60)[0]
    SplitAngle(degrees=0, rest=0, letter='N', width=2)
    """
    latitude_deg, longitude_deg = position.latitude_deg, position.longitude_deg
    return _split(latitude_deg, parts, "NS", 2), _split(longitude_deg, parts, "EW", 3)


def _split(angle_deg: float, parts: int, letters: str, width: int) -> SplitAngle:
    count = round(angle_deg * parts)
    degrees, rest = divmod(abs(count), parts)
    return SplitAngle(degrees, rest, letters[count < 0], width)


def decimal_text(position: Position, places: int = 6) -> str:
    """Decimal degrees as they are typed, never with an exponent; six places are 0.11 m.

    >>> decimal_text(Position(41.234, -95.5)), decimal_text(Position(-1e-9, 0.0))
    ('41.234,-95.5', '0,0')
    """
    return f"{_plain(position.latitude_deg, places)},{_plain(position.longitude_deg, places)}"


def _both(first: Half, second: Half, text: str) -> tuple[float, float]:
    """The two angles [°]; where both are wrong, both are said."""
    try:
        latitude_deg = degrees(first, "latitude", text)
    except PositionError as fault_in_first:
        try:
            degrees(second, "longitude", text)
        except PositionError as fault_in_second:
            raise fault(
                message(
                    "coordinate.both-wrong", first=fault_in_first.said, second=fault_in_second.said
                ),
                text,
                first.start,
                second.end,
                code=fault_in_first.code,
            ) from None
        raise
    return latitude_deg, degrees(second, "longitude", text)


def _refuse_swapped(first: Half, second: Half, text: str) -> None:
    if first.axis is None:
        one, other = (float(each.figures[0].text) for each in (first, second))
        turned_round = 90.0 < one <= 180.0 and other <= 90.0
    else:
        turned_round = (first.axis, second.axis) == ("longitude", "latitude")
    if turned_round:
        degrees(second, "latitude", text)
        degrees(first, "longitude", text)
        between = text[first.end : second.start]
        turned = text[second.start : second.end] + between + text[first.start : first.end]
        latitude = "" if first.axis else text[first.start : first.end]
        raise swapped(turned, text, latitude)
    if first.axis == "longitude" or second.axis == "latitude":
        raise fault(message("coordinate.one-each"), text, first.start, second.end)


def _refuse_unequal(first: Half, second: Half, text: str) -> None:
    """Letters and bare figures without a space are Doc 4444's form: its widths or none."""
    widths = len(first.figures[0].text), len(second.figures[0].text)
    if _UNSPACED.fullmatch(text) and widths not in _WIDTHS:
        raise fault(
            message("coordinate.widths", first=widths[0], second=widths[1]),
            text,
            first.start,
            second.end,
        )


def _notation(first: Half, second: Half, text: str) -> Notation:
    finest = max(len(first.figures), len(second.figures))
    if finest > 1:
        return "degrees-minutes" if finest == 2 else "degrees-minutes-seconds"
    if _DOC_4444.fullmatch(text):
        return "doc-4444"
    whole = len(first.figures[0].text.partition(".")[0])
    return "packed" if first.letter and whole > 2 else "decimal"


def _plain(angle_deg: float, places: int) -> str:
    fixed = f"{angle_deg:.{places}f}"
    short = fixed.rstrip("0").rstrip(".") if "." in fixed else fixed
    return "0" if short in ("-0", "0", "") else short
