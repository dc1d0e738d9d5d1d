"""The stretches of a sector cut at its marks and made into rows."""

from __future__ import annotations

import bisect
import datetime as dt
import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from plotter.earth.angles import course_360, half_turn
from plotter.errors import InputError
from plotter.flight.compass import CompassCard
from plotter.flight.courses import Course
from plotter.flight.log_values import LogRow, Mark, Top
from plotter.flight.time_fuel import groundspeed_made_kt
from plotter.flight.track import Flown, Phase
from plotter.flight.wind import (
    Triangle,
    components_kt,
    crosswind_kt,
    headwind_kt,
    wind_from_components,
)
from plotter.route.checkpoints import SAME_PLACE_NM
from plotter.route.parts import letters

SHARES_A_ROW_NM = 1.0
"""As near as this, a top and a checkpoint are passed within a minute."""
LONGEST_MIN = 366.0 * 24.0 * 60.0
"""Longer in the air than this [min] is a slip of the pen, and may leave the calendar."""


def turn_marks(flown: Sequence[Flown]) -> list[Mark]:
    """The marks where the phase changes: top of climb, top of descent, level again."""
    return [
        mark
        for before, after in itertools.pairwise(flown)
        if before.phase != after.phase
        for mark in _phase_mark(before, after)
    ]


def _phase_mark(before: Flown, after: Flown) -> Iterator[Mark]:
    where = after.course.position(after.start_nm)
    if before.phase == "climb":
        yield Mark(after.start_nm, "TOC", "TOC", where)
    elif after.phase == "descent":
        yield Mark(after.start_nm, "TOD", "TOD", where)
    elif before.phase == "descent":
        yield Mark(after.start_nm, "level", "level", where)


def part_marks(courses: Sequence[Course]) -> list[Mark]:
    """The marks where one part of a leg gives way to the next."""
    return [
        Mark(after.start_nm, part_name(after.leg.number, after.part), "part", after.line.start)
        for before, after in itertools.pairwise(courses)
        if before.leg is after.leg
    ]


def part_name(leg_number: int, part: int) -> str:
    """Return what a part of a split leg is called: short, so that a narrow column keeps all of it.

    >>> part_name(2, 1), part_name(2, 2), part_name(12, 27)
    ('leg 2a', 'leg 2b', 'leg 12aa')
    """
    return f"leg {leg_number}{letters(part)}"


def in_order(marks: Iterable[Mark]) -> list[Mark]:
    """Marks from start to end; of several at one place the one given first stays."""
    kept: list[Mark] = []
    for mark in marks:
        k = bisect.bisect_left(kept, mark.at_nm, key=_at_nm)
        if all(
            abs(near.at_nm - mark.at_nm) > SAME_PLACE_NM for near in kept[max(0, k - 1) : k + 1]
        ):
            kept.insert(k, mark)
    return kept


def with_tops(
    marks: Sequence[Mark], turns: Sequence[Mark]
) -> tuple[list[Mark], dict[float, list[Mark]]]:
    """The marks less the tops that share the row of a checkpoint, and those by its place [NM].

    A row to a top so near a checkpoint would be too short to fly by; of two checkpoints in reach
    the nearer has it.
    """
    checkpoints = [mark for mark in marks if mark.kind == "checkpoint"]
    shared: dict[float, list[Mark]] = {}
    for turn in turns:
        near = min(checkpoints, key=lambda mark: abs(mark.at_nm - turn.at_nm), default=turn)
        if near is not turn and abs(near.at_nm - turn.at_nm) <= SHARES_A_ROW_NM:
            shared.setdefault(near.at_nm, []).append(turn)
    gone = {turn for each in shared.values() for turn in each}
    return [mark for mark in marks if mark not in gone], shared


def _at_nm(mark: Mark) -> float:
    return mark.at_nm


def log_rows(
    flown: Sequence[Flown],
    marks: Sequence[Mark],
    card: CompassCard | None,
    *,
    sector: int,
    first_number: int,
    take_off: dt.datetime,
    fuel_at_take_off: float,
    tops: Mapping[float, Sequence[Mark]] | None = None,
) -> tuple[LogRow, ...]:
    """The rows between marks that begin and end with the sector.

    Times and fuel are added up unrounded from the stretches.
    """
    rows: list[LogRow] = []
    elapsed_min, remaining = 0.0, fuel_at_take_off
    end_nm = marks[-1].at_nm
    for (start, end), part in zip(itertools.pairwise(marks), _between(flown, marks), strict=True):
        minutes = math.fsum(one.minutes for one in part)
        fuel = math.fsum(one.fuel for one in part)
        elapsed_min, remaining = elapsed_min + minutes, remaining - fuel
        triangle = _triangle(part, minutes)
        course = part[0].course
        heading = course_360(triangle.true_heading_deg - course.variation_deg_east)
        rows.append(
            LogRow(
                number=first_number + len(rows),
                sector=sector,
                start=start,
                end=end,
                course=course,
                phase=_phase(part),
                flown=tuple(part),
                triangle=triangle,
                compass_card_correction_deg=card.correction_deg(heading) if card else None,
                ete_min=minutes,
                elapsed_min=elapsed_min,
                eta=_eta(take_off, elapsed_min),
                fuel_used=fuel,
                fuel_remaining=remaining,
                distance_to_go_nm=max(0.0, end_nm - end.at_nm),
            )
        )
    return tuple(
        row._replace(
            tops=tuple(
                Top(
                    top.name,
                    top.at_nm,
                    top.at_nm - row.end.at_nm,
                    _eta(take_off, _minutes_to(flown, top.at_nm)),
                )
                for top in (tops or {}).get(row.end.at_nm, ())
            )
        )
        for row in rows
    )


def _minutes_to(flown: Sequence[Flown], at_nm: float) -> float:
    """The time [min] from take-off to where a stretch begins."""
    return math.fsum(one.minutes for one in flown if one.end_nm <= at_nm + SAME_PLACE_NM)


def _phase(part: Sequence[Flown]) -> Phase:
    """The phase that takes most of the time, the first of equals."""
    minutes: dict[Phase, float] = {}
    for one in part:
        minutes[one.phase] = minutes.get(one.phase, 0.0) + one.minutes
    return max(minutes, key=lambda phase: minutes[phase])


def _eta(take_off: dt.datetime, elapsed_min: float) -> dt.datetime:
    if elapsed_min > LONGEST_MIN:
        raise InputError("too-long")
    return take_off + dt.timedelta(minutes=elapsed_min)


def _between(flown: Sequence[Flown], marks: Sequence[Mark]) -> Iterator[list[Flown]]:
    """The stretches between each mark and the next, cut where a mark falls into one."""
    waiting = list(reversed(flown))
    for mark in marks[1:]:
        part: list[Flown] = []
        while waiting and waiting[-1].end_nm <= mark.at_nm + SAME_PLACE_NM:
            part.append(waiting.pop())
        if waiting and waiting[-1].start_nm < mark.at_nm - SAME_PLACE_NM:
            before, after = waiting.pop().cut(mark.at_nm)
            part.append(before)
            waiting.append(after)
        yield part


def _triangle(part: Sequence[Flown], minutes: float) -> Triangle:
    """The one triangle of a row; of several stretches that of their mean wind and groundspeed.

    The way over the ground and the mean wind are known, so the way through the air is their
    difference, and heading and true airspeed are read off it: the triangle closes.
    """
    if len(part) == 1:
        return part[0].triangle
    course = part[0].course.true_course_deg
    shares = [one.minutes / minutes for one in part]
    winds = [components_kt(one.triangle.wind) for one in part]
    wind = wind_from_components(
        math.fsum(north * share for (north, _), share in zip(winds, shares, strict=True)),
        math.fsum(east * share for (_, east), share in zip(winds, shares, strict=True)),
    )
    made_kt = groundspeed_made_kt(math.fsum(one.distance_nm for one in part), minutes)
    against, across = headwind_kt(course, wind), crosswind_kt(course, wind)
    correction = math.degrees(math.atan2(across, made_kt + against))
    return Triangle(
        true_course_deg=course_360(course),
        true_airspeed_kt=math.hypot(made_kt + against, across),
        wind=wind,
        headwind_kt=against,
        crosswind_kt=across,
        wind_correction_angle_deg=half_turn(correction),
        true_heading_deg=course_360(course + correction),
        groundspeed_kt=made_kt,
    )
