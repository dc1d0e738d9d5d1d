"""Numbers as interchange files hold them: written with fixed decimals, no exponent, no minus
nought; read strictly."""

from __future__ import annotations

import datetime as dt
import re

DEGREE_PLACES = 6
"""Decimals of a degree: 0.1 m on the ground, finer than any airport in the data is known."""
_A_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?", re.ASCII | re.IGNORECASE)


def fixed(value: float, places: int) -> str:
    """A number with a fixed count of decimals; readers of GPX refuse ``1e-07``.

    >>> fixed(1e-7, 6), fixed(-0.0000001, 6), fixed(-12.5, 2)
    ('0.000000', '0.000000', '-12.50')
    """
    return f"{round(value, places) + 0.0:.{places}f}"


def degrees(angle_deg: float) -> str:
    """A latitude or longitude [°] to six decimals.

    >>> degrees(-92.5), degrees(180.0)
    ('-92.500000', '180.000000')
    """
    return fixed(angle_deg, DEGREE_PLACES)


def longitude_below_180(
    longitude_deg: float, for_180: str = "-180.000000", places: int = DEGREE_PLACES
) -> str:
    """A longitude [°] in −180 ≤ x < 180, as GPX 1.1 (longitudeType) wants it.

    ``for_180`` is what 180 becomes: the same meridian, or for the end of a line that comes from
    the west 179.999999, 0.1 m short of it, because viewers draw a jump to −180 round the world.

    >>> longitude_below_180(180.0), longitude_below_180(179.99999996), longitude_below_180(5.0)
    ('-180.000000', '-180.000000', '5.000000')
    """
    text = fixed(longitude_deg, places)
    return for_180 if float(text) == 180.0 else text


def utc(time: dt.datetime) -> str:
    """A time as ISO 8601 in UTC, with a fraction only where there is one.

    >>> utc(dt.datetime(2026, 7, 4, 9, 30, tzinfo=dt.timezone(dt.timedelta(hours=-5))))
    '2026-07-04T14:30:00Z'
    """
    return time.astimezone(dt.UTC).replace(tzinfo=None).isoformat() + "Z"


def direction(angle_deg: float, places: int) -> str:
    """A direction or a variation [°] in 0 ≤ x < 360 as it is written; 359.96 to one place is 0.

    >>> direction(-8.2, 1), direction(359.96, 1), direction(360.0, 2)
    ('351.8', '0.0', '0.00')
    """
    return fixed(round(angle_deg % 360.0, places) % 360.0, places)


def number_of(value: object) -> float:
    """A raw value as a number; raises ValueError.

    The trap: ``float`` alone takes ``4_4.5`` for 44.5, the digits of other scripts, and ``True``.

    >>> number_of(" -92.5 "), number_of(44), number_of("1e-5")
    (-92.5, 44.0, 1e-05)
    >>> number_of("4_4.5")
    Traceback (most recent call last):
    ValueError: no number
    """
    if isinstance(value, str):
        if not _A_NUMBER.fullmatch(value.strip()):
            raise ValueError("no number")
        return float(value)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError("no number")
    try:
        return float(value)
    except OverflowError:
        raise ValueError("no number") from None
