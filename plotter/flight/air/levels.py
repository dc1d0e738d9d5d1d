"""Wind and temperature at an altitude, between the levels and the stations that are given.

Between two levels the wind is taken by its components from north and east, and the temperature, in
proportion to altitude. Beyond the lowest or highest level the wind of that level is kept as it is,
and the temperature follows the standard atmosphere from there; both are said. Between stations
each counts by the inverse of its distance, which on the straight line between two of them is
again plain proportion.

That proportion is how the FAA teaches to read a forecast between its levels (Aviation Weather
Handbook, FAA-H-8083-28, "Winds and Temperatures Aloft", from memory); by components, because
half-way between 350° and 010° is north, not south.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from plotter.earth.atmosphere import COLDEST_C, HOTTEST_C, standard_temperature_c
from plotter.errors import InputError
from plotter.flight.wind import Wind, components_kt, wind_from_components

Beyond = Literal["", "below", "above"]
"""Whether a figure was taken from beyond the levels that are given."""

NoteCode = Literal[
    "stations",
    "level",
    "wind-beyond",
    "temperature-beyond",
    "no-wind",
    "altimeter",
    "no-altimeter",
    "temperature",
    "no-temperature",
    "table-beyond",
]

HERE_NM = 0.1
"""A station nearer than this is the place itself, and counts alone."""


@dataclass(frozen=True, slots=True)
class WindLevel:
    """Wind, and temperature [°C] where it is given, at one altitude [ft MSL].

    ``note`` is what a reader of a figure made from this level must be told.
    """

    altitude_ft: float
    wind: Wind
    temperature_c: float | None = None
    note: str = ""

    def __post_init__(self) -> None:
        standard_temperature_c(self.altitude_ft)  # refuses an altitude outside the atmosphere
        if self.temperature_c is not None and not COLDEST_C <= self.temperature_c <= HOTTEST_C:
            raise InputError(
                "temperature.aloft",
                temperature_c=self.temperature_c,
                altitude_ft=self.altitude_ft,
            )


class AirNote(NamedTuple):
    """One thing a figure of the air rests on: a code that stays the same, and words.

    ``brief`` are the words for a whole flight, where those of one place say more than that.
    """

    code: NoteCode
    words: str
    brief: str = ""


@dataclass(frozen=True, slots=True)
class Air:
    """The air at one altitude: wind, temperature [°C] if any is known, and what it rests on."""

    altitude_ft: float
    wind: Wind
    temperature_c: float | None
    wind_beyond: Beyond = ""
    temperature_beyond: Beyond = ""
    notes: tuple[AirNote, ...] = ()


def air_at(levels: Sequence[WindLevel], altitude_ft: float) -> Air:
    """The air at an altitude [ft] between levels given in any order.

    Raises InputError, code ``wind-levels``, with no level or with two at one altitude.

    >>> levels = [WindLevel(3000.0, Wind(350.0, 20.0)), WindLevel(6000.0, Wind(10.0, 20.0), 7.0)]
    >>> air = air_at(levels, 4500.0)
    >>> round(air.wind.from_true_deg) % 360, round(air.wind.speed_kt, 1), air.temperature_beyond
    (0, 19.7, 'below')
    >>> [note.words for note in air.notes]
    ['temperature below 6,000 ft by the standard lapse rate']
    """
    ordered = sorted(levels, key=lambda level: level.altitude_ft)
    _check_levels(ordered)
    lower, upper, part, wind_beyond = _around(ordered, altitude_ft)
    wind = mean_wind([(lower.wind, 1.0 - part), (upper.wind, part)]) if part else lower.wind
    warm = [level for level in ordered if level.temperature_c is not None]
    temperature, temperature_beyond = _temperature_between(warm, altitude_ft)
    used = [lower, upper] if part else [lower]
    notes = (
        *(AirNote("level", level.note) for level in used if level.note),
        *_note("wind-beyond", wind_beyond, ordered, "wind {} {} as at that level"),
        *_note(
            "temperature-beyond",
            temperature_beyond,
            warm,
            "temperature {} {} by the standard lapse rate",
        ),
    )
    return Air(altitude_ft, wind, temperature, wind_beyond, temperature_beyond, notes)


def blend(airs: Sequence[tuple[Air, float]]) -> Air:
    """The air between stations, from the air over each and its distance from here [NM].

    A temperature that some lack is taken from those that have it. Raises InputError, code
    ``wind-levels``, with no station.

    >>> west, east = Air(6000.0, Wind(270.0, 10.0), 4.0), Air(6000.0, Wind(270.0, 30.0), 0.0)
    >>> between = blend([(west, 10.0), (east, 30.0)])
    >>> round(between.wind.speed_kt, 6), between.temperature_c
    (15.0, 3.0)
    """
    if not airs:
        raise InputError("wind-levels.no-station")
    weighted = _weighted(airs)
    warm = _weighted([(air, nm) for air, nm in airs if air.temperature_c is not None])
    used = [air for air, weight in weighted if weight > 0.0]
    return Air(
        altitude_ft=airs[0][0].altitude_ft,
        wind=mean_wind([(air.wind, weight) for air, weight in weighted]),
        temperature_c=_mean_temperature(warm),
        wind_beyond=_first(air.wind_beyond for air in used),
        temperature_beyond=_first(air.temperature_beyond for air in used),
        notes=tuple(dict.fromkeys(note for air in used for note in air.notes)),
    )


def weights(distances_nm: Sequence[float]) -> list[float]:
    """What each station counts by its distance [NM]: 1 / distance, all together 1.

    >>> weights([10.0, 30.0]), weights([0.0, 30.0])
    ([0.75, 0.25], [1.0, 0.0])
    """
    here = [float(distance < HERE_NM) for distance in distances_nm]
    raw = here if any(here) else [1.0 / distance for distance in distances_nm]
    return [one / math.fsum(raw) for one in raw]


def mean_wind(winds: Iterable[tuple[Wind, float]]) -> Wind:
    """The mean of winds by components, each with its weight."""
    parts = [(components_kt(wind), weight) for wind, weight in winds]
    north = math.fsum(north * weight for (north, _), weight in parts)
    east = math.fsum(east * weight for (_, east), weight in parts)
    return wind_from_components(north, east)


def _check_levels(ordered: Sequence[WindLevel]) -> None:
    if not ordered:
        raise InputError("wind-levels.no-wind")
    for lower, upper in itertools.pairwise(ordered):
        if lower.altitude_ft == upper.altitude_ft:
            raise InputError("wind-levels.two", altitude_ft=upper.altitude_ft)


def _around(
    ordered: Sequence[WindLevel], altitude_ft: float
) -> tuple[WindLevel, WindLevel, float, Beyond]:
    """The level below, the level above, how far up between them (0…1), and whether beyond."""
    if altitude_ft < ordered[0].altitude_ft:
        return ordered[0], ordered[0], 0.0, "below"
    if altitude_ft > ordered[-1].altitude_ft:
        return ordered[-1], ordered[-1], 0.0, "above"
    upper = next(level for level in ordered if level.altitude_ft >= altitude_ft)
    lower = [level for level in ordered if level.altitude_ft <= altitude_ft][-1]
    height = upper.altitude_ft - lower.altitude_ft
    return lower, upper, (altitude_ft - lower.altitude_ft) / height if height else 0.0, ""


def _temperature_between(
    warm: Sequence[WindLevel], altitude_ft: float
) -> tuple[float | None, Beyond]:
    if not warm:
        return None, ""
    lower, upper, part, beyond = _around(warm, altitude_ft)
    below, above = lower.temperature_c or 0.0, upper.temperature_c or 0.0
    if beyond:
        change = standard_temperature_c(altitude_ft) - standard_temperature_c(lower.altitude_ft)
        return below + change, beyond
    return below + (above - below) * part, beyond


def _note(
    code: NoteCode, beyond: Beyond, levels: Sequence[WindLevel], words: str
) -> tuple[AirNote, ...]:
    if not beyond:
        return ()
    level = levels[0] if beyond == "below" else levels[-1]
    return (AirNote(code, words.format(beyond, f"{level.altitude_ft:,.0f} ft")),)


def _weighted(airs: Sequence[tuple[Air, float]]) -> list[tuple[Air, float]]:
    """The airs with what each counts in place of its distance."""
    return list(zip([air for air, _ in airs], weights([nm for _, nm in airs]), strict=True))


def _mean_temperature(warm: Sequence[tuple[Air, float]]) -> float | None:
    if not warm:
        return None
    return math.fsum((air.temperature_c or 0.0) * weight for air, weight in warm)


def _first(beyonds: Iterable[Beyond]) -> Beyond:
    return next((beyond for beyond in beyonds if beyond), "")
