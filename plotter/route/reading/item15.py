"""Speed and level groups as they stand in item 15 of an ICAO flight plan.

Source: ICAO Doc 4444 (PANS-ATM), appendix 2, item 15 (a), (b) and (c).
"""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

from plotter.earth.units import METRES_PER_NM

_SPEED = r"(?P<speed>N[0-9]{4}|K[0-9]{4}|M[0-9]{3})"
_LEVEL = r"(?P<level>F[0-9]{3}|A[0-9]{3}|S[0-9]{4}|M[0-9]{4}|VFR)"
_GROUP = re.compile(rf"{_SPEED}{_LEVEL}\Z")
RULES = ("VFR", "IFR")

LevelKind = Literal["altitude_ft", "flight_level", "altitude_m", "metric_level_m", "vfr", "ifr"]


class CruiseGroup(NamedTuple):
    """Speed and level planned from a point on.

    ``true_airspeed_kt`` [kt] or ``mach``; ``level`` in the unit that ``level_kind`` names, ``None``
    for VFR and IFR, which carry no figure.
    """

    text: str
    true_airspeed_kt: float | None
    mach: float | None
    level_kind: LevelKind
    level: float | None


class CruiseChange(NamedTuple):
    """A speed and level group and the index of the waypoint it holds from."""

    from_waypoint: int
    group: CruiseGroup


def read_cruise_group(text: str) -> CruiseGroup | None:
    """The speed and level group (or VFR, IFR) that ``text`` is, ``None`` if it is none.

    >>> read_cruise_group("N0105A055")
    CruiseGroup(text='N0105A055', true_airspeed_kt=105.0, mach=None, level_kind='altitude_ft', \
level=5500.0)
    >>> read_cruise_group("M082F330").mach
    0.82
    >>> read_cruise_group("KRST") is None
    True
    """
    upper = text.upper()
    if upper in RULES:
        return CruiseGroup(upper, None, None, "vfr" if upper == "VFR" else "ifr", None)
    found = _GROUP.match(upper)
    if not found:
        return None
    airspeed, mach = _speed(found["speed"])
    kind, level = _level(found["level"])
    return CruiseGroup(upper, airspeed, mach, kind, level)


def _speed(text: str) -> tuple[float | None, float | None]:
    figure = int(text[1:])
    if text[0] == "N":
        return float(figure), None
    if text[0] == "K":
        return figure * 1000.0 / METRES_PER_NM, None
    return None, figure / 100.0


def _level(text: str) -> tuple[LevelKind, float | None]:
    if text == "VFR":
        return "vfr", None
    figure = int(text[1:])
    if text[0] == "F":
        return "flight_level", float(figure)
    if text[0] == "A":
        return "altitude_ft", figure * 100.0
    return ("metric_level_m" if text[0] == "S" else "altitude_m"), figure * 10.0
