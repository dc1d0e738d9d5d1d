"""What is said of an explanation of a distance: a question, what it rests on, a thing to do."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

import numpy as np

from plotter.chart.distance_sheet import Sheet, times_laid
from plotter.chart.explanation_names import same_of
from plotter.chart.own_plotter_verdict import is_own_fault, own_fault_words
from plotter.chart.weighing import Weighed, also_explained
from plotter.wording import distance

_EDGES = {"nm": "NM", "sm": "statute", "km": "kilometre", "mm": "millimetre", "in": "inch"}
_SHOWN = {"nm": "NM", "sm": "SM", "km": "km", "mm": "mm", "in": "in"}
_TIMES = {2.0: "twice", 0.5: "half", 4.0: "four times", 0.25: "a quarter of"}
_OF_ALL_LEGS = frozenset(
    {"read_right", "none", "physical_end", "shrunk", "stretched", "lays", "copy_scaled", "pair"}
)
_TEN_TIMES_WITHIN = 0.05
_UNITS_WITHIN = 0.02
_WHAT = {
    "physical_end": "the end of the plotter for its zero",
    "shrunk": "a shrunk plotter",
    "other_scale": "the edge of another scale",
    "nautical_statute": "the other edge of miles",
}
_FIRST = {
    "physical_end": "lay the zero mark on the departure",
    "other_scale": "make sure that the chart and the edge are both of {scale}",
    "nautical_statute": "lay the line on {edge}",
}
"""What to put right first of a pair: the larger mistake, and the one that a look settles."""
SMALL_SHRINK = 0.01
"""A share of its length that is worth finding: 0.7 NM over the 70 NM of an edge."""
SURELY_SEEN = 4.0
"""Standard errors of the factor from which nineteen of twenty such plotters are asked about."""
_SCALE_MM = 250.0
"""Of a plotter's scale, what even a short one has."""


def distance_text(found: Weighed, sheet: Sheet) -> str:
    """The text of an explanation, about the leg on which it shows best."""
    words = _TEXTS[found.code](found, sheet)
    name = sheet.legs[found.leg].name
    if found.code in _OF_ALL_LEGS or len(sheet.legs) == 1 or not name:
        return words
    return f"{name}: {words}{same_of(_others(found, sheet))}"


def _others(found: Weighed, sheet: Sheet) -> list[str]:
    legs = zip(sheet.legs, sheet.readings, strict=True)
    names = [f"{leg.name} ({reading.text})" for leg, reading in legs]
    return [names[k] for k in also_explained(found, sheet.right)]


def _figure(length_mm: float, found: Weighed, sheet: Sheet) -> str:
    """A length as the reading's own unit shows it, to a decimal."""
    reading = sheet.readings[found.leg]
    unit = "" if reading.unit == "nm" else f" {_SHOWN[reading.unit]}"
    return f"{length_mm / float(sheet.unit_mm[found.leg]):.1f}{unit}"


def _predicted(found: Weighed, sheet: Sheet) -> str:
    row = found.case if found.family.mean.shape[0] > 1 else 0
    return _figure(float(found.family.mean[row, found.leg]), found, sheet)


def _typed(found: Weighed, sheet: Sheet) -> str:
    reading = sheet.readings[found.leg]
    return reading.text if reading.unit == "nm" else f"{reading.text} {_SHOWN[reading.unit]}"


def _leg(found: Weighed, sheet: Sheet) -> str:
    return distance(sheet.legs[found.leg].distance_nm)


def _own_edge(found: Weighed, sheet: Sheet) -> str:
    return f"the {_EDGES[sheet.readings[found.leg].unit]} edge"


def _right(found: Weighed, sheet: Sheet) -> str:
    if is_own_fault(sheet):
        return own_fault_words(sheet)
    if len(sheet.legs) == 1:
        words, it = f"{_typed(found, sheet)} agrees with the leg", "it"
    else:
        words, it = "The readings agree with their legs", "them"
    words += " within what a plotter is read to. Nothing to do."
    return f"{words} {_too_little(it)}" if _shrink_may_hide(sheet) else words


def _too_little(it: str) -> str:
    """What these readings cannot show, and the measurement that would."""
    by_mm = SMALL_SHRINK * _SCALE_MM
    return (
        f"A plotter that reads {100 * SMALL_SHRINK:.0f} % long need not show in {it}: along a "
        f"steel rule it is {by_mm:.1f} mm long over {_SCALE_MM:.0f} mm."
    )


def _shrink_may_hide(sheet: Sheet) -> bool:
    """Whether a plotter not tested may read long by the smallest share worth finding, unseen."""
    laid = ~np.array([reading.is_ruler for reading in sheet.readings])
    if sheet.desk.own is not None or not laid.any():
        return False
    known = float(((sheet.true_mm / sheet.deviation_mm)[laid] ** 2).sum())
    return SMALL_SHRINK * math.sqrt(known) < SURELY_SEEN


def _drawn(found: Weighed, sheet: Sheet) -> float:
    """By how much the chart's projection draws the leg of the text longer or shorter [mm]."""
    leg = sheet.legs[found.leg]
    return (leg.chart_nm - leg.distance_nm) * sheet.desk.chart.mm_per_nm


def _of_the_leg(found: Weighed, sheet: Sheet) -> tuple[str, str]:
    """What is predicted for a leg, and the leg.

    What the projection adds is left out where it is less than the reading error, so that the two
    figures belong together.
    """
    row = found.case if found.family.mean.shape[0] > 1 else 0
    mean, drawn = float(found.family.mean[row, found.leg]), _drawn(found, sheet)
    if abs(drawn) < sheet.desk.error.distance_mm:
        mean -= drawn * mean / float(sheet.base_mm[found.leg])
        return _figure(mean, found, sheet), _leg(found, sheet)
    chart = distance(sheet.legs[found.leg].chart_nm)
    return _figure(mean, found, sheet), f"{_leg(found, sheet)} ({chart} as this chart draws it)"


def _statute(found: Weighed, sheet: Sheet) -> str:
    if found.label == "converted":
        shows, leg = _of_the_leg(found, sheet)
        return (
            f"Was the figure converted once too often, or the wrong way? {shows} is what that "
            f"makes of {leg}. "
            "Write down what the edge shows, and convert nothing."
        )
    other = "statute" if sheet.readings[found.leg].unit == "nm" else "nautical"
    return _other_edge(other, found, sheet)


def _other_edge(other: str, found: Weighed, sheet: Sheet) -> str:
    shows, leg = _of_the_leg(found, sheet)
    return (
        f"Was the {other} edge on the line? {shows} is what the {other} edge shows for {leg}. "
        f"Lay it again on {_own_edge(found, sheet)}."
    )


def _kilometres(found: Weighed, sheet: Sheet) -> str:
    if sheet.readings[found.leg].unit == "km":
        return _other_edge("nautical" if found.label == "nm" else "statute", found, sheet)
    return _other_edge("kilometre", found, sheet)


def _parallel(found: Weighed, sheet: Sheet) -> str:
    return (
        "Were minutes counted along the parallel? Only along a meridian is a minute a nautical "
        f"mile; the parallel beside this leg has about {_predicted(found, sheet)} minutes for it. "
        "Take the span to the nearest meridian and count again there."
    )


def _scale(found: Weighed, sheet: Sheet) -> str:
    times = _TIMES.get(found.value, "another multiple of")
    if sheet.readings[found.leg].is_ruler:
        return (
            f"Is it a chart of another scale? {_predicted(found, sheet)} is {times} what this "
            f"leg takes up at 1:{sheet.desk.chart.denominator:,}. Read the scale printed on the "
            "chart and name that chart."
        )
    return (
        f"Was the edge of another chart's scale on the line? {_predicted(found, sheet)} is {times} "
        f"what the edge for 1:{sheet.desk.chart.denominator:,} shows. Compare the scale printed on "
        "the chart with the one along the edge, and lay it again."
    )


def _end(found: Weighed, sheet: Sheet) -> str:
    by = f"here by about {abs(found.value):.0f} mm"
    if found.value > 0.0:
        return (
            "Did the zero mark lie before the departure instead of on it? That reads long by the "
            f"same amount on every leg, {by}. Lay the zero mark on the departure; if it reads "
            "long again, test the plotter against a printed ruler."
        )
    return (
        "Was the end of the plotter on the departure instead of its zero? That reads short by the "
        f"same amount on every leg, {by}. Lay it again with the zero mark on the departure."
    )


def _shrunk(found: Weighed, sheet: Sheet) -> str:
    lost = found.value
    return (
        f"Has the plotter shrunk? It seems to have lost {100 * lost:.1f} % of its length, and so "
        f"to read {100 * lost / (1.0 - lost):.1f} % long on every leg. Lay it along a steel rule "
        "or a proved printed scale; if it is short, replace it."
    )


def _stretched(found: Weighed, sheet: Sheet) -> str:
    gained = found.value
    return (
        f"Has the plotter stretched (that is rare)? It seems to have gained {100 * gained:.1f} % "
        f"in length, and so to read {100 * gained / (1.0 + gained):.1f} % short on every leg. Lay "
        "it along a steel rule or a proved printed scale; if it is long, replace it."
    )


def _tick(found: Weighed, sheet: Sheet) -> str:
    by = float(found.family.mean[found.case, found.leg] - sheet.base_mm[found.leg])
    unit = _SHOWN[sheet.readings[found.leg].unit]
    count = abs(by) / float(sheet.unit_mm[found.leg])
    return (
        f"Was a tick miscounted? {_predicted(found, sheet)} is {count:.0f} {unit} "
        f"{'more' if by > 0 else 'less'} than the leg. Count the ticks again from zero."
    )


def _lays(found: Weighed, sheet: Sheet) -> str:
    laid = max(times_laid(sheet.longest_mm), 2)
    return (
        "Was the end of the plotter taken for its zero every time it was laid, on the longest leg "
        f"{laid} times? "
        f"About {found.value:.0f} mm were then lost every time. Mark the line where the scale "
        "ends, and lay the zero mark there."
    )


def _copy(found: Weighed, sheet: Sheet) -> str:
    return (
        "Is the chart a copy or a print that was fitted to the page? It seems to be "
        f"{100 * found.value:.0f} % of its size. Measure its scale bar with a steel rule, and use "
        "the chart itself or a print at 100 %."
    )


def _wrong_end(found: Weighed, sheet: Sheet) -> str:
    if found.label == "end" or not found.label:
        return (
            "Was the scale read from its other end? Put the zero mark on the departure and read "
            "at the destination."
        )
    other = sheet.legs[int(found.label)].name or f"leg {int(found.label) + 1}"
    return (
        f"Is this the reading of another leg? {_predicted(found, sheet)} is what {other} shows. "
        "Look which line was laid, and read this one again."
    )


def _cumulative(found: Weighed, sheet: Sheet) -> str:
    return (
        "Was the distance from the start of the route written down for the leg? "
        f"{_predicted(found, sheet)} is the sum so far. Read this leg by itself."
    )


def _swapped(found: Weighed, sheet: Sheet) -> str:
    meant_mm = float(
        sheet.base_mm[found.leg]
        + sheet.read_mm[found.leg]
        - found.family.mean[found.case, found.leg]
    )
    return (
        f"Were two digits swapped when {_typed(found, sheet)} was written down? With two of them "
        f"exchanged it is {_figure(meant_mm, found, sheet)}, which this leg may show. Look at the "
        "plotter again before writing."
    )


def _pair(found: Weighed, sheet: Sheet) -> str:
    one, other = found.label.split("+")
    shows, leg = _of_the_leg(found, sheet)
    cure = _FIRST[one].format(
        edge=_own_edge(found, sheet), scale=f"1:{sheet.desk.chart.denominator:,}"
    )
    return (
        f"Two slips at once: {_WHAT[one]}, and {_WHAT[other]}? {shows} is what both make of {leg}; "
        f"neither alone explains it. First {cure}; then measure again and look for the other."
    )


def _none(found: Weighed, sheet: Sheet) -> str:
    words = (
        "No known slip explains it. Measure again from the beginning: this leg, the right edge, "
        "zero mark on the departure."
    )
    hint = _hint(found, sheet)
    return f"{words} {hint}" if hint else words


def _hint(found: Weighed, sheet: Sheet) -> str:
    """What may have been typed wrong: the decimal point, or the unit."""
    reading = sheet.readings[found.leg]
    ratio = float(sheet.read_mm[found.leg] / sheet.base_mm[found.leg])
    for times, words in ((10.0, "ten times"), (0.1, "a tenth of")):
        if abs(math.log(ratio / times)) < _TEN_TIMES_WITHIN:
            return f"It is {words} what the leg shows: is the point in the right place?"
    if reading.is_ruler:
        return ""
    for unit, mm in (("mm", 1.0), ("in", 25.4)):
        if abs(math.log(reading.value * mm / float(sheet.base_mm[found.leg]))) < _UNITS_WITHIN:
            return (
                f"A plain ruler shows {reading.text} {unit} here: if that is what was read, give "
                f"{unit} as its unit."
            )
    return ""


_TEXTS: Mapping[str, Callable[[Weighed, Sheet], str]] = {
    "read_right": _right,
    "nautical_statute": _statute,
    "kilometres": _kilometres,
    "parallel_minutes": _parallel,
    "other_scale": _scale,
    "physical_end": _end,
    "shrunk": _shrunk,
    "stretched": _stretched,
    "tick": _tick,
    "lays": _lays,
    "copy_scaled": _copy,
    "wrong_end": _wrong_end,
    "cumulative": _cumulative,
    "swapped_digits": _swapped,
    "pair": _pair,
    "none": _none,
}
