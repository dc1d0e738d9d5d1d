"""The parts of a leg along which one course is too coarse: cut at checkpoints, everywhere alike.

A leg along which true course or variation changes by 2° or more from end to end is cut at some of
its checkpoints, so that the course turns by less than 2° in each part; each part then has the
course and the variation of its own middle. Without checkpoints that can do it, the parts are
equal. A leg over a pole, where the course turns about at one point, is cut there and nowhere else.
"""

from __future__ import annotations

import bisect
import itertools
import math
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from plotter.earth.angles import half_turn, magnetic_from_true
from plotter.earth.geodesic import POLE_WITHIN_DEG, Line, along, beside, measure
from plotter.earth.position import Position
from plotter.errors import PositionError
from plotter.messages import message
from plotter.route.checkpoints import Checkpoint
from plotter.route.measuring import FlightMagnetism
from plotter.route.values import Caution, Leg, Route
from plotter.wording import tenths

SPLIT_AT_DEG = 2.0
"""As close as a plotter is read (common practice)."""
MOST_PARTS = 60
"""Only within sight of a pole would a leg need more."""
OVER_A_POLE_NM = 0.1
"""The last digit a distance is printed with: a leg nearer to a pole than this is over it."""
SHORTEST_LEG_ASKED_NM = 60.0
"""On a shorter leg variation hardly changes by 2°, except at high latitudes."""
SPLIT = "leg-split"
ANSWERED_BY_A_SPLIT = ("course-changes", "variation-changes")
HIGH_LATITUDE_DEG = 60.0
"""From here on the magnetic pole is near enough for variation to change along a short leg."""


@dataclass(frozen=True, slots=True)
class LegPart:
    """A leg, or one part of it, with one course and one variation.

    ``start_nm`` [NM] counts from the start of the route.
    """

    leg: Leg
    number: int
    count: int
    line: Line
    start_nm: float
    true_course_deg: float
    variation_deg_east: float
    start_name: str
    end_name: str

    @property
    def name(self) -> str:
        """The number of the leg, with a letter where it has several parts."""
        return f"{self.leg.number}{letters(self.number) if self.count > 1 else ''}"

    @property
    def distance_nm(self) -> float:
        """Length [NM]."""
        return self.line.distance_nm

    @property
    def printed_nm(self) -> float:
        """Length [NM] to a tenth, as the difference of rounded running totals: parts add up."""
        return (tenths(self.start_nm + self.distance_nm) - tenths(self.start_nm)) / 10.0

    @property
    def magnetic_course_deg(self) -> float:
        """Magnetic course [°M]."""
        return magnetic_from_true(self.true_course_deg, self.variation_deg_east)


def letters(number: int) -> str:
    """Return the letters of the part of a leg: a to z, then aa, ab and so on.

    >>> letters(1), letters(2), letters(27)
    ('a', 'b', 'aa')
    """
    text = ""
    while number > 0:
        number, letter = divmod(number - 1, 26)
        text = chr(ord("a") + letter) + text
    return text


def leg_parts(
    route: Route,
    magnetism: FlightMagnetism,
    checkpoints: Iterable[Checkpoint] = (),
    whole: Collection[int] = (),
) -> tuple[LegPart, ...]:
    """Return the parts of all legs in order; the legs numbered in ``whole`` stay in one part."""
    marks: dict[int, list[Checkpoint]] = {}
    for mark in checkpoints:
        marks.setdefault(mark.leg_number, []).append(mark)
    return tuple(
        part
        for leg in route.legs
        for part in _of_leg(leg, magnetism, marks.get(leg.number, []), leg.number in whole)
    )


def whole_legs(route: Route) -> tuple[LegPart, ...]:
    """Return every leg of a route as its one part."""
    return tuple(
        _part(leg, 1, [leg.line], 0.0, (leg.start.name, leg.end.name)) for leg in route.legs
    )


def split_cautions(parts: Iterable[LegPart]) -> Iterator[Caution]:
    """Yield a note for each leg that is split: how much changes along it, and where parts begin."""
    for leg, pieces in itertools.groupby(parts, key=lambda part: part.leg):
        first, *others = pieces
        if others:
            last = others[-1]
            said = message(
                SPLIT,
                leg=leg.number,
                parts=first.count,
                course_from=leg.line.initial_true_course_deg,
                course_to=leg.line.final_true_course_deg,
                variation_from=first.variation_deg_east,
                variation_to=last.variation_deg_east,
                starts=tuple(part.start_name for part in others),
            )
            yield Caution("NOTE", said, where=f"leg {leg.number}")


def _of_leg(
    leg: Leg, magnetism: FlightMagnetism, marks: Sequence[Checkpoint], whole: bool
) -> Iterator[LegPart]:
    places = {mark.distance_from_start_nm - leg.start_nm: mark.name for mark in marks}
    lines = [leg.line] if whole else _lines(leg, _least_parts(leg, magnetism), [*places])
    start_nm, start_name = 0.0, leg.start.name
    for number, line in enumerate(lines, start=1):
        end_nm = start_nm + line.distance_nm
        last = number == len(lines)
        next_part = f"leg {leg.number}{letters(number + 1)}"
        end_name = leg.end.name if last else _name_at(end_nm, places, next_part)
        east = None if len(lines) == 1 else magnetism.degrees_east(line.middle)
        yield _part(leg, number, lines, start_nm, (start_name, end_name), variation_deg_east=east)
        start_nm, start_name = end_nm, end_name


def _part(
    leg: Leg,
    number: int,
    lines: Sequence[Line],
    start_nm: float,
    names: tuple[str, str],
    *,
    variation_deg_east: float | None = None,
) -> LegPart:
    line = lines[number - 1]
    if variation_deg_east is None:
        variation_deg_east = leg.variation.degrees_east
    return LegPart(
        leg,
        number,
        len(lines),
        line,
        leg.start_nm + start_nm,
        line.true_course_deg,
        variation_deg_east,
        *names,
    )


def _name_at(at_nm: float, places: dict[float, str], otherwise: str) -> str:
    """The checkpoint at a place [NM] along a leg; where there is none, what begins there."""
    for place_nm, name in places.items():
        if math.isclose(place_nm, at_nm, abs_tol=1e-3):
            return name
    return otherwise


def _least_parts(leg: Leg, magnetism: FlightMagnetism) -> int:
    """How many equal parts would keep course and variation from changing by 2° within one."""
    line = leg.line
    change = abs(half_turn(line.final_true_course_deg - line.initial_true_course_deg))
    ends = (leg.start.position, leg.end.position)
    if any(90.0 - abs(each.latitude_deg) < POLE_WITHIN_DEG for each in ends):
        return 1  # because the whole leg is on one meridian
    north = any(abs(each.latitude_deg) > HIGH_LATITUDE_DEG for each in ends)
    if north or leg.distance_nm >= SHORTEST_LEG_ASKED_NM:
        first, last = (magnetism.degrees_east(each) for each in ends)
        change = max(change, abs(half_turn(last - first)))
    return min(MOST_PARTS, int(change / SPLIT_AT_DEG) + 1)


def _lines(leg: Leg, parts: int, marked_nm: Sequence[float]) -> list[Line]:
    """A leg in at least so many parts, more where the course turns unevenly along it.

    Cut at checkpoints, of which ``marked_nm`` are the places along the leg, unless there are too
    few of them.
    """
    if parts == MOST_PARTS and (halves := _at_a_pole(leg.line)):
        return halves
    most = min(len(marked_nm) + 1, MOST_PARTS)
    for count in range(min(parts, most), most + 1) if parts > 1 and marked_nm else ():
        lines = _parts_at(leg, _nearest(leg.distance_nm, count, marked_nm))
        if not any(map(_turns_too_far, lines)):
            return lines
    lines = _equal_parts(leg, parts)
    while len(lines) > 1 and len(lines) < MOST_PARTS and any(map(_turns_too_far, lines)):
        lines = _equal_parts(leg, len(lines) + 1)
    return lines


def _at_a_pole(line: Line) -> list[Line]:
    """The two lines to a pole and from it; none where the leg does not pass over one.

    On each side the course is that of its meridian, and no number of parts takes the turn away.
    """
    if line.kind != "geodesic":
        return []
    pole = Position(math.copysign(90.0, line.middle.latitude_deg), line.start.longitude_deg)
    ((at_nm, off_nm),) = beside(line, [pole])
    if abs(off_nm) > OVER_A_POLE_NM or not 0.0 < at_nm < line.distance_nm:
        return []
    (there,) = along(line, [at_nm])
    ends = (there, there)
    if 90.0 - abs(there.latitude_deg) < POLE_WITHIN_DEG:
        ends = (pole, replace(pole, longitude_deg=line.end.longitude_deg))
    try:
        return [measure(line.start, ends[0]), measure(ends[1], line.end)]
    except PositionError:  # too short to be cut
        return []


def _turns_too_far(line: Line) -> bool:
    turn = half_turn(line.final_true_course_deg - line.initial_true_course_deg)
    return abs(turn) >= SPLIT_AT_DEG


def _equal_parts(leg: Leg, parts: int) -> list[Line]:
    if parts == 1:
        return [leg.line]
    step_nm = leg.distance_nm / parts
    return _parts_at(leg, [step_nm * k for k in range(1, parts)])


def _nearest(length_nm: float, parts: int, marked_nm: Sequence[float]) -> list[float]:
    """The places [NM], in order along the leg, nearest to where equal parts would end, each once."""
    nearest = set()
    for end_nm in (length_nm * k / parts for k in range(1, parts)):
        after = bisect.bisect(marked_nm, end_nm)
        beside = marked_nm[max(0, after - 1) : after + 1]
        nearest.add(min(beside, key=lambda at_nm: abs(at_nm - end_nm)))
    return sorted(nearest)


def _parts_at(leg: Leg, places_nm: Sequence[float]) -> list[Line]:
    """A leg cut at some places [NM] along it."""
    between = along(leg.line, places_nm)
    ends = [leg.line.start, *between, leg.line.end]
    try:
        return [measure(a, b, leg.line.kind) for a, b in itertools.pairwise(ends)]
    except PositionError:  # too short to be cut
        return [leg.line]
