"""Coordinates as one string without a space: ISO 6709, Annex H, ``+4012.22-07500.25/``.

Source: ISO 6709:2008, Annex H: a sign, two digits of latitude or three of longitude for degrees,
two more with minutes, two more with seconds, decimals on the last; then a height with its sign
and the reference system (``CRS…``), then a solidus.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from plotter.earth.coordinate_angle import Axis, summed, unpacked
from plotter.earth.coordinate_words import Word, fault, swapped

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
            "latitude and longitude must be equally fine: two and three digits for degrees, two "
            "more each with minutes, two more each with seconds, as in +40-075/ or +4012-07500/",
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
