"""The compass correction card: from magnetic heading to what the compass must read.

A card is printed in pairs, ``FOR 240 STEER 243``, both magnetic. The correction is steer − for;
between the printed headings it is taken in proportion, round through north. Source of the
practice: FAA-H-8083-25, chapter "Navigation", "Magnetic Deviation".
"""

from __future__ import annotations

import itertools
from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, field

from plotter.earth.angles import course_360, half_turn
from plotter.errors import InputError

LARGEST_CORRECTION_DEG = 30.0
"""More is a slip of the hand, or a compass nobody should fly by."""
WIDEST_GAP_DEG = 60.0
"""A card has a pair each 30° (14 CFR 23.1547 as it stood until 2017, from memory: no more than 30°
apart); where one of them is missing, proportion still does."""
CERTIFIED_DEG = 10.0
"""The most a compensated compass was certified with (14 CFR 23.1327 as it stood until 2017)."""


@dataclass(frozen=True, slots=True)
class CardPair:
    """One pair of the card: for this magnetic heading, steer that by compass [°]."""

    for_magnetic_deg: float
    steer_deg: float

    def __post_init__(self) -> None:
        for heading in (self.for_magnetic_deg, self.steer_deg):
            if not 0.0 <= heading <= 360.0:
                raise _fault(
                    f"{heading:g}° is outside 0 to 360; type headings as the card has them"
                )
        if abs(self.correction_deg) > LARGEST_CORRECTION_DEG:
            raise _fault(
                f"for {self.for_magnetic_deg:03.0f} steer {self.steer_deg:03.0f} differ by more "
                f"than {LARGEST_CORRECTION_DEG:g}°; check both against the card"
            )

    @property
    def correction_deg(self) -> float:
        """What to add to the magnetic heading here [°]: steer − for."""
        return half_turn(self.steer_deg - self.for_magnetic_deg)


@dataclass(frozen=True, slots=True)
class CompassCard:
    """A compass correction card of two or more headings, kept in order from north.

    Raises InputError, code ``compass-card``, for fewer than two headings or one twice (000 and
    360 are the same).

    >>> card = compass_card([(0, 2), (90, 91), (180, 178), (270, 269)])
    >>> card.correction_deg(45.0), card.correction_deg(315.0)
    (1.5, 0.5)
    """

    pairs: tuple[CardPair, ...]
    _headings: tuple[float, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        ordered = sorted(self.pairs, key=_heading)
        for one, next_one in itertools.pairwise(ordered):
            if _heading(one) == _heading(next_one):
                again = f"{_heading(one) or 360.0:03.0f}"
                raise _fault(f"the card has the heading {again} twice; keep one of the pairs")
        if len(ordered) < 2:
            raise _fault(
                "the card needs two headings or more to tell one from another; "
                "type every pair, or leave the card out"
            )
        object.__setattr__(self, "pairs", tuple(ordered))
        object.__setattr__(self, "_headings", tuple(map(_heading, ordered)))

    @property
    def largest_correction_deg(self) -> float:
        """The largest correction on the card [°], whichever way."""
        return max(abs(pair.correction_deg) for pair in self.pairs)

    def gap(self, magnetic_heading_deg: float) -> tuple[CardPair, CardPair, float]:
        """The pairs on either side of a magnetic heading [°M], and how far apart they are [°].

        On a heading that the card has, nothing is taken in proportion: both are its own, 0 apart.

        >>> card = compass_card([(0, 2), (30, 31)])
        >>> card.gap(185.0)[2], card.gap(12.0)[2], card.gap(30.0)[2]
        (330.0, 30.0, 0.0)
        """
        heading = course_360(magnetic_heading_deg)
        before, after = self._around(heading)
        if _heading(before) == heading:
            return before, before, 0.0
        return before, after, course_360(_heading(after) - _heading(before))

    def correction_deg(self, magnetic_heading_deg: float) -> float:
        """What to add to a magnetic heading [°M] for the compass heading [°], MH + it = CH."""
        heading = course_360(magnetic_heading_deg)
        before, after = self._around(heading)
        gap = course_360(_heading(after) - _heading(before))
        part = course_360(heading - _heading(before)) / gap
        return before.correction_deg + (after.correction_deg - before.correction_deg) * part

    def _around(self, heading: float) -> tuple[CardPair, CardPair]:
        """The pairs on either side of a heading, round through north."""
        after = bisect_right(self._headings, heading) % len(self.pairs)
        return self.pairs[after - 1], self.pairs[after]


def compass_card(pairs: Iterable[tuple[float, float]]) -> CompassCard:
    """A card from pairs of (for, steer), both magnetic [°], in any order."""
    return CompassCard(tuple(CardPair(float(wanted), float(steer)) for wanted, steer in pairs))


def _heading(pair: CardPair) -> float:
    return course_360(pair.for_magnetic_deg)


def _fault(message: str) -> InputError:
    return InputError(message, code="compass-card")
