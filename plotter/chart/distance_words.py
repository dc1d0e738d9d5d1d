"""The question that each explanation of a distance asks, with its values."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

import numpy as np

from plotter.chart.distance_sheet import Sheet, times_laid
from plotter.chart.own_plotter_verdict import is_own_fault, own_fault
from plotter.chart.weighing import Weighed, also_explained
from plotter.messages import Message, message

_EDGES = {
    "nm": message("edge-called.nm"),
    "sm": message("edge-called.sm"),
    "km": message("edge-called.km"),
    "mm": message("edge-called.mm"),
    "in": message("edge-called.in"),
}
_SHOWN = {"nm": "NM", "sm": "SM", "km": "km", "mm": "mm", "in": "in"}
_TIMES = {
    2.0: message("multiple.twice"),
    0.5: message("multiple.half"),
    4.0: message("multiple.four"),
    0.25: message("multiple.quarter"),
}
_OF_ALL_LEGS = frozenset(
    {"read_right", "none", "physical_end", "shrunk", "stretched", "lays", "copy_scaled", "pair"}
)
_TEN_TIMES_WITHIN = 0.05
_UNITS_WITHIN = 0.02
_WHAT = {
    "physical_end": message("slip.end"),
    "shrunk": message("slip.shrunk"),
    "other_scale": message("slip.scale"),
    "nautical_statute": message("slip.edge"),
}
_FIRST = {"physical_end": "cure.end", "other_scale": "cure.scale", "nautical_statute": "cure.edge"}
"""What to put right first of a pair: the larger mistake, and the one that a look settles."""
SMALL_SHRINK = 0.01
"""A share of its length that is worth finding: 0.7 NM over the 70 NM of an edge."""
SURELY_SEEN = 4.0
"""Standard errors of the factor from which nineteen of twenty such plotters are asked about."""
_SCALE_MM = 250.0
"""Of a plotter's scale, what even a short one has."""


def distance_question(found: Weighed, sheet: Sheet) -> Message:
    """Return what to ask about an explanation."""
    return _QUESTIONS[found.code](found, sheet)


def distance_leg(found: Weighed, sheet: Sheet) -> str:
    """Return the leg the question is about; empty where it is about all legs."""
    of_all = found.code in _OF_ALL_LEGS or len(sheet.legs) == 1
    return "" if of_all else sheet.legs[found.leg].name


def also_distances(found: Weighed, sheet: Sheet) -> list[str]:
    """Return the other legs that the same explains, with their readings."""
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


def _asked_edge(found: Weighed, sheet: Sheet) -> Message:
    return _EDGES[sheet.readings[found.leg].unit]


def _right(found: Weighed, sheet: Sheet) -> Message:
    if is_own_fault(sheet):
        return own_fault(sheet)
    count = len(sheet.legs)
    right = message("read_right.distance", typed=_typed(found, sheet))
    said = right if count == 1 else message("read_right.distances")
    if not _shrink_may_hide(sheet):
        return said
    return message(
        "read_right.unproved",
        agrees=said,
        count=count,
        percent=100 * SMALL_SHRINK,
        by_mm=SMALL_SHRINK * _SCALE_MM,
        scale_mm=_SCALE_MM,
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


def _of_the_leg(found: Weighed, sheet: Sheet) -> tuple[str, Message]:
    """Return what is predicted for a leg, and the leg.

    What the projection adds is left out where it is less than the reading error, so that the two
    figures belong together.
    """
    row = found.case if found.family.mean.shape[0] > 1 else 0
    mean, drawn = float(found.family.mean[row, found.leg]), _drawn(found, sheet)
    leg = sheet.legs[found.leg]
    if abs(drawn) < sheet.desk.error.distance_mm:
        mean -= drawn * mean / float(sheet.base_mm[found.leg])
        return _figure(mean, found, sheet), message("leg-length", leg_nm=leg.distance_nm)
    said = message("leg-length.drawn", leg_nm=leg.distance_nm, drawn_nm=leg.chart_nm)
    return _figure(mean, found, sheet), said


def _statute(found: Weighed, sheet: Sheet) -> Message:
    if found.label == "converted":
        shows, leg = _of_the_leg(found, sheet)
        return message("nautical_statute.converted", shows=shows, leg=leg)
    other = "sm" if sheet.readings[found.leg].unit == "nm" else "nm"
    return _other_edge("nautical_statute", other, found, sheet)


def _other_edge(key: str, other: str, found: Weighed, sheet: Sheet) -> Message:
    shows, leg = _of_the_leg(found, sheet)
    asked = _asked_edge(found, sheet)
    return message(key, other=_EDGES[other], shows=shows, leg=leg, asked=asked)


def _kilometres(found: Weighed, sheet: Sheet) -> Message:
    other = "km"
    if sheet.readings[found.leg].unit == "km":
        other = "nm" if found.label == "nm" else "sm"
    return _other_edge("kilometres", other, found, sheet)


def _parallel(found: Weighed, sheet: Sheet) -> Message:
    return message("parallel_minutes", shows=_predicted(found, sheet))


def _scale(found: Weighed, sheet: Sheet) -> Message:
    is_ruler = sheet.readings[found.leg].is_ruler
    return message(
        "other_scale.ruler" if is_ruler else "other_scale",
        shows=_predicted(found, sheet),
        times=_TIMES.get(found.value, message("multiple.other")),
        denominator=sheet.desk.chart.denominator,
    )


def _end(found: Weighed, sheet: Sheet) -> Message:
    key = "physical_end.long" if found.value > 0.0 else "physical_end"
    return message(key, by_mm=abs(found.value))


def _shrunk(found: Weighed, sheet: Sheet) -> Message:
    lost = found.value
    return message("shrunk", lost_percent=100 * lost, long_percent=100 * lost / (1.0 - lost))


def _stretched(found: Weighed, sheet: Sheet) -> Message:
    gained = found.value
    short = 100 * gained / (1.0 + gained)
    return message("stretched", gained_percent=100 * gained, short_percent=short)


def _tick(found: Weighed, sheet: Sheet) -> Message:
    by = float(found.family.mean[found.case, found.leg] - sheet.base_mm[found.leg])
    return message(
        "tick.more" if by > 0 else "tick.less",
        shows=_predicted(found, sheet),
        count=abs(by) / float(sheet.unit_mm[found.leg]),
        unit=_SHOWN[sheet.readings[found.leg].unit],
    )


def _lays(found: Weighed, sheet: Sheet) -> Message:
    return message("lays", times=max(times_laid(sheet.longest_mm), 2), lost_mm=found.value)


def _copy(found: Weighed, sheet: Sheet) -> Message:
    return message("copy_scaled", percent=100 * found.value)


def _wrong_end(found: Weighed, sheet: Sheet) -> Message:
    if found.label == "end" or not found.label:
        return message("wrong_end")
    number = int(found.label)
    other = sheet.legs[number].name or message("leg-numbered", number=number + 1)
    return message("wrong_end.leg", shows=_predicted(found, sheet), other=other)


def _cumulative(found: Weighed, sheet: Sheet) -> Message:
    return message("cumulative", shows=_predicted(found, sheet))


def _swapped(found: Weighed, sheet: Sheet) -> Message:
    meant_mm = float(
        sheet.base_mm[found.leg]
        + sheet.read_mm[found.leg]
        - found.family.mean[found.case, found.leg]
    )
    meant = _figure(meant_mm, found, sheet)
    return message("swapped_digits.distance", typed=_typed(found, sheet), meant=meant)


def _pair(found: Weighed, sheet: Sheet) -> Message:
    one, other = found.label.split("+")
    shows, leg = _of_the_leg(found, sheet)
    scale, edge = sheet.desk.chart.denominator, _asked_edge(found, sheet)
    cure = message(_FIRST[one], denominator=scale, edge=edge)
    return message(
        "pair.slips", one=_WHAT[one], other=_WHAT[other], shows=shows, leg=leg, cure=cure
    )


def _none(found: Weighed, sheet: Sheet) -> Message:
    hint = _hint(found, sheet)
    nothing = message("none.distance")
    return message("none.hint", nothing=nothing, hint=hint) if hint else nothing


def _hint(found: Weighed, sheet: Sheet) -> Message | None:
    """What may have been typed wrong: the decimal point, or the unit."""
    reading = sheet.readings[found.leg]
    ratio = float(sheet.read_mm[found.leg] / sheet.base_mm[found.leg])
    for times, key in ((10.0, "none.ten-times"), (0.1, "none.tenth")):
        if abs(math.log(ratio / times)) < _TEN_TIMES_WITHIN:
            return message(key)
    if reading.is_ruler:
        return None
    for unit, mm in (("mm", 1.0), ("in", 25.4)):
        if abs(math.log(reading.value * mm / float(sheet.base_mm[found.leg]))) < _UNITS_WITHIN:
            return message("none.unit", figure=reading.text, unit=unit)
    return None


_QUESTIONS: Mapping[str, Callable[[Weighed, Sheet], Message]] = {
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
