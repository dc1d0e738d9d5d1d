"""What the page may ask about readings taken off a paper chart."""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Literal

from pydantic import Field

from plotter.chart.asking import ReadingRow, row_of
from plotter.chart.reading_errors import Desk, desk_of
from plotter.chart.readings import Unit
from plotter.opening import open_date
from plotter.route.plotting import Wishes
from plotter.web.asked import Asked, AskedPoint, own_points_of

MOST_READINGS = 100
Typed = Annotated[str, Field(min_length=1, max_length=200)]


class AskedReading(Asked):
    """One leg and what was read for it, as it was typed: its digits say how finely."""

    start: Typed
    end: Typed
    reading: Annotated[str | None, Field(max_length=40, examples=["62.1"])] = None
    unit: Unit = "nm"
    course: Annotated[str | None, Field(max_length=40, examples=["093M"])] = None


class AskedMeasure(Asked):
    """Readings taken with one plotter on one chart."""

    readings: Annotated[list[AskedReading], Field(min_length=1, max_length=MOST_READINGS)]
    chart: Literal["sectional", "terminal", "world"] = "sectional"
    edge: Literal["nm", "sm"] | None = None
    student: bool = False
    date: Annotated[dt.date | None, Field(examples=["2026-07-04"])] = None
    points: Annotated[tuple[AskedPoint, ...], Field(max_length=500)] = ()

    def rows(self) -> list[ReadingRow]:
        """The readings as rows; raises InputError for one that is none."""
        return [
            row_of([each.start, each.end], each.reading, each.unit, each.course)
            for each in self.readings
        ]

    def desk(self) -> Desk:
        """The chart, the edge, the hand."""
        return desk_of(self.chart, self.edge, student=self.student)

    def wishes(self) -> Wishes:
        """The day of the variation and the pilot's own points."""
        return Wishes(date=open_date(self.date), own_points=own_points_of(self.points))
