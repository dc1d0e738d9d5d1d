"""Which of several navaids of one ident a pilot means."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.places.model import Navaid

NEAR_NM = 150.0
"""A navaid within this distance [NM] may be meant, and any other must be farther. The largest
standard service volume of a VOR reaches 130 NM (FAA AIM 1-1-8; figure from memory), rounded up."""
TIMES_FARTHER = 3.0
"""How many times farther than the one that is meant the next must be at least."""


class Nearest(NamedTuple):
    """The one navaid that is near, its distance and that of the next of the same ident [NM]."""

    navaid: Navaid
    distance_nm: float
    next_nm: float


def the_near_one(navaids: Sequence[Navaid], near: Position) -> Nearest | None:
    """The navaid near a position, if it is the only one; ``None`` where that is not plain.

    >>> here = Position(40.0, -90.0)
    >>> def beacon(key, latitude):
    ...     where = Position(latitude, -90.0)
    ...     return Navaid(key, "ABC", "Demo", "NDB", where, None, 350.0, "ZZ", None)
    >>> the_near_one([beacon("A", 41.0), beacon("B", 50.0)], here).navaid.key
    'A'
    >>> the_near_one([beacon("A", 41.0), beacon("B", 42.0)], here) is None
    True
    """
    distances = {navaid.key: distance_nm(navaid.position, near) for navaid in navaids}
    ordered = sorted(navaids, key=lambda navaid: (distances[navaid.key], navaid.key))
    nearest_nm, next_nm = (distances[navaid.key] for navaid in ordered[:2])
    if nearest_nm > NEAR_NM or next_nm <= max(NEAR_NM, TIMES_FARTHER * nearest_nm):
        return None
    return Nearest(ordered[0], nearest_nm, next_nm)
