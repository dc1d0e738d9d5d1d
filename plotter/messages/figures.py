"""How single figures are printed for people: rounding happens here and nowhere else.

What is printed is no finer than it is known.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable, Mapping
from typing import Any

HALF_A_MINUTE = dt.timedelta(seconds=30.5)
"""Added before seconds are cut off; half a second more, because files hold whole seconds and the
minute printed here must be that of the second written there."""
_LAST_DIGITS = 1e-6
"""What the last digits of a sum may leave beyond a tenth, in tenths, or beyond a minute."""


def course(angle_deg: float, reference: str) -> str:
    """A course in three digits with its reference; north is 360.

    >>> course(64.2, "T"), course(359.7, "M"), course(0.2, "T")
    ('064°T', '360°M', '360°T')
    """
    whole = round(angle_deg) % 360
    return f"{whole or 360:03d}°{reference}"


def variation(degrees_east: float) -> str:
    """Variation in whole degrees with its letter.

    >>> variation(3.7), variation(-8.2), variation(0.2)
    ('4°E', '8°W', '0°')
    """
    whole = round(abs(degrees_east))
    return f"{whole}°{'E' if degrees_east > 0 else 'W'}" if whole else "0°"


def correction(angle_deg: float) -> str:
    """A wind correction angle in whole degrees, left or right.

    >>> correction(-4.4), correction(3.6), correction(0.3)
    ('4L', '4R', '0')
    """
    whole = round(abs(angle_deg))
    return f"{whole}{'R' if angle_deg > 0 else 'L'}" if whole else "0"


def signed(angle_deg: float) -> str:
    """An angle to be added, in whole degrees with its sign.

    >>> signed(2.4), signed(-1.6), signed(0.2)
    ('+2', '−2', '0')
    """
    whole = round(angle_deg)
    return f"{'+' if whole > 0 else '−'}{abs(whole)}" if whole else "0"


def duration(minutes: float) -> str:
    """A time in hours and minutes.

    >>> duration(24.4), duration(59.6), duration(135.0)
    ('0:24', '1:00', '2:15')
    """
    hours, rest = divmod(round(minutes), 60)
    return f"{hours}:{rest:02d}"


def time_left(minutes: float) -> str:
    """A time that is left: in hours and minutes, down.

    >>> time_left(127.5), time_left(59.99), time_left(60.0)
    ('2:07', '0:59', '1:00')
    """
    hours, rest = divmod(math.floor(minutes + _LAST_DIGITS), 60)
    return f"{hours}:{rest:02d}"


def zulu(instant: dt.datetime) -> str:
    """An instant as a time in UTC, to the minute.

    >>> zulu(dt.datetime(2026, 7, 4, 9, 7, 40, tzinfo=dt.timezone(dt.timedelta(hours=-5))))
    '14:08Z'
    """
    return f"{instant.astimezone(dt.UTC) + HALF_A_MINUTE:%H:%M}Z"


def days_between(before: dt.datetime, after: dt.datetime) -> int:
    """How many dates of UTC lie between two instants as :func:`zulu` prints them.

    >>> late = dt.datetime(2026, 7, 4, 23, 59, 40, tzinfo=dt.UTC)
    >>> days_between(late - dt.timedelta(minutes=9), late)
    1
    """
    dates = [(one.astimezone(dt.UTC) + HALF_A_MINUTE).date() for one in (before, after)]
    return (dates[1] - dates[0]).days


def zulu_since(before: dt.datetime, instant: dt.datetime) -> str:
    """As :func:`zulu`, with the days since another instant where the date has changed.

    >>> evening = dt.datetime(2026, 7, 4, 23, 30, tzinfo=dt.UTC)
    >>> zulu_since(evening, evening + dt.timedelta(hours=1))
    '00:30Z+1d'
    """
    days = days_between(before, instant)
    return f"{zulu(instant)}{f'+{days}d' if days else ''}"


def fuel_used(amount: float) -> str:
    """Fuel that is used: to one decimal, up.

    >>> fuel_used(6.01), fuel_used(6.0)
    ('6.1', '6.0')
    """
    return f"{math.ceil(amount * 10.0 - _LAST_DIGITS) / 10.0:.1f}"


def fuel_left(amount: float) -> str:
    """Fuel that is left: to one decimal, down.

    >>> fuel_left(30.39), fuel_left(30.4)
    ('30.3', '30.4')
    """
    return f"{math.floor(amount * 10.0 + _LAST_DIGITS) / 10.0:.1f}"


def distance(distance_nm: float) -> str:
    """A distance to one decimal.

    >>> distance(42.34)
    '42.3 NM'
    """
    return f"{distance_nm:.1f} NM"


def altitude(height_ft: float) -> str:
    """A height in whole feet with a thousands comma.

    >>> altitude(5500), altitude(-0.3)
    ('5,500 ft', '0 ft')
    """
    return f"{round(height_ft, 0) + 0.0:,.0f} ft"


NAMED: Mapping[str, Callable[[Any], str]] = {
    "variation": variation,
    "correction": correction,
    "signed": signed,
    "duration": duration,
    "time_left": time_left,
    "zulu": zulu,
    "fuel_used": fuel_used,
    "fuel_left": fuel_left,
    "distance": distance,
    "altitude": altitude,
}
"""Those that take one value, as a template names them."""
