"""A position on the earth (WGS 84), checked when it is made."""

from __future__ import annotations

import math
from dataclasses import dataclass

from plotter.errors import PositionError


@dataclass(frozen=True, slots=True)
class Position:
    """Latitude then longitude [°, WGS 84], north and east positive.

    Raises :class:`~plotter.errors.PositionError` outside −90…90 or −180…180, or not finite.
    The trap: libraries of mapping often want longitude first; this one never does.

    >>> Position(41.5, -95.25)
    Position(latitude_deg=41.5, longitude_deg=-95.25)
    >>> Position(95.0, 0.0)
    Traceback (most recent call last):
    plotter.errors.PositionError: latitude 95 is out of range; enter -90 to 90
    """

    latitude_deg: float
    longitude_deg: float

    def __post_init__(self) -> None:
        for word, value, limit in (
            ("latitude", self.latitude_deg, 90),
            ("longitude", self.longitude_deg, 180),
        ):
            if not math.isfinite(value):
                raise PositionError("position.not-a-number", word=word, value=value)
            if abs(value) > limit:
                raise PositionError("position.range", word=word, value=value, limit=limit)

    @property
    def is_pole(self) -> bool:
        """Whether this is a pole, where longitude and course lose their meaning."""
        return abs(self.latitude_deg) == 90.0
