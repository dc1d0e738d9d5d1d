"""What is not known of a mistake, as values with weights: gap, shrinking, scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from plotter.chart import priors
from plotter.chart.distance_sheet import Sheet
from plotter.chart.scales import SCALES

if TYPE_CHECKING:
    from plotter.chart.families import Floats

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


def shrink_shares(longest_mm: float, coarse: float = 1.0) -> tuple[Floats, Floats]:
    """Shares of its length a plotter has lost, with weights."""
    low, high = priors.SHRINK
    count = int(min(max((high - low) * longest_mm / (FINE_MM * coarse), 12), 400))
    shares = np.linspace(low, high, count)
    return shares, np.exp(-shares / priors.SHRINK_TYPICAL)
