"""Explanations weighed against each other by Bayes' rule.

A family is one explanation with all it could have done: a row for each value of what is not known
(how far a plotter has shrunk, which tick was miscounted), a column for each leg. What is not known
is summed out with its own weights, so that an explanation which could explain anything pays for
it (D. J. C. MacKay, "Information Theory, Inference, and Learning Algorithms", 2003, chapter 28).

A reading error is taken from Student's t with eight degrees of freedom: near the normal curve, but
a reading three deviations off is not yet impossible, as hands are.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

from plotter.chart.priors import NONE

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FREEDOM = 8.0
SLIP_RATE = 0.35
"""Where a slip happened at all, the chance that a given one of several legs has it."""
_NOTHING = -1e9
_T_CONSTANT = (
    math.lgamma((FREEDOM + 1) / 2) - math.lgamma(FREEDOM / 2) - math.log(FREEDOM * math.pi) / 2
)


class Sharing(Enum):
    """Whom a mistake strikes: the plotter or habit, so every leg alike; each leg; some of them."""

    ALIKE = "every leg, in the same measure"
    EACH = "every leg, each in its own measure"
    SOME = "one leg or more, the rest read right"


@dataclass(frozen=True, slots=True)
class Family:
    """One explanation: its weight, what it predicts, how likely that makes the readings.

    ``mean`` and ``log_p`` have a row a case and a column a leg, ``log_weight`` may have one column
    for all legs. ``values`` and ``labels`` say of a row what it stands for. Where a mistake is
    the plotter's, it reads ``factor`` × the length + ``shift_mm`` on any other leg too.
    """

    code: str
    prior: float
    sharing: Sharing
    mean: Floats
    log_p: Floats
    log_weight: Floats
    values: Floats | None = None
    labels: tuple[str, ...] = ()
    factor: Floats | None = None
    shift_mm: Floats | None = None


@dataclass(frozen=True, slots=True)
class Weighed:
    """An explanation after the readings: its probability, its best case and the leg it shows on.

    ``family`` and ``case`` are those of the most probable part of the explanation, and
    ``best_log_p`` is how likely the readings are in the best case of that part: a less probable
    part with more room fits better and says nothing.
    """

    code: str
    probability: float
    best_log_p: float
    family: Family
    case: int
    leg: int

    @property
    def value(self) -> float:
        """What the best case stands for, as a number."""
        return 0.0 if self.family.values is None else float(self.family.values[self.case])

    def on_another_leg(self, length_mm: float) -> float | None:
        """What the plotter would read [mm] of another length; ``None`` where it is no plotter's."""
        if self.family.factor is None or self.family.shift_mm is None:
            return None
        return float(self.family.factor[self.case] * length_mm + self.family.shift_mm[self.case])

    @property
    def label(self) -> str:
        """What the best case stands for, as a word."""
        return self.family.labels[self.case] if self.family.labels else ""


def log_t(residual: Floats, deviation: Floats) -> Floats:
    """Logarithm of the density of a reading error, in the units of the deviation.

    >>> bool(abs(log_t(np.array([0.0]), np.array([1.0]))[0] - math.log(0.3867)) < 1e-4)
    True
    """
    z = residual / deviation
    answer: Floats = _T_CONSTANT - np.log(deviation) - (FREEDOM + 1) / 2 * np.log1p(z * z / FREEDOM)
    return answer


def log_sum(terms: Floats, axis: int | None = None) -> Floats:
    """Logarithm of a sum of exponentials along an axis, without overflow."""
    top = np.max(terms, axis=axis, keepdims=True)
    total: Floats = np.log(np.sum(np.exp(terms - top), axis=axis)) + np.squeeze(top, axis=axis)
    return total


def log_weights(weights: Sequence[float] | Floats) -> Floats:
    """Weights as a column of logarithms that add up to one."""
    given = np.asarray(weights, dtype=np.float64)
    column: Floats = np.log(np.maximum(given / given.sum(), 1e-300))[:, None]
    return column


def weigh(families: Iterable[Family], right: Floats) -> list[Weighed]:
    """Every explanation with its probability, most probable first.

    ``right`` is the log density of each reading were it right, for the legs a slip did not strike.
    Families of one code are parts of one explanation.
    """
    parts = [(family, _log_evidence(family, right)) for family in families if family.prior > 0.0]
    scores = np.array([math.log(family.prior) + evidence for family, evidence in parts])
    shares = np.exp(scores - log_sum(scores))
    found = [
        _weighed(code, [(p, float(s)) for (p, _), s in zip(parts, shares, strict=True)], right)
        for code in dict.fromkeys(family.code for family, _ in parts)
    ]
    return sorted(found, key=lambda each: -each.probability)


def _weighed(code: str, parts: list[tuple[Family, float]], right: Floats) -> Weighed:
    own = [(family, share) for family, share in parts if family.code == code]
    family = max(own, key=lambda each: each[1])[0]
    case, leg = _best_case(family, right)
    return Weighed(
        code=code,
        probability=math.fsum(share for _, share in own),
        best_log_p=_best_fit(family, right),
        family=family,
        case=case,
        leg=leg,
    )


def _log_evidence(family: Family, right: Floats) -> float:
    """How likely all readings are under a family, what is not known summed out."""
    if family.sharing is Sharing.ALIKE:
        return float(log_sum(family.log_weight[:, 0] + family.log_p.sum(axis=1)))
    struck = log_sum(family.log_weight + family.log_p, axis=0)
    if family.sharing is Sharing.EACH:
        return float(struck.sum())
    return _some(struck, right)


def _some(struck: Floats, right: Floats) -> float:
    """At least one leg struck and the others not, summed over which."""
    spared = math.log1p(-SLIP_RATE) + right
    any_way = float(np.logaddexp(spared, math.log(SLIP_RATE) + struck).sum())
    none_struck = float(spared.sum())
    share = -math.expm1(none_struck - any_way) if any_way > none_struck else 1e-12
    return any_way + math.log(max(share, 1e-12)) - math.log1p(-((1 - SLIP_RATE) ** right.size))


def _possible(family: Family) -> Floats:
    """Log densities, with what has no weight struck out."""
    return np.where(family.log_weight > _NOTHING / 2, family.log_p, _NOTHING)


def _best_fit(family: Family, right: Floats) -> float:
    """Log likelihood of the readings in the case that fits them best."""
    likely = _possible(family)
    if family.sharing is Sharing.ALIKE:
        return float(likely.sum(axis=1).max())
    best = likely.max(axis=0)
    if family.sharing is Sharing.EACH:
        return float(best.sum())
    either = np.maximum(best, right)
    return float(either.sum() - (either - best).min())


def _best_case(family: Family, right: Floats) -> tuple[int, int]:
    """The most probable case, and the leg on which the explanation shows best."""
    weighted = family.log_weight + family.log_p
    if family.sharing is Sharing.ALIKE:
        case = int(np.argmax(family.log_weight[:, 0] + family.log_p.sum(axis=1)))
        return case, int(np.argmax(family.log_p[case] - right))
    leg = int(np.argmax(weighted.max(axis=0) - right))
    return int(np.argmax(weighted[:, leg])), leg


def no_weight() -> float:
    """The log weight of a case that does not exist for a leg."""
    return _NOTHING


# From probabilities to an answer: what fits, what could also be, what cannot be told apart.

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
