"""The straight line through a set of readings: by how much and by what factor a plotter is off."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from plotter.chart.distance_sheet import Sheet

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
