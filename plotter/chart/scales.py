"""The scales of aeronautical charts, and how long a mile is on paper.

Source: FAA Aeronautical Chart Users' Guide: sectional 1:500,000, terminal area 1:250,000. The world
aeronautical chart, 1:1,000,000, is no longer published in the United States; its scale lives on
along one edge of many plotters.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from plotter.earth.units import METRES_PER_NM
from plotter.errors import InputError

MM_PER_METRE = 1000.0


@dataclass(frozen=True, slots=True)
class ChartScale:
    """The scale of a chart: one length on paper for ``denominator`` lengths on the ground.

    >>> round(SECTIONAL.mm_per_nm, 3)
    3.704
    """

    name: str
    title: str
    denominator: int

    @property
    def mm_per_nm(self) -> float:
        """Length of a nautical mile on the paper [mm]."""
        return METRES_PER_NM * MM_PER_METRE / self.denominator


SECTIONAL = ChartScale("sectional", "Sectional chart", 500_000)
TERMINAL = ChartScale("terminal", "Terminal area chart", 250_000)
WORLD = ChartScale("world", "World aeronautical chart", 1_000_000)
SCALES: Mapping[str, ChartScale] = {scale.name: scale for scale in (SECTIONAL, TERMINAL, WORLD)}


def scale_named(name: str) -> ChartScale:
    """The scale of a chart by its name.

    Raises InputError, code ``chart``, with the names there are.

    >>> scale_named("terminal").denominator
    250000
    """
    found = SCALES.get(name.strip().lower())
    if found is None:
        raise InputError("chart", candidates=tuple(SCALES), name=name[:40], charts=tuple(SCALES))
    return found
