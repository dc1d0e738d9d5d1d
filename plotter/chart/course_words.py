"""The question that each explanation of a course asks, with its values."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from plotter.chart.course_families import Protractor, border_turns
from plotter.chart.priors import READ_RIGHT
from plotter.chart.weighing import FITS, NOTHING_FITS, Graded, Weighed, also_explained
from plotter.earth.angles import half_turn
from plotter.messages import Message, message
from plotter.wording import course


def course_question(found: Weighed, sheet: Protractor) -> Message:
    """Return what to ask about an explanation."""
    return _QUESTIONS[found.code](found, sheet)


def course_leg(found: Weighed, sheet: Protractor) -> str:
    """Return the leg the question is about; empty where it is about all legs."""
    of_all = found.code in ("read_right", "none") or len(sheet.legs) == 1
    return "" if of_all else sheet.legs[found.leg].name


def also_courses(found: Weighed, sheet: Protractor) -> list[str]:
    """Return the other legs that the same explains, with their courses."""
    legs = zip(sheet.legs, sheet.courses, strict=True)
    names = [f"{leg.name} ({course(read.degrees, read.reference)})" for leg, read in legs]
    return [names[k] for k in also_explained(found, sheet.right)]


def next_course(answers: Sequence[Graded], pairs: Sequence[tuple[str, str]]) -> Message | None:
    """Return what to measure to separate the explanations; ``None`` where one stands alone."""
    best = answers[0]
    rivals = [each.weighed.code for each in answers if each.grade != NOTHING_FITS]
    if best.grade == NOTHING_FITS:
        return message("next.redraw")
    if best.grade == FITS and (best.weighed.code == READ_RIGHT or not pairs):
        return None
    if {"true_magnetic", "variation_sign", "variation_twice"} & set(rivals[:2]):
        return message("next.true-course")
    if {"border", "meridian", "end_meridian"} & set(rivals[:2]):
        return message("next.printed-meridian")
    if "heading" in rivals[:2]:
        return message("next.without-wind")
    return message("next.other-end")


def _read(found: Weighed, sheet: Protractor) -> str:
    reading = sheet.courses[found.leg]
    return course(reading.degrees, reading.reference)


def _predicted(found: Weighed, sheet: Protractor) -> str:
    row = found.case if found.family.mean.shape[0] > 1 else 0
    angle = float(found.family.mean[row, found.leg])
    return course(angle, sheet.courses[found.leg].reference)


def _right(found: Weighed, sheet: Protractor) -> Message:
    if len(sheet.legs) == 1:
        return message("read_right.course", read=_read(found, sheet))
    return message("read_right.courses")


def _reciprocal(found: Weighed, sheet: Protractor) -> Message:
    return message("reciprocal", shows=_predicted(found, sheet))


def _wrong_way(found: Weighed, sheet: Protractor) -> Message:
    return message("wrong_way")


def _ten(found: Weighed, sheet: Protractor) -> Message:
    return message("ten")


def _hundred(found: Weighed, sheet: Protractor) -> Message:
    return message("hundred", read=_read(found, sheet))


def _swapped(found: Weighed, sheet: Protractor) -> Message:
    return message("swapped_digits.course", typed=sheet.courses[found.leg].text)


def _other_scale(found: Weighed, sheet: Protractor) -> Message:
    return message("other_scale_90")


def _border(found: Weighed, sheet: Protractor) -> Message:
    turns = border_turns(sheet)
    if turns is None:
        return message("border")
    shows = _predicted(found, sheet)
    if sheet.chart_middle_deg is not None:
        middle = longitude_words(sheet.chart_middle_deg)
        return message("border.middle", middle=middle, shows=shows)
    most_deg = float(np.abs(turns[:, found.leg]).max())
    middle = longitude_words(_middle(found, sheet))
    return message("border.where", most_deg=most_deg, shows=shows, middle=middle)


def _middle(found: Weighed, sheet: Protractor) -> float:
    """The longitude [°] of a chart's middle from whose border a leg would read as predicted."""
    leg, row = sheet.legs[found.leg], found.case if found.family.mean.shape[0] > 1 else 0
    turn = half_turn(float(found.family.mean[row, found.leg] - sheet.expected[found.leg]))
    return half_turn((leg.longitude_deg or 0.0) + turn / (leg.cone_constant or 1.0))


def longitude_words(degrees_east: float) -> str:
    """A longitude in whole and tenth degrees.

    >>> longitude_words(-93.0), longitude_words(8.25)
    ('93°W', '8.2°E')
    """
    return f"{round(abs(degrees_east), 1):g}°{'W' if degrees_east < 0 else 'E'}"


def _meridian(found: Weighed, sheet: Protractor) -> Message:
    east = sheet.legs[found.leg].variation_deg_east
    return message("meridian", variation_deg_east=east, shows=_predicted(found, sheet))


def _true_magnetic(found: Weighed, sheet: Protractor) -> Message:
    is_magnetic = sheet.courses[found.leg].reference == "M"
    return message(
        "true_magnetic.true" if is_magnetic else "true_magnetic.magnetic",
        variation_deg_east=sheet.legs[found.leg].variation_deg_east,
        shows=_predicted(found, sheet),
    )


def _sign(found: Weighed, sheet: Protractor) -> Message:
    east = sheet.legs[found.leg].variation_deg_east
    return message("variation_sign", variation_deg_east=east)


def _twice(found: Weighed, sheet: Protractor) -> Message:
    east = sheet.legs[found.leg].variation_deg_east
    return message("variation_twice", variation_deg_east=east)


def _heading(found: Weighed, sheet: Protractor) -> Message:
    return message("heading")


def _end_meridian(found: Weighed, sheet: Protractor) -> Message:
    leg = sheet.legs[found.leg]
    if found.label == "start":
        return message("end_meridian", place=leg.start or message("end_meridian.start"))
    return message("end_meridian", place=leg.end or message("end_meridian.end"))


def _none(found: Weighed, sheet: Protractor) -> Message:
    return message("none.course", read=_read(found, sheet))


_QUESTIONS: Mapping[str, Callable[[Weighed, Protractor], Message]] = {
    "read_right": _right,
    "reciprocal": _reciprocal,
    "wrong_way": _wrong_way,
    "ten": _ten,
    "hundred": _hundred,
    "swapped_digits": _swapped,
    "other_scale_90": _other_scale,
    "border": _border,
    "meridian": _meridian,
    "true_magnetic": _true_magnetic,
    "variation_sign": _sign,
    "variation_twice": _twice,
    "heading": _heading,
    "end_meridian": _end_meridian,
    "none": _none,
}
