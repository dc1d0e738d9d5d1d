"""How well a careful hand reads a plotter, and what else a set of readings was made with.

Common practice, not a published figure: a millimetre on the chart and a degree on the protractor
for one who has done it before, half as much again for a student. Less would accuse careful people:
the line is drawn with a pencil, both ends are laid by eye, and the paper is not flat.
"""

from __future__ import annotations

from dataclasses import dataclass

from plotter.chart.own_plotter import Edge, Fit
from plotter.chart.scales import SECTIONAL, ChartScale
from plotter.errors import InputError


@dataclass(frozen=True, slots=True)
class ReadingError:
    """One standard deviation of a reading: along an edge [mm on the chart], of a course [°]."""

    distance_mm: float
    course_deg: float

    def __post_init__(self) -> None:
        if not (0.1 <= self.distance_mm <= 10.0 and 0.1 <= self.course_deg <= 10.0):
            raise InputError(
                f"nobody reads to {self.distance_mm:g} mm and {self.course_deg:g}°; both must lie "
                "between 0.1 and 10",
                code="reading-error",
            )


CAREFUL = ReadingError(1.0, 1.0)
STUDENT = ReadingError(1.5, 1.5)


@dataclass(frozen=True, slots=True)
class Desk:
    """What a set of readings was made with: one chart, one hand, one plotter.

    ``edge`` is the edge the pilot believes was laid on the line, ``None`` where it was not said.
    ``own`` is the plotter in hand where it was tested against a printed scale: then what it is
    known to read is expected of it, and it is no longer suspected of having shrunk since.
    """

    chart: ChartScale = SECTIONAL
    error: ReadingError = CAREFUL
    edge: Edge | None = None
    own: Fit | None = None
