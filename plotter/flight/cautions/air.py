"""Cautions about the air a log is figured with: which wind, whose, until when, what it rests on."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from plotter.earth.geodesic import distance_nm
from plotter.flight.air.levels import NoteCode
from plotter.flight.aircraft import Aircraft, Cruise, VerticalRate
from plotter.flight.log_values import LogRow, NavigationLog
from plotter.flight.track import Flown
from plotter.messages import message
from plotter.route.values import Caution
from plotter.wording import zulu_since

FAR_FROM_STATION_NM = 200.0
"""Stations of a forecast stand 100 to 200 NM apart (common knowledge, from memory)."""
STRONG_SHARE = 0.5
"""From here on a change of wind takes the heading and the time far off the log: in a crosswind of
half the true airspeed the correction is 30° (our choice)."""
LOW_GROUNDSPEED_KT = 20.0
"""Below this a change of 5 kt in the wind changes time and fuel by a quarter (our choice)."""
_OF_DENSITY: tuple[NoteCode, ...] = ("no-altimeter", "no-temperature")
"""What enters no figure of an aircraft that is given by true airspeeds alone."""


def air_cautions(log: NavigationLog) -> Iterator[Caution]:
    """What matters for heading and time is a check, the rest a note."""
    yield from _wind_given(log)
    yield from _strong_wind(log)
    yield from _low_groundspeed(log)
    yield from _period(log)
    yield from _far_station(log)
    yield from _beyond(log)
    yield from _rests_on(log)


def _wind_given(log: NavigationLog) -> Iterator[Caution]:
    if any(note.code == "no-wind" for row in log.rows for note in row.air_notes):
        yield Caution("CHECK", message("no-wind"))
    if log.plan.winds and log.plan.winds_aloft:
        yield Caution("CHECK", message("two-winds"))


def _strong_wind(log: NavigationLog) -> Iterator[Caution]:
    """Legs with a wind of more than half the true airspeed, with the worst of them."""
    flown = [one for row in log.rows for one in row.flown]
    strong = [one for one in flown if _wind_share(one) > STRONG_SHARE]
    if strong:
        worst = max(strong, key=_wind_share).triangle
        legs = _legs(strong)
        said = message(
            "strong-wind",
            legs=legs,
            # Rounded apart, because 55.2 kt must not be printed as half of 110 kt.
            wind_kt=math.ceil(worst.wind.speed_kt),
            airspeed_kt=math.floor(worst.true_airspeed_kt),
        )
        yield Caution("CHECK", said, where=_where(legs))


def _wind_share(flown: Flown) -> float:
    return flown.triangle.wind.speed_kt / flown.triangle.true_airspeed_kt


def _low_groundspeed(log: NavigationLog) -> Iterator[Caution]:
    """Legs flown at less than 20 kt over the ground, with the slowest of them."""
    flown = [one for row in log.rows for one in row.flown]
    slow = [one for one in flown if one.triangle.groundspeed_kt < LOW_GROUNDSPEED_KT]
    if slow:
        least_kt = min(one.triangle.groundspeed_kt for one in slow)
        legs = _legs(slow)
        said = message(
            "low-groundspeed",
            legs=legs,
            # Rounded down, because 19.9 kt must not be printed as the limit of 20 kt.
            groundspeed_kt=math.floor(least_kt),
            limit_kt=LOW_GROUNDSPEED_KT,
        )
        yield Caution("CHECK", said, where=_where(legs))


def _legs(flown: Iterable[Flown]) -> tuple[int, ...]:
    return tuple(dict.fromkeys(one.course.leg.number for one in flown))


def _where(legs: Iterable[int]) -> str:
    return f"leg {', '.join(map(str, legs))}"


def _period(log: NavigationLog) -> Iterator[Caution]:
    """A forecast in use at take-off whose period ends before the last landing."""
    if log.sky.bulletin is None:
        return
    from plotter.flight.air.forecast import use_period

    start = log.sectors[0].take_off
    end = use_period(log.sky.bulletin, start).end
    late = next((row for row in log.rows if row.eta > end), None)
    if late is not None:
        said = message(
            "winds-aloft-period",
            until=zulu_since(start, end),
            point=late.end.name,
            eta=zulu_since(start, late.eta),
        )
        yield Caution("CHECK", said, "FAA-H-8083-28", late.end.name)


def _far_station(log: NavigationLog) -> Iterator[Caution]:
    stations = log.sky.stations
    if not stations:
        return
    away_nm: dict[int, float] = {}
    for row in log.rows:
        if row.course.notes.wind is None:
            middle, number = row.course.line.middle, row.course.leg.number
            nearest_nm = min(distance_nm(middle, place) for place in stations.values())
            away_nm[number] = max(nearest_nm, away_nm.get(number, 0.0))
    far = {number: away for number, away in away_nm.items() if away > FAR_FROM_STATION_NM}
    if far:
        said = message("winds-aloft-far", legs=tuple(far), away_nm=max(far.values()))
        yield Caution("CHECK", said, where=_where(far))


def _beyond(log: NavigationLog) -> Iterator[Caution]:
    beyond = [row for row in log.rows if row.phase == "cruise" and _wind_beyond(row)]
    if beyond:
        side = _wind_beyond(beyond[0])
        said = message("wind-beyond", altitude_ft=beyond[0].altitude_ft, side=side)
        yield Caution("CHECK", said)


def _wind_beyond(row: LogRow) -> str:
    return next((one.air.wind_beyond for one in row.flown if one.air.wind_beyond), "")


def _rests_on(log: NavigationLog) -> Iterator[Caution]:
    """Each assumption once; how far a station is from each leg is said with the row."""
    without = {"no-wind", *(() if _uses_density(log.plan.aircraft) else _OF_DENSITY)}
    notes = (note for row in log.rows for note in row.air_notes if note.code not in without)
    assumptions = tuple(dict.fromkeys(note.brief or note.words for note in notes))
    if assumptions:
        yield Caution("NOTE", message("rests-on", assumptions=assumptions))


def _uses_density(aircraft: Aircraft) -> bool:
    """Whether pressure or temperature enters a figure: calibrated airspeeds, tables."""
    rates = (aircraft.climb, aircraft.descent)
    speeds = [rate.airspeed for rate in rates if isinstance(rate, VerticalRate)]
    if isinstance(aircraft.cruise, Cruise):
        speeds.append(aircraft.cruise.airspeed)
    by_table = len(speeds) < 1 + sum(rate is not None for rate in rates)
    return by_table or any(speed.kind == "calibrated" for speed in speeds)
