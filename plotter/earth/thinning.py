"""A track of many points made into a few, none of them further off than a tolerance.

The rule: keep the point furthest from the line between two kept ones until none is further off
than the tolerance (D. Douglas and T. Peucker, "Algorithms for the reduction of the number of
points required to represent a digitized line", Cartographica 10, 1973). Distances are to the arc
between the two points, its ends included, so that a track that comes back is not cut short.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from plotter.earth.ellipsoid import EQUATORIAL_RADIUS_M, FLATTENING
from plotter.earth.units import nm_from_metres
from plotter.errors import InputError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Vectors = NDArray[np.float64]

MOST_KEPT = 500
"""A flight turns less often; more means that the tolerance is smaller than the track's own noise,
and every point kept costs one pass through the rest."""

# Arcs are reckoned on the sphere whose normals are the ellipsoid's. Its radius is the largest
# radius of curvature there is, the one at the poles (a²/b), so that no distance comes out short.
_RADIUS_NM = nm_from_metres(EQUATORIAL_RADIUS_M / (1.0 - FLATTENING))
_STRAY_PER_NM2 = 1.6e-7
"""A geodesic strays from the arc by less than this times the square of its length [NM], as
measured on 20,000 legs of up to 5,000 NM (at most 1.49e-7; 0.01 NM in 300 NM)."""
_BLOCK = 1 << 16


class Thinned(NamedTuple):
    """The indices kept, the first and the last among them, and the most any other is off [NM]."""

    kept: list[int]
    off_nm: float


def thinned(
    latitudes: Sequence[float], longitudes: Sequence[float], tolerance_nm: float
) -> Thinned:
    """The points that stand for a track, within a tolerance [NM] of the geodesics between them.

    Raises InputError for a tolerance that is none, and where more than 500 points would be kept.

    >>> few = thinned([0.0, 0.001, 0.0, 1.0], [0.0, 0.5, 1.0, 1.0], 0.5)
    >>> few.kept, round(few.off_nm, 2)
    ([0, 2, 3], 0.06)
    """
    if not 0.0 <= tolerance_nm < float("inf"):
        raise InputError(f"a tolerance of {tolerance_nm:g} NM cannot be kept", code="tolerance")
    vectors = _vectors(latitudes, longitudes)
    kept, off_nm = {0, len(vectors) - 1}, 0.0
    waiting = [(0, len(vectors) - 1)]
    while waiting:
        first, last = waiting.pop()
        if last - first < 2:
            continue
        worst, most_nm = _furthest(vectors, first, last)
        if most_nm <= tolerance_nm:
            off_nm = max(off_nm, most_nm)
            continue
        kept.add(worst)
        waiting += [(first, worst), (worst, last)]
        if len(kept) > MOST_KEPT:
            raise InputError(
                f"the track turns more than {MOST_KEPT} times at a tolerance of {tolerance_nm:g} "
                f"NM; use a larger one, as in --track-tolerance {max(1.0, 2 * tolerance_nm):g}",
                code="tolerance",
            )
    return Thinned(sorted(kept), off_nm)


def _vectors(latitudes: Sequence[float], longitudes: Sequence[float]) -> Vectors:
    """The normals of the ellipsoid at the points, made in blocks to spare memory."""
    import numpy as np

    made = np.empty((len(latitudes), 3))
    for begin in range(0, len(latitudes), _BLOCK):
        part = slice(begin, begin + _BLOCK)
        lat, lon = np.radians(latitudes[part]), np.radians(longitudes[part])
        cosine = np.cos(lat)
        made[part] = np.column_stack((cosine * np.cos(lon), cosine * np.sin(lon), np.sin(lat)))
    return made


def _furthest(vectors: Vectors, first: int, last: int) -> tuple[int, float]:
    """The point between two that is furthest from the arc between them, and how far [NM]."""
    import numpy as np

    start, end = vectors[first], vectors[last]
    worst, most = first + 1, -1.0
    for begin in range(first + 1, last, _BLOCK):
        angles = _off(vectors[begin : min(begin + _BLOCK, last)], start, end)
        here = int(np.argmax(angles))
        if angles[here] > most:
            worst, most = begin + here, float(angles[here])
    length_nm = float(_apart(end, start)) * _RADIUS_NM
    return worst, most * _RADIUS_NM + _STRAY_PER_NM2 * length_nm**2


def _off(points: Vectors, start: Vectors, end: Vectors) -> Vectors:
    """The angle between each point and the arc from start to end."""
    import numpy as np

    to_an_end = np.minimum(_apart(points, start), _apart(points, end))
    normal = np.cross(start, end)
    size = float(np.linalg.norm(normal))
    if size < 1e-15:
        return to_an_end
    normal /= size
    abeam = (points @ np.cross(normal, start) >= 0.0) & (points @ np.cross(end, normal) >= 0.0)
    across = np.arcsin(np.minimum(1.0, np.abs(points @ normal)))
    return np.where(abeam, across, to_an_end)


def _apart(points: Vectors, other: Vectors) -> Vectors:
    import numpy as np

    angles: Vectors = 2.0 * np.arcsin(
        np.minimum(1.0, np.linalg.norm(points - other, axis=-1) / 2.0)
    )
    return angles
