"""What a pilot plans: the flight, its stops, the aircraft, the wind, what is noted leg by leg.

These are the values of a plan file (:mod:`plotter.flight.plan.read`), each checked when it is made.
A wind always says its reference: forecasts and reports in writing are true, a wind spoken by a US
tower or broadcast is magnetic (common practice).
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields
from typing import Literal, get_args

from plotter.earth.atmosphere import altimeter_correction_ft
from plotter.earth.geodesic import LineKind
from plotter.errors import InputError, PlanError, Where
from plotter.flight.aircraft import Aircraft
from plotter.flight.checks import (
    check_above_zero,
    check_airspeed,
    check_altitude,
    check_not_negative,
    check_temperature,
)
from plotter.flight.reserve import AircraftCategory
from plotter.flight.rules import VisualRules
from plotter.flight.wind import Wind, wind_from_magnetic
from plotter.route.checkpoints import DEFAULT_EVERY_NM

SHORTEST_TYPED_NM = 0.1
"""The last digit a distance is printed with; a leg needs length to be flown."""
Reference = Literal["true", "magnetic"]
REFERENCES: tuple[Reference, ...] = get_args(Reference)


@dataclass(frozen=True, slots=True)
class GivenWind:
    """A wind as it was given: from [°], by which north, speed [kt].

    >>> GivenWind(240.0, "magnetic", 12.0).true_wind(10.0)
    Wind(from_true_deg=250.0, speed_kt=12.0)
    """

    from_deg: float
    reference: Reference
    speed_kt: float

    def __post_init__(self) -> None:
        if self.reference not in REFERENCES:
            raise InputError(
                "reference", candidates=REFERENCES, name="reference", value=self.reference
            )
        Wind(self.from_deg, self.speed_kt)

    def true_wind(self, variation_deg_east: float) -> Wind:
        """The wind by true north, with the variation where it blows."""
        if self.reference == "true":
            return Wind(self.from_deg, self.speed_kt)
        return wind_from_magnetic(self.from_deg, variation_deg_east, self.speed_kt)


@dataclass(frozen=True, slots=True)
class PlannedWind:
    """A wind, and temperature [°C] if known, at an altitude [ft MSL]."""

    altitude_ft: float
    wind: GivenWind
    temperature_c: float | None = None

    def __post_init__(self) -> None:
        check_altitude("altitude_ft", self.altitude_ft)
        if self.temperature_c is not None:
            check_temperature("temperature_c", self.temperature_c)


@dataclass(frozen=True, slots=True)
class WindsAloft:
    """A winds aloft forecast as it was pasted, and the stations to take it from."""

    text: str
    stations: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Weather:
    """What is reported or forecast at one point of the route."""

    point: str
    altimeter_hpa: float | None = None
    temperature_c: float | None = None
    wind: GivenWind | None = None

    def __post_init__(self) -> None:
        if self.altimeter_hpa is not None:
            altimeter_correction_ft(self.altimeter_hpa)  # refuses what no altimeter is set to
        if self.temperature_c is not None:
            check_temperature("temperature_c", self.temperature_c)


@dataclass(frozen=True, slots=True)
class Stop:
    """A landing on the way: time on the ground [min], fuel put in, whether to a full stop."""

    point: str
    ground_min: float = 0.0
    fuel_added: float = 0.0
    full_stop: bool = True

    def __post_init__(self) -> None:
        check_not_negative("ground_min", self.ground_min)
        check_not_negative("fuel_added", self.fuel_added)


@dataclass(frozen=True, slots=True)
class LegNotes:
    """What the pilot wants or read from the chart for one leg; ``None`` is nothing typed.

    A typed true course [°T], distance [NM] or variation [°, east positive] replaces the computed
    one. What was measured by hand is compared, never used. ``highest_ground_ft`` and
    ``highest_obstacle_ft`` [ft MSL] are read from the chart; because the first was once the only
    one, it may hold an obstacle.
    """

    number: int
    altitude_ft: float | None = None
    wind: Wind | None = None
    true_airspeed_kt: float | None = None
    highest_ground_ft: float | None = None
    true_course_deg: float | None = None
    distance_nm: float | None = None
    variation_deg_east: float | None = None
    measured_course_deg: float | None = None
    measured_course_reference: Reference = "true"
    measured_nm: float | None = None
    highest_obstacle_ft: float | None = None

    def __post_init__(self) -> None:
        for key in ("altitude_ft", "highest_ground_ft", "highest_obstacle_ft"):
            value = getattr(self, key)
            if value is not None:
                check_altitude(key, value)
        if self.true_airspeed_kt is not None:
            check_airspeed("true_airspeed_kt", self.true_airspeed_kt)
        for key in ("distance_nm", "measured_nm"):
            value = getattr(self, key)
            if value is not None:
                check_above_zero(key, value)
        if self.distance_nm is not None and self.distance_nm < SHORTEST_TYPED_NM:
            raise InputError(
                "figure.shortest",
                code="distance_nm",
                name="distance_nm",
                value=self.distance_nm,
                least=SHORTEST_TYPED_NM,
            )
        for key, low, high in (
            ("true_course_deg", 0.0, 360.0),
            ("measured_course_deg", 0.0, 360.0),
            ("variation_deg_east", -180.0, 180.0),
        ):
            value = getattr(self, key)
            if value is not None and not low <= value <= high:
                raise InputError(
                    "figure.range",
                    code=key,
                    name=key,
                    value=value,
                    what="degrees",
                    low=low,
                    high=high,
                )

    @property
    def replaced(self) -> tuple[str, ...]:
        """Which computed figures of the leg the pilot's own take the place of."""
        keys = ("true_course_deg", "distance_nm", "variation_deg_east")
        return tuple(key for key in keys if getattr(self, key) is not None)


@dataclass(frozen=True, slots=True)
class Limits:
    """The pilot's own limits, asked on top of the rules; ``None`` is none set."""

    reserve_min: float | None = None
    crosswind_kt: float | None = None
    runway_ft: float | None = None
    daylight_margin_min: float | None = None
    ground_clearance_ft: float | None = None

    def __post_init__(self) -> None:
        for one in fields(self):
            value = getattr(self, one.name)
            if value is not None:
                check_not_negative(one.name, value)


FIRST_YEAR, LAST_YEAR = 1900, 2199
"""No flight is planned outside these; the magnetic model has years of its own."""


Clock = Literal["local", "utc"]
"""The clock of the ETA column: that of the field a sector leaves, or UTC."""


def check_departure(departure: dt.datetime) -> None:
    """Raise InputError, code ``departure``, for a time without its offset from UTC, or no flight's.

    Of the first and last days a calendar holds, the day in UTC, or the day after, is in none.
    """
    if departure.tzinfo is None:
        raise InputError("departure.offset", name="departure", typed=departure.isoformat())
    if not FIRST_YEAR <= departure.year <= LAST_YEAR:
        raise InputError(
            "departure.year",
            name="departure",
            year=departure.year,
            first=FIRST_YEAR,
            last=LAST_YEAR,
        )


@dataclass(frozen=True, slots=True)
class Plan:
    """One flight as it is planned.

    ``departure`` is the take-off time, with its zone. ``cruise_altitudes_ft`` is one for the
    flight or one a leg. Checkpoints stand every ``every_nm`` [NM], or every ``every_min`` [min] of
    flying where that is given. ``visual_rules`` of ``None`` are those of where the flight is.
    ``invented`` names the parts (:data:`~plotter.flight.invented.PARTS`) that nobody has confirmed.
    ``clock`` is the one that the ETA column is printed by.
    Raises InputError, its code the key that is wrong.
    """

    route: str
    departure: dt.datetime
    cruise_altitudes_ft: tuple[float, ...]
    aircraft: Aircraft
    name: str = ""
    winds: tuple[PlannedWind, ...] = ()
    winds_aloft: WindsAloft | None = None
    weather: tuple[Weather, ...] = ()
    stops: tuple[Stop, ...] = ()
    legs: tuple[LegNotes, ...] = ()
    limits: Limits = field(default_factory=Limits)
    quiet: Mapping[str, str] = field(default_factory=dict)
    every_nm: float = DEFAULT_EVERY_NM
    every_min: float | None = None
    restart: bool = False
    line: LineKind = "geodesic"
    points_file: str = ""
    visual_rules: VisualRules | None = None
    aircraft_category: AircraftCategory = "airplane"
    lands_on_water: bool = False
    invented: tuple[str, ...] = ()
    clock: Clock = "local"
    chart_middle: float | None = None

    def __post_init__(self) -> None:
        check_departure(self.departure)
        for altitude_ft in self.cruise_altitudes_ft:
            check_altitude("cruise_altitude_ft", altitude_ft)
        if not self.cruise_altitudes_ft:
            raise InputError("cruise_altitude_ft.none", name="cruise_altitude_ft")
        if self.every_min is not None:
            check_above_zero("checkpoints_every_min", self.every_min)

    @property
    def unsplit(self) -> frozenset[int]:
        """The numbers of the legs with typed figures: they are flown on one course each."""
        return frozenset(notes.number for notes in self.legs if notes.replaced)

    def notes_of(self, leg_number: int) -> LegNotes:
        """What is noted for a leg; empty notes where nothing is."""
        for notes in self.legs:
            if notes.number == leg_number:
                return notes
        return LegNotes(leg_number)

    def cruise_altitude_ft(self, leg_number: int) -> float:
        """The altitude [ft MSL] to cruise at on a leg, numbered from 1."""
        noted = self.notes_of(leg_number).altitude_ft
        if noted is not None:
            return noted
        given = self.cruise_altitudes_ft
        return given[0] if len(given) == 1 else given[leg_number - 1]

    def altitude_key(self, leg_number: int) -> str:
        """The path of the key that :meth:`cruise_altitude_ft` takes a leg's altitude from."""
        for row, notes in enumerate(self.legs, start=1):
            if notes.number == leg_number and notes.altitude_ft is not None:
                return f"leg.{row}.altitude_ft"
        return "flight.cruise_altitude_ft"

    def check_legs(self, leg_count: int) -> None:
        """Raise PlanError where altitudes or notes do not fit the number of legs."""
        if faults := list(self.leg_faults(leg_count)):
            raise PlanError(faults)

    def leg_faults(self, leg_count: int) -> Iterator[InputError]:
        """What does not fit a route of so many legs, each with the path of its key."""
        altitudes = len(self.cruise_altitudes_ft)
        if altitudes not in (1, leg_count):
            yield InputError(
                "cruise_altitude_ft.count",
                where=Where(key="flight.cruise_altitude_ft"),
                name="cruise_altitude_ft",
                altitudes=altitudes,
                legs=leg_count,
            )
        for row, notes in enumerate(self.legs, start=1):
            if not 1 <= notes.number <= leg_count:
                yield InputError(
                    "number" if leg_count > 1 else "number.one",
                    where=Where(key=f"leg.{row}.number"),
                    name="[[leg]] number",
                    number=notes.number,
                    last=leg_count,
                )
