"""From probabilities to an answer: what fits, what could also be, what cannot be told apart."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

from plotter.chart.families import Weighed, no_weight
from plotter.chart.priors import NONE

if TYPE_CHECKING:
    from numpy.typing import NDArray

Grade = Literal["fits", "could also be", "nothing fits: measure again"]
FITS: Grade = "fits"
COULD_BE: Grade = "could also be"
NOTHING_FITS: Grade = "nothing fits: measure again"

FITS_FROM = 0.75
"""Probability, three to one, from which an explanation fits and is not one of several."""
NAMED_FROM = 0.02
"""Probability from which an explanation is named at all."""
SAME_LOG_P = math.log(10.0)
"""Readings less than ten times as likely under one explanation as under another do not tell the
two apart (H. Jeffreys, "Theory of Probability", appendix B: from ten on evidence is strong)."""


class Graded(NamedTuple):
    """An explanation with its grade."""

    weighed: Weighed
    grade: Grade


def graded(weighed: Sequence[Weighed]) -> tuple[Graded, ...]:
    """The explanations worth naming, best first; ``none`` is always among them."""
    kept = [each for each in weighed if each.probability >= NAMED_FROM or each.code == NONE]
    return tuple(Graded(each, _grade(each)) for each in kept)


def verdict(answers: Sequence[Graded]) -> Grade:
    """The grade of the whole: that of the best explanation."""
    return answers[0].grade


def inseparable(answers: Sequence[Graded]) -> tuple[tuple[str, str], ...]:
    """Pairs of named explanations that these readings do not tell apart, likeliest first."""
    rivals = [each.weighed for each in answers if each.weighed.code != NONE]
    return tuple(
        (one.code, other.code)
        for place, one in enumerate(rivals)
        for other in rivals[place + 1 :]
        if abs(one.best_log_p - other.best_log_p) < SAME_LOG_P
    )


def also_explained(found: Weighed, right: NDArray[np.float64]) -> list[int]:
    """The other legs that the best case of an explanation explains as it does its own.

    There the reading is at least ten times as likely under it as if it were right.
    """
    row = found.case if found.family.log_p.shape[0] > 1 else 0
    better = found.family.log_p[row] - right >= SAME_LOG_P
    weight = np.broadcast_to(found.family.log_weight, found.family.log_p.shape)[row]
    explained = better & (weight > no_weight() / 2)
    return [int(k) for k in np.flatnonzero(explained) if k != found.leg]


def _grade(each: Weighed) -> Grade:
    if each.code == NONE:
        return NOTHING_FITS
    return FITS if each.probability >= FITS_FROM else COULD_BE
