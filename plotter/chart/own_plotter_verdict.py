"""What a test of a plotter says: trust it, replace it, lay it again, or read more marks."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np

from plotter.chart.distance_sheet import Sheet
from plotter.chart.own_plotter import SURE, Fit, OwnPlotter
from plotter.chart.priors import SHRINK
from plotter.chart.readings import NM_PER_UNIT, Desk
from plotter.earth.units import METRES_PER_NM, METRES_PER_SM
from plotter.messages import Message, message
from plotter.route.values import Caution

VerdictCode = Literal["trust", "replace", "zero", "again"]

FACTOR_LIMIT = 0.01
"""A hundredth: 0.7 NM over the 70 NM of an edge, more than twice the 1.0 mm of a chart reading."""
OFFSET_LIMIT_MM = 2.0
"""Twice the 1.0 mm of a chart reading: 0.5 NM on a sectional."""
DISAGREE_SIGMA = 2.58
"""Left over more than this, in normal deviations, happens once in 200 careful tests."""
RATIO_WIDTH = 0.02
"""So near to a known ratio of two edges, the other edge is the first thing to look at."""
_WIDE_MM = 180.0
"""Marks so far apart part offset and factor as well as a sheet allows; only more of them help."""
_NEAR_MM, _FAR_MM = 37.04, 240.0
"""Marks near zero and far from it, both on the printed rulers whatever the paper."""
LONGEST_PRINTED_MM = 262.0
"""From zero to the end of a printed ruler on the wider of the two papers."""
_STATUTE = METRES_PER_NM / METRES_PER_SM
_RATIOS = (
    (_STATUTE, "the statute edge of the same scale shows for nautical miles"),
    (1 / _STATUTE, "the nautical edge of the same scale shows for statute miles"),
    *((ratio, "the edge of another chart's scale shows") for ratio in (0.25, 0.5, 2.0, 4.0)),
)


@dataclass(frozen=True, slots=True)
class Verdict:
    """What to do with the plotter, why, and which further marks would say more.

    ``fit_holds`` is false where offset and factor say nothing of the plotter: there are none, the
    pairs contradict each other, or another edge was read.
    """

    code: VerdictCode
    text: str
    next_measurement: str = ""
    fit_holds: bool = True


def notes_of(tested: OwnPlotter) -> tuple[str, ...]:
    """What to check in the pairs themselves: marks that the printed ruler does not have."""
    far = max(pair.ruler for pair in tested.pairs)
    length_mm = far * tested.mile_mm
    if length_mm <= LONGEST_PRINTED_MM:
        return ()
    return (
        f"{far:g} {tested.edge.upper()} on the {tested.scale.name} ruler "
        f"(1:{tested.scale.denominator:,}) are {length_mm:.0f} mm, more than a printed sheet "
        "carries. If another ruler was read, say which: --chart terminal or world.",
    )


class Known(NamedTuple):
    """A figure with the half-width of its 95 % interval, against the limit that matters."""

    value: float
    half: float
    limit: float

    @property
    def is_fault(self) -> bool:
        """Surely not zero, and large enough to matter."""
        return abs(self.value) >= max(self.limit, self.half)

    @property
    def is_fine(self) -> bool:
        """Surely within the limit."""
        return abs(self.value) + self.half <= self.limit


def factor_of(fit: Fit) -> Known:
    """How far the factor is from one, against what matters."""
    return Known(fit.factor - 1.0, SURE * fit.factor_sd, FACTOR_LIMIT)


def offset_of(fit: Fit) -> Known:
    """How far the zero is from where it was laid [mm], against what matters."""
    return Known(fit.offset_mm, SURE * fit.offset_sd_mm, OFFSET_LIMIT_MM)


def is_faulted(fit: Fit) -> bool:
    """Whether a fit is that of a plotter whose readings are not to be flown."""
    return factor_of(fit).is_fault or offset_of(fit).is_fault


def verdict_of(tested: OwnPlotter) -> Verdict:
    """Judge a test; where the pairs do not settle it, say so rather than lean to one side.

    >>> from plotter.chart.own_plotter import Pair
    >>> from plotter.chart.scales import SECTIONAL
    >>> verdict_of(OwnPlotter(SECTIONAL, "nm", (Pair(50, 50.6), Pair(100, 101.3)))).code
    'replace'
    """
    fit = tested.fit
    if fit is None:
        return Verdict("again", _one_mark(tested), _further(tested), fit_holds=False)
    if disagreement(fit) > DISAGREE_SIGMA:
        worst_mm = max(abs(each) for each in fit.left_over_mm)
        text = (
            f"The pairs do not lie on one line: {worst_mm:.1f} mm are left over, more than the "
            "reading error explains. Read them again, the zero held on the zero line."
        )
        return Verdict("again", text, fit_holds=False)
    return _other_edge(tested, fit) or _no_plotter(fit) or _judged(tested, fit)


def disagreement(fit: Fit) -> float:
    """How unlikely the left-over is, as a normal deviation; 0 where two pairs leave nothing.

    Source: E. B. Wilson and M. M. Hilferty, "The distribution of chi-square", PNAS 17 (1931):
    the cube root of chi-square over its degrees of freedom is nearly normal.
    """
    freedom = fit.degrees_of_freedom
    if freedom < 1:
        return 0.0
    part = 2.0 / (9.0 * freedom)
    return float(((fit.chi_squared / freedom) ** (1 / 3) - (1.0 - part)) / math.sqrt(part))


def _other_edge(tested: OwnPlotter, fit: Fit) -> Verdict | None:
    for ratio, what in _RATIOS:
        if abs(fit.factor / ratio - 1.0) <= RATIO_WIDTH:
            text = (
                f"It reads {fit.factor:.2f} times the ruler. That is what {what}. Which edge did "
                f"you read? Lay the {tested.edge.upper()} edge for 1:{tested.scale.denominator:,} "
                "on the ruler of the same name."
            )
            return Verdict("again", text, fit_holds=False)
    return None


def _no_plotter(fit: Fit) -> Verdict | None:
    """More than any plastic shrinks or stretches: then it is the pairs that are wrong."""
    half = SURE * fit.factor_sd
    if 1.0 / (1.0 + SHRINK[1]) - half <= fit.factor <= 1.0 / (1.0 - SHRINK[1]) + half:
        return None
    text = (
        f"By these pairs it would read {_percent(Known(fit.factor - 1.0, half, FACTOR_LIMIT))} "
        f"{'long' if fit.factor > 1 else 'short'}, more than any plotter shrinks or stretches. Was "
        "a mark miscounted, or a figure typed wrong? Read every mark again, both on the edge of "
        "the same name."
    )
    return Verdict("again", text, fit_holds=False)


def _judged(tested: OwnPlotter, fit: Fit) -> Verdict:
    factor, offset = factor_of(fit), offset_of(fit)
    if factor.is_fault:
        zero = f" {_zero_words(offset, tested)}" if offset.is_fault else ""
        return Verdict("replace", _replace_words(factor) + zero)
    if offset.is_fault:
        return Verdict("zero", _zero_words(offset, tested))
    if factor.is_fine and offset.is_fine:
        return Verdict("trust", _trust_words(tested))
    return Verdict("again", _doubt_words(factor, offset, tested), _further(tested))


def _replace_words(factor: Known) -> str:
    if factor.value > 0:
        kind = "long, as a shrunken plotter does"
    else:
        kind = "short, as a stretched one would, which is rare: prove the printed page once more"
    return (
        f"Replace it: it reads {_percent(factor)} {kind}. No reading from it should be flown, "
        "corrected or not."
    )


def _zero_words(offset: Known, tested: OwnPlotter) -> str:
    miles = abs(offset.value) / tested.mile_mm
    size = f"{miles:.1f} {tested.edge.upper()} ({abs(offset.value):.1f} mm)"
    if offset.value < 0:
        return (
            f"Every reading is short by about {size}. Was the end of the plotter laid on zero "
            "instead of its zero mark? Lay the zero mark and read again."
        )
    return (
        f"Every reading is long by about {size}. Was a mark other than zero laid on the zero "
        "line? Lay the zero mark and read again."
    )


def _trust_words(tested: OwnPlotter) -> str:
    return (
        f"Trust it on this edge: a fault of {FACTOR_LIMIT:.0%} in the scale or "
        f"{OFFSET_LIMIT_MM / tested.mile_mm:.1f} {tested.edge.upper()} in the zero would have "
        "shown. Plastic left in the sun shrinks: test it again now and then."
    )


def _doubt_words(factor: Known, offset: Known, tested: OwnPlotter) -> str:
    hidden = abs(factor.value) + factor.half
    hidden_miles = (abs(offset.value) + offset.half) / tested.mile_mm
    return (
        f"These pairs do not settle it: they could hide {hidden:.1%} in the scale and "
        f"{hidden_miles:.1f} {tested.edge.upper()} in the zero. Do not call it good or bad yet."
    )


def _one_mark(tested: OwnPlotter) -> str:
    count = len(tested.pairs)
    gap = sum(pair.plotter - pair.ruler for pair in tested.pairs) / count
    ruler = tested.pairs[0].ruler
    if ruler == 0:
        return "Pairs at zero alone say nothing of the scale. Read a mark far from zero too."
    which = "One pair" if count == 1 else "Pairs at one mark"
    if abs(gap) * tested.mile_mm < SURE * tested.reading_error_mm:
        return (
            f"{which} cannot part an offset from a factor; at {ruler:g} nothing beyond the "
            "reading error shows."
        )
    size = f"{abs(gap):.1f} {tested.edge.upper()}"
    side, kind = ("long", "shrunk") if gap > 0 else ("short", "stretched")
    return (
        f"{which} cannot part an offset from a factor: {size} {side} at {ruler:g} is what a zero "
        f"laid {size} off shows, and what a plotter {kind} by {abs(gap) / ruler:.1%} shows."
    )


def _percent(known: Known) -> str:
    return f"{abs(known.value):.1%} (± {known.half:.1%})"


def _further(tested: OwnPlotter) -> str:
    marks_mm = [pair.ruler * tested.mile_mm for pair in tested.pairs]
    if max(marks_mm) - min(marks_mm) >= _WIDE_MM:
        return (
            "Read more marks, seven or so from near zero to the end of the ruler, each to a "
            "tenth: every one makes the answer surer."
        )
    near, far = (round(length / tested.mile_mm) for length in (_NEAR_MM, _FAR_MM))
    return (
        f"Read a mark near zero and one far from it, such as {near} and {far} "
        f"{tested.edge.upper()}, to a tenth: near and far together part an offset from a factor."
    )


# What is said of a reading that is right for one's own plotter, where the plotter itself is off.
#
# A plotter that was tested is expected to read what it read then. A reading that agrees with that
# is no slip of the hand, and is still not the length of the leg: it must never be called right.

OWN_PLOTTER = "own_plotter"
"""The code of an explanation: the hand read right, and the plotter is off."""
OWN_CAUTION = "own-plotter"
SHOWS_FROM = 2.0
"""Reading errors by which a plotter that its test does not fault may be off unnoticed."""
_UNITS = {"nm": "NM", "sm": "SM", "km": "km"}


def is_own_fault(sheet: Sheet) -> bool:
    """Whether what is right for the plotter in hand is wrong for a leg it was laid on."""
    own = sheet.desk.own
    laid = [not reading.is_ruler for reading in sheet.readings]
    if own is None or not any(laid):
        return False
    most_mm = float(np.abs(sheet.base_mm - sheet.true_mm).max())
    return is_faulted(own) or most_mm > SHOWS_FROM * sheet.desk.error.distance_mm


def own_fault(sheet: Sheet) -> Message:
    """Return by how much a reading is off because of the plotter, and what to fly instead."""
    leg = _worst(sheet)
    name = sheet.legs[leg].name
    said = message(
        "own_plotter",
        typed=_typed(sheet, leg),
        compared=_compared(sheet, leg),
        shows=_shows(sheet, leg),
        leg_nm=sheet.legs[leg].distance_nm,
    )
    if len(sheet.legs) == 1 or not name:
        return said
    return message("own_plotter.of-leg", leg=name, fault=said)


def own_plotter_cautions(desk: Desk) -> list[Caution]:
    """The caution that the plotter in hand failed its test, whatever the readings."""
    own = desk.own
    if own is None or not is_faulted(own):
        return []
    key = "own-plotter.replace" if factor_of(own).is_fault else "own-plotter.zero"
    return [Caution("CHECK", message(key, faults=tuple(_faults(own))))]


def _worst(sheet: Sheet) -> int:
    """The leg on which the plotter is off the most."""
    return int(np.abs(sheet.base_mm - sheet.true_mm).argmax())


def _typed(sheet: Sheet, leg: int) -> str:
    reading = sheet.readings[leg]
    return f"{reading.text} {_UNITS[reading.unit]}"


def _compared(sheet: Sheet, leg: int) -> Message:
    reading = sheet.readings[leg]
    leg_nm = sheet.legs[leg].distance_nm
    by = reading.value - leg_nm / NM_PER_UNIT[reading.unit]
    if round(abs(by), 1) == 0.0:
        return message("own_plotter.agrees", leg_nm=leg_nm)
    key = "own_plotter.long" if by > 0 else "own_plotter.short"
    return message(key, by=abs(by), unit=_UNITS[reading.unit], leg_nm=leg_nm)


def _shows(sheet: Sheet, leg: int) -> tuple[Message, ...]:
    own, unit_mm = sheet.desk.own, float(sheet.unit_mm[leg])
    figure, unit = float(sheet.base_mm[leg]) / unit_mm, _UNITS[sheet.readings[leg].unit]
    return (*(_faults(own) if own else ()), message("own_plotter.shows", figure=figure, unit=unit))


def _faults(own: Fit) -> list[Message]:
    """Return what the test of the plotter showed."""
    faults = []
    factor, offset_mm = own.factor - 1.0, own.offset_mm
    if factor_of(own).is_fault:
        key = "fault-of-plotter.long" if factor > 0 else "fault-of-plotter.short"
        faults.append(message(key, percent=100 * abs(factor)))
    if offset_of(own).is_fault:
        key = "fault-of-plotter.zero-long" if offset_mm > 0 else "fault-of-plotter.zero-short"
        faults.append(message(key, by_mm=abs(offset_mm)))
    return faults
