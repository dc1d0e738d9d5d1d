"""Whether a reading lies within the reading error: the one judgement of every door.

Where many legs are measured one of them is unlucky more often, so the bound widens a little with
their number: of a hundred right sets, whatever their size, three have a reading outside it (Z.
Šidák, "Rectangular confidence regions", Journal of the American Statistical Association 62, 1967).
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import NormalDist

SURE_OF_THE_SET = 0.97
"""Share of right sets of which every reading lies within the bound."""


def deviations_allowed(count: int) -> float:
    """Standard deviations that each of ``count`` readings may be off and still agree.

    >>> [round(deviations_allowed(count), 2) for count in (1, 2, 4, 8)]
    [2.17, 2.43, 2.67, 2.89]
    """
    each = SURE_OF_THE_SET ** (1.0 / max(count, 1))
    return NormalDist().inv_cdf((1.0 + each) / 2.0)


@dataclass(frozen=True, slots=True)
class Compared:
    """How far a reading is from its leg, and how far it may be and still agree.

    Both in the unit of the reading's kind: millimetres on the chart, or degrees.
    """

    off: float
    allowed: float

    @property
    def agrees(self) -> bool:
        """Whether the reading lies within the reading error."""
        return abs(self.off) <= self.allowed


def agreement_words(readings: int, outside: int) -> str:
    """How many readings do not agree with their legs, where something is not right.

    >>> agreement_words(1, 1), agreement_words(3, 3), agreement_words(5, 2)
    ('does not agree', 'none of the 3 legs agrees', '2 of 5 legs do not agree')
    """
    if outside == 0:
        return (
            "within the reading error, and still more like a slip"
            if readings == 1
            else "every leg by itself agrees, all of them together do not"
        )
    if outside == readings:
        return "does not agree" if readings == 1 else f"none of the {readings} legs agrees"
    return f"{outside} of {readings} legs {'does' if outside == 1 else 'do'} not agree"
