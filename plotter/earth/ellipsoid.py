"""The ellipsoid every figure here refers to: WGS 84.

Source: NGA.STND.0036, "Department of Defense World Geodetic System 1984", defining parameters.
"""

from __future__ import annotations

EQUATORIAL_RADIUS_M = 6378137.0
FLATTENING = 1.0 / 298.257223563
ECCENTRICITY_SQUARED = FLATTENING * (2.0 - FLATTENING)
SECOND_ECCENTRICITY_SQUARED = ECCENTRICITY_SQUARED / (1.0 - ECCENTRICITY_SQUARED)
THIRD_FLATTENING = FLATTENING / (2.0 - FLATTENING)
MEAN_RADIUS_M = EQUATORIAL_RADIUS_M * (1.0 - FLATTENING / 3.0)
"""(2a + b) / 3: good for a first guess, never for an answer."""
