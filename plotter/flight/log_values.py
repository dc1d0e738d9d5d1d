"""The navigation log as values: rows, sectors, the whole; every figure unrounded."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from plotter.earth.angles import course_360, magnetic_from_true
from plotter.earth.position import Position
from plotter.earth.sun import Daylight
from plotter.flight.air.levels import AirNote
from plotter.flight.air.sky import Sky
from plotter.flight.aircraft import FuelUnit
from plotter.flight.courses import Course
from plotter.flight.plan.values import Plan
from plotter.flight.reserve import Reserve
from plotter.flight.sun_clock import local_date
from plotter.flight.time_fuel import endurance_min
from plotter.flight.track import Flown, Phase
from plotter.flight.whose_rules import Law
from plotter.flight.wind import Triangle
from plotter.route.plotting import Plot
from plotter.route.values import Caution, Waypoint, one_a_class

LAST_DIGITS_OF_FUEL = 1e-7
"""What adding up rows may leave of an amount of fuel that is used up exactly."""
MarkKind = Literal["waypoint", "checkpoint", "TOC", "TOD", "level", "part"]


class Mark(NamedTuple):
    """A point a row begins or ends at; ``at_nm`` [NM] counts from the start of the flight."""

    at_nm: float
    name: str
    kind: MarkKind
    position: Position


class Top(NamedTuple):
    """A top of climb or descent, or a level-off, that shares the row of a checkpoint near it.

    ``beyond_nm`` [NM] is how far past the checkpoint it lies, below zero before it.
    """

    name: str
    at_nm: float
    beyond_nm: float
    eta: dt.datetime


class LogRow(NamedTuple):
    """From one mark to the next on one course in one phase.

    ``triangle`` is that of the row's one wind and airspeed, or, where a climb or descent went
    through several (``flown`` has them), of their means; it closes in either case. ``phase`` is
    the one that takes most of its time; ``tops`` are those marked in it.
    """

    number: int
    sector: int
    start: Mark
    end: Mark
    course: Course
    phase: Phase
    flown: tuple[Flown, ...]
    triangle: Triangle
    compass_card_correction_deg: float | None
    ete_min: float
    elapsed_min: float
    eta: dt.datetime
    fuel_used: float
    fuel_remaining: float
    distance_to_go_nm: float
    tops: tuple[Top, ...] = ()

    @property
    def distance_nm(self) -> float:
        """Length [NM]."""
        return sum(flown.distance_nm for flown in self.flown)

    @property
    def take_off(self) -> dt.datetime:
        """The take-off of its sector."""
        return self.eta - dt.timedelta(minutes=self.elapsed_min)

    @property
    def start_altitude_ft(self) -> float:
        """Altitude at the start of the row [ft MSL]."""
        return self.flown[0].from_ft

    @property
    def altitude_ft(self) -> float:
        """Altitude at the end of the row [ft MSL]."""
        return self.flown[-1].to_ft

    @property
    def cruise_altitude_ft(self) -> float | None:
        """The altitude [ft MSL] cruised at in the row; ``None`` where all of it climbs or sinks."""
        cruised = [flown.to_ft for flown in self.flown if flown.phase == "cruise"]
        return cruised[0] if cruised else None

    @property
    def magnetic_heading_deg(self) -> float:
        """Magnetic heading [°M]: true heading less east variation."""
        return magnetic_from_true(self.triangle.true_heading_deg, self.course.variation_deg_east)

    @property
    def compass_heading_deg(self) -> float:
        """Compass heading [°]: magnetic heading and the card's correction, if there is a card."""
        return course_360(self.magnetic_heading_deg + (self.compass_card_correction_deg or 0.0))

    @property
    def air_notes(self) -> tuple[AirNote, ...]:
        """What the row's wind, temperature and pressure rest on, each said once."""
        return tuple(dict.fromkeys(note for flown in self.flown for note in flown.air.notes))

    @property
    def rests_on(self) -> tuple[str, ...]:
        """The same in words."""
        return tuple(note.words for note in self.air_notes)


class FieldReport(NamedTuple):
    """What the weather at a field of the route means for it; ``None`` is not given."""

    point: str
    elevation_ft: float | None
    pressure_altitude_ft: float | None
    density_altitude_ft: float | None
    runway: str = ""
    headwind_kt: float | None = None
    crosswind_kt: float | None = None
    crosswind_from: str = ""


class FuelPlan(NamedTuple):
    """The fuel of one sector, in the plan's unit.

    ``at_start`` is what is in the tanks before taxi; ``remaining`` what is left on landing.
    """

    unit: FuelUnit
    at_start: float
    taxi: float
    climb: float
    cruise: float
    descent: float
    per_hour_cruise: float

    @property
    def flown(self) -> float:
        """Used from take-off to landing."""
        return self.climb + self.cruise + self.descent

    @property
    def used(self) -> float:
        """Used from start-up to landing."""
        return self.taxi + self.flown

    @property
    def remaining(self) -> float:
        """Left on landing; below zero where the tanks run dry first."""
        return self.at_start - self.used

    @property
    def endurance_min(self) -> float:
        """How long [min] what is in the tanks at take-off lasts at cruise."""
        return endurance_min(self.at_start - self.taxi, self.per_hour_cruise)


class Sector(NamedTuple):
    """From one take-off to the next landing."""

    number: int
    start: Waypoint
    end: Waypoint
    take_off: dt.datetime
    landing: dt.datetime
    rows: tuple[LogRow, ...]
    fuel: FuelPlan
    reserve: Reserve
    start_zone: str
    end_zone: str
    start_sun: Daylight
    end_sun: Daylight
    law: Law

    @property
    def local_date(self) -> dt.date:
        """The date of take-off by the clock of where it starts."""
        return local_date(self.take_off, self.start_zone)

    @property
    def ete_min(self) -> float:
        """Time in the air [min]."""
        return sum(row.ete_min for row in self.rows)

    @property
    def distance_nm(self) -> float:
        """Length [NM]."""
        return sum(row.distance_nm for row in self.rows)

    @property
    def reserve_fuel(self) -> float:
        """The fuel of the reserve, at the flow of the cruise."""
        return self.reserve.fuel(self.fuel.per_hour_cruise)

    @property
    def margin_fuel(self) -> float:
        """What is left on landing beyond the reserve; below zero where it is not met.

        Unrounded, so that a drop short is short; only what the last digits of sums leave is zero.
        """
        left = self.fuel.remaining - self.reserve_fuel
        return 0.0 if abs(left) < LAST_DIGITS_OF_FUEL else left

    @property
    def margin_min(self) -> float:
        """The margin as time at cruise [min]; below zero where the reserve is not met."""
        return self.margin_fuel / self.fuel.per_hour_cruise * 60.0


class Silenced(NamedTuple):
    """A caution the plan silences, with the pilot's reason."""

    caution: Caution
    reason: str


@dataclass(frozen=True, slots=True)
class NavigationLog:
    """Every figure of one planned flight.

    ``plot`` is the route with its checkpoints as they stand in the rows; ``cautions`` are all,
    worst first; ``silenced`` those the plan silences; ``sky`` is the air it is figured with.
    """

    plan: Plan
    plot: Plot
    sectors: tuple[Sector, ...]
    fields: tuple[FieldReport, ...]
    cautions: tuple[Caution, ...]
    silenced: tuple[Silenced, ...]
    sky: Sky = field(default_factory=Sky)

    @property
    def local_date(self) -> dt.date:
        """The date of take-off by the clock of the departure."""
        return local_date(self.sectors[0].take_off, self.sectors[0].start_zone)

    @property
    def told(self) -> tuple[Caution, ...]:
        """The cautions as they are printed: those of one code in one."""
        return one_a_class(self.cautions)

    @property
    def silenced_codes(self) -> dict[str, str]:
        """The codes the plan silences here, each once, with the reason."""
        return {one.caution.code: one.reason for one in self.silenced}

    @property
    def rows(self) -> tuple[LogRow, ...]:
        """The rows of all sectors, in order."""
        return tuple(row for sector in self.sectors for row in sector.rows)

    @property
    def distance_nm(self) -> float:
        """Length of the whole flight [NM]."""
        return sum(sector.distance_nm for sector in self.sectors)

    @property
    def ete_min(self) -> float:
        """Time in the air [min]."""
        return sum(sector.ete_min for sector in self.sectors)

    @property
    def fuel_used(self) -> float:
        """Fuel of the whole flight, taxi included, in the plan's unit."""
        return sum(sector.fuel.used for sector in self.sectors)
