"""Which measurement would tell two explanations of a distance apart.

Two faults of a plotter are told apart by a leg for which they predict different readings: a short
one and a long one separate an offset from a factor. A slip of the hand is told from a fault of the
plotter by laying the same leg again.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from plotter.chart.distance_sheet import USUAL_PLOTTER_MM, Sheet
from plotter.chart.families import Weighed
from plotter.chart.grading import FITS, NOTHING_FITS, Graded
from plotter.chart.priors import PLOTTER_LENGTHS_MM, READ_RIGHT

LENGTHS_NM = (10.0, 20.0, 30.0, 40.0, 60.0, 80.0, 120.0)
"""Legs a pilot can find on a chart [NM]."""
TOLD_APART = 3.0
"""Reading errors between two predictions that tell them apart."""
ANOTHER_LENGTH = 1.2
"""A leg shorter or longer by less is as good as the same again."""
_AGAIN = "Lay the same leg once more, from the beginning: a slip seldom comes twice, a fault does."
_STEEL = (
    "Lay the plotter along a steel rule, or a printed scale proved with one: that tells a plotter "
    "that has changed from a chart that has."
)


def next_distance(
    answers: Sequence[Graded], pairs: Sequence[tuple[str, str]], sheet: Sheet
) -> str | None:
    """What to measure next; ``None`` where one explanation stands alone."""
    best = answers[0]
    if best.grade == NOTHING_FITS:
        return _AGAIN
    if best.grade == FITS and (best.weighed.code == READ_RIGHT or not pairs):
        return None
    rivals = [each.weighed for each in answers if each.grade != NOTHING_FITS]
    if len(rivals) < 2:
        return _AGAIN
    one, other = _least_alike(rivals)
    codes = {one.code, other.code}
    if "lays" in codes:
        longest_nm = min(PLOTTER_LENGTHS_MM) / sheet.desk.chart.mm_per_nm
        return (
            f"Measure a leg of less than {longest_nm:.0f} NM, which needs laying only once, with "
            "the same plotter, and give both readings together."
        )
    if "parallel_minutes" in codes:
        return (
            "Measure a leg at another latitude in the same way: minutes along the parallel change "
            "with it, an edge or a scale does not."
        )
    return _by_length(one, other, sheet)


def _least_alike(rivals: Sequence[Weighed]) -> tuple[Weighed, Weighed]:
    """The best explanation and its nearest rival that is not simply right."""
    rest = [each for each in rivals[1:] if each.code != READ_RIGHT] or rivals[1:]
    return rivals[0], rest[0]


def _by_length(one: Weighed, other: Weighed, sheet: Sheet) -> str:
    """A leg of the length at which two faults differ most clearly, if there is one."""
    mm_per_nm = sheet.desk.chart.mm_per_nm
    if READ_RIGHT not in (one.code, other.code) and (
        one.on_another_leg(1.0) is None or other.on_another_leg(1.0) is None
    ):
        return _AGAIN
    within = [each for each in LENGTHS_NM if each * mm_per_nm <= USUAL_PLOTTER_MM]
    apart = {each: _apart(one, other, each * mm_per_nm, sheet) for each in within}
    enough = [each for each in _not_measured_yet(within, sheet) if apart[each] >= TOLD_APART]
    if not enough:
        return _STEEL
    longest_nm = float(sheet.true_mm.max()) / mm_per_nm
    longer = [each for each in enough if each > longest_nm]
    shorter = [each for each in enough if each < longest_nm]
    is_longer = max(enough, key=lambda each: apart[each]) > longest_nm
    length_nm = min(longer) if is_longer else max(shorter)
    return (
        f"Measure a {'longer' if is_longer else 'shorter'} leg too, of about {length_nm:.0f} NM, "
        "with the same plotter, and give both readings together: a fault that is the same on "
        "every leg and one that grows with the leg then part."
    )


def _not_measured_yet(lengths_nm: Sequence[float], sheet: Sheet) -> list[float]:
    """The lengths that none of the legs has already, or nearly has."""
    measured_nm = sheet.true_mm / sheet.desk.chart.mm_per_nm
    return [
        each
        for each in lengths_nm
        if all(max(each / leg, leg / each) >= ANOTHER_LENGTH for leg in measured_nm)
    ]


def _apart(one: Weighed, other: Weighed, length_mm: float, sheet: Sheet) -> float:
    """Reading errors between what two explanations predict for another leg."""
    first, second = one.on_another_leg(length_mm), other.on_another_leg(length_mm)
    if first is None or second is None:
        return 0.0
    return abs(first - second) / (math.sqrt(2.0) * sheet.desk.error.distance_mm)
