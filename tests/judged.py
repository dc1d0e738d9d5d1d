"""Small sets of readings for tests, in as few words as possible."""

from __future__ import annotations

from plotter.chart.measurement import Answer, Judgement, judge
from plotter.chart.readings import CourseReading, Desk, MeasuredLeg, Reading, Unit

DESK = Desk()


def leg(
    distance_nm: float,
    reading: str,
    unit: Unit = "nm",
    *,
    latitude_deg: float = 44.0,
    names: str = "",
) -> MeasuredLeg:
    """A leg with a distance; ``names`` as in ``A-B``."""
    start, _, end = names.partition("-")
    return MeasuredLeg(
        distance_nm,
        80.0,
        3.0,
        Reading(reading, unit),
        start=start,
        end=end,
        latitude_deg=latitude_deg,
    )


def heading_for(true_course_deg: float, variation_deg_east: float, course: str) -> MeasuredLeg:
    """A leg of 40 NM with a course."""
    return MeasuredLeg(
        40.0, true_course_deg, variation_deg_east, course=CourseReading.typed(course)
    )


def distance_of(*legs: MeasuredLeg, desk: Desk = DESK) -> Answer:
    """The answer for the distances of legs."""
    answer = judge(legs, desk).distance
    assert answer is not None
    return answer


def course_of(*legs: MeasuredLeg, desk: Desk = DESK) -> Answer:
    """The answer for the courses of legs."""
    answer = judge(legs, desk).course
    assert answer is not None
    return answer


def codes(answer: Answer) -> list[str]:
    """The codes of an answer, best first."""
    return [each.code for each in answer.explanations]


def judged(*legs: MeasuredLeg, desk: Desk = DESK) -> Judgement:
    """The judgement of legs."""
    return judge(legs, desk)
