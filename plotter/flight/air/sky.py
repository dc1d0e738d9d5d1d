"""The air a flight goes through: wind, temperature and pressure altitude anywhere along it.

Wind comes from the plan's own levels, from a winds aloft forecast, or, with neither, is calm and
said so. Temperature comes with the wind; where it does not, from the nearest report on the ground
by the standard lapse rate; where there is none, from the standard atmosphere. Pressure altitude
follows the altimeter setting of the nearest report, or the standard one. Each of these is named in
``notes``, so that whoever prints a figure can say what it rests on.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from plotter.earth.atmosphere import pressure_altitude_ft, standard_temperature_c
from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.flight.air.levels import Air, AirNote, Beyond, WindLevel, air_at
from plotter.flight.plan.values import Plan, PlannedWind, Weather
from plotter.flight.wind import CALM, Wind
from plotter.places.model import Airport
from plotter.places.store import Store

if TYPE_CHECKING:
    from plotter.flight.air.forecast import Bulletin


class Reported(NamedTuple):
    """A report or forecast on the ground, where it was made; its elevation [ft MSL] if known."""

    weather: Weather
    position: Position
    elevation_ft: float | None


class AirHere(NamedTuple):
    """Wind, temperature [°C] and pressure altitude [ft] at one place and altitude [ft MSL]."""

    altitude_ft: float
    wind: Wind
    temperature_c: float
    pressure_altitude_ft: float
    notes: tuple[AirNote, ...]
    wind_beyond: Beyond = ""

    @property
    def rests_on(self) -> tuple[str, ...]:
        """What the figures rest on, in words."""
        return tuple(note.words for note in self.notes)


@dataclass(frozen=True, slots=True)
class Sky:
    """The air of one flight; ask it with :meth:`at`."""

    winds: tuple[PlannedWind, ...] = ()
    bulletin: Bulletin | None = None
    stations: Mapping[str, Position] = field(default_factory=dict)
    reports: tuple[Reported, ...] = ()

    def at(
        self,
        position: Position,
        altitude_ft: float,
        variation_deg_east: float,
        wind: Wind | None = None,
    ) -> AirHere:
        """The air at a position and altitude [ft MSL], with the variation there for a wind given
        by magnetic north; a ``wind`` typed for the leg goes before all others.

        >>> here = Sky().at(Position(44.0, -92.0), 5500.0, 1.0)
        >>> here.wind.speed_kt, round(here.temperature_c, 1)
        (0.0, 4.1)
        >>> here.rests_on[0]
        'no wind is given: calm'
        """
        air = self._air(position, altitude_ft, variation_deg_east, wind)
        pressure_ft, about_pressure = self._pressure(position, altitude_ft)
        warmth_c, about_warmth = self._temperature(air, position, pressure_ft)
        notes = (*air.notes, *about_pressure, *about_warmth)
        return AirHere(altitude_ft, air.wind, warmth_c, pressure_ft, notes, air.wind_beyond)

    def _air(
        self, position: Position, altitude_ft: float, variation_deg_east: float, typed: Wind | None
    ) -> Air:
        if self.bulletin is not None:
            from plotter.flight.air.forecast import air_over

            air = air_over(self.bulletin, self.stations, position, altitude_ft)
        elif self.winds:
            air = air_at(_levels(self.winds, variation_deg_east), altitude_ft)
        else:
            notes = () if typed else (AirNote("no-wind", "no wind is given: calm"),)
            air = Air(altitude_ft, CALM, None, notes=notes)
        if typed is None:
            return air
        return Air(altitude_ft, typed, air.temperature_c, "", air.temperature_beyond, ())

    def _pressure(
        self, position: Position, altitude_ft: float
    ) -> tuple[float, tuple[AirNote, ...]]:
        near = _nearest(self.reports, position, "altimeter_hpa")
        if near is None or near.weather.altimeter_hpa is None:
            said = "no altimeter setting is given: 29.92 inHg (1013.25 hPa)"
            return altitude_ft, (AirNote("no-altimeter", said),)
        note = AirNote("altimeter", f"altimeter setting of {near.weather.point}")
        return pressure_altitude_ft(altitude_ft, near.weather.altimeter_hpa), (note,)

    def _temperature(
        self, air: Air, position: Position, pressure_ft: float
    ) -> tuple[float, tuple[AirNote, ...]]:
        if air.temperature_c is not None:
            return air.temperature_c, ()
        standard_c = standard_temperature_c(pressure_ft)
        near = _nearest(
            [one for one in self.reports if one.elevation_ft is not None], position, "temperature_c"
        )
        if near is None or near.weather.temperature_c is None or near.elevation_ft is None:
            said = "no temperature is given: standard atmosphere"
            return standard_c, (AirNote("no-temperature", said),)
        above_standard_c = near.weather.temperature_c - standard_temperature_c(near.elevation_ft)
        said = f"temperature from {near.weather.point} by the standard lapse rate"
        return standard_c + above_standard_c, (AirNote("temperature", said),)


def bulletin_for(plan: Plan) -> Bulletin | None:
    """The winds aloft of a plan, read for its stations and in use at take-off.

    Raises InputError, codes ``winds-aloft`` and ``winds-aloft-period``.
    """
    if plan.winds_aloft is None:
        return None
    from plotter.flight.air.forecast import check_in_use, read_winds_aloft

    bulletin = read_winds_aloft(plan.winds_aloft.text, plan.winds_aloft.stations)
    check_in_use(bulletin, plan.departure.astimezone(dt.UTC))
    return bulletin


def _levels(winds: Sequence[PlannedWind], variation_deg_east: float) -> list[WindLevel]:
    return [
        WindLevel(each.altitude_ft, each.wind.true_wind(variation_deg_east), each.temperature_c)
        for each in winds
    ]


def _nearest(reports: Sequence[Reported], position: Position, key: str) -> Reported | None:
    """The nearest report that has a figure."""
    with_it = [report for report in reports if getattr(report.weather, key) is not None]
    if len(with_it) < 2:
        return with_it[0] if with_it else None
    return min(with_it, key=lambda report: distance_nm(position, report.position))


# Where the stations of a winds aloft forecast stand.
#
# A bulletin names them by three letters and gives no position. In the United States those are the
# location identifier of an airport or a beacon; the same letters mean other places elsewhere, so
# the one nearest to the flight is taken, and one further away than any forecast reaches is refused.

FARTHEST_NM = 500.0
"""Beyond this a forecast says nothing of the air here; stations stand 100 to 200 NM apart."""


def station_positions(
    store: Store, names: Sequence[str], near: Sequence[Position]
) -> dict[str, Position]:
    """The position of each station by its name, nearest to any of the places of a flight.

    Raises InputError, code ``winds-aloft-station``, for one that the data does not know or that
    is more than 500 NM away.
    """
    return {name.upper(): _position(store, name.upper(), near) for name in names}


def _position(store: Store, name: str, near: Sequence[Position]) -> Position:
    codes = (name, f"K{name}", f"P{name}")
    places = [match.place for code in codes for match in store.by_code(code)]
    known = [
        place.position for place in places if not (isinstance(place, Airport) and place.closed)
    ]
    if not known:
        raise InputError("winds-aloft-station", station=name)
    away, nearest = min(
        ((distance_nm(place, position), position) for position in known for place in near),
        key=lambda pair: pair[0],
    )
    if away > FARTHEST_NM:
        raise InputError(
            "winds-aloft-station.far", station=name, away_nm=away, limit_nm=FARTHEST_NM
        )
    return nearest
