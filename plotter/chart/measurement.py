"""Which mistake explains these readings? The one question of this folder, asked here.

Plain values in, a judgement out: no file, no store, no clock. The texts ask a question and give a
thing to do; none of them is a corrected figure to fly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from plotter.chart.course_families import course_families, protractor_of
from plotter.chart.course_words import course_text, next_course
from plotter.chart.distance_families import distance_families
from plotter.chart.distance_sheet import Sheet, sheet_of
from plotter.chart.distance_words import distance_text
from plotter.chart.families import weigh
from plotter.chart.fitting import Fitted, fitted
from plotter.chart.grading import Grade, graded, inseparable, verdict
from plotter.chart.next_measurement import next_distance
from plotter.chart.own_plotter_words import OWN_PLOTTER, is_own_fault
from plotter.chart.priors import READ_RIGHT
from plotter.chart.reading_errors import Desk
from plotter.chart.readings import MeasuredLeg
from plotter.errors import InputError

if TYPE_CHECKING:
    from plotter.chart.course_families import Protractor

MOST_LEGS = 200


@dataclass(frozen=True, slots=True)
class Explanation:
    """One explanation of a set of readings; ``text`` is a question and a thing to do."""

    code: str
    probability: float
    grade: Grade
    text: str


@dataclass(frozen=True, slots=True)
class Answer:
    """The explanations worth naming, best first, and which of them cannot be told apart.

    ``verdict`` is the grade of the best. ``next_measurement`` says what to measure to tell the
    rest apart; ``None`` where there is nothing to tell apart.
    """

    verdict: Grade
    explanations: tuple[Explanation, ...]
    inseparable: tuple[tuple[str, str], ...]
    next_measurement: str | None

    @property
    def best(self) -> str:
        """The code of the first explanation."""
        return self.explanations[0].code


@dataclass(frozen=True, slots=True)
class Judgement:
    """What the readings of a set of legs come to; ``None`` where none of that kind was given.

    ``residual_mm`` has for every leg how much longer the reading is than the leg [mm on the chart].
    """

    legs: tuple[MeasuredLeg, ...]
    residual_mm: tuple[float | None, ...]
    distance: Answer | None
    course: Answer | None
    fitted: Fitted


def judge(legs: Sequence[MeasuredLeg], desk: Desk | None = None) -> Judgement:
    """Weigh every explanation of the readings of legs that were measured with one plotter.

    Raises InputError, code ``short-leg``, for a leg shorter than the reading error, code
    ``reading`` for no leg or more than 200.

    >>> from plotter.chart.readings import CourseReading, Reading
    >>> leg = MeasuredLeg(40.0, 247.0, -8.0, Reading("46.0"), CourseReading.typed("239M"))
    >>> found = judge([leg])
    >>> found.distance.best, found.course.best
    ('nautical_statute', 'variation_sign')
    >>> found.distance.explanations[0].text
    'Was the statute edge on the line? 46.0 is what the statute edge shows for 40.0 NM. Lay it \
again on the NM edge.'
    """
    made_with = desk or Desk()
    _check(legs, made_with)
    with_distance = [leg for leg in legs if leg.reading is not None]
    with_course = [leg for leg in legs if leg.course is not None]
    sheet = sheet_of(with_distance, made_with) if with_distance else None
    distance = _distance(sheet) if sheet else None
    return Judgement(
        legs=tuple(legs),
        residual_mm=_residuals(legs, sheet),
        distance=distance,
        course=_course(protractor_of(with_course, made_with)) if with_course else None,
        fitted=fitted(sheet, distance.best if distance else ""),
    )


def _check(legs: Sequence[MeasuredLeg], desk: Desk) -> None:
    if not 1 <= len(legs) <= MOST_LEGS:
        raise InputError(
            f"{len(legs)} legs were given; give 1 to {MOST_LEGS} measured with one plotter",
            code="reading",
        )
    for leg in legs:
        length_mm = leg.chart_nm * desk.chart.mm_per_nm
        if length_mm < desk.error.distance_mm:
            named = f"the leg {leg.name}" if leg.name else "the leg"
            raise InputError(
                f"{named} is {length_mm:.2g} mm on the {desk.chart.title.lower()}, shorter than "
                f"a plotter is read to ({desk.error.distance_mm:g} mm), so a reading of it says "
                "nothing; measure a longer leg",
                code="short-leg",
            )


def _residuals(legs: Sequence[MeasuredLeg], sheet: Sheet | None) -> tuple[float | None, ...]:
    if sheet is None:
        return (None,) * len(legs)
    known = iter(sheet.read_mm - sheet.true_mm)
    return tuple(None if leg.reading is None else float(next(known)) for leg in legs)


def _distance(sheet: Sheet) -> Answer:
    answers = graded(weigh(distance_families(sheet), sheet.right))
    pairs = inseparable(answers)
    right = OWN_PLOTTER if is_own_fault(sheet) else READ_RIGHT
    return Answer(
        verdict(answers),
        tuple(
            Explanation(
                right if each.weighed.code == READ_RIGHT else each.weighed.code,
                each.weighed.probability,
                each.grade,
                distance_text(each.weighed, sheet),
            )
            for each in answers
        ),
        tuple((right if one == READ_RIGHT else one, other) for one, other in pairs),
        next_distance(answers, pairs, sheet),
    )


def _course(sheet: Protractor) -> Answer:
    answers = graded(weigh(course_families(sheet), sheet.right))
    pairs = inseparable(answers)
    return Answer(
        verdict(answers),
        tuple(
            Explanation(
                each.weighed.code,
                each.weighed.probability,
                each.grade,
                course_text(each.weighed, sheet),
            )
            for each in answers
        ),
        pairs,
        next_course(answers, pairs),
    )
