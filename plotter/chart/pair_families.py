"""Two mistakes at once, where that is sensible: a wrong edge or scale, and a fault of the plotter.

Coarser than the single ones: with two things unknown there is room for nearly any reading, and that
room is what makes a pair the less likely explanation.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from plotter.chart import priors
from plotter.chart.distance_sheet import Sheet
from plotter.chart.families import Family
from plotter.chart.readings import NM_PER_UNIT
from plotter.chart.unknowns import end_gaps, scale_factors, shrink_shares

if TYPE_CHECKING:
    from plotter.chart.families import Floats


def pair_families(sheet: Sheet) -> list[Family]:
    """The sensible pairs, each a part of the one explanation ``pair``."""
    gaps, gap_weights = end_gaps(0.75)
    shares, share_weights = shrink_shares(sheet.longest_mm, coarse=2.0)
    shrunk = 1.0 / (1.0 - shares)
    scale, scale_weights = scale_factors(sheet)
    end = (-gaps, gap_weights)
    pairs = {
        "physical_end+shrunk": _crossed((shrunk, share_weights), end),
        "other_scale+physical_end": _crossed((scale, scale_weights), end),
        "other_scale+shrunk": _multiplied((scale, scale_weights), (shrunk, share_weights)),
    }
    statute = _other_mile(sheet)
    if statute is not None:
        one = (np.array([statute]), np.ones(1))
        pairs["nautical_statute+physical_end"] = _crossed(one, end)
        pairs["nautical_statute+shrunk"] = _multiplied(one, (shrunk, share_weights))
        pairs["nautical_statute+other_scale"] = _multiplied(one, (scale, scale_weights))
    prior = priors.DISTANCE["pair"] / len(pairs)
    return [
        sheet.straight(
            "pair",
            factor,
            shift,
            weights,
            values=np.arange(weights.size, dtype=float),
            labels=(name,) * weights.size,
            prior=prior,
        )
        for name, (factor, shift, weights) in pairs.items()
    ]


def _other_mile(sheet: Sheet) -> float | None:
    """Factor of the other edge of miles; ``None`` unless every reading is in one kind of mile."""
    units = {reading.unit for reading in sheet.readings}
    if units == {"nm"}:
        return 1.0 / NM_PER_UNIT["sm"]
    return NM_PER_UNIT["sm"] if units == {"sm"} else None


def _crossed(
    factor: tuple[Floats, Floats], shift: tuple[Floats, Floats]
) -> tuple[Floats, Floats, Floats]:
    """Every factor with every shift; the shift is made on the paper and so is multiplied too."""
    factors = np.repeat(factor[0], shift[0].size)
    return (
        factors,
        factors * np.tile(shift[0], factor[0].size),
        np.outer(factor[1], shift[1]).ravel(),
    )


def _multiplied(
    one: tuple[Floats, Floats], other: tuple[Floats, Floats]
) -> tuple[Floats, Floats, Floats]:
    """Every product of two factors."""
    factors = np.outer(one[0], other[0]).ravel()
    return factors, np.zeros_like(factors), np.outer(one[1], other[1]).ravel()
