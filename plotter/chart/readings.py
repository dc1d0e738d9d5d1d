"""What a pilot read off a plotter, and the leg it was read for, as plain values.

How finely a figure was read shows in the digits that were typed: ``26`` may be anything from 25.5
to 26.5, ``26.4`` from 26.35 to 26.45. So a reading keeps its text.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, get_args

from plotter.chart.own_plotter import EDGES, Edge, Fit, OwnPlotter
from plotter.chart.scales import SECTIONAL, ChartScale, scale_named
from plotter.earth.units import METRES_PER_NM, METRES_PER_SM, MM_PER_INCH
from plotter.errors import InputError

Unit = Literal["nm", "sm", "km", "mm", "in"]
Reference = Literal["T", "M"]
UNITS: tuple[Unit, ...] = get_args(Unit)
NM_PER_UNIT = {"nm": 1.0, "sm": METRES_PER_SM / METRES_PER_NM, "km": 1000.0 / METRES_PER_NM}
"""Nautical miles in a mile or kilometre read off a plotter's edge."""
MM_PER_RULER_UNIT = {"mm": 1.0, "in": MM_PER_INCH}
"""Millimetres in what a plain ruler shows."""
LARGEST_READING = 20_000.0
"""No edge shows more in any unit: a figure above is a slip of the keyboard."""

_A_READING = re.compile(r"(\d{1,9})(?:\.(\d{1,6}))?\Z", re.ASCII)
_A_FIGURE = re.compile(r"\d{1,3}(?:\.\d{1,6})?\Z", re.ASCII)
_A_COURSE = re.compile(r"(\d{1,3})(?:\.(\d{1,3}))?\s*°?\s*([TM])\Z", re.IGNORECASE | re.ASCII)


@dataclass(frozen=True, slots=True)
class Reading:
    """A distance as it was read: its digits, and the unit it is meant to be in.

    Raises InputError, code ``reading``, for what cannot be a reading, code ``unit`` for a unit
    that is none.

    >>> Reading("26.4", "nm").step, Reading("26", "nm").step
    (0.1, 1.0)
    >>> Reading("-3", "nm")
    Traceback (most recent call last):
    plotter.errors.InputError: '-3' is not a valid reading; enter a positive number, as in 26.4
    """

    text: str
    unit: Unit = "nm"

    def __post_init__(self) -> None:
        if self.unit not in UNITS:
            raise InputError(
                "unit.reading", candidates=UNITS, unit=str(self.unit)[:40], units=UNITS
            )
        if not _A_READING.match(self.text) or self.value == 0.0:
            raise InputError("reading", typed=self.text[:40])
        if self.value > LARGEST_READING:
            raise InputError(
                "reading.too-large", value=self.value, unit=self.unit, most=LARGEST_READING
            )

    @property
    def value(self) -> float:
        """The figure, in its unit."""
        return float(self.text)

    @property
    def decimals(self) -> int:
        """The digits typed behind the point."""
        return len(self.text.partition(".")[2])

    @property
    def step(self) -> float:
        """The unit of the last digit typed, in the reading's unit."""
        return 10.0**-self.decimals

    @property
    def is_ruler(self) -> bool:
        """Whether it was read off a plain ruler rather than a scale of miles."""
        return self.unit in MM_PER_RULER_UNIT

    def mm_per_unit(self, chart: ChartScale) -> float:
        """Millimetres of paper to one of the reading's units, at the chart's scale [mm]."""
        if self.is_ruler:
            return MM_PER_RULER_UNIT[self.unit]
        return NM_PER_UNIT[self.unit] * chart.mm_per_nm


@dataclass(frozen=True, slots=True)
class CourseReading:
    """A course as it was read [°], with the north it is counted from.

    >>> CourseReading.typed("247T")
    CourseReading(text='247', reference='T')
    >>> CourseReading.typed("247")
    Traceback (most recent call last):
    plotter.errors.InputError: '247' has no reference; enter 247T for a true course or 247M for a \
magnetic course
    """

    text: str
    reference: Reference

    def __post_init__(self) -> None:
        if self.reference not in ("T", "M"):
            raise InputError("course.reference", reference=self.reference)
        if not _A_FIGURE.match(self.text) or self.degrees > 360.0:
            raise InputError("course.range", typed=self.text[:40])

    @classmethod
    def typed(cls, text: str) -> CourseReading:
        """A course as it is typed, ``247T`` or ``256M``; raises InputError, code ``course``."""
        found = _A_COURSE.match(text.strip())
        if found:
            digits = f"{int(found[1]):03d}" + (f".{found[2]}" if found[2] else "")
            reference: Reference = "M" if found[3] in "mM" else "T"
            return cls(digits, reference)
        figure = text.strip().rstrip("°")
        if re.fullmatch(r"\d{1,3}(\.\d+)?", figure, re.ASCII):
            raise InputError(
                "course.no-reference",
                candidates=(f"{figure}T", f"{figure}M"),
                typed=text.strip(),
                figure=figure,
            )
        raise InputError("course", typed=text[:40])

    @property
    def degrees(self) -> float:
        """The figure [°, true or magnetic as ``reference`` says]."""
        return float(self.text)

    @property
    def step(self) -> float:
        """The unit of the last digit typed [°]."""
        return 10.0 ** -len(self.text.partition(".")[2])


@dataclass(frozen=True, slots=True)
class MeasuredLeg:
    """A leg, what it is, and what was read for it; at least one of distance and course.

    ``drawn_…`` are the leg as a straight line on the chart; left out they are the leg's own.
    ``start_…`` and ``end_true_course_deg`` [°T] and ``latitude_deg`` may be left out: then end
    meridians and minutes along the parallel are not among the explanations.
    ``wind_correction_angle_deg`` is that of the flight where it is known. ``longitude_deg`` is
    that of the middle of the leg, ``cone_constant`` how fast meridians run together on its chart.
    """

    distance_nm: float
    true_course_deg: float
    variation_deg_east: float
    reading: Reading | None = None
    course: CourseReading | None = None
    start: str = ""
    end: str = ""
    drawn_nm: float | None = None
    drawn_true_course_deg: float | None = None
    start_true_course_deg: float | None = None
    end_true_course_deg: float | None = None
    latitude_deg: float | None = None
    wind_correction_angle_deg: float | None = None
    longitude_deg: float | None = None
    cone_constant: float | None = None

    def __post_init__(self) -> None:
        figures = (self.distance_nm, self.true_course_deg, self.variation_deg_east)
        if not all(map(math.isfinite, figures)) or self.distance_nm <= 0.0:
            raise InputError(
                "input.leg", distance_nm=self.distance_nm, course_deg=self.true_course_deg
            )
        if self.reading is None and self.course is None:
            raise InputError("reading.none")

    @property
    def chart_nm(self) -> float:
        """What the line on the paper measures [NM] where nothing goes wrong."""
        return self.distance_nm if self.drawn_nm is None else self.drawn_nm

    @property
    def chart_course_deg(self) -> float:
        """The true course [°T] of the line on the paper at its middle."""
        if self.drawn_true_course_deg is None:
            return self.true_course_deg
        return self.drawn_true_course_deg

    @property
    def name(self) -> str:
        """The leg as its ends are called; empty where they have no names."""
        return f"{self.start} to {self.end}" if self.start and self.end else ""


def unswapped(text: str) -> Iterator[str]:
    """Every figure that two neighbouring digits exchanged would turn into this one.

    >>> list(unswapped("26.4")), list(unswapped("247"))
    (['62.4', '24.6'], ['427', '274'])
    """
    digits = [place for place, letter in enumerate(text) if letter.isdigit()]
    for left, right in itertools.pairwise(digits):
        if text[left] != text[right]:
            letters = list(text)
            letters[left], letters[right] = letters[right], letters[left]
            yield "".join(letters)


# How well a careful hand reads a plotter, and what else a set of readings was made with.
#
# Common practice, not a published figure: a millimetre on the chart and a degree on the protractor
# for one who has done it before, half as much again for a student. Less would accuse careful
# people: the line is drawn with a pencil, both ends are laid by eye, and the paper is not flat.


@dataclass(frozen=True, slots=True)
class ReadingError:
    """One standard deviation of a reading: along an edge [mm on the chart], of a course [°]."""

    distance_mm: float
    course_deg: float

    def __post_init__(self) -> None:
        if not (0.1 <= self.distance_mm <= 10.0 and 0.1 <= self.course_deg <= 10.0):
            raise InputError(
                "reading-error", distance_mm=self.distance_mm, course_deg=self.course_deg
            )


CAREFUL = ReadingError(1.0, 1.0)
STUDENT = ReadingError(1.5, 1.5)


@dataclass(frozen=True, slots=True)
class Desk:
    """What a set of readings was made with: one chart, one hand, one plotter.

    ``edge`` is the edge the pilot believes was laid on the line, ``None`` where it was not said.
    ``own`` is the plotter in hand where it was tested against a printed scale: then what it is
    known to read is expected of it, and it is no longer suspected of having shrunk since.
    ``chart_middle_deg`` is the longitude [°, east positive] of the chart's middle, where its
    border runs with the meridian.
    """

    chart: ChartScale = SECTIONAL
    error: ReadingError = CAREFUL
    edge: Edge | None = None
    own: Fit | None = None
    chart_middle_deg: float | None = None

    def __post_init__(self) -> None:
        if self.chart_middle_deg is not None and not -180.0 <= self.chart_middle_deg <= 180.0:
            raise InputError("chart-middle", middle_deg=self.chart_middle_deg)


def desk_of(
    chart: str = "sectional",
    edge: str | None = None,
    own: OwnPlotter | None = None,
    *,
    student: bool = False,
    chart_middle_deg: float | None = None,
) -> Desk:
    """A desk from plain words; raises InputError for a chart, an edge or a plotter that is none.

    >>> desk_of("terminal", student=True).error.distance_mm
    1.5
    """
    if edge is not None and edge not in EDGES:
        raise InputError("edge", edge=edge[:40], edges=EDGES)
    if own is not None and own.fit is None:
        raise InputError("own-plotter.one-mark")
    return Desk(
        scale_named(chart),
        STUDENT if student else CAREFUL,
        next((each for each in EDGES if each == edge), None),
        None if own is None else own.fit,
        chart_middle_deg,
    )
