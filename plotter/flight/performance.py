"""What the flight manual's tables say of climb and cruise, between the rows that are printed.

Both tables are the manual's own figures, for still air and the temperature they are printed for;
what it adds for heat or weight is the pilot's to add.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from plotter.errors import InputError
from plotter.flight.air.levels import Beyond
from plotter.flight.checks import check_above_zero, check_airspeed, check_not_negative


@dataclass(frozen=True, slots=True)
class ClimbRow:
    """From sea level up to this pressure altitude [ft]: time [min], fuel, still-air way [NM]."""

    altitude_ft: float
    minutes: float
    fuel: float
    distance_nm: float

    def __post_init__(self) -> None:
        for key in ("altitude_ft", "minutes", "fuel", "distance_nm"):
            check_not_negative(key, getattr(self, key))


class Climb(NamedTuple):
    """Time [min], fuel and still-air distance [NM] of a climb."""

    minutes: float
    fuel: float
    distance_nm: float


@dataclass(frozen=True, slots=True)
class ClimbTable:
    """Time, fuel and distance to climb, cumulative from sea level, rows from low to high.

    A row for sea level, all zero, is added where it is left out. Raises InputError, code
    ``climb_table``, where a row does not rise above the one before.

    >>> table = ClimbTable((ClimbRow(2000, 3, 0.7, 4), ClimbRow(4000, 7, 1.5, 9)))
    >>> table.between(1000, 4000)
    Climb(minutes=5.5, fuel=1.15, distance_nm=7.0)
    """

    rows: tuple[ClimbRow, ...]

    def __post_init__(self) -> None:
        rows = self.rows
        if not rows or rows[-1].altitude_ft == 0.0:
            raise _climb_fault("the climb table needs a row above sea level")
        if rows[0].altitude_ft > 0.0:
            rows = (ClimbRow(0.0, 0.0, 0.0, 0.0), *rows)
            object.__setattr__(self, "rows", rows)
        if any((rows[0].minutes, rows[0].fuel, rows[0].distance_nm)):
            raise _climb_fault("the climb table starts from sea level with 0 min, 0 fuel and 0 NM")
        for lower, upper in itertools.pairwise(rows):
            _check_rises(lower, upper)

    @property
    def highest_ft(self) -> float:
        """The highest altitude of the table [ft]."""
        return self.rows[-1].altitude_ft

    def between(self, from_ft: float, to_ft: float) -> Climb:
        """The climb from one pressure altitude [ft] to another: the difference of the two.

        Below sea level the first row's figures go on. Raises InputError, code ``climb_table``,
        above the table, or for a climb that goes down.
        """
        if to_ft < from_ft:
            raise _climb_fault(f"{to_ft:,.0f} ft is below {from_ft:,.0f} ft; that is no climb")
        low, high = self._from_sea_level(from_ft), self._from_sea_level(to_ft)
        return Climb(*(top - bottom for bottom, top in zip(low, high, strict=True)))

    def _from_sea_level(self, altitude_ft: float) -> Climb:
        if altitude_ft > self.highest_ft:
            raise _climb_fault(
                f"the climb table ends at {self.highest_ft:,.0f} ft, below {altitude_ft:,.0f} ft; "
                "add a row from the flight manual, or fly lower"
            )
        upper = next(row for row in self.rows[1:] if row.altitude_ft >= altitude_ft)
        lower = self.rows[self.rows.index(upper) - 1]
        part = (altitude_ft - lower.altitude_ft) / (upper.altitude_ft - lower.altitude_ft)
        return Climb(
            lower.minutes + (upper.minutes - lower.minutes) * part,
            lower.fuel + (upper.fuel - lower.fuel) * part,
            lower.distance_nm + (upper.distance_nm - lower.distance_nm) * part,
        )


@dataclass(frozen=True, slots=True)
class CruiseRow:
    """True airspeed [kt] and fuel flow an hour at one pressure altitude [ft]."""

    altitude_ft: float
    true_airspeed_kt: float
    fuel_per_hour: float

    def __post_init__(self) -> None:
        check_not_negative("altitude_ft", self.altitude_ft)
        check_airspeed("true_airspeed_kt", self.true_airspeed_kt)
        check_above_zero("fuel_per_hour", self.fuel_per_hour)


class CruiseFigures(NamedTuple):
    """True airspeed [kt] and fuel flow an hour, and whether from beyond the table."""

    true_airspeed_kt: float
    fuel_per_hour: float
    beyond: Beyond


@dataclass(frozen=True, slots=True)
class CruiseTable:
    """Cruise figures by pressure altitude, rows from low to high.

    Beyond the table its end row is used as it is, and said. Raises InputError, code
    ``cruise_table``, with no row or where they do not rise.

    >>> table = CruiseTable((CruiseRow(2000, 110, 8.0), CruiseRow(6000, 114, 7.6)))
    >>> table.at(3000), table.at(7500).beyond
    (CruiseFigures(true_airspeed_kt=111.0, fuel_per_hour=7.9, beyond=''), 'above')
    """

    rows: tuple[CruiseRow, ...]

    def __post_init__(self) -> None:
        if not self.rows:
            raise InputError("cruise_table.empty")
        for lower, upper in itertools.pairwise(self.rows):
            if not upper.altitude_ft > lower.altitude_ft:
                raise InputError(
                    "cruise_table.order",
                    upper_ft=upper.altitude_ft,
                    lower_ft=lower.altitude_ft,
                )

    def at(self, altitude_ft: float) -> CruiseFigures:
        """True airspeed and fuel flow at a pressure altitude [ft], in proportion between rows."""
        lowest, highest = self.rows[0], self.rows[-1]
        if altitude_ft < lowest.altitude_ft:
            return CruiseFigures(lowest.true_airspeed_kt, lowest.fuel_per_hour, "below")
        if altitude_ft > highest.altitude_ft:
            return CruiseFigures(highest.true_airspeed_kt, highest.fuel_per_hour, "above")
        lower, upper, part = _cruise_rows_around(self.rows, altitude_ft)
        return CruiseFigures(
            lower.true_airspeed_kt + (upper.true_airspeed_kt - lower.true_airspeed_kt) * part,
            lower.fuel_per_hour + (upper.fuel_per_hour - lower.fuel_per_hour) * part,
            "",
        )


def _cruise_rows_around(
    rows: Sequence[CruiseRow], altitude_ft: float
) -> tuple[CruiseRow, CruiseRow, float]:
    """The rows below and above an altitude within the table, and how far up between them."""
    k = next(k for k, row in enumerate(rows) if row.altitude_ft >= altitude_ft)
    lower, upper = rows[max(0, k - 1)], rows[k]
    height = upper.altitude_ft - lower.altitude_ft
    return lower, upper, (altitude_ft - lower.altitude_ft) / height if height else 0.0


def _check_rises(lower: ClimbRow, upper: ClimbRow) -> None:
    """Altitude, time and distance must grow; fuel, printed coarsely, must not shrink."""
    for word, low, high in (
        ("altitude_ft", lower.altitude_ft, upper.altitude_ft),
        ("minutes", lower.minutes, upper.minutes),
        ("distance_nm", lower.distance_nm, upper.distance_nm),
    ):
        if not high > low:
            raise _climb_fault(
                f"the climb table has {word} {high:g} after {low:g}; its rows are cumulative from "
                "sea level and go from low to high"
            )
    if upper.fuel < lower.fuel:
        raise _climb_fault(
            f"the climb table has fuel {upper.fuel:g} after {lower.fuel:g}; its rows are "
            "cumulative from sea level"
        )


def _climb_fault(message: str) -> InputError:
    return InputError(message, code="climb_table")
