"""What is said of an explanation of a course: a question, what it rests on, a thing to do."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from plotter.chart.course_families import Protractor, border_turns
from plotter.chart.explanation_names import same_of
from plotter.chart.priors import READ_RIGHT
from plotter.chart.weighing import FITS, NOTHING_FITS, Graded, Weighed, also_explained
from plotter.earth.angles import half_turn
from plotter.wording import course, variation

_AGAIN = "Turn the plotter to the meridian nearest the middle of the leg, and read it again."


def course_text(found: Weighed, sheet: Protractor) -> str:
    """The text of an explanation, about the leg on which it shows best."""
    words = _TEXTS[found.code](found, sheet)
    name = sheet.legs[found.leg].name
    if found.code in ("read_right", "none") or len(sheet.legs) == 1 or not name:
        return words
    return f"{name}: {words}{same_of(_others(found, sheet))}"


def _others(found: Weighed, sheet: Protractor) -> list[str]:
    legs = zip(sheet.legs, sheet.courses, strict=True)
    names = [f"{leg.name} ({course(read.degrees, read.reference)})" for leg, read in legs]
    return [names[k] for k in also_explained(found, sheet.right)]


def next_course(answers: Sequence[Graded], pairs: Sequence[tuple[str, str]]) -> str | None:
    """What to measure to tell the explanations apart; ``None`` where one stands alone."""
    best = answers[0]
    rivals = [each.weighed.code for each in answers if each.grade != NOTHING_FITS]
    if best.grade == NOTHING_FITS:
        return f"Draw the line anew from point to point. {_AGAIN}"
    if best.grade == FITS and (best.weighed.code == READ_RIGHT or not pairs):
        return None
    if {"true_magnetic", "variation_sign", "variation_twice"} & set(rivals[:2]):
        return (
            "Read the true course once more, from a meridian and before any variation, and say so "
            "with T; then look up the variation printed beside the middle of the leg."
        )
    if {"border", "meridian", "end_meridian"} & set(rivals[:2]):
        return (
            "Lay the same leg on the printed meridian nearest its middle, not on a border, a rose "
            "or another meridian; a course that changes with it was not read there."
        )
    if "heading" in rivals[:2]:
        return "Read the course with the wind left out: the line on the chart knows no wind."
    return (
        "Read the same leg again from its other end: the two courses must be 180° apart. A slip "
        "seldom comes twice the same way."
    )


def _read(found: Weighed, sheet: Protractor) -> str:
    reading = sheet.courses[found.leg]
    return course(reading.degrees, reading.reference)


def _predicted(found: Weighed, sheet: Protractor) -> str:
    row = found.case if found.family.mean.shape[0] > 1 else 0
    angle = float(found.family.mean[row, found.leg])
    return course(angle, sheet.courses[found.leg].reference)


def _variation(found: Weighed, sheet: Protractor) -> str:
    return variation(sheet.legs[found.leg].variation_deg_east)


def _right(found: Weighed, sheet: Protractor) -> str:
    if len(sheet.legs) == 1:
        return (
            f"{_read(found, sheet)} agrees with the leg within what a plotter is read to. "
            "Nothing to do."
        )
    return "The courses agree with their legs within what a plotter is read to. Nothing to do."


def _reciprocal(found: Weighed, sheet: Protractor) -> str:
    return (
        f"Is it the course of the way back? {_predicted(found, sheet)} leads from the destination "
        "to the departure. Point along the line the way it is flown, and read the scale that then "
        "makes sense: is that north or south, east or west?"
    )


def _wrong_way(found: Weighed, sheet: Protractor) -> str:
    return (
        "Was it counted the wrong way from the ten mark? Look which way the figures grow on that "
        "scale, and count again from the lower ten."
    )


def _ten(found: Weighed, sheet: Protractor) -> str:
    return (
        "Is it ten degrees off? Read the figure at the mark on either side of the line, and count "
        "the degrees between them."
    )


def _hundred(found: Weighed, sheet: Protractor) -> str:
    return (
        f"Has the hundred been lost or misread in {_read(found, sheet)}? Ask where the line "
        "leads, north or south, east or west, and write the course in three digits."
    )


def _swapped(found: Weighed, sheet: Protractor) -> str:
    return (
        f"Were two digits swapped when {sheet.courses[found.leg].text} was written down? Look at "
        "the plotter again before writing."
    )


def _other_scale(found: Weighed, sheet: Protractor) -> str:
    return (
        "Was the other scale of the protractor read, the one for lines near north and south? It is "
        "90° away. Look which of the two the meridian crosses, and read that one."
    )


def _border(found: Weighed, sheet: Protractor) -> str:
    asked = "Was the border of the sheet taken for the meridian?"
    turns = border_turns(sheet)
    if turns is None:
        return f"{asked} It runs with the meridian in the middle of the sheet only. {_AGAIN}"
    if sheet.chart_middle_deg is not None:
        middle = longitude_words(sheet.chart_middle_deg)
        return (
            f"{asked} On a chart whose middle is {middle} that makes {_predicted(found, sheet)} of "
            f"this leg. {_AGAIN}"
        )
    most = float(np.abs(turns[:, found.leg]).max())
    return (
        f"{asked} It runs with the meridian in the middle of the sheet only: according to where on "
        f"the sheet it lies, this leg then reads up to {most:.1f}° off. {_predicted(found, sheet)} "
        f"fits a chart whose middle is near {longitude_words(_middle(found, sheet))}: is yours? "
        f"{_AGAIN}"
    )


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


def _meridian(found: Weighed, sheet: Protractor) -> str:
    return (
        "Was the rose of a navaid, which shows magnetic north, taken for the meridian? With the "
        f"variation of {_variation(found, sheet)} that makes some {_predicted(found, sheet)} of "
        f"this leg. {_AGAIN}"
    )


def _true_magnetic(found: Weighed, sheet: Protractor) -> str:
    is_magnetic = sheet.courses[found.leg].reference == "M"
    given, meant = ("magnetic", "true") if is_magnetic else ("true", "magnetic")
    return (
        f"Is it a {meant} course given as {given}? With the variation of "
        f"{_variation(found, sheet)} that makes {_predicted(found, sheet)} of this leg. Say which "
        "north it is from."
    )


def _sign(found: Weighed, sheet: Protractor) -> str:
    return (
        f"Was the variation of {_variation(found, sheet)} applied the wrong way? From true to "
        "magnetic, east is subtracted and west is added. Do the sum again."
    )


def _twice(found: Weighed, sheet: Protractor) -> str:
    return (
        f"Was the variation of {_variation(found, sheet)} applied twice? Start again from the true "
        "course and apply it once."
    )


def _heading(found: Weighed, sheet: Protractor) -> str:
    return (
        "Is it a heading, with a wind correction in it, rather than the course? The course is the "
        "line on the chart alone. Read it without the wind."
    )


def _end_meridian(found: Weighed, sheet: Protractor) -> str:
    leg = sheet.legs[found.leg]
    end = "start" if found.label == "start" else "end"
    name = (leg.start if end == "start" else leg.end) or f"the {end} of the leg"
    return (
        f"Was the plotter laid on the meridian at {name}? Meridians run together, and on a leg of "
        f"this length that shows. {_AGAIN}"
    )


def _none(found: Weighed, sheet: Protractor) -> str:
    return (
        f"No known slip explains {_read(found, sheet)}. Measure again from the beginning: this "
        "line, the meridian at its middle, and the north it is counted from."
    )


_TEXTS: Mapping[str, Callable[[Weighed, Protractor], str]] = {
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
