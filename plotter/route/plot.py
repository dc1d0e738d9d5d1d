"""A plotted route with all that hangs on it: the value every output is written from."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from plotter.places.airports import Beside
from plotter.route.cautions import Caution
from plotter.route.checkpoints import Checkpoint
from plotter.route.item15 import CruiseChange
from plotter.route.route import Route


@dataclass(frozen=True, slots=True)
class DataDates:
    """The dates a figure rests on: the tables of the data, the magnetic model."""

    airports: str
    navaids: str
    magnetic_model: str
    magnetic_model_valid_to: str
    runways: str = ""
    frequencies: str = ""


@dataclass(frozen=True, slots=True)
class Plot:
    """One route, its checkpoints, the airports beside it, the cautions and the data's dates."""

    name: str
    date: dt.date
    altitude_ft: float
    every_nm: float
    route: Route
    checkpoints: tuple[Checkpoint, ...]
    near: tuple[Beside, ...]
    cautions: tuple[Caution, ...]
    data: DataDates
    cruise: tuple[CruiseChange, ...] = ()
    local_date: dt.date | None = None
    """The date of take-off by the field's clock, where a flight is planned; ``date`` is UTC's."""

    @property
    def date_said(self) -> str:
        """The date for people: that of the field's clock, and that of UTC where it is another."""
        if self.local_date in (None, self.date):
            return self.date.isoformat()
        return f"{self.local_date} ({self.date} in UTC)"
