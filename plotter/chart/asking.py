"""From points as typed and what was read between them to legs that can be judged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plotter.chart.measurement import Judgement, judge
from plotter.chart.own_plotter_verdict import own_plotter_cautions
from plotter.chart.projection import cone_constant, drawn_line
from plotter.chart.readings import CourseReading, Desk, MeasuredLeg, Reading, Unit
from plotter.errors import InputError, PlotterError, RouteError
from plotter.messages import message
from plotter.places.store import Store
from plotter.route.checks import model_caution
from plotter.route.measuring import FlightMagnetism, measure_route
from plotter.route.plotting import DataDates, Wishes, data_dates
from plotter.route.reading.text import read_route
from plotter.route.values import Caution, Leg, Route, ranked

SHEET_EDGE_DEG = 72.0
"""Beyond this latitude [°] no sectional chart of the United States lies: Alaska ends at 71.4° N.
The chart is predicted by the same rule all the same, and that is said."""


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """Two points as typed and what was read between them; ``line`` is that of a file."""

    points: tuple[str, ...]
    reading: Reading | None = None
    course: CourseReading | None = None
    line: int | None = None


@dataclass(frozen=True, slots=True)
class Measured:
    """A judgement with the cautions of the points it rests on and the dates of the data."""

    judgement: Judgement
    desk: Desk
    cautions: tuple[Caution, ...]
    data: DataDates


def measured_leg(
    leg: Leg, reading: Reading | None = None, course: CourseReading | None = None
) -> MeasuredLeg:
    """A leg of a route as a straight line on its chart, with what was read for it.

    Raises InputError, code ``off-chart``, for a leg that is on no sheet.
    """
    drawn = drawn_line(leg.line)
    return MeasuredLeg(
        distance_nm=leg.distance_nm,
        true_course_deg=leg.true_course_deg,
        variation_deg_east=leg.variation.degrees_east,
        reading=reading,
        course=course,
        start=leg.start.name,
        end=leg.end.name,
        drawn_nm=drawn.length_nm,
        drawn_true_course_deg=drawn.true_course_deg,
        start_true_course_deg=drawn.start_true_course_deg,
        end_true_course_deg=drawn.end_true_course_deg,
        latitude_deg=leg.middle.latitude_deg,
        longitude_deg=leg.middle.longitude_deg,
        cone_constant=cone_constant(leg.middle.latitude_deg),
    )


def measure_rows(rows: Sequence[ReadingRow], store: Store, wishes: Wishes, desk: Desk) -> Measured:
    """Look up, measure and judge rows that were read with one plotter.

    Raises RouteError with the faults of every row, in the order of the rows.
    """
    magnetism = FlightMagnetism(wishes.date, wishes.altitude_ft, wishes.allow_old_model)
    legs: list[MeasuredLeg] = []
    cautions: list[Caution] = []
    faults: list[PlotterError] = []
    for row in rows:
        try:
            read = read_route(row.points, store, wishes.own_points, magnetism.degrees_east)
            route = measure_route(read.waypoints, wishes.line, magnetism)
            legs.append(measured_leg(_one_leg(route), row.reading, row.course))
        except RouteError as several:
            faults += [_on_line(row, fault) for fault in several.faults]
        except InputError as fault:
            faults.append(_on_line(row, fault))
        else:
            cautions += [*read.cautions, *model_caution(route), *off_the_sheets(legs[-1])]
    if faults:
        raise RouteError(faults)
    return measured_with(legs, desk, cautions, store)


def measured_with(
    legs: Sequence[MeasuredLeg], desk: Desk, cautions: list[Caution], store: Store
) -> Measured:
    """Judge legs, with the cautions of their points and of the plotter they were read with."""
    if any(leg.reading is not None and not leg.reading.is_ruler for leg in legs):
        cautions = [*own_plotter_cautions(desk), *cautions]
    return Measured(judge(legs, desk), desk, ranked(cautions), data_dates(store))


def row_of(
    points: Sequence[str], reading: str | None, unit: Unit, course: str | None
) -> ReadingRow:
    """A row from what was typed; raises InputError where it is no reading.

    >>> row_of(["KRST", "KLSE"], "54.0", "nm", "093M").course
    CourseReading(text='093', reference='M')
    """
    if not points:
        raise InputError("no-points")
    if reading is None and course is None:
        raise InputError("no-reading")
    return ReadingRow(
        points=tuple(points),
        reading=None if reading is None else Reading(reading.strip(), unit),
        course=None if course is None else CourseReading.typed(course),
    )


def _one_leg(route: Route) -> Leg:
    if len(route.legs) != 1:
        raise InputError("one-leg", points=len(route.waypoints), legs=len(route.legs))
    return route.legs[0]


def _on_line(row: ReadingRow, fault: PlotterError) -> PlotterError:
    """A fault that says in which line of the file it is."""
    if row.line is None:
        return fault
    return InputError(
        "readings-line",
        code=fault.code,
        candidates=fault.candidates,
        line=row.line,
        reason=fault.said,
    )


def off_the_sheets(leg: MeasuredLeg) -> list[Caution]:
    """A caution where no sectional chart is published for a leg."""
    if leg.latitude_deg is None or abs(leg.latitude_deg) <= SHEET_EDGE_DEG:
        return []
    said = message("off-the-sheets", leg=leg.name, edge_deg=SHEET_EDGE_DEG)
    return [Caution("CHECK", said, where=leg.name)]
