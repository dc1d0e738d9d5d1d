"""Which mistake explains these readings? The one question of this folder, asked here.

Plain values in, a judgement out: no file, no store, no clock. The texts ask a question and give a
thing to do; none of them is a corrected figure to fly.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from plotter.chart.agreement import Compared, agreement_words
from plotter.chart.course_families import course_families, protractor_of
from plotter.chart.course_words import also_courses, course_leg, course_question, next_course
from plotter.chart.distance_families import distance_families
from plotter.chart.distance_sheet import USUAL_PLOTTER_MM, Fitted, Sheet, fitted, sheet_of
from plotter.chart.distance_words import also_distances, distance_leg, distance_question
from plotter.chart.own_plotter_verdict import OWN_PLOTTER, is_own_fault
from plotter.chart.priors import PLOTTER_LENGTHS_MM, READ_RIGHT
from plotter.chart.readings import Desk, MeasuredLeg
from plotter.chart.weighing import (
    FITS,
    NOTHING_FITS,
    Grade,
    Graded,
    Weighed,
    graded,
    inseparable,
    verdict,
    weigh,
)
from plotter.errors import InputError
from plotter.messages import Message, message, text

if TYPE_CHECKING:
    from plotter.chart.course_families import Protractor

# Which measurement would tell two explanations of a distance apart.
#
# Two faults of a plotter are told apart by a leg for which they predict different readings: a short
# one and a long one separate an offset from a factor. A slip of the hand is told from a fault of
# the plotter by laying the same leg again.

LENGTHS_NM = (10.0, 20.0, 30.0, 40.0, 60.0, 80.0, 120.0)
"""Legs a pilot can find on a chart [NM]."""
TOLD_APART = 3.0
"""Reading errors between two predictions that tell them apart."""
ANOTHER_LENGTH = 1.2
"""A leg shorter or longer by less is as good as the same again."""


def next_distance(
    answers: Sequence[Graded], pairs: Sequence[tuple[str, str]], sheet: Sheet
) -> Message | None:
    """What to measure next; ``None`` where one explanation stands alone."""
    best = answers[0]
    if best.grade == NOTHING_FITS:
        return message("next.again")
    if best.grade == FITS and (best.weighed.code == READ_RIGHT or not pairs):
        return None
    rivals = [each.weighed for each in answers if each.grade != NOTHING_FITS]
    if len(rivals) < 2:
        return message("next.again")
    one, other = _least_alike(rivals)
    codes = {one.code, other.code}
    if "lays" in codes:
        longest_nm = min(PLOTTER_LENGTHS_MM) / sheet.desk.chart.mm_per_nm
        return message("next.one-lay", longest_nm=longest_nm)
    if "parallel_minutes" in codes:
        return message("next.latitude")
    return _by_length(one, other, sheet)


def _least_alike(rivals: Sequence[Weighed]) -> tuple[Weighed, Weighed]:
    """The best explanation and its nearest rival that is not simply right."""
    rest = [each for each in rivals[1:] if each.code != READ_RIGHT] or rivals[1:]
    return rivals[0], rest[0]


def _by_length(one: Weighed, other: Weighed, sheet: Sheet) -> Message:
    """A leg of the length at which two faults differ most clearly, if there is one."""
    mm_per_nm = sheet.desk.chart.mm_per_nm
    if READ_RIGHT not in (one.code, other.code) and (
        one.on_another_leg(1.0) is None or other.on_another_leg(1.0) is None
    ):
        return message("next.again")
    within = [each for each in LENGTHS_NM if each * mm_per_nm <= USUAL_PLOTTER_MM]
    apart = {each: _apart(one, other, each * mm_per_nm, sheet) for each in within}
    enough = [each for each in _not_measured_yet(within, sheet) if apart[each] >= TOLD_APART]
    if not enough:
        return message("next.steel-rule")
    longest_nm = float(sheet.true_mm.max()) / mm_per_nm
    longer = [each for each in enough if each > longest_nm]
    shorter = [each for each in enough if each < longest_nm]
    is_longer = max(enough, key=lambda each: apart[each]) > longest_nm
    length_nm = min(longer) if is_longer else max(shorter)
    return message("next.longer" if is_longer else "next.shorter", length_nm=length_nm)


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


MOST_LEGS = 200


@dataclass(frozen=True, slots=True)
class Explanation:
    """One explanation of a set of readings, and the question it asks.

    ``leg`` is the leg the question is about, empty where it is about all; ``also`` names the
    other legs that the same explains.
    """

    code: str
    probability: float
    grade: Grade
    question: Message
    leg: str = ""
    also: tuple[str, ...] = ()

    @property
    def said(self) -> Message:
        """The question with its legs."""
        if not self.leg:
            return self.question
        if not self.also:
            return message("explained", leg=self.leg, question=self.question)
        return message("explained.also", leg=self.leg, question=self.question, also=self.also)

    @property
    def text(self) -> str:
        """The question as Python says it."""
        return text(self.said)


@dataclass(frozen=True, slots=True)
class Answer:
    """The explanations worth naming, best first, and which of them cannot be told apart.

    ``verdict`` is the grade of the best. ``next_step`` is what to measure to
    separate the rest; ``None`` where there is nothing to separate. Of ``readings`` so many as
    ``outside`` says do not lie within the reading error.
    """

    verdict: Grade
    explanations: tuple[Explanation, ...]
    inseparable: tuple[tuple[str, str], ...]
    next_step: Message | None
    readings: int
    outside: int

    @property
    def next_measurement(self) -> str | None:
        """The next step as Python says it."""
        return None if self.next_step is None else text(self.next_step)

    @property
    def agrees(self) -> bool:
        """Whether all that was read agrees with its legs, and nothing else is at all likely."""
        return self.best == READ_RIGHT and self.verdict == FITS

    @property
    def heading(self) -> str:
        """Whether what was read agrees with its legs, in a few words."""
        if self.best == READ_RIGHT:
            return "agrees" if self.agrees else "could agree, and could be a slip"
        if self.best == OWN_PLOTTER:
            return "agrees with your plotter, which does not agree with the chart"
        words = agreement_words(self.readings, self.outside)
        likely = {FITS: "likely", NOTHING_FITS: NOTHING_FITS}.get(self.verdict, "could be")
        return f"{words}; {likely}"

    @property
    def best(self) -> str:
        """The code of the first explanation."""
        return self.explanations[0].code


@dataclass(frozen=True, slots=True)
class Judgement:
    """What the readings of a set of legs come to; ``None`` where none of that kind was given.

    ``residual_mm`` has for every leg how much longer the reading is than the leg [mm on the chart].
    ``distances`` [mm on the chart] and ``courses`` [°] compare every reading with what is expected
    of it, ``None`` for a leg without one; of a plotter that was tested its own error is expected.
    """

    legs: tuple[MeasuredLeg, ...]
    residual_mm: tuple[float | None, ...]
    distance: Answer | None
    course: Answer | None
    fitted: Fitted
    distances: tuple[Compared | None, ...]
    courses: tuple[Compared | None, ...]


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
    'Did you read the statute edge? It shows 46.0 for 40.0 NM. Measure again with the nautical \
edge.'
    """
    made_with = desk or Desk()
    _check(legs, made_with)
    with_distance = [leg for leg in legs if leg.reading is not None]
    with_course = [leg for leg in legs if leg.course is not None]
    sheet = sheet_of(with_distance, made_with) if with_distance else None
    protractor = protractor_of(with_course, made_with) if with_course else None
    distance = _distance(sheet) if sheet else None
    return Judgement(
        legs=tuple(legs),
        residual_mm=_residuals(legs, sheet),
        distance=distance,
        course=_course(protractor) if protractor else None,
        fitted=fitted(sheet, distance.best if distance else ""),
        distances=_compared(
            [leg.reading is not None for leg in legs],
            zip(sheet.read_mm - sheet.base_mm, sheet.allowed_mm, strict=True) if sheet else (),
        ),
        courses=_compared(
            [leg.course is not None for leg in legs],
            zip(protractor.off, protractor.allowed, strict=True) if protractor else (),
        ),
    )


def _compared(
    given: Sequence[bool], found: Iterable[tuple[float, float]]
) -> tuple[Compared | None, ...]:
    each = iter(found)
    return tuple(Compared(*map(float, next(each))) if is_given else None for is_given in given)


def _check(legs: Sequence[MeasuredLeg], desk: Desk) -> None:
    if not 1 <= len(legs) <= MOST_LEGS:
        raise InputError("reading.legs", count=len(legs), most=MOST_LEGS)
    for leg in legs:
        length_mm = leg.chart_nm * desk.chart.mm_per_nm
        if length_mm < desk.error.distance_mm:
            raise InputError(
                "short-leg.read" if leg.name else "short-leg.unnamed",
                leg=leg.name,
                length_mm=length_mm,
                chart=desk.chart.title.lower(),
                error_mm=desk.error.distance_mm,
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
                distance_question(each.weighed, sheet),
                distance_leg(each.weighed, sheet),
                tuple(also_distances(each.weighed, sheet)),
            )
            for each in answers
        ),
        tuple((right if one == READ_RIGHT else one, other) for one, other in pairs),
        next_distance(answers, pairs, sheet),
        readings=len(sheet.legs),
        outside=int((~sheet.agrees).sum()),
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
                course_question(each.weighed, sheet),
                course_leg(each.weighed, sheet),
                tuple(also_courses(each.weighed, sheet)),
            )
            for each in answers
        ),
        pairs,
        next_course(answers, pairs),
        readings=len(sheet.legs),
        outside=int((~sheet.agrees).sum()),
    )
