"""A set of distance readings laid out for comparison: all in millimetres on the chart's paper.

A reading in miles becomes the length of paper that many miles take up at the chart's scale; what is
predicted is the length of paper such a reading would come to. Its error is that of laying the
plotter, once for every time it is laid, and that of rounding, as the digits of the set tell it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from plotter.chart import priors
from plotter.chart.agreement import deviations_allowed
from plotter.chart.priors import DISTANCE, HABIT, PLOTTER_LENGTHS_MM
from plotter.chart.readings import Desk, MeasuredLeg, Reading
from plotter.chart.rounding import rounding_steps
from plotter.chart.scales import SCALES
from plotter.chart.weighing import Family, Sharing, log_t, log_weights

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from plotter.chart.weighing import Floats

EVEN_SPREAD = 1.0 / math.sqrt(12.0)
"""Standard deviation of a value that may lie anywhere in a step of one."""
USUAL_PLOTTER_MM = 300.0


@dataclass(frozen=True, slots=True)
class Sheet:
    """Readings and what they would be if read right, one element a leg [mm on the chart].

    ``true_mm`` is the length of the line, ``base_mm`` what the plotter in hand reads of it when
    nothing goes wrong; ``right`` is the log density of each reading were it right.
    """

    legs: tuple[MeasuredLeg, ...]
    readings: tuple[Reading, ...]
    desk: Desk
    read_mm: Floats
    true_mm: Floats
    base_mm: Floats
    unit_mm: Floats
    laying_mm: Floats
    rounding_mm: Floats
    right: Floats

    @property
    def longest_mm(self) -> float:
        """The longest of the legs [mm]."""
        return float(self.base_mm.max())

    @property
    def deviation_mm(self) -> Floats:
        """Standard deviation of each reading where nothing goes wrong [mm]."""
        return np.hypot(self.laying_mm, self.rounding_mm)

    @property
    def allowed_mm(self) -> Floats:
        """How far each reading may be off and still agree with its leg [mm]."""
        allowed: Floats = deviations_allowed(len(self.legs)) * self.deviation_mm
        return allowed

    @property
    def agrees(self) -> NDArray[np.bool_]:
        """Which readings lie within the reading error of what the plotter in hand shows."""
        within: NDArray[np.bool_] = np.abs(self.read_mm - self.base_mm) <= self.allowed_mm
        return within

    def log_p(self, mean: Floats, gain: Floats | float = 1.0) -> Floats:
        """Log densities of the readings under means [mm]; a factor stretches the error too."""
        deviation = np.sqrt((gain * self.laying_mm) ** 2 + self.rounding_mm**2)
        return log_t(self.read_mm - mean, np.broadcast_to(deviation, mean.shape))

    def straight(
        self,
        code: str,
        factor: Floats | float,
        shift_mm: Floats | float,
        weights: Floats,
        *,
        values: Floats,
        labels: tuple[str, ...] = (),
        prior: float | None = None,
    ) -> Family:
        """A mistake of the plotter: it reads factor × the length + shift, on every leg."""
        factors = np.broadcast_to(np.asarray(factor, dtype=float), weights.shape)
        shifts = np.broadcast_to(np.asarray(shift_mm, dtype=float), weights.shape)
        mean = factors[:, None] * self.base_mm + shifts[:, None]
        return Family(
            code=code,
            prior=DISTANCE[code] if prior is None else prior,
            sharing=Sharing.ALIKE,
            mean=mean,
            log_p=self.log_p(mean, factors[:, None]),
            log_weight=log_weights(weights),
            values=values,
            labels=labels,
            factor=factors,
            shift_mm=shifts,
        )

    def slip(
        self,
        code: str,
        mean: Floats,
        log_weight: Floats,
        *,
        values: Floats | None = None,
        labels: tuple[str, ...] = (),
        gain: Floats | float = 1.0,
        prior: float | None = None,
    ) -> Family:
        """A mistake that strikes some of the legs."""
        return Family(
            code=code,
            prior=DISTANCE[code] if prior is None else prior,
            sharing=Sharing.SOME,
            mean=mean,
            log_p=self.log_p(mean, gain),
            log_weight=log_weight,
            values=values,
            labels=labels,
        )


def habit(always: Family, sometimes: Family | None = None) -> list[Family]:
    """A mistake made on every leg as a rule, now and then on some; for one leg both are one."""
    from dataclasses import replace

    if always.mean.shape[1] == 1:
        return [always]
    other = sometimes or always
    return [
        replace(always, prior=always.prior * HABIT),
        replace(
            other,
            prior=always.prior * (1.0 - HABIT),
            sharing=Sharing.SOME,
            factor=None,
            shift_mm=None,
        ),
    ]


def times_laid(length_mm: float, plotter_mm: float = USUAL_PLOTTER_MM) -> int:
    """How often a plotter is laid along a line.

    >>> times_laid(299.0), times_laid(301.0)
    (1, 2)
    """
    return max(1, math.ceil(length_mm / plotter_mm))


def sheet_of(legs: Sequence[MeasuredLeg], desk: Desk) -> Sheet:
    """The sheet of the legs that have a distance reading."""
    read = [(leg, leg.reading) for leg in legs if leg.reading is not None]
    unit_mm = np.array([reading.mm_per_unit(desk.chart) for _, reading in read])
    read_mm = unit_mm * np.array([reading.value for _, reading in read])
    true_mm = desk.chart.mm_per_nm * np.array([leg.chart_nm for leg, _ in read])
    rounding = unit_mm * np.array(rounding_steps([reading for _, reading in read])) * EVEN_SPREAD
    ruled = np.array([reading.is_ruler for _, reading in read])
    base_mm, known_mm = _as_own_plotter_reads(true_mm, ruled, desk)
    laid = np.array([_mean_times_laid(length) for length in true_mm])
    laying = np.sqrt(desk.error.distance_mm**2 * laid + known_mm**2)
    return Sheet(
        legs=tuple(leg for leg, _ in read),
        readings=tuple(reading for _, reading in read),
        desk=desk,
        read_mm=read_mm,
        true_mm=true_mm,
        base_mm=base_mm,
        unit_mm=unit_mm,
        laying_mm=laying,
        rounding_mm=rounding,
        right=log_t(read_mm - base_mm, np.sqrt(laying**2 + rounding**2)),
    )


def _mean_times_laid(length_mm: float) -> float:
    return sum(
        weight * times_laid(length_mm, plotter) for plotter, weight in PLOTTER_LENGTHS_MM.items()
    )


def _as_own_plotter_reads(
    true_mm: Floats, ruled: NDArray[np.bool_], desk: Desk
) -> tuple[Floats, Floats]:
    """What the plotter in hand reads of a length, and how well that is known [mm].

    What was read off a plain ruler was not read off the plotter: there its test says nothing.
    """
    own = desk.own
    if own is None:
        return true_mm, np.zeros_like(true_mm)
    variance = (
        own.offset_sd_mm**2 + 2.0 * own.covariance_mm * true_mm + (own.factor_sd * true_mm) ** 2
    )
    base_mm = np.where(ruled, true_mm, own.factor * true_mm + own.offset_mm)
    return base_mm, np.where(ruled, 0.0, np.sqrt(variance.clip(min=0.0)))


# The straight line through a set of readings: by how much and by what factor a plotter is off.

SURE_OF_FACTOR = 0.02
"""Standard deviation up to which a factor fitted together with an offset is worth saying."""
OF_OFFSET = frozenset({"physical_end"})
OF_FACTOR = frozenset(
    {"shrunk", "stretched", "copy_scaled", "nautical_statute", "kilometres", "other_scale"}
)


@dataclass(frozen=True, slots=True)
class Fitted:
    """Reading = ``factor`` × length + ``offset_nm`` [NM]; ``None`` where readings do not say.

    A short leg and a long one give both. From one length alone only that of the two can be said
    which the explanation that fits best is about.
    """

    offset_nm: float | None
    factor: float | None


def fitted(sheet: Sheet | None, best: str) -> Fitted:
    """Offset and factor by least squares, each reading weighted with its own error.

    ``best`` is the code of the explanation that fits best. Where slips are among the readings the
    line goes through them all the same: read it beside the explanation, not by itself.
    """
    if sheet is None:
        return Fitted(None, None)
    mm_per_nm = sheet.desk.chart.mm_per_nm
    weight = 1.0 / (sheet.laying_mm**2 + sheet.rounding_mm**2)
    length, read = sheet.true_mm, sheet.read_mm
    middle = float((weight * length).sum() / weight.sum())
    spread = float((weight * (length - middle) ** 2).sum())
    if spread > 1.0 / SURE_OF_FACTOR**2:
        factor = float((weight * (length - middle) * read).sum()) / spread
        offset_mm = float((weight * (read - factor * length)).sum() / weight.sum())
        return Fitted(offset_mm / mm_per_nm, factor)
    if best in OF_OFFSET:
        return Fitted(float(np.average(read - length, weights=weight)) / mm_per_nm, None)
    if best in OF_FACTOR:
        scaled = weight * length
        return Fitted(None, float((scaled * read).sum() / (scaled * length).sum()))
    return Fitted(None, None)


# What is not known of a mistake, as values with weights: gap, shrinking, scale.

FINE_MM = 0.5
"""Step of what is summed out, at the longest leg: half a reading error."""
SAME_MM = 0.5
"""A prediction this near to the right one is no mistake."""


def scale_factors(sheet: Sheet) -> tuple[Floats, Floats]:
    """Factors between the chart and another scale, and their weights.

    An edge of another scale shows more miles where its scale is smaller; a plain ruler shows fewer
    millimetres where the chart itself is of a smaller scale.
    """
    own = sheet.desk.chart.denominator
    ratios = [scale.denominator / own for scale in SCALES.values() if scale.denominator != own]
    at_hand = [1 / each for each in ratios] if sheet.readings[0].is_ruler else ratios
    factors = np.array([2.0, 0.5, 4.0, 0.25])
    near = [priors.SCALE_AT_HAND if each in at_hand else priors.SCALE_ELSEWHERE for each in factors]
    return factors, np.array(near)


def end_gaps(step_mm: float) -> tuple[Floats, Floats]:
    """Gaps between the end of a plotter and its zero [mm], with weights."""
    gaps = np.arange(priors.END_MM[0], priors.END_MM[1] + step_mm / 2, step_mm)
    off = np.log(gaps / priors.END_TYPICAL_MM) / priors.END_SPREAD
    return gaps, np.exp(-off * off / 2) / gaps


def zero_offsets(step_mm: float) -> tuple[Floats, Floats]:
    """By how much a zero that is off makes every reading longer or shorter [mm], with weights.

    The end of the plotter laid for its zero reads short by the gap between the two; a zero mark
    laid beside the departure reads long as often as short, and less the farther beside it.
    """
    gaps, gap_weights = end_gaps(step_mm)
    beside = np.arange(priors.BESIDE_MM[0], priors.BESIDE_MM[1] + step_mm / 2, step_mm)
    either = np.concatenate([beside, -beside])
    weights = np.exp(-np.abs(either) / priors.BESIDE_TYPICAL_MM)
    share = priors.BESIDE
    return (
        np.concatenate([-gaps, either]),
        np.concatenate(
            [(1.0 - share) * gap_weights / gap_weights.sum(), share * weights / weights.sum()]
        ),
    )


def shrink_shares(longest_mm: float, coarse: float = 1.0) -> tuple[Floats, Floats]:
    """Shares of its length a plotter has lost, with weights."""
    low, high = priors.SHRINK
    count = int(min(max((high - low) * longest_mm / (FINE_MM * coarse), 12), 400))
    shares = np.linspace(low, high, count)
    weights = np.zeros(count)
    for typical, share in priors.SHRINK_TYPICAL.items():
        near = np.exp(-shares / typical)
        weights += share * near / near.sum()
    return shares, weights
