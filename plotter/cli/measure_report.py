"""A judged set of readings printed for people: legs, questions, what to measure next."""

from __future__ import annotations

from plotter import wording
from plotter.chart.asking import Measured
from plotter.chart.explanation_names import name_of
from plotter.chart.fitting import Fitted
from plotter.chart.grading import FITS, NOTHING_FITS
from plotter.chart.measurement import Answer, Explanation
from plotter.chart.own_plotter_words import OWN_PLOTTER
from plotter.chart.priors import NONE, READ_RIGHT
from plotter.chart.readings import MeasuredLeg
from plotter.cli.printing import paragraph, say, shown, table

_SHOWN = {"nm": "NM", "sm": "SM", "km": "km", "mm": "mm", "in": "in"}


def print_measured(measured: Measured, *, odds: bool) -> None:
    """Print the whole of it on standard output."""
    judgement = measured.judgement
    many = len(judgement.legs) > 1
    blocks = [
        _heading(measured),
        _legs(measured),
        _answer("Distance", judgement.distance, many=many, odds=odds),
        _answer("Course", judgement.course, many=many, odds=odds),
        _fitted(judgement.fitted) if many else "",
        _cautions(measured),
        _foot(measured),
    ]
    say("\n\n".join(block for block in blocks if block))


def _heading(measured: Measured) -> str:
    desk = measured.desk
    own = "; your own plotter as tested" if desk.own else ""
    return (
        f"{desk.chart.title}, 1:{desk.chart.denominator:,}; a reading is good to "
        f"{desk.error.distance_mm:g} mm on the chart and {desk.error.course_deg:g}°{own}"
    )


def _legs(measured: Measured) -> str:
    headers = ["From", "To", "TC", "VAR", "NM", "Read", "mm off", "Course"]
    judgement = measured.judgement
    rows = [_row(leg, off) for leg, off in zip(judgement.legs, judgement.residual_mm, strict=True)]
    return table(headers, rows, "llrrrrrr")


def _row(leg: MeasuredLeg, residual_mm: float | None) -> list[str]:
    reading, course = leg.reading, leg.course
    return [
        shown(leg.start),
        shown(leg.end),
        wording.course(leg.true_course_deg, "T"),
        wording.variation(leg.variation_deg_east),
        f"{leg.distance_nm:.1f}",
        f"{reading.text} {_SHOWN[reading.unit]}" if reading else "",
        "" if residual_mm is None else f"{residual_mm:+.1f}",
        wording.course(course.degrees, course.reference) if course else "",
    ]


def _answer(title: str, answer: Answer | None, *, many: bool, odds: bool) -> str:
    if answer is None:
        return ""
    lines = [f"{title}: {_agreement(answer, many=many)}"]
    lines += [_explanation(each, odds=odds) for each in _worth_printing(answer, odds=odds)]
    if answer.inseparable:
        pairs = "; ".join(f"{name_of(a)} and {name_of(b)}" for a, b in answer.inseparable[:3])
        more = len(answer.inseparable) - 3
        rest = f"; and {more} more such pair{'s' if more > 1 else ''}" if more > 0 else ""
        lines.append(paragraph(f"These readings do not tell apart: {pairs}{rest}."))
    if answer.next_measurement:
        lines.append(paragraph(f"Next: {answer.next_measurement}"))
    return "\n".join(lines)


def _agreement(answer: Answer, *, many: bool) -> str:
    """Whether what was read agrees with its legs, said before what explains it."""
    first = answer.explanations[0]
    if first.code == NONE:
        return f"does not agree; {NOTHING_FITS}"
    if first.code == READ_RIGHT:
        return "agrees" if first.grade == FITS else "could agree, and could be a slip"
    return (
        f"does not agree{' everywhere' * many}; {'likely' if first.grade == FITS else 'could be'}"
    )


def _worth_printing(answer: Answer, *, odds: bool) -> list[Explanation]:
    """Where a reading is right, that is all that needs saying; otherwise every question is."""
    first = answer.explanations[0]
    if first.code in (READ_RIGHT, OWN_PLOTTER) and first.grade == FITS and not odds:
        return [first]
    return [each for each in answer.explanations if each is first or each.code != NONE]


def _explanation(each: Explanation, *, odds: bool) -> str:
    grade = "measure again" if each.grade == NOTHING_FITS else each.grade
    chance = f"{_percent(each.probability):>6} " if odds else ""
    first = f"  {chance}{grade:<13}  "
    return paragraph(shown(each.text), " " * len(first), first)


def _percent(probability: float) -> str:
    whole = round(100 * probability)
    return f"{min(max(whole, 1), 99)} %"


def _fitted(fitted: Fitted) -> str:
    if fitted.offset_nm is None or fitted.factor is None:
        return ""
    return paragraph(
        f"The straight line through these readings: {fitted.factor:.3f} × the leg "
        f"{fitted.offset_nm:+.1f} NM. Slips are in it too."
    )


def _cautions(measured: Measured) -> str:
    return "\n".join(
        paragraph(shown(each.text), " " * 7, f"{each.rank:<7}") for each in measured.cautions
    )


def _foot(measured: Measured) -> str:
    data = measured.data
    dates = (
        f"Airports of {data.airports}, navaids of {data.navaids}; "
        f"{data.magnetic_model}, valid to {data.magnetic_model_valid_to}."
    )
    not_to_fly = (
        "A question to check at the chart table, never a figure to fly: what fits best can still "
        "be wrong."
    )
    return "\n".join(paragraph(text) for text in (not_to_fly, *wording.STANDING, dates))
