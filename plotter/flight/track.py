"""One sector flown on paper: up, along and down, as stretches with one wind and airspeed each.

The flight is flown forward from the field it leaves, climbing to the altitude of each leg as it
comes to it, and the descent is flown backward from the field it lands at. Where the two meet is the
top of descent: so a climb goes on past a turning point on the new heading, a descent may begin
before one, and only a flight too short to reach its cruise peaks below it.

The steps are cut at every 500 ft (:mod:`plotter.flight.track`), each with the wind at its middle;
a step that crosses a turning point is cut there and goes on with the new course.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from plotter.errors import InputError
from plotter.flight.air.levels import AirNote
from plotter.flight.air.sky import AirHere, Sky
from plotter.flight.aircraft import Aircraft, VerticalRate
from plotter.flight.courses import Course
from plotter.flight.performance import ClimbTable
from plotter.flight.time_fuel import distance_flown_nm, ete_min, fuel_used, groundspeed_made_kt
from plotter.flight.wind import Triangle, wind_triangle
from plotter.route.checkpoints import SAME_PLACE_NM

# Going up and coming down in steps of altitude, each with its time, fuel and true airspeed.
#
# The steps are laid where the caller can put a wind to each: cut at every 500 ft, figures taken in
# the middle of the step. What the aircraft covers over the ground in a step is its true airspeed
# through a wind triangle, on whatever leg it is by then.

STEP_FT = 500.0


class Conditions(NamedTuple):
    """Pressure altitude [ft] and air temperature [°C] at an altitude."""

    pressure_altitude_ft: float
    temperature_c: float


ConditionsAt = Callable[[float], Conditions]


@dataclass(frozen=True, slots=True)
class VerticalStep:
    """From one altitude [ft] to another: time [min], fuel, true airspeed [kt]."""

    from_ft: float
    to_ft: float
    minutes: float
    fuel: float
    true_airspeed_kt: float

    @property
    def middle_ft(self) -> float:
        """The altitude half-way [ft], where its wind is taken."""
        return (self.from_ft + self.to_ft) / 2.0


def climb_steps(
    climb: VerticalRate | ClimbTable, from_ft: float, to_ft: float, at: ConditionsAt
) -> tuple[VerticalStep, ...]:
    """The steps of a climb between two altitudes [ft], none where they are equal.

    Raises InputError, code ``altitude``, for a climb that goes down, ``climb_table`` above the
    table.

    >>> from plotter.flight.aircraft import Airspeed
    >>> steps = climb_steps(
    ...     VerticalRate(500.0, Airspeed(80.0), 12.0),
    ...     900.0, 2000.0, lambda altitude_ft: Conditions(altitude_ft, 15.0),
    ... )
    >>> [(step.from_ft, step.to_ft, step.minutes) for step in steps]
    [(900.0, 1000.0, 0.2), (1000.0, 1500.0, 1.0), (1500.0, 2000.0, 1.0)]
    """
    if to_ft < from_ft:
        raise InputError("altitude.climb", from_ft=from_ft, to_ft=to_ft)
    if isinstance(climb, ClimbTable):
        return _table_steps(climb, from_ft, to_ft, at)
    return _rate_steps(climb, _edges(from_ft, to_ft), at)


def descent_steps(
    descent: VerticalRate, from_ft: float, to_ft: float, at: ConditionsAt
) -> tuple[VerticalStep, ...]:
    """The steps of a descent between two altitudes [ft], highest first, none where equal.

    Raises InputError, code ``altitude``, for a descent that goes up.
    """
    if to_ft > from_ft:
        raise InputError("altitude.descent", from_ft=from_ft, to_ft=to_ft)
    return _rate_steps(descent, _edges(to_ft, from_ft)[::-1], at)


def _edges(low_ft: float, high_ft: float) -> list[float]:
    """Both ends and every multiple of the step between them, rising."""
    first = math.floor(low_ft / STEP_FT) + 1
    last = math.ceil(high_ft / STEP_FT)
    between = [k * STEP_FT for k in range(first, last)]
    return [low_ft, *between, high_ft] if high_ft > low_ft else []


def _rate_steps(
    rate: VerticalRate, edges: list[float], at: ConditionsAt
) -> tuple[VerticalStep, ...]:
    steps = []
    for start, end in itertools.pairwise(edges):
        minutes = abs(end - start) / rate.rate_fpm
        speed = rate.airspeed.true_kt(*at((start + end) / 2.0))
        fuel = fuel_used(rate.fuel_per_hour, minutes)
        steps.append(VerticalStep(start, end, minutes, fuel, speed))
    return tuple(steps)


def _table_steps(
    table: ClimbTable, from_ft: float, to_ft: float, at: ConditionsAt
) -> tuple[VerticalStep, ...]:
    """Time and fuel from the table; its true airspeed is the mean over the whole climb.

    A table's distances are printed in whole miles, so that of one step alone would make the
    airspeed jump from step to step.
    """
    edges = _edges(from_ft, to_ft)
    heights = [at(edge).pressure_altitude_ft for edge in edges]
    if not edges:
        return ()
    whole = table.between(heights[0], heights[-1])
    speed = groundspeed_made_kt(whole.distance_nm, whole.minutes)
    parts = [table.between(low, high) for low, high in itertools.pairwise(heights)]
    return tuple(
        VerticalStep(low, high, part.minutes, part.fuel, speed)
        for (low, high), part in zip(itertools.pairwise(edges), parts, strict=True)
    )


Phase = Literal["climb", "cruise", "descent"]


class Flown(NamedTuple):
    """A stretch of one course flown with one wind and one true airspeed.

    ``start_nm`` and ``end_nm`` count from the start of the flight; altitude changes evenly.
    """

    course: Course
    phase: Phase
    start_nm: float
    end_nm: float
    from_ft: float
    to_ft: float
    minutes: float
    fuel: float
    triangle: Triangle
    air: AirHere
    fuel_per_hour: float

    @property
    def distance_nm(self) -> float:
        """Length [NM]."""
        return self.end_nm - self.start_nm

    def altitude_at(self, at_nm: float) -> float:
        """Altitude [ft MSL] at a distance [NM] from the start of the flight."""
        share = (at_nm - self.start_nm) / self.distance_nm if self.distance_nm else 0.0
        return self.from_ft + (self.to_ft - self.from_ft) * share

    def cut(self, at_nm: float) -> tuple[Flown, Flown]:
        """The part before and the part after a distance [NM] from the start of the flight."""
        share = (at_nm - self.start_nm) / self.distance_nm
        altitude_ft, minutes, fuel = (
            self.altitude_at(at_nm),
            self.minutes * share,
            self.fuel * share,
        )
        return (
            self._replace(end_nm=at_nm, to_ft=altitude_ft, minutes=minutes, fuel=fuel),
            self._replace(
                start_nm=at_nm,
                from_ft=altitude_ft,
                minutes=self.minutes - minutes,
                fuel=self.fuel - fuel,
            ),
        )


class SectorFlight(NamedTuple):
    """What one sector is flown with: its courses, the altitude of each, aircraft and air."""

    courses: tuple[Course, ...]
    cruise_ft: tuple[float, ...]
    aircraft: Aircraft
    sky: Sky

    def air(self, course: Course, altitude_ft: float) -> AirHere:
        """The air at the middle of a course and an altitude [ft MSL]."""
        return self.sky.at(
            course.line.middle, altitude_ft, course.variation_deg_east, course.notes.wind
        )

    def conditions(self, course: Course) -> ConditionsAt:
        """Pressure altitude and temperature by altitude, over the middle of a course."""

        def at(altitude_ft: float) -> Conditions:
            air = self.air(course, altitude_ft)
            return Conditions(air.pressure_altitude_ft, air.temperature_c)

        return at

    def steps(self, from_ft: float, to_ft: float, course: Course) -> list[VerticalStep]:
        """The steps between two altitudes [ft MSL]; none where the aircraft has no such rate."""
        climb, descent = self.aircraft.climb, self.aircraft.descent
        if to_ft > from_ft and climb is not None:
            return list(climb_steps(climb, from_ft, to_ft, self.conditions(course)))
        if to_ft < from_ft and descent is not None:
            return list(descent_steps(descent, from_ft, to_ft, self.conditions(course)))
        return []

    def cruise_fuel_per_hour(self) -> float:
        """The fuel flow an hour of the last course at its cruising altitude."""
        air = self.air(self.courses[-1], self.cruise_ft[-1])
        return self.aircraft.cruise_at(air.pressure_altitude_ft, air.temperature_c).fuel_per_hour


def fly(flight: SectorFlight, from_ft: float, to_ft: float) -> tuple[Flown, ...]:
    """The stretches of a sector from an altitude [ft MSL] at its start to one at its end.

    Without climb the flight starts at its cruising altitude, without descent it ends there. Raises
    InputError, codes ``crosswind-exceeds-airspeed`` and ``no-groundspeed``, with the leg.
    """
    out = forward(flight, from_ft if flight.aircraft.climb else flight.cruise_ft[0])
    if flight.aircraft.descent is None:
        return tuple(out)
    top_ft = max(flown.to_ft for flown in out)
    return tuple(_joined(out, backward(flight, top_ft, to_ft)))


def forward(flight: SectorFlight, from_ft: float) -> list[Flown]:
    """From the start to the end of the sector at the altitudes asked for, with no descent to land.

    Where climb or descent between two legs has no rate, the altitude changes at the turning point.
    """
    path: list[Flown] = []
    here_ft, target_ft, here_nm = from_ft, from_ft, flight.courses[0].start_nm
    pending: list[VerticalStep] = []
    for course, wanted_ft in zip(flight.courses, flight.cruise_ft, strict=True):
        if wanted_ft != target_ft:
            pending, target_ft = flight.steps(here_ft, wanted_ft, course), wanted_ft
            here_ft = here_ft if pending else wanted_ft
        while pending and here_nm < course.end_nm - SAME_PLACE_NM:
            flown = _vertical(flight, course, pending.pop(0), start_nm=here_nm)
            if flown.end_nm > course.end_nm + SAME_PLACE_NM:
                flown, rest = flown.cut(course.end_nm)
                pending.insert(0, _step(rest))
            path.append(flown)
            here_nm, here_ft = flown.end_nm, flown.to_ft
        if here_nm < course.end_nm - SAME_PLACE_NM:
            path.append(_cruise(flight, course, here_nm, here_ft))
        here_nm = course.end_nm
    return path


def backward(flight: SectorFlight, top_ft: float, to_ft: float) -> Iterator[Flown]:
    """The descent to the end of the sector, from its end back to the top or the start.

    One stretch at a time, so that no wind is asked for above where the descent begins.
    """
    last = flight.courses[-1]
    pending = flight.steps(top_ft, to_ft, last) if top_ft > to_ft else []
    end_nm = last.end_nm
    for course in reversed(flight.courses):
        while pending and end_nm > course.start_nm + SAME_PLACE_NM:
            flown = _vertical(flight, course, pending.pop(), end_nm=end_nm)
            if flown.start_nm < course.start_nm - SAME_PLACE_NM:
                before, flown = flown.cut(course.start_nm)
                pending.append(_step(before))
            yield flown
            end_nm = flown.start_nm


def _vertical(
    flight: SectorFlight,
    course: Course,
    step: VerticalStep,
    *,
    start_nm: float | None = None,
    end_nm: float = 0.0,
) -> Flown:
    """One step on one course, from its start or, flown backward, to its end."""
    air = flight.air(course, step.middle_ft)
    solved = _triangle(course, step.true_airspeed_kt, air)
    length_nm = distance_flown_nm(solved.groundspeed_kt, step.minutes)
    if start_nm is None:
        start_nm = end_nm - length_nm
    return Flown(
        course,
        "climb" if step.to_ft > step.from_ft else "descent",
        start_nm,
        start_nm + length_nm,
        step.from_ft,
        step.to_ft,
        step.minutes,
        step.fuel,
        solved,
        air,
        step.fuel / step.minutes * 60.0,
    )


def _cruise(flight: SectorFlight, course: Course, start_nm: float, altitude_ft: float) -> Flown:
    """Level from a distance [NM] to the end of a course."""
    air = flight.air(course, altitude_ft)
    figures = flight.aircraft.cruise_at(air.pressure_altitude_ft, air.temperature_c)
    solved = _triangle(course, course.notes.true_airspeed_kt or figures.true_airspeed_kt, air)
    minutes = ete_min(course.end_nm - start_nm, solved.groundspeed_kt)
    if figures.beyond:
        said = AirNote("table-beyond", f"cruise table used {figures.beyond} its last row")
        air = air._replace(notes=(*air.notes, said))
    return Flown(
        course,
        "cruise",
        start_nm,
        course.end_nm,
        altitude_ft,
        altitude_ft,
        minutes,
        fuel_used(figures.fuel_per_hour, minutes),
        solved,
        air,
        figures.fuel_per_hour,
    )


def _triangle(course: Course, true_airspeed_kt: float, air: AirHere) -> Triangle:
    try:
        return wind_triangle(course.true_course_deg, true_airspeed_kt, air.wind)
    except InputError as refused:
        leg = course.leg
        raise InputError(
            "leg-refused",
            code=refused.code,
            leg=leg.number,
            start=leg.start.name,
            end=leg.end.name,
            altitude_ft=air.altitude_ft,
            reason=refused.said,
        ) from refused


def _step(flown: Flown) -> VerticalStep:
    """What is left of a step that was cut."""
    return VerticalStep(
        flown.from_ft,
        flown.to_ft,
        flown.minutes,
        flown.fuel,
        flown.triangle.true_airspeed_kt,
    )


def _joined(out: Sequence[Flown], back: Iterable[Flown]) -> list[Flown]:
    """The way out up to where it last meets the way back from the end, and that from there.

    Where they never meet, the flight stays on its way out: a field so much higher than the one it
    lands at, or so near, that the rate of descent does not bring it down in time.
    """
    rest: list[Flown] = []
    for down in back:
        for i in reversed(range(len(out))):
            meets_nm = _crossing(out[i], down)
            if meets_nm is not None:
                joint = [*_before(out[i], meets_nm), *_after(down, meets_nm)]
                return [*out[:i], *joint, *reversed(rest)]
        rest.append(down)
    return list(out)


def _crossing(out: Flown, down: Flown) -> float | None:
    """Where, from its end backward, the way out comes from above the descent to meet it [NM]."""
    low_nm, high_nm = max(out.start_nm, down.start_nm), min(out.end_nm, down.end_nm)
    if high_nm < low_nm:
        return None
    first = out.altitude_at(low_nm) - down.altitude_at(low_nm)
    last = out.altitude_at(high_nm) - down.altitude_at(high_nm)
    if first > 0.0 or last < 0.0 or first == last:
        return low_nm if first == 0.0 and last == 0.0 else None
    return low_nm + (high_nm - low_nm) * (-first / (last - first))


def _before(flown: Flown, at_nm: float) -> list[Flown]:
    if at_nm <= flown.start_nm + SAME_PLACE_NM:
        return []
    return [flown] if at_nm >= flown.end_nm - SAME_PLACE_NM else [flown.cut(at_nm)[0]]


def _after(flown: Flown, at_nm: float) -> list[Flown]:
    if at_nm >= flown.end_nm - SAME_PLACE_NM:
        return []
    return [flown] if at_nm <= flown.start_nm + SAME_PLACE_NM else [flown.cut(at_nm)[1]]
