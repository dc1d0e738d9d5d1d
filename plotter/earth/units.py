"""Lengths and speeds from their exact definitions.

Sources: the international nautical mile is 1,852 m (ICAO Annex 5, BIPM SI brochure table 8);
the international foot is 0.3048 m, its inch 25.4 mm and the statute mile 5,280 ft (NIST SP 811,
appendix B).
"""

from __future__ import annotations

# The ellipsoid every figure here refers to: WGS 84.
#
# Source: NGA.STND.0036, "Department of Defense World Geodetic System 1984", defining parameters.

EQUATORIAL_RADIUS_M = 6378137.0
FLATTENING = 1.0 / 298.257223563
ECCENTRICITY_SQUARED = FLATTENING * (2.0 - FLATTENING)
SECOND_ECCENTRICITY_SQUARED = ECCENTRICITY_SQUARED / (1.0 - ECCENTRICITY_SQUARED)
THIRD_FLATTENING = FLATTENING / (2.0 - FLATTENING)
MEAN_RADIUS_M = EQUATORIAL_RADIUS_M * (1.0 - FLATTENING / 3.0)
"""(2a + b) / 3: good for a first guess, never for an answer."""

METRES_PER_NM = 1852.0
METRES_PER_SM = 1609.344
METRES_PER_FOOT = 0.3048
MM_PER_INCH = 25.4


def nm_from_metres(length_m: float) -> float:
    """Nautical miles [NM] in a length [m].

    >>> nm_from_metres(1852.0)
    1.0
    """
    return length_m / METRES_PER_NM


def metres_from_nm(distance_nm: float) -> float:
    """Metres [m] in a distance [NM].

    >>> metres_from_nm(2.0)
    3704.0
    """
    return distance_nm * METRES_PER_NM


def sm_from_nm(distance_nm: float) -> float:
    """Statute miles [SM] in a distance [NM]; a knot and a mile per hour stand in the same ratio.

    >>> round(sm_from_nm(40.0), 2)
    46.03
    """
    return distance_nm * METRES_PER_NM / METRES_PER_SM


def metres_from_feet(height_ft: float) -> float:
    """Metres [m] in a height [ft].

    >>> metres_from_feet(1000.0)
    304.8
    """
    return height_ft * METRES_PER_FOOT


def feet_from_metres(height_m: float) -> float:
    """Feet [ft] in a height [m].

    >>> feet_from_metres(304.8)
    1000.0
    """
    return height_m / METRES_PER_FOOT
