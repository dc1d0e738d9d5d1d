"""How finely a set of readings was rounded, as its digits tell.

``54.5`` may have been read to a tenth or to the nearest half: five times as many readings to the
half end so. A hand that reads to the half mile shows it on every leg, so all readings of a set in
one unit are asked together, and what is not known is averaged over (Bayes' rule).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from plotter.chart.readings import Reading

STEPS = (1.0, 0.5, 0.1)
"""What an edge is read to, in its unit: each as likely as the others before a figure is seen."""
BARE_WHOLE = {1.0: 0.9, 0.5: 0.5, 0.1: 0.1}
"""Of whole figures read to a step the share typed without a nought behind the point."""
FINEST_DECIMALS = 1
"""A figure of more decimals was read to its last digit."""


def rounding_steps(readings: Sequence[Reading]) -> list[float]:
    """The step each reading was rounded to, in its unit: the root of the mean square step.

    >>> [round(each, 2) for each in rounding_steps([Reading("54.5"), Reading("36")])]
    [0.5, 0.5]
    >>> [round(each, 2) for each in rounding_steps([Reading("54.5"), Reading("36.2")])]
    [0.1, 0.1]
    """
    steps = {
        unit: _mean_step([each for each in readings if each.unit == unit])
        for unit in {each.unit for each in readings}
    }
    return [steps[each.unit] or each.step for each in readings]


def _mean_step(readings: Sequence[Reading]) -> float | None:
    """The step of readings in one unit; ``None`` where each shows its own."""
    if readings[0].unit == "in" or any(each.decimals > FINEST_DECIMALS for each in readings):
        return None
    weights = {step: math.prod(_typed_so(each, step) for each in readings) for step in STEPS}
    total = math.fsum(weights.values())
    if total <= 0.0:
        return None
    return math.sqrt(math.fsum(step**2 * each for step, each in weights.items()) / total)


def _typed_so(reading: Reading, step: float) -> float:
    """How often a length read to a step is typed as this figure."""
    tenths = round(10 * reading.value)
    if tenths % round(10 * step):
        return 0.0
    if tenths % 10:
        return step
    return step * (1.0 - BARE_WHOLE[step] if reading.decimals else BARE_WHOLE[step])
