"""The fuel reserve a visual flight must have, and which reading of the rule asked for it.

Source: 14 CFR 91.151: fuel to the first point of intended landing and, at normal cruising speed,
after that for 30 min by day or 45 min by night; in a rotorcraft 20 min. The rule does not say when
it must be day. So it is read twice, at the ETA and at the ETA plus 45 min, when a night reserve
would be used up, and the larger is taken.

ICAO asks for the same minutes: Annex 6, Part II, 2.2.3.6 (general aviation, aeroplanes, VFR), and
for helicopters Part III, Section III, 2.8, both from memory. A state may ask for more.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Literal, get_args

from plotter.earth.position import Position
from plotter.earth.sun import is_night
from plotter.errors import InputError
from plotter.flight.checks import check_not_negative
from plotter.flight.time_fuel import fuel_used

AircraftCategory = Literal["airplane", "rotorcraft"]
CATEGORIES: tuple[AircraftCategory, ...] = get_args(AircraftCategory)

DAY_MIN, NIGHT_MIN, ROTORCRAFT_MIN = 30.0, 45.0, 20.0
US_SOURCES: dict[AircraftCategory, str] = {
    "airplane": "14 CFR 91.151(a)",
    "rotorcraft": "14 CFR 91.151(b)",
}
ICAO_SOURCES: dict[AircraftCategory, str] = {
    "airplane": "ICAO Annex 6, Part II, 2.2.3.6",
    "rotorcraft": "ICAO Annex 6, Part III, Section III, 2.8",
}
LATER = dt.timedelta(minutes=NIGHT_MIN)


@dataclass(frozen=True, slots=True)
class Reserve:
    """The reserve [min]: what the rule asks, what is held, and by which reading, in words."""

    rule_min: float
    minutes: float
    night_at_eta: bool
    night_later: bool
    reading: str
    source: str

    def fuel(self, cruise_fuel_per_hour: float) -> float:
        """The fuel it takes at normal cruise, in the unit of the flow."""
        return fuel_used(cruise_fuel_per_hour, self.minutes)


def reserve_at(
    destination: Position,
    eta: dt.datetime,
    category: AircraftCategory = "airplane",
    own_min: float | None = None,
    source: str = "",
) -> Reserve:
    """The reserve for landing at a position at a time; the pilot's own [min] if that is larger.

    ``source`` is whose rule it is, left out that of the United States. Raises InputError, code
    ``instant``, for a time without a zone.
    """
    return reserve(
        is_night(destination, eta), is_night(destination, eta + LATER), category, own_min, source
    )


def reserve(
    night_at_eta: bool,
    night_later: bool,
    category: AircraftCategory = "airplane",
    own_min: float | None = None,
    source: str = "",
) -> Reserve:
    """The reserve from night or day at the ETA and 45 min later.

    Raises InputError, code ``reserve_min`` or ``aircraft_category``, for a figure or word that
    cannot be.

    >>> reserve(False, True).reading
    'night 45 min after the ETA, though day at the ETA: 45 min'
    >>> reserve(False, False, own_min=60.0).minutes
    60.0
    """
    if category not in CATEGORIES:
        raise InputError(
            "aircraft_category",
            candidates=CATEGORIES,
            name="aircraft_category",
            value=category,
            categories=tuple(CATEGORIES),
        )
    if own_min is not None:
        check_not_negative("reserve_min", own_min)
    rule_min, reading = _read(night_at_eta, night_later, category)
    minutes = max(rule_min, own_min or 0.0)
    if minutes > rule_min:
        reading += f"; the pilot's own reserve of {minutes:g} min is more and is used"
    return Reserve(
        rule_min, minutes, night_at_eta, night_later, reading, source or US_SOURCES[category]
    )


def _read(night_at_eta: bool, night_later: bool, category: AircraftCategory) -> tuple[float, str]:
    if category == "rotorcraft":
        return ROTORCRAFT_MIN, "rotorcraft, by day and by night: 20 min"
    if night_at_eta and night_later:
        return NIGHT_MIN, "night at the ETA and 45 min after it: 45 min"
    if night_at_eta:
        return NIGHT_MIN, "night at the ETA, though day 45 min after it: 45 min"
    if night_later:
        return NIGHT_MIN, "night 45 min after the ETA, though day at the ETA: 45 min"
    return DAY_MIN, "day at the ETA and 45 min after it: 30 min"
