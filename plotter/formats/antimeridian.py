"""Lines cut where they cross 180°, for formats whose longitudes may not run past it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import floor

LatLon = tuple[float, float]


def split_at_180(unrolled: Sequence[LatLon]) -> list[list[LatLon]]:
    """A line of (latitude, unrolled longitude) [°] as pieces within −180…180.

    The crossing is put on 180° on one side and on −180° on the other, at the latitude where the
    straight stretch between the two neighbours meets it (RFC 7946, section 3.1.9, does the same);
    a line that only touches 180° is not cut.

    >>> split_at_180([(10.0, 179.0), (12.0, 181.0)])
    [[(10.0, 179.0), (11.0, 180.0)], [(11.0, -180.0), (12.0, -179.0)]]
    >>> split_at_180([(10.0, 179.0), (12.0, 180.0)])
    [[(10.0, 179.0), (12.0, 180.0)]]
    """
    pieces: list[list[LatLon]] = []
    world: int | None = None
    for a, b in pairwise(unrolled):
        for start, end in _within_worlds(a, b):
            home = _world(min(start[1], end[1]))
            if home != world:
                pieces.append([_rolled(start, home)])
                world = home
            pieces[-1].append(_rolled(end, home))
    return pieces


def _within_worlds(a: LatLon, b: LatLon) -> Iterator[tuple[LatLon, LatLon]]:
    """The stretch from ``a`` to ``b``, cut at every odd multiple of 180° strictly between."""
    low, high = sorted((a[1], b[1]))
    seams = [360.0 * turn - 180.0 for turn in range(_world(low) + 1, _world(high) + 1)]
    if seams and seams[-1] == high:
        seams.pop()
    cuts = [_at(a, b, seam) for seam in (seams if a[1] <= b[1] else reversed(seams))]
    yield from pairwise([a, *cuts, b])


def _at(a: LatLon, b: LatLon, longitude: float) -> LatLon:
    share = (longitude - a[1]) / (b[1] - a[1])
    return (a[0] + share * (b[0] - a[0]), longitude)


def _world(longitude: float) -> int:
    """Which turn of the earth a longitude lies in, −180 itself and 180 not.

    Half a turn is added for a guess only: at 179.99999999999997° the sum rounds to a whole turn.
    """
    world = floor((longitude + 180) / 360)
    return world - (longitude - 360 * world < -180) + (longitude - 360 * world >= 180)


def _rolled(point: LatLon, world: int) -> LatLon:
    return (point[0], point[1] - 360.0 * world)
