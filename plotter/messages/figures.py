"""How single figures are printed for people: rounding happens here and nowhere else.

What is printed is no finer than it is known.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import groupby
from typing import Any

HALF_A_MINUTE = dt.timedelta(seconds=30.5)
"""Added before seconds are cut off; half a second more, because files hold whole seconds and the
minute printed here must be that of the second written there."""
DAYS_OF_A_YEAR = 365
_LAST_DIGITS = 1e-6
"""What the last digits of a sum may leave beyond a tenth, in tenths, or beyond a minute."""


def course(angle_deg: float, reference: str) -> str:
    """A course in three digits with its reference; north is 360.

    >>> course(64.2, "T"), course(359.7, "M"), course(0.2, "T")
    ('064°T', '360°M', '360°T')
    """
    return f"{whole(angle_deg) % 360 or 360:03d}°{reference}"


def magnetic_course(true_course_deg: float, variation_deg_east: float) -> str:
    """A magnetic course as the sum of the true course and the variation as printed.

    >>> magnetic_course(64.4, 3.6), magnetic_course(0.4, 0.5)
    ('060°M', '359°M')
    """
    return f"{magnetic_whole(whole(true_course_deg), whole(variation_deg_east)):03d}°M"


def magnetic_whole(true_deg: int, variation_deg_east: int) -> int:
    """Whole degrees true less east variation, 1 to 360 [°M].

    >>> magnetic_whole(2, 4)
    358
    """
    return (true_deg - variation_deg_east) % 360 or 360


def whole(value: float) -> int:
    """The nearest whole number, halves away from zero, as a person rounds.

    >>> whole(2.5), whole(-2.5), whole(0.4)
    (3, -3, 0)
    """
    nearest = math.floor(abs(value) + 0.5)
    return nearest if value >= 0.0 else -nearest


def tenths(amount: float) -> int:
    """An amount in whole tenths, halves away from zero.

    >>> tenths(12.25), tenths(0.04)
    (123, 0)
    """
    return whole(amount * 10.0)


def tenths_left(amount: float) -> int:
    """What is left in whole tenths, down.

    >>> tenths_left(30.39), tenths_left(30.4), tenths_left(-0.01)
    (303, 304, -1)
    """
    return math.floor(amount * 10.0 + _LAST_DIGITS)


def minute(instant: dt.datetime) -> dt.datetime:
    """An instant in UTC to the minute it is printed with.

    >>> minute(dt.datetime(2026, 7, 4, 14, 7, 40, tzinfo=dt.UTC)).isoformat()
    '2026-07-04T14:08:00+00:00'
    """
    return (instant.astimezone(dt.UTC) + HALF_A_MINUTE).replace(second=0, microsecond=0)


def variation(degrees_east: float) -> str:
    """Variation in whole degrees with its letter.

    >>> variation(3.7), variation(-8.2), variation(0.2)
    ('4°E', '8°W', '0°')
    """
    degrees = abs(whole(degrees_east))
    return f"{degrees}°{'E' if degrees_east > 0 else 'W'}" if degrees else "0°"


def correction(angle_deg: float) -> str:
    """A wind correction angle in whole degrees, left or right.

    >>> correction(-4.4), correction(3.6), correction(0.3)
    ('4L', '4R', '0')
    """
    degrees = abs(whole(angle_deg))
    return f"{degrees}{'R' if angle_deg > 0 else 'L'}" if degrees else "0"


def signed(angle_deg: float) -> str:
    """An angle to be added, in whole degrees with its sign.

    >>> signed(2.4), signed(-1.6), signed(0.2)
    ('+2', '−2', '0')
    """
    degrees = whole(angle_deg)
    return f"{'+' if degrees > 0 else '−'}{abs(degrees)}" if degrees else "0"


def duration(minutes: float) -> str:
    """A time in hours and minutes.

    >>> duration(24.4), duration(59.6), duration(135.0)
    ('0:24', '1:00', '2:15')
    """
    hours, rest = divmod(whole(minutes), 60)
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
    return f"{minute(instant):%H:%M}Z"


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
    return f"{tenths_left(amount) / 10.0:.1f}"


def distance(distance_nm: float) -> str:
    """A distance to one decimal.

    >>> distance(42.34)
    '42.3 NM'
    """
    return f"{tenths(distance_nm) / 10.0:.1f} NM"


def altitude(height_ft: float) -> str:
    """A height in whole feet with a thousands comma.

    >>> altitude(5500), altitude(-0.3)
    ('5,500 ft', '0 ft')
    """
    return f"{round(height_ft, 0) + 0.0:,.0f} ft"


def variation_in_tenths(degrees_east: float) -> str:
    """Return a declination or variation to a tenth of a degree with its letter.

    >>> variation_in_tenths(3.74), variation_in_tenths(-8.2)
    ('3.7°E', '8.2°W')
    """
    east = round(degrees_east, 1)
    return f"{abs(east):.1f}°{'E' if east >= 0.0 else 'W'}"


def age(days: int) -> str:
    """Return an age in days, beyond a year in years.

    >>> age(1362), age(30), age(1), age(-2)
    ('3.7 years', '30 days', '1 day', '0 days')
    """
    if days > DAYS_OF_A_YEAR:
        return f"{days / 365.25:.1f} years"
    return f"{max(0, days)} day{'' if days == 1 else 's'}"


def either(words: Sequence[str]) -> str:
    """Return words as alternatives.

    >>> either(["KAAA", "KBBB", "KCCC"]), either(["KAAA"])
    ('KAAA, KBBB or KCCC', 'KAAA')
    """
    *first, last = words
    return f"{', '.join(first)} or {last}" if first else last


def choices(pairs: Sequence[tuple[str, str]]) -> str:
    """Return lines of what to type and what it means, set in two columns.

    >>> print(choices([("navaid:ABC", "VOR Demo"), ("key:1", "NDB Demo")]))
      navaid:ABC  VOR Demo
      key:1       NDB Demo
    """
    width = max(len(typed) for typed, _ in pairs)
    return "\n".join(f"  {typed:<{width}}  {words}".rstrip() for typed, words in pairs)


def legs(numbers: Iterable[int | str]) -> str:
    """Return the numbers of legs, neighbours joined to a range.

    >>> legs([1, 2, 3]), legs([4]), legs([5, 1, 2, 7])
    ('legs 1–3', 'leg 4', 'legs 1–2, 5, 7')
    """
    ordered = sorted({int(number) for number in numbers})
    ranges = [
        [number for _, number in run]
        for _, run in groupby(enumerate(ordered), lambda pair: pair[1] - pair[0])
    ]
    shown = (f"{run[0]}–{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in ranges)
    return f"leg{'s' if len(ordered) > 1 else ''} {', '.join(shown)}"


def listed(names: Sequence[str]) -> str:
    """Return names as a list in a sentence.

    >>> listed(["A"]), listed(("A", "B", "C"))
    ('A', 'A, B and C')
    """
    return " and ".join([", ".join(names[:-1]), names[-1]]) if names[1:] else names[0]


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
    "listed": listed,
    "variation_in_tenths": variation_in_tenths,
    "age": age,
    "either": either,
    "choices": choices,
    "legs": legs,
    "Legs": lambda numbers: legs(numbers).capitalize(),
}
"""Those that take one value, as a template names them."""
