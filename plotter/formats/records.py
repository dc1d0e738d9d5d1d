"""Legs, turning points and checkpoints as plain records, the same keys in every table of them."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator
from itertools import accumulate
from typing import Any

from plotter.earth.angles import course_360
from plotter.formats.names import clean_name, clean_text, shown_name
from plotter.route.plotting import Plot

# Numbers as interchange files hold them: written with fixed decimals, no exponent, no minus
# nought; read strictly.

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


Record = dict[str, Any]
TIME, ALTITUDE = "time", "planned_altitude_ft"


def leg_records(plot: Plot) -> Iterator[Record]:
    """One record a leg: ends, distance [NM], courses [°T, °M], variation [°, east positive]."""
    for leg in plot.route.legs:
        yield {
            "number": leg.number,
            "start": shown_name(leg.start.name),
            "end": shown_name(leg.end.name),
            "distance_nm": leg.distance_nm,
            "true_course_deg": course_360(leg.true_course_deg),
            "variation_deg_east": leg.variation.degrees_east,
            "magnetic_course_deg": course_360(leg.magnetic_course_deg),
        }


def point_records(plot: Plot) -> Iterator[Record]:
    """One record a turning point: what it is, elevation [ft] or ``None``, how far along [NM]."""
    whole, timed, planned = plot.route.distance_nm, has_times(plot), has_altitudes(plot)
    gone = accumulate((leg.distance_nm for leg in plot.route.legs), initial=0.0)
    for number, (point, gone_nm) in enumerate(zip(plot.route.waypoints, gone, strict=True), 1):
        yield {
            "number": number,
            "name": shown_name(point.name),
            "kind": point.kind,
            "ident": clean_name(point.ident or ""),
            "place": clean_name(point.place.name) if point.place else "",
            "elevation_ft": point.elevation_ft,
            "distance_from_start_nm": gone_nm,
            "distance_to_go_nm": max(0.0, whole - gone_nm),
            "note": clean_text(point.note),
            **({TIME: utc(point.time) if point.time else None} if timed else {}),
            **({ALTITUDE: point.altitude_ft} if planned else {}),
        }


def has_times(plot: Plot) -> bool:
    """Whether a turning point has a time [UTC]; only then is there a ``time`` in its records."""
    return any(point.time for point in plot.route.waypoints)


def has_altitudes(plot: Plot) -> bool:
    """Whether a log planned at what altitude [ft MSL] and when [UTC] each point is passed."""
    return any(point.altitude_ft is not None for point in plot.route.waypoints)


def checkpoint_records(plot: Plot) -> Iterator[Record]:
    """One record a checkpoint: its leg, how far gone and to go [NM], what a log plans for it."""
    planned = has_altitudes(plot)
    for mark in plot.checkpoints:
        yield {
            "number": mark.number,
            "name": shown_name(mark.name),
            "leg": mark.leg_number,
            "distance_from_start_nm": mark.distance_from_start_nm,
            "distance_to_go_nm": mark.distance_to_go_nm,
            **({TIME: utc(mark.time) if mark.time else None} if planned else {}),
            **({ALTITUDE: mark.altitude_ft} if planned else {}),
        }
