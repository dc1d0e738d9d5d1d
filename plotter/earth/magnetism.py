"""Magnetic variation from the World Magnetic Model 2025: the one home of pygeomag.

Sources: A. Chulliat et al., "The US/UK World Magnetic Model for 2025-2030: Technical Report",
NOAA NCEI (2024), doi:10.25923/xnh4-hk17: validity and zones in section 1 and table 1, the
uncertainty of declination in eq. 43. pygeomag carries the coefficients and evaluates them.

The trap: a pygeomag model keeps a scratch table between calls, so one shared by threads gives
wrong answers; here each thread has its own.
"""

from __future__ import annotations

import datetime as dt
import math
import threading
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING, Literal, NamedTuple

from plotter.earth.position import Position
from plotter.earth.units import EQUATORIAL_RADIUS_M, metres_from_feet
from plotter.errors import InputError, ModelDateError, PositionError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    from numpy.typing import ArrayLike
    from pygeomag import GeoMag

# A field of spherical harmonics at many positions at once (numpy): its horizontal part.
#
# Source: A. Chulliat et al., "The US/UK World Magnetic Model for 2025-2030: Technical Report",
# NOAA NCEI (2024), section 1.2, for the sums; J. R. Wertz (ed.), "Spacecraft Attitude Determination
# and Control" (1978), appendix H, for the recursion of the Gauss-normalised functions. For m > 0
# the functions are carried divided by sin θ, so nothing is divided by it and the poles are
# ordinary points.

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


def field_terms(
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


MODEL_NAME = "WMM2025"
VALID_FROM = dt.date(2025, 1, 1)
VALID_TO = dt.date(2029, 12, 31)
LOWEST_KM, HIGHEST_KM = -1.0, 850.0
"""Heights the model is made for; above the ellipsoid, but see :func:`variation`."""
BLACKOUT_BELOW_NT = 2000.0
CAUTION_BELOW_NT = 6000.0

Zone = Literal["", "caution", "blackout"]

_REMEMBERED = 10_000
"""Answers kept at hand: while a route is drawn most of its points stay where they are."""
_own = threading.local()


@dataclass(frozen=True, slots=True)
class Variation:
    """Variation [°, east positive] on a date, the model it is from, and how far to trust it.

    ``zone`` is ``caution`` where the horizontal field is under 6,000 nT and a compass is
    sluggish, ``blackout`` under 2,000 nT where it is useless. ``uncertainty_deg`` is one
    standard deviation of what a good compass shows against the model [°].
    """

    degrees_east: float
    model: str
    date: dt.date
    zone: Zone
    uncertainty_deg: float

    def __post_init__(self) -> None:
        if not abs(self.degrees_east) <= 180.0:
            raise PositionError("position.variation", degrees_east=self.degrees_east)

    @property
    def out_of_date(self) -> bool:
        """Whether the date is outside the years the model is valid for."""
        return not VALID_FROM <= self.date <= VALID_TO


class Field(NamedTuple):
    """Declination [°, east positive] and strength of the horizontal field [nT]."""

    degrees_east: float
    horizontal_nt: float


def variation(
    position: Position, date: dt.date, altitude_ft: float = 0.0, allow_old_model: bool = False
) -> Variation:
    """Variation at a position on a date at an altitude above mean sea level [ft].

    The model counts heights from the ellipsoid; mean sea level is within 107 m of it (EGM2008),
    which outside the caution zones moves the variation by 0.003° at the most. At a pole it is
    reckoned from the meridian that the pole's own longitude names, like a course.

    Raises ModelDateError outside 2025 to 2029 unless ``allow_old_model``, and then ``model``
    says so; InputError, code ``altitude``, outside −1 to 850 km.

    >>> round(variation(Position(41.3, -95.9), dt.date(2026, 7, 1), 5500.0).degrees_east, 1)
    2.0
    >>> variation(Position(41.3, -95.9), dt.date(2019, 7, 1))
    Traceback (most recent call last):
    plotter.errors.ModelDateError: 2019-07-01 is outside the years of WMM2025; choose a date from \
2025-01-01 to 2029-12-31
    """
    date, height_km = _checked(date, altitude_ft, allow_old_model)
    field = field_at(position, height_km, decimal_year(date))
    return Variation(
        degrees_east=field.degrees_east,
        model=_model_text(date),
        date=date,
        zone=zone(field.horizontal_nt),
        uncertainty_deg=uncertainty_deg(field.horizontal_nt),
    )


def field_array(
    latitudes_deg: ArrayLike,
    longitudes_deg: ArrayLike,
    date: dt.date,
    altitude_ft: float = 0.0,
    allow_old_model: bool = False,
) -> Horizontal:
    """Variation [°, east positive] and horizontal field [nT] at many positions at once.

    Raises as :func:`variation`, and PositionError where a latitude or longitude cannot be.

    >>> field_array([41.3], [-95.9], dt.date(2026, 7, 1)).horizontal_nt.round().tolist()
    [19680.0]
    """
    import numpy as np

    date, height_km = _checked(date, altitude_ft, allow_old_model)
    latitudes = np.ravel(np.asarray(latitudes_deg, dtype=np.float64))
    longitudes = np.ravel(np.asarray(longitudes_deg, dtype=np.float64))
    if not ((abs(latitudes) <= 90.0).all() and (abs(longitudes) <= 180.0).all()):
        raise PositionError("position.array-range")
    epoch, rows = _coefficients()
    terms = field_terms(rows, decimal_year(date) - epoch)
    return horizontal_field(terms, latitudes, longitudes, height_km)


def variations(
    positions: Sequence[Position],
    date: dt.date,
    altitude_ft: float = 0.0,
    allow_old_model: bool = False,
) -> list[Variation]:
    """Variation at many positions in one call, each as :func:`variation` gives it.

    Raises as :func:`variation`.

    >>> (found,) = variations([Position(41.3, -95.9)], dt.date(2026, 7, 1), 5500.0)
    >>> round(found.degrees_east, 1), found.zone
    (2.0, '')
    """
    field = field_array(
        [place.latitude_deg for place in positions],
        [place.longitude_deg for place in positions],
        date,
        altitude_ft,
        allow_old_model,
    )
    day, _ = _checked(date, altitude_ft, allow_old_model)
    return [
        Variation(east, _model_text(day), day, zone(strength), uncertainty_deg(strength))
        for east, strength in zip(
            field.degrees_east.tolist(), field.horizontal_nt.tolist(), strict=True
        )
    ]


@lru_cache(_REMEMBERED)
def field_at(position: Position, height_km: float, year: float) -> Field:
    """The model's field at a height above the ellipsoid [km] at a decimal year, in any year."""
    answer = _thread_model().calculate(
        position.latitude_deg,
        position.longitude_deg,
        height_km,
        year,
        allow_date_outside_lifespan=True,
    )
    return Field(answer.d, answer.h)


def decimal_year(date: dt.date) -> float:
    """A date as the model counts time: the year and the part of it gone by at 0 h.

    >>> decimal_year(dt.date(2028, 2, 29))
    2028.1612021857923
    """
    new_year = dt.date(date.year, 1, 1)
    days = (dt.date(date.year, 12, 31) - new_year).days + 1
    return date.year + (date - new_year).days / days


def zone(horizontal_nt: float) -> Zone:
    """The zone of a horizontal field [nT]: blackout below 2,000, caution below 6,000.

    >>> zone(1999.9), zone(2000.0), zone(6000.0)
    ('blackout', 'caution', '')
    """
    if horizontal_nt < BLACKOUT_BELOW_NT:
        return "blackout"
    return "caution" if horizontal_nt < CAUTION_BELOW_NT else ""


def uncertainty_deg(horizontal_nt: float) -> float:
    """One standard deviation of the variation [°] in a horizontal field [nT]; 180 at the most.

    >>> round(uncertainty_deg(41875.0), 2)
    0.29
    """
    return min(180.0, math.hypot(0.26, 5417.0 / max(horizontal_nt, 1.0)))


def _checked(date: dt.date, altitude_ft: float, allow_old_model: bool) -> tuple[dt.date, float]:
    """The day and the height [km], both such that the model may be asked."""
    date = dt.date(date.year, date.month, date.day)
    if not (allow_old_model or VALID_FROM <= date <= VALID_TO):
        raise ModelDateError(
            "model-date", date=date, first=VALID_FROM, last=VALID_TO, model=MODEL_NAME
        )
    height_km = metres_from_feet(altitude_ft) / 1000.0
    if not LOWEST_KM <= height_km <= HIGHEST_KM:
        raise InputError("altitude.model", altitude_ft=altitude_ft, model=MODEL_NAME)
    return date, height_km


def _model_text(date: dt.date) -> str:
    inside = VALID_FROM <= date <= VALID_TO
    return MODEL_NAME if inside else f"{MODEL_NAME} (outside 2025–2030)"


def _thread_model() -> GeoMag:
    model: GeoMag | None = getattr(_own, "model", None)
    if model is None:
        from pygeomag import GeoMag
        from pygeomag.wmm.wmm_2025 import WMM_2025

        model = _own.model = GeoMag(coefficients_data=WMM_2025)
    return model


def _coefficients() -> tuple[float, list[tuple[int, int, float, float, float, float]]]:
    """Epoch [year] and rows n, m, g, h, their yearly changes [nT], as published."""
    from pygeomag.wmm.wmm_2025 import WMM_2025

    (epoch, _, _), rows = WMM_2025
    return float(epoch), list(rows)
