"""A field of spherical harmonics at many positions at once (numpy): its horizontal part.

Source: A. Chulliat et al., "The US/UK World Magnetic Model for 2025-2030: Technical Report",
NOAA NCEI (2024), section 1.2, for the sums; J. R. Wertz (ed.), "Spacecraft Attitude Determination
and Control" (1978), appendix H, for the recursion of the Gauss-normalised functions. For m > 0
the functions are carried divided by sin θ, so nothing is divided by it and the poles are
ordinary points.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from plotter.earth.ellipsoid import EQUATORIAL_RADIUS_M

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

REFERENCE_RADIUS_KM = 6371.2
"""The model's own sphere (technical report, section 1.2)."""
POLAR_RADIUS_KM = 6356.7523142
"""WGS 84 to 0.1 mm, where the model's own software rounds it: beside a magnetic pole the rest
shows in the seventh digit."""
_FLATNESS = 1.0 - (POLAR_RADIUS_KM * 1000.0 / EQUATORIAL_RADIUS_M) ** 2
_CHUNK = 4096
"""Positions taken at once, so that the arrays in between stay in the processor's cache."""


class Term(NamedTuple):
    """One degree n and order m with its coefficients [nT], Gauss-normalised, at one time."""

    n: int
    m: int
    g: float
    h: float


def terms(
    rows: Iterable[tuple[int, int, float, float, float, float]], years: float
) -> tuple[Term, ...]:
    """Terms ordered by m, then n, from published rows n, m, g, h and their change [nT a year]."""
    at_time = (
        Term(n, m, scale * (g + years * g_rate), scale * (h + years * h_rate))
        for n, m, g, h, g_rate, h_rate in rows
        for scale in (_schmidt(n, m),)
    )
    return tuple(sorted(at_time, key=lambda term: (term.m, term.n)))


class Horizontal(NamedTuple):
    """Declination [°, east positive] and strength of the horizontal field [nT], as arrays."""

    degrees_east: Floats
    horizontal_nt: Floats


def horizontal_field(
    model: tuple[Term, ...], latitudes_deg: Floats, longitudes_deg: Floats, height_km: float
) -> Horizontal:
    """The horizontal field at geodetic positions [°] and one height [km, ellipsoid]."""
    import numpy as np

    answer = Horizontal(np.empty(latitudes_deg.size), np.empty(latitudes_deg.size))
    for begin in range(0, latitudes_deg.size, _CHUNK):
        part = slice(begin, begin + _CHUNK)
        north, east = _chunk(model, latitudes_deg[part], longitudes_deg[part], height_km)
        answer.degrees_east[part] = np.degrees(np.arctan2(east, north))
        answer.horizontal_nt[part] = np.hypot(east, north)
    return answer


def _schmidt(n: int, m: int) -> float:
    """Factor from Schmidt's half-normalised to Gauss-normalised coefficients."""
    factor = math.prod((2 * k - 1) / k for k in range(1, n + 1))
    for k in range(1, m + 1):
        factor *= math.sqrt((n - k + 1) * (2 if k == 1 else 1) / (n + k))
    return factor


def _chunk(
    model: tuple[Term, ...], lat_deg: Floats, lon_deg: Floats, height_km: float
) -> tuple[Floats, Floats]:
    """The field northward and eastward along the horizon [nT]."""
    import numpy as np

    lat, lon = np.radians(lat_deg), np.radians(lon_deg)
    sine, cosine, radius_km = _geocentric(lat, height_km)
    ratio = REFERENCE_RADIUS_KM / radius_km
    north, east, down = np.zeros(lat.size), np.zeros(lat.size), np.zeros(lat.size)
    waves = [(np.cos(m * lon), np.sin(m * lon)) for m in range(1 + max(t.m for t in model))]
    for term, value, slope in _functions(model, sine, cosine):
        power = ratio ** (term.n + 2)
        wave_cos, wave_sin = waves[term.m]
        along = power * (term.g * wave_cos + term.h * wave_sin)
        north += along * slope
        down -= (term.n + 1) * along * (cosine * value if term.m else value)
        if term.m:
            east += term.m * power * (term.g * wave_sin - term.h * wave_cos) * value
    tilt = np.arctan2(sine, cosine) - lat
    return north * np.cos(tilt) - down * np.sin(tilt), east


def _geocentric(lat: Floats, height_km: float) -> tuple[Floats, Floats, Floats]:
    """Sine and cosine of the geocentric latitude, and the radius [km]."""
    import numpy as np

    up, flat = np.sin(lat), np.cos(lat)
    normal_km = EQUATORIAL_RADIUS_M / 1000.0 / np.sqrt(1.0 - _FLATNESS * up * up)
    across = (normal_km + height_km) * flat
    axial = (normal_km * (1.0 - _FLATNESS) + height_km) * up
    radius_km = np.hypot(across, axial)
    return axial / radius_km, across / radius_km, radius_km


def _functions(
    model: tuple[Term, ...], x: Floats, s: Floats
) -> Iterator[tuple[Term, Floats, Floats]]:
    """Each term with P (for m > 0: P / sin θ) and dP/dθ, where x is cos θ and s is sin θ."""
    import numpy as np

    none, one = np.zeros(x.size), np.ones(x.size)
    for m, of_order in groupby(model, key=lambda term: term.m):
        value = s ** (m - 1) if m else one
        slope, value_before, slope_before = m * x * value, none, none
        for term in of_order:
            if term.n > m:
                k = _gauss(term.n, m)
                undivided = s * value if m else value
                slope, slope_before = x * slope - s * undivided - k * slope_before, slope
                value, value_before = x * value - k * value_before, value
            yield term, value, slope


def _gauss(n: int, m: int) -> float:
    return ((n - 1) ** 2 - m * m) / ((2 * n - 1) * (2 * n - 3)) if n > 1 else 0.0
