"""How well a careful hand reads a plotter, and what else a set of readings was made with.

Common practice, not a published figure: a millimetre on the chart and a degree on the protractor
for one who has done it before, half as much again for a student. Less would accuse careful people:
the line is drawn with a pencil, both ends are laid by eye, and the paper is not flat.
"""

from __future__ import annotations

from dataclasses import dataclass

from plotter.chart.own_plotter import EDGES, Edge, Fit, OwnPlotter
from plotter.chart.scales import SECTIONAL, ChartScale, scale_named
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


def desk_of(
    chart: str = "sectional",
    edge: str | None = None,
    own: OwnPlotter | None = None,
    *,
    student: bool = False,
) -> Desk:
    """A desk from plain words; raises InputError for a chart, an edge or a plotter that is none.

    >>> desk_of("terminal", student=True).error.distance_mm
    1.5
    """
    if edge is not None and edge not in EDGES:
        raise InputError(f"no edge is called {edge[:40]!r}; use nm or sm", code="edge")
    if own is not None and own.fit is None:
        raise InputError(
            "your plotter was read at one mark only, which does not say what it reads elsewhere; "
            "test it again at a near mark and a far one",
            code="own-plotter",
        )
    return Desk(
        scale_named(chart),
        STUDENT if student else CAREFUL,
        next((each for each in EDGES if each == edge), None),
        None if own is None else own.fit,
    )
