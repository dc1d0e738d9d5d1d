"""A flight worked with nothing but sines, cosines and a geodesic, as a check on the log.

Nothing of plotter is used here: what is given are plain numbers, read from the document that shows
the flight. Angles are in degrees, distances in NM, speeds in knots, altitudes in feet.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from geographiclib.geodesic import Geodesic

NM_M = 1852.0
STEP_FT = 500.0


def sin(angle: float) -> float:
    return math.sin(math.radians(angle))


def cos(angle: float) -> float:
    return math.cos(math.radians(angle))


def asin(share: float) -> float:
    return math.degrees(math.asin(share))


def atan(share: float) -> float:
    return math.degrees(math.atan(share))


def leg(start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    """Length, and the course half-way along the geodesic of WGS 84."""
    line = Geodesic.WGS84.InverseLine(*start, *end)
    return line.s13 / NM_M, line.Position(line.s13 / 2.0)["azi2"] % 360.0


@dataclass(frozen=True)
class Wind:
    """Where it comes from, and how fast."""

    from_deg: float
    kt: float

    @property
    def north(self) -> float:
        return self.kt * cos(self.from_deg)

    @property
    def east(self) -> float:
        return self.kt * sin(self.from_deg)


def wind_of(north: float, east: float) -> Wind:
    return Wind(math.degrees(math.atan2(east, north)) % 360.0, math.hypot(north, east))


def wind_at(levels: Sequence[tuple[float, Wind]], altitude: float) -> Wind:
    """Between two levels by components; beyond them the nearest as it is."""
    (low, below), (high, above) = levels
    share = min(1.0, max(0.0, (altitude - low) / (high - low)))
    return wind_of(
        below.north + share * (above.north - below.north),
        below.east + share * (above.east - below.east),
    )


@dataclass(frozen=True)
class Stretch:
    """Flown on one course with one wind."""

    course: float
    phase: str
    low: float
    high: float
    start: float
    end: float
    minutes: float
    wind: Wind
    tas: float
    flow: float

    @property
    def nm(self) -> float:
        return self.end - self.start

    @property
    def fuel(self) -> float:
        return self.flow * self.minutes / 60.0

    @property
    def wca(self) -> float:
        return asin(self.wind.kt * sin(self.wind.from_deg - self.course) / self.tas)

    @property
    def gs(self) -> float:
        return self.tas * cos(self.wca) - self.wind.kt * cos(self.wind.from_deg - self.course)

    def cut(self, at: float) -> tuple[Stretch, Stretch]:
        share = (at - self.start) / self.nm
        middle = self.low + share * (self.high - self.low)
        first = replace(self, end=at, high=middle, minutes=self.minutes * share)
        rest = replace(self, start=at, low=middle, minutes=self.minutes * (1.0 - share))
        return first, rest


@dataclass(frozen=True)
class Sector:
    """What a sector is flown with; ``legs`` are (end in NM from its start, true course)."""

    legs: Sequence[tuple[float, float]]
    levels: Sequence[tuple[float, Wind]]
    field: float
    cruise: float
    pattern: float
    up: tuple[float, float, float]
    level: tuple[float, float]
    down: tuple[float, float, float]

    def step(self, phase: str, course: float, low: float, high: float, start: float) -> Stretch:
        """One step from ``low`` to ``high`` (of a descent the lower is last), at its wind."""
        rate, tas, flow = self.up if phase == "climb" else self.down
        wind = wind_at(self.levels, (low + high) / 2.0)
        minutes = abs(high - low) / rate
        made = Stretch(course, phase, low, high, start, start, minutes, wind, tas, flow)
        return replace(made, end=start + made.gs * minutes / 60.0)

    def climb(self) -> Iterator[Stretch]:
        """The steps of the climb; one that passes a turning point is cut there, and what is left
        of it is a step of its own."""
        here, number = 0.0, 0
        for low, high in itertools.pairwise(edges(self.field, self.cruise)):
            course = self.legs[number][1]
            made = self.step("climb", course, low, high, here)
            turn = self.legs[number][0]
            if made.end > turn:
                made, rest = made.cut(turn)
                yield made
                number += 1
                made = self.step("climb", self.legs[number][1], rest.low, rest.high, turn)
            yield made
            here = made.end

    def descent(self) -> list[Stretch]:
        """The steps of the descent, from the top, on the last leg."""
        here, course = self.legs[-1]
        found: list[Stretch] = []
        for low, high in itertools.pairwise(edges(self.pattern, self.cruise)):
            made = self.step("descent", course, high, low, 0.0)
            found.insert(0, replace(made, start=here - made.nm, end=here))
            here -= made.nm
        return found

    def fly(self) -> list[Stretch]:
        up, down = list(self.climb()), self.descent()
        wind = wind_at(self.levels, self.cruise)
        tas, flow = self.level
        start, end = up[-1].end, down[0].start
        made = Stretch(
            up[-1].course, "cruise", self.cruise, self.cruise, start, end, 0.0, wind, tas, flow
        )
        return [*up, replace(made, minutes=made.nm / made.gs * 60.0), *down]


def edges(low: float, high: float) -> list[float]:
    """Both ends and every 500 ft between."""
    first = math.floor(low / STEP_FT) + 1
    between = range(first, math.ceil(high / STEP_FT))
    return [low, *(STEP_FT * k for k in between), high]


def cut_at(stretches: Sequence[Stretch], marks: Sequence[float]) -> list[list[Stretch]]:
    """The stretches row by row, cut at the marks; the first mark is the start."""
    waiting = list(stretches)
    rows = []
    for mark in marks[1:]:
        row = []
        while waiting and waiting[0].end <= mark + 1e-6:
            row.append(waiting.pop(0))
        if waiting and waiting[0].start < mark - 1e-6:
            first, waiting[0] = waiting[0].cut(mark)
            row.append(first)
        rows.append(row)
    return rows


@dataclass(frozen=True)
class Row:
    """One row of the log: the mean of its stretches over time."""

    stretches: Sequence[Stretch]

    @property
    def minutes(self) -> float:
        return sum(one.minutes for one in self.stretches)

    @property
    def nm(self) -> float:
        return sum(one.nm for one in self.stretches)

    @property
    def fuel(self) -> float:
        return sum(one.fuel for one in self.stretches)

    @property
    def course(self) -> float:
        return self.stretches[0].course

    @property
    def wind(self) -> Wind:
        return wind_of(
            sum(one.wind.north * one.minutes for one in self.stretches) / self.minutes,
            sum(one.wind.east * one.minutes for one in self.stretches) / self.minutes,
        )

    @property
    def gs(self) -> float:
        return self.nm / self.minutes * 60.0

    @property
    def wca(self) -> float:
        """The heading of the mean: across the course against along it."""
        angle = self.wind.from_deg - self.course
        return atan(self.wind.kt * sin(angle) / (self.gs + self.wind.kt * cos(angle)))
