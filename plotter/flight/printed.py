"""The figures of a navigation log as they are printed: rounded once, so that what is read adds up.

Distance, time and fuel are rounded as running totals, and a row prints the difference between two
of them, so every column sums to its total. True course, wind correction angle, variation and
deviation are rounded to whole degrees (halves away from zero), and magnetic course and headings
are their sums, as on a log filled in by hand; the deviation is read off the card at the printed
magnetic heading. Times are to the minute; fuel that is left is rounded down. Every output for
people prints from here; the log itself, ``--json`` and the working stay unrounded.
"""

from __future__ import annotations

import datetime as dt
import itertools
import math
from dataclasses import dataclass
from typing import NamedTuple

from plotter.earth.angles import half_turn
from plotter.flight.log_values import LAST_DIGITS_OF_FUEL, LogRow, NavigationLog, Sector
from plotter.flight.plan.values import Plan
from plotter.flight.sun_clock import UTC, clock_days, clock_hours, clock_name
from plotter.flight.track import Phase
from plotter.wording import LOG_ADDS_UP, magnetic_whole, minute, tenths, tenths_left, whole

MOST_PLACES = 6
"""Of decimals for a verdict; beyond them lie only the last digits of sums."""


@dataclass(frozen=True, slots=True)
class PrintedRow:
    """One row in printed figures: whole degrees, minutes [UTC], tenths of NM and of fuel.

    Running totals are kept, and what a row prints is the difference of two; ``zone`` is the clock
    of the ETA, ``end_zone`` that of the destination where the last row shows it too.
    """

    row: LogRow
    before_tenths_nm: int
    total_tenths_nm: int
    sector_end_tenths_nm: int
    take_off: dt.datetime
    before: dt.datetime
    eta: dt.datetime
    before_tenths_fuel: int
    left_tenths_fuel: int
    true_course_deg: int
    variation_deg_east: int
    wind_correction_angle_deg: int
    deviation_deg: int | None
    zone: str
    end_zone: str = ""

    @property
    def distance_nm(self) -> float:
        """Length [NM] to a tenth."""
        return (self.total_tenths_nm - self.before_tenths_nm) / 10.0

    @property
    def distance_to_go_nm(self) -> float:
        """Distance to go in the sector [NM] to a tenth."""
        return (self.sector_end_tenths_nm - self.total_tenths_nm) / 10.0

    @property
    def magnetic_course_deg(self) -> int:
        """Printed true course less printed variation [°M], 1 to 360."""
        return magnetic_whole(self.true_course_deg, self.variation_deg_east)

    @property
    def true_heading_deg(self) -> int:
        """Printed true course and wind correction angle [°T], 1 to 360."""
        return _circle(self.true_course_deg + self.wind_correction_angle_deg)

    @property
    def magnetic_heading_deg(self) -> int:
        """Printed true heading less printed variation [°M], 1 to 360."""
        return magnetic_whole(self.true_heading_deg, self.variation_deg_east)

    @property
    def compass_heading_deg(self) -> int:
        """Printed magnetic heading and deviation [°], 1 to 360."""
        return _circle(self.magnetic_heading_deg + (self.deviation_deg or 0))

    @property
    def ete_min(self) -> int:
        """Time in the row [min]."""
        return minutes_between(self.before, self.eta)

    @property
    def fuel_used(self) -> float:
        """Fuel used in the row, to a tenth."""
        return (self.before_tenths_fuel - self.left_tenths_fuel) / 10.0

    @property
    def fuel_remaining(self) -> float:
        """Fuel left at the end of the row, to a tenth, down."""
        return self.left_tenths_fuel / 10.0

    @property
    def clock(self) -> str:
        """The ETA as it is printed: ``09:14``, ``14:14Z``, ``00:05+1d``, ``10:19 (11:19 EDT)``."""
        there = clock_hours(self.eta, self.zone)
        days = clock_days(self.take_off, self.eta, self.zone)
        said = f"{there}{f'{days:+d}d' if days else ''}"
        if not self.end_zone:
            return said
        return f"{said} ({clock_hours(self.eta, self.end_zone, named=True)})"


def tops_words(row: PrintedRow) -> list[str]:
    """Return each top marked in a row: ``TOC 0.4 NM before CP1 at 09:07``."""
    return [
        f"{top.name} {abs(tenths(top.beyond_nm)) / 10.0:.1f} NM "
        f"{'past' if top.beyond_nm > 0.0 else 'before'} {row.row.end.name} at "
        f"{clock_hours(top.eta, row.zone)}"
        for top in row.row.tops
    ]


class Verdict(NamedTuple):
    """Fuel left on landing, reserve and margin, with so many decimals that print agrees."""

    places: int
    left: float
    reserve: float

    @property
    def margin(self) -> float:
        """What is left beyond the reserve, below zero where it is not met."""
        return self.left - self.reserve

    def words(self, amount: float) -> str:
        """An amount with the decimals of this verdict."""
        return f"{amount:.{self.places}f}"


@dataclass(frozen=True, slots=True)
class PrintedSector:
    """One sector in printed figures; fuel in tenths, down, as running totals."""

    sector: Sector
    rows: tuple[PrintedRow, ...]
    start_tenths_fuel: int
    fuel_by_phase: dict[Phase, int]
    zone: str

    @property
    def distance_nm(self) -> float:
        """The sum of the rows [NM]."""
        return (self.rows[-1].total_tenths_nm - self.rows[0].before_tenths_nm) / 10.0

    @property
    def ete_min(self) -> int:
        """The sum of the rows [min]."""
        return minutes_between(self.rows[0].before, self.rows[-1].eta)

    @property
    def fuel_flown(self) -> float:
        """The sum of the rows: fuel used from take-off to landing."""
        return (self.rows[0].before_tenths_fuel - self.rows[-1].left_tenths_fuel) / 10.0

    @property
    def fuel_at_start(self) -> float:
        """Fuel before taxi, to a tenth, down."""
        return self.start_tenths_fuel / 10.0

    @property
    def taxi_fuel(self) -> float:
        """Fuel from start-up to take-off."""
        return (self.start_tenths_fuel - self.rows[0].before_tenths_fuel) / 10.0

    @property
    def fuel_parts(self) -> list[tuple[str, str]]:
        """Taxi, climb, cruise and descent with the fuel of each; they sum to what is used."""
        parts = [("taxi", self.taxi_fuel)]
        parts += [(phase, self.fuel_by_phase[phase] / 10.0) for phase in self.fuel_by_phase]
        return [(name, f"{amount:.1f}") for name, amount in parts if amount]

    @property
    def rule(self) -> str:
        """What stands under the head of the table: how its figures add up, and the clock of ETA."""
        clock = UTC if self.zone == UTC else clock_name(self.rows[0].take_off, self.zone)
        return f"{LOG_ADDS_UP} ETA in {clock}."

    @property
    def days(self) -> int:
        """How many midnights the ETA column passes."""
        return clock_days(self.rows[0].take_off, self.rows[-1].eta, self.zone)

    @property
    def verdict(self) -> Verdict:
        """Fuel left on landing against the reserve."""
        return verdict(self.sector)


class PrintedLog(NamedTuple):
    """A whole log in printed figures."""

    sectors: tuple[PrintedSector, ...]

    @property
    def distance_nm(self) -> float:
        """The sum of all rows [NM]."""
        return math.fsum(sector.distance_nm for sector in self.sectors)

    @property
    def ete_min(self) -> int:
        """The sum of all rows [min]."""
        return sum(sector.ete_min for sector in self.sectors)

    @property
    def fuel_used(self) -> float:
        """All fuel from the first start-up on, taxi with it."""
        return math.fsum(sector.taxi_fuel + sector.fuel_flown for sector in self.sectors)


def printed_log(log: NavigationLog) -> PrintedLog:
    """Return a log in printed figures."""
    return PrintedLog(tuple(printed_sector(log.plan, sector) for sector in log.sectors))


def printed_sector(plan: Plan, sector: Sector) -> PrintedSector:
    """Return one sector in printed figures."""
    before = (None, *sector.rows)
    rows = tuple(
        printed_row(plan, sector, row, last) for last, row in zip(before, sector.rows, strict=False)
    )
    return PrintedSector(
        sector, rows, tenths_left(sector.fuel.at_start), _by_phase(sector), _zone(plan, sector)
    )


def printed_row(plan: Plan, sector: Sector, row: LogRow, before: LogRow | None) -> PrintedRow:
    """Return one row in printed figures, after the row before it in its sector, if any."""
    take_off = minute(sector.take_off)
    at_take_off = sector.fuel.at_start - sector.fuel.taxi
    course, variation = whole(row.course.true_course_deg), whole(row.course.variation_deg_east)
    correction = whole(row.triangle.wind_correction_angle_deg)
    card = plan.aircraft.compass_card
    heading = magnetic_whole(course + correction, variation)
    zone = _zone(plan, sector)
    both = row is sector.rows[-1] and zone != UTC and _differ(row.eta, zone, sector.end_zone)
    return PrintedRow(
        row,
        before_tenths_nm=tenths(row.start.at_nm),
        total_tenths_nm=tenths(row.end.at_nm),
        sector_end_tenths_nm=tenths(sector.rows[-1].end.at_nm),
        take_off=take_off,
        before=minute(before.eta) if before else take_off,
        eta=minute(row.eta),
        before_tenths_fuel=tenths_left(before.fuel_remaining if before else at_take_off),
        left_tenths_fuel=tenths_left(row.fuel_remaining),
        true_course_deg=_circle(course),
        variation_deg_east=variation,
        wind_correction_angle_deg=correction,
        deviation_deg=whole(card.correction_deg(heading)) if card else None,
        zone=zone,
        end_zone=sector.end_zone if both else "",
    )


def verdict(sector: Sector) -> Verdict:
    """Return fuel left and reserve, rounded against the pilot, with as few decimals as agree.

    Whether the reserve is met is decided by unrounded fuel.
    """
    left, reserve = sector.fuel.remaining, sector.reserve_fuel
    for places in range(1, MOST_PLACES):
        scale = 10.0**places
        spare = LAST_DIGITS_OF_FUEL * scale
        found = Verdict(
            places,
            math.floor(left * scale + spare) / scale,
            math.ceil(reserve * scale - spare) / scale,
        )
        if (found.margin > -0.5 / scale) == (sector.margin_fuel >= 0.0):
            return found
    return Verdict(MOST_PLACES, left, reserve)


def minutes_between(before: dt.datetime, after: dt.datetime) -> int:
    """Return the whole minutes between two instants."""
    return round((after - before).total_seconds() / 60.0)


def heading_difference_deg(printed: int, unrounded_deg: float) -> float:
    """Return how far a printed heading lies from the unrounded one [°], either way.

    >>> heading_difference_deg(360, 1.2)
    1.2
    """
    return round(abs(half_turn(printed - unrounded_deg)), 9)


def _by_phase(sector: Sector) -> dict[Phase, int]:
    """Tenths of fuel by phase, as differences of the same running total as the rows."""
    found: dict[Phase, int] = {"climb": 0, "cruise": 0, "descent": 0}
    remaining = sector.fuel.at_start - sector.fuel.taxi
    for row in sector.rows:
        used = itertools.accumulate(flown.fuel for flown in row.flown[:-1])
        totals = [remaining, *(remaining - so_far for so_far in used), row.fuel_remaining]
        for flown, (start, end) in zip(row.flown, itertools.pairwise(totals), strict=True):
            found[flown.phase] += tenths_left(start) - tenths_left(end)
        remaining = row.fuel_remaining
    return found


def _zone(plan: Plan, sector: Sector) -> str:
    return UTC if plan.clock == "utc" else sector.start_zone


def _differ(instant: dt.datetime, one: str, other: str) -> bool:
    return clock_hours(instant, one) != clock_hours(instant, other)


def _circle(degrees: int) -> int:
    """A sum of whole degrees on the circle, north as 360."""
    return degrees % 360 or 360
