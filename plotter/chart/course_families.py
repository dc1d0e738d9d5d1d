"""What each mistake would have made of a course, as families to be weighed.

All in degrees, round the circle. The error of a course is that of the protractor, that of laying
it along a line whose ends are good to a reading error each, that of rounding, and for a magnetic
course that of a variation taken from between two printed lines.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from plotter.chart import priors
from plotter.chart.agreement import deviations_allowed
from plotter.chart.distance_sheet import EVEN_SPREAD, habit
from plotter.chart.readings import CourseReading, Desk, MeasuredLeg, unswapped
from plotter.chart.weighing import Family, Sharing, log_t, log_weights, no_weight
from plotter.earth.angles import half_turn

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from plotter.chart.weighing import Floats

    Flags = NDArray[np.bool_]

_SHORTEST_ARM_MM = 1.0


@dataclass(frozen=True, slots=True)
class Protractor:
    """Courses as read and as they would be if read right, one element a leg [°].

    ``expected`` counts from the north of each reading; ``is_magnetic`` says which that is.
    ``chart_middle_deg`` is the longitude of the chart's middle where the pilot named it.
    """

    legs: tuple[MeasuredLeg, ...]
    courses: tuple[CourseReading, ...]
    read: Floats
    true: Floats
    variation: Floats
    is_magnetic: Flags
    expected: Floats
    deviation: Floats
    right: Floats
    chart_middle_deg: float | None

    @property
    def off(self) -> Floats:
        """How far each course is from right [°], the short way round."""
        return _round_half_turn(self.read - self.expected)

    @property
    def allowed(self) -> Floats:
        """How far each course may be off and still agree with its leg [°]."""
        allowed: Floats = deviations_allowed(len(self.legs)) * self.deviation
        return allowed

    @property
    def agrees(self) -> Flags:
        """Which courses lie within the reading error."""
        within: Flags = np.abs(self.off) <= self.allowed
        return within

    def log_p(self, mean: Floats) -> Floats:
        """Log densities of the readings under means [°], the short way round."""
        return log_t(_round_half_turn(self.read - mean), self.deviation)

    def family(
        self,
        code: str,
        mean: Floats,
        weights: Sequence[float] | Floats,
        sharing: Sharing = Sharing.SOME,
        *,
        values: Floats | None = None,
        labels: tuple[str, ...] = (),
        log_weight: Floats | None = None,
    ) -> Family:
        """A family of means [°], a row a case and a column a leg."""
        return Family(
            code=code,
            prior=priors.COURSE[code],
            sharing=sharing,
            mean=mean,
            log_p=self.log_p(mean),
            log_weight=log_weights(weights) if log_weight is None else log_weight,
            values=values,
            labels=labels,
        )


def protractor_of(legs: Sequence[MeasuredLeg], desk: Desk) -> Protractor:
    """The courses of the legs that have one."""
    read = [(leg, leg.course) for leg in legs if leg.course is not None]
    true = np.array([leg.chart_course_deg for leg, _ in read])
    variation = np.array([leg.variation_deg_east for leg, _ in read])
    is_magnetic = np.array([course.reference == "M" for _, course in read])
    expected = np.where(is_magnetic, true - variation, true)
    figures = np.array([course.degrees for _, course in read])
    deviation = np.array([_deviation(leg, course, desk) for leg, course in read])
    return Protractor(
        legs=tuple(leg for leg, _ in read),
        courses=tuple(course for _, course in read),
        read=figures,
        true=true,
        variation=variation,
        is_magnetic=is_magnetic,
        expected=expected,
        deviation=deviation,
        right=log_t(_round_half_turn(figures - expected), deviation),
        chart_middle_deg=desk.chart_middle_deg,
    )


def _deviation(leg: MeasuredLeg, course: CourseReading, desk: Desk) -> float:
    arm_mm = max(leg.chart_nm * desk.chart.mm_per_nm, _SHORTEST_ARM_MM)
    laid = math.degrees(math.atan2(math.sqrt(2.0) * desk.error.distance_mm, arm_mm))
    chart = priors.VARIATION_OFF_THE_CHART_DEG if course.reference == "M" else 0.0
    return math.hypot(desk.error.course_deg, laid, course.step * EVEN_SPREAD, chart)


def _round_half_turn(angle: Floats) -> Floats:
    folded: Floats = (angle + 180.0) % 360.0 - 180.0
    return folded


def course_families(sheet: Protractor) -> list[Family]:
    """Every explanation that applies to these courses."""
    return [
        *_right_and_none(sheet),
        *_by_a_round_figure(sheet),
        *_dropped_hundred(sheet),
        *_wrong_way(sheet),
        *_swapped(sheet),
        *_variation(sheet),
        *_border(sheet),
        *_meridian(sheet),
        *_end_meridian(sheet),
        *_heading(sheet),
    ]


def _right_and_none(sheet: Protractor) -> Iterator[Family]:
    expected = sheet.expected[None, :]
    if sheet.agrees.all():
        yield sheet.family("read_right", expected, [1.0], Sharing.ALIKE)
    even = np.full(expected.shape, -math.log(360.0))
    none = sheet.family("none", expected, [1.0], Sharing.EACH)
    yield replace(none, log_p=even)


def _by_a_round_figure(sheet: Protractor) -> Iterator[Family]:
    for code, turns in (
        ("reciprocal", [180.0]),
        ("ten", [10.0, -10.0]),
        ("other_scale_90", [90.0, -90.0]),
    ):
        by = np.array(turns)
        yield sheet.family(code, sheet.expected + by[:, None], np.ones(by.size), values=by)


def _dropped_hundred(sheet: Protractor) -> Iterator[Family]:
    """The hundred left out in writing down, or one hundred too many or too few."""
    expected = sheet.expected % 360.0
    rest = expected % 100.0
    mean = np.array([rest, expected - 100.0, expected + 100.0])
    possible = np.array(
        [np.abs(rest - expected) > 50.0, expected >= 100.0, expected + 100.0 <= 360.0]
    )
    weights = np.array([0.7, 0.15, 0.15])[:, None] * possible
    log_weight = np.where(possible, np.log(np.maximum(weights, 1e-300)), no_weight())
    yield sheet.family("hundred", mean, [1.0], log_weight=log_weight)


def _wrong_way(sheet: Protractor) -> Iterator[Family]:
    """Counted down from a ten mark where the figures run up, or up where they run down."""
    expected = sheet.expected % 360.0
    below = np.floor(expected / 10.0) * 10.0
    marks = np.array([below, below + 10.0])
    mean = 2.0 * marks - expected
    near = np.abs(marks - expected)
    weights = np.where(near <= 5.0, 0.7, 0.3)
    moved = np.abs(mean - expected) > priors.SMALLEST_DIFFERENCE_DEG
    log_weight = np.where(moved, np.log(weights), no_weight())
    yield sheet.family("wrong_way", mean, [1.0], log_weight=log_weight)


def _swapped(sheet: Protractor) -> Iterator[Family]:
    meant = [
        [float(text) for text in unswapped(course.text) if float(text) <= 360.0]
        for course in sheet.courses
    ]
    rows = max(map(len, meant))
    if rows == 0:
        return
    figures = np.array([[*each, *[-1.0] * (rows - len(each))] for each in meant]).T
    there = figures >= 0.0
    share = np.log(1.0 / np.maximum(there.sum(axis=0), 1))
    mean = sheet.expected + sheet.read - figures
    log_weight = np.where(there, share, no_weight())
    yield sheet.family("swapped_digits", mean, [1.0], log_weight=log_weight)


def _variation(sheet: Protractor) -> Iterator[Family]:
    """Variation left out, or applied the wrong way, or twice.

    A true course of a plotter needs no variation; there the last two are rarer still.
    """
    magnetic, turn = sheet.is_magnetic, sheet.variation
    rare = 1.0 if magnetic.any() else 0.2
    for code, times_magnetic, times_true, share in (
        ("true_magnetic", 1.0, -1.0, 1.0),
        ("variation_sign", 2.0, -2.0, rare),
        ("variation_twice", -1.0, 1.0, rare),
    ):
        moved = np.where(magnetic, times_magnetic, times_true) * turn
        if np.abs(moved).max() < priors.SMALLEST_DIFFERENCE_DEG:
            continue
        family = sheet.family(code, (sheet.expected + moved)[None, :], [1.0], Sharing.ALIKE)
        yield from habit(replace(family, prior=family.prior * share))


def _border(sheet: Protractor) -> Iterator[Family]:
    """The border of the sheet taken for the meridian.

    It runs with the meridian in the middle of the chart, and elsewhere is turned from that of the
    leg by the cone constant times the longitude between them (Snyder, chapter 15).
    """
    turns = border_turns(sheet)
    if turns is None:
        off = np.linspace(-3.0, 3.0, 25)
        mean = sheet.expected + priors.BORDER_SPREAD_DEG * off[:, None]
        yield sheet.family("border", mean, np.exp(-off * off / 2.0), Sharing.EACH)
    elif np.abs(turns).max() >= priors.SMALLEST_DIFFERENCE_DEG:
        weights = np.ones(turns.shape[0])
        yield from habit(sheet.family("border", sheet.expected + turns, weights, Sharing.ALIKE))


def border_turns(sheet: Protractor) -> Floats | None:
    """By how much a course read from the border is off [°], a row a possible middle of the chart.

    ``None`` where a leg's longitude is not known, or legs lie too far apart for one sheet.
    """
    places = [(leg.longitude_deg, leg.cone_constant) for leg in sheet.legs]
    known = [(east, cone) for east, cone in places if east is not None and cone is not None]
    if len(known) < len(places):
        return None
    first = known[0][0]
    east = np.array([half_turn(each - first) for each, _ in known])
    cone = np.array([each for _, each in known])
    if sheet.chart_middle_deg is not None:
        from_middle = east[None, :] - half_turn(sheet.chart_middle_deg - first)
        on_it = np.abs(from_middle) <= priors.HALF_SHEET_DEG + 1.0
        return np.where(on_it, -cone * from_middle, 0.0)
    low, high = east.max() - priors.HALF_SHEET_DEG, east.min() + priors.HALF_SHEET_DEG
    if low > high:
        return None
    turns: Floats = -cone * (east[None, :] - np.linspace(low, high, 33)[:, None])
    return turns


def _meridian(sheet: Protractor) -> Iterator[Family]:
    """The rose of a navaid taken for the meridian."""
    off = np.linspace(-3.0, 3.0, 25)
    rose = sheet.expected - sheet.variation + priors.ROSE_SPREAD_DEG * off[:, None]
    yield sheet.family("meridian", rose, np.exp(-off * off / 2.0), Sharing.EACH)


def _end_meridian(sheet: Protractor) -> Iterator[Family]:
    ends = [
        [leg.start_true_course_deg for leg in sheet.legs],
        [leg.end_true_course_deg for leg in sheet.legs],
    ]
    turns = np.array(
        [
            [0.0 if end is None else half_turn(end - leg.chart_course_deg) for end, leg in zipped]
            for zipped in (list(zip(row, sheet.legs, strict=True)) for row in ends)
        ]
    )
    turns[np.abs(turns) < priors.END_MERIDIAN_FROM_DEG] = 0.0
    if not turns.any():
        return
    always = sheet.family(
        "end_meridian", sheet.expected + turns, [0.5, 0.5], Sharing.ALIKE, labels=("start", "end")
    )
    log_weight = np.where(turns != 0.0, math.log(0.5), no_weight())
    yield from habit(always, replace(always, log_weight=log_weight))


def _heading(sheet: Protractor) -> Iterator[Family]:
    known = [leg.wind_correction_angle_deg for leg in sheet.legs]
    limit = priors.LARGEST_WIND_ANGLE_DEG
    angles = np.linspace(-limit, limit, 51)
    weights = np.exp(-((angles / priors.WIND_ANGLE_SPREAD_DEG) ** 2) / 2.0)
    turns = np.array(
        [angles if angle is None else np.full(angles.size, angle) for angle in known]
    ).T
    if np.abs(turns).max() >= priors.SMALLEST_DIFFERENCE_DEG:
        yield sheet.family("heading", sheet.expected + turns, weights, Sharing.EACH)
