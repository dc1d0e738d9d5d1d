"""The altitude a visual flight cruises at, by its magnetic course.

Sources: 14 CFR 91.159; ICAO Annex 2, chapter 4 and Appendix 3, table a). Both say odd thousands
plus 500 ft on 000° to 179° and even thousands plus 500 ft on 180° to 359°, level, and more than
3,000 ft above the surface (in Annex 2: or above a datum the State sets higher). Some States divide
the circle otherwise; that table is not here.

Both count in whole degrees and leave 179° to 180° and 359° to 360° open. The log asks for the
magnetic course as it is printed, in whole degrees, and says where the unrounded one lies in the
other half of the circle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from plotter.earth.angles import course_360
from plotter.wording import whole

VisualRules = Literal["US", "ICAO"]

APPLIES_ABOVE_SURFACE_FT = 3000.0
CEILINGS_FT: dict[VisualRules, float] = {"US": 18_000.0, "ICAO": 20_000.0}
"""Where visual cruising altitudes end: 14 CFR 91.159(b); ICAO Annex 2, chapter 4 (from memory)."""
SOURCES: dict[VisualRules, str] = {"US": "14 CFR 91.159", "ICAO": "ICAO Annex 2, Appendix 3"}
LOWEST_ODD_FT, LOWEST_EVEN_FT = 3500.0, 4500.0
BETWEEN_LEVELS_FT = 2000.0
SAME_ALTITUDE_FT = 1.0
"""Altitudes are typed in whole feet."""


@dataclass(frozen=True, slots=True)
class CruisingRule:
    """What a rule asks on one magnetic course [°M].

    ``whole_course_deg`` is the course it was read for, 1…360; ``odd`` asks for odd thousands,
    else even.
    """

    rules: VisualRules
    magnetic_course_deg: float
    whole_course_deg: int
    odd: bool

    @property
    def source(self) -> str:
        """Where the rule is written."""
        return SOURCES[self.rules]

    @property
    def words(self) -> str:
        """What it asks, with the condition that this program cannot check."""
        which = "odd" if self.odd else "even"
        return f"{which} thousands plus 500 ft, if more than 3,000 ft above the surface"

    def fits(self, altitude_ft: float) -> bool:
        """Whether an altitude [ft MSL] is one of those asked for."""
        lowest = LOWEST_ODD_FT if self.odd else LOWEST_EVEN_FT
        off = math.remainder(altitude_ft - lowest, BETWEEN_LEVELS_FT)
        return abs(off) < SAME_ALTITUDE_FT

    def nearest_ft(self, altitude_ft: float) -> tuple[float, ...]:
        """The altitudes asked for next below and next above [ft MSL]; itself if it fits.

        Only those from 3,500 (or 4,500) ft up to where visual cruising altitudes end.

        >>> cruising_rule("US", 64.0).nearest_ft(6500.0)
        (5500.0, 7500.0)
        """
        lowest = LOWEST_ODD_FT if self.odd else LOWEST_EVEN_FT
        steps = (altitude_ft - lowest) / BETWEEN_LEVELS_FT
        near = {round(steps)} if self.fits(altitude_ft) else {math.floor(steps), math.ceil(steps)}
        last = math.ceil((CEILINGS_FT[self.rules] - lowest) / BETWEEN_LEVELS_FT) - 1
        within = sorted({min(max(0, step), last) for step in near})
        return tuple(lowest + BETWEEN_LEVELS_FT * step for step in within)


def cruising_rule(
    rules: VisualRules, magnetic_course_deg: float, rounded: bool = True
) -> CruisingRule:
    """What the rule asks on a magnetic course [°M]: course, not heading; magnetic, not true.

    Unless ``rounded``, the half of the circle is that of the course as it is given.

    >>> cruising_rule("US", 179.4).words
    'odd thousands plus 500 ft, if more than 3,000 ft above the surface'
    >>> cruising_rule("US", 179.4).odd, cruising_rule("US", 179.6).odd
    (True, False)
    """
    degrees = whole(course_360(magnetic_course_deg)) % 360
    half = degrees if rounded else course_360(magnetic_course_deg)
    return CruisingRule(rules, magnetic_course_deg, degrees or 360, half < 180)


def rule_applies(rules: VisualRules, altitude_ft: float, surface_ft: float | None) -> bool | None:
    """Whether the rule binds level flight at an altitude over ground [ft MSL]; ``None`` where the
    height of the ground is not known.

    >>> rule_applies("US", 4500.0, 2000.0), rule_applies("US", 4500.0, 900.0)
    (False, True)
    >>> rule_applies("US", 4500.0, None)
    """
    if altitude_ft >= CEILINGS_FT[rules]:
        return False
    if surface_ft is None:
        return None
    return altitude_ft - surface_ft > APPLIES_ABOVE_SURFACE_FT
