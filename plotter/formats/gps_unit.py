"""A route made to fit a GPS unit's limits, with a message for every change.

The rules, in their order:

1. More points than a route may have: it is split into the fewest parts, as even as can be, each
   beginning where the one before ends; or, where ``thin`` is chosen, checkpoints are left out, and
   if that is not enough the turning point whose leaving out moves the line least, again and again.
   Departure and destination stay.
2. More named points than a file may have: the same thinning; where ``split`` is chosen only
   checkpoints are left out.
3. Names are cut, two places never alike; the full name stays in the description.
4. Positions are rounded, elevations left out.

What cannot be made to fit is refused with what to do instead.
"""

from __future__ import annotations

import datetime as dt
import heapq
import re
import unicodedata
from collections import deque
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from plotter.earth.geodesic import SHORTEST_NM, beside, distance_nm, measure
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.formats.descriptions import checkpoint_line, leg_line, point_line
from plotter.formats.names import clean_text, shown_name
from plotter.formats.unit_limits import Choices
from plotter.messages import Message, message
from plotter.route.plotting import Plot
from plotter.route.values import Caution

# The points a GPS unit lists by name: turning points and, where chosen, checkpoints.

CHECKPOINT = "checkpoint"


@dataclass(frozen=True, slots=True)
class Mark:
    """One such point; ``lines`` is what is said of it, ``note`` the pilot's own words.

    ``elevation_ft`` [ft] is the ground's, or the altitude a log plans to pass the point at: then
    ``is_planned``, and ``ground_ft`` [ft] is the ground's.
    """

    name: str
    kind: str
    position: Position
    elevation_ft: float | None
    lines: tuple[str, ...]
    note: str = ""
    time: dt.datetime | None = None
    is_planned: bool = False
    ground_ft: float | None = None


def marks(plot: Plot, with_checkpoints: bool) -> Iterator[Mark]:
    """The marks of a plot in the order they are flown, under full names."""
    checks = deque(plot.checkpoints if with_checkpoints else ())
    for point, leg in zip(plot.route.waypoints, [*plot.route.legs, None], strict=True):
        lines = (point_line(point), leg_line(leg) if leg else "")
        name, note = shown_name(point.name), clean_text(point.note)
        where, ground_ft, planned_ft = point.position, point.elevation_ft, point.altitude_ft
        if planned_ft is None:
            yield Mark(name, point.kind, where, ground_ft, lines, note, point.time)
        else:
            yield Mark(
                name, point.kind, where, planned_ft, lines, note, point.time, True, ground_ft
            )
        while leg and checks and checks[0].leg_number == leg.number:
            check = checks.popleft()
            words, height_ft = (checkpoint_line(check),), check.altitude_ft
            name, where = shown_name(check.name), check.position
            yield Mark(name, CHECKPOINT, where, height_ft, words, time=check.time)


def each_once(given: Sequence[Mark]) -> list[Mark]:
    """The marks without those of a place passed before under the same name."""
    first: dict[tuple[str, Position], Mark] = {}
    for mark in given:
        first.setdefault((mark.name, mark.position), mark)
    return list(first.values())


# Names as small units take them: a few capital letters and digits, no two places alike.

_OTHER = re.compile("[^A-Z0-9]")
# Letters that no decomposition turns into plain ones, written as in the machine-readable zone of
# a passport (ICAO Doc 9303, part 3, section 6; from memory).
_PLAIN = str.maketrans(
    {"Æ": "AE", "Ø": "OE", "Œ": "OE", "Þ": "TH", "Đ": "D", "Ð": "D", "Ł": "L", "Ħ": "H", "Ŧ": "T"}
)
_STAND_IN = "P"


def unit_name(text: str, limit: int, *, capitals: bool = True) -> str:
    """A name in at most ``limit`` capitals and digits; empty if nothing of it can be kept.

    Without ``capitals`` it is merely cut.

    >>> unit_name("Water tower", 6), unit_name("Ærø Łódź", 10), unit_name("機場", 6)
    ('WATERT', 'AEROELODZ', '')
    """
    if not capitals:
        return text[:limit].strip()
    plain = unicodedata.normalize("NFKD", text).upper().translate(_PLAIN)
    return _OTHER.sub("", plain)[:limit]


def unit_names(
    names: Sequence[str], places: Sequence[Hashable], limit: int, *, capitals: bool = True
) -> list[str]:
    """The names of a whole file, two places never alike, one place always the same.

    A name that is short and plain already (an identifier) keeps its form, whatever stands before
    it; others that would be the same end in a number. A place passed twice under one name has one
    name, lest a unit store it twice.

    >>> unit_names(["Old mill N", "Old mill S", "OLDMIL", "Old mill N"], [1, 2, 3, 1], 6)
    ['OLDMI2', 'OLDMI3', 'OLDMIL', 'OLDMI2']
    """
    keys = list(zip(names, places, strict=True))
    given: dict[tuple[str, Hashable], str] = {}
    taken: dict[str, int] = {}
    for keeps_its_form in (True, False):
        for number, key in enumerate(keys, start=1):
            short = unit_name(key[0], limit, capitals=capitals)
            if key not in given and (short == key[0]) is keeps_its_form:
                given[key] = _free(short or f"{_STAND_IN}{number}", taken, limit)
    return [given[key] for key in keys]


def _free(name: str, taken: dict[str, int], limit: int) -> str:
    """The name, or its start and the next number that makes one nobody has; ``taken`` is told.

    ``taken`` holds each name given away and the last number tried behind it.
    """
    proposal, number = name[:limit], taken.get(name[:limit], 0)
    while proposal in taken:
        number += 1
        proposal = f"{name[: limit - len(str(number))]}{number}"
    taken[name[:limit]] = max(number, 1)
    taken.setdefault(proposal, 1)
    return proposal


DOUBTFUL_NM = 0.05
"""A position rounded by more than this is worth a caution: it is half of what is printed."""
_MOST_NAMED = 6


class Change(NamedTuple):
    """One change; ``is_caution`` where the pilot must know of it."""

    said: Message
    is_caution: bool = True


class Fitted(NamedTuple):
    """The marks of each route of the file, and what was changed to make them fit."""

    parts: tuple[tuple[Mark, ...], ...]
    changes: tuple[Change, ...]

    @property
    def all(self) -> list[Mark]:
        """Every mark once, joints too."""
        return [*self.parts[0], *(mark for part in self.parts[1:] for mark in part[1:])]


def fitted(plot: Plot, choices: Choices) -> Fitted:
    """The marks of a plot as the chosen unit takes them.

    Raises InputError where no choice of what to leave out makes them fit.
    """
    full = list(marks(plot, choices.gpx_checkpoints))
    kept, changes = _few_enough(full, choices)
    named = _named(kept, choices)
    changes += _name_changes(kept, named)
    parts = _parts(named, choices)
    changes += _part_changes(parts, choices)
    changes += _figure_changes(named, choices)
    if not choices.unit.elevations:
        parts = tuple(
            tuple(replace(m, elevation_ft=None, is_planned=False) for m in part) for part in parts
        )
    return Fitted(parts, tuple(changes))


def unit_cautions(plot: Plot, choices: Choices) -> Iterator[Caution]:
    """The changes that a pilot must know of, as cautions."""
    for change in fitted(plot, choices).changes:
        if change.is_caution:
            yield Caution("CHECK", change.said, where="GPX")


def _few_enough(full: list[Mark], choices: Choices) -> tuple[list[Mark], list[Change]]:
    unit, is_route = choices.unit, choices.gpx_as != "track"
    limits = [unit.waypoints] if unit.waypoints else []
    if unit.over == "thin" and unit.route_points and is_route:
        limits.append(unit.route_points)
    if not limits or _count(full, is_route) <= min(limits):
        return full, []
    limit, turns = min(limits), [mark for mark in full if mark.kind != CHECKPOINT]
    checks = len(full) - len(turns)
    changes = []
    if checks:
        changes.append(Change(message("unit-checkpoints", count=checks, limit=limit)))
    if _count(turns, is_route) <= limit:
        return turns, changes
    if unit.over != "thin":
        raise InputError("unit.points", points=_count(turns, is_route), limit=limit)
    kept, said = _thinned(turns, limit)
    return kept, [*changes, Change(said)]


def _count(given: Sequence[Mark], is_route: bool) -> int:
    """Points of a route, or of waypoints: those stand once however often they are passed."""
    return len(given) if is_route else len(each_once(given))


def _thinned(turns: list[Mark], limit: int) -> tuple[list[Mark], Message]:
    """Return the turning points that stay, and the message about those that go."""
    before, after = list(range(-1, len(turns) - 1)), list(range(1, len(turns) + 1))
    costs = {at: _cost(turns, before, after, at) for at in range(1, len(turns) - 1)}
    queue = [(cost, at) for at, cost in costs.items()]
    heapq.heapify(queue)
    gone: set[int] = set()
    while len(turns) - len(gone) > limit:
        cost, at = heapq.heappop(queue)
        if at in gone or cost != costs[at]:
            continue
        gone.add(at)
        after[before[at]], before[after[at]] = after[at], before[at]
        for beside_it in (before[at], after[at]):
            if 0 < beside_it < len(turns) - 1:
                costs[beside_it] = _cost(turns, before, after, beside_it)
                heapq.heappush(queue, (costs[beside_it], beside_it))
    kept = [at for at in range(len(turns)) if at not in gone]
    return _without_legs(turns, kept), _thinning(turns, kept)


def _without_legs(turns: Sequence[Mark], kept: list[int]) -> list[Mark]:
    """The turning points that stay; what is said of a leg goes where its end is gone."""
    following = [*kept[1:], kept[-1] + 1]
    return [
        turns[at] if next_one == at + 1 else replace(turns[at], lines=turns[at].lines[:1])
        for at, next_one in zip(kept, following, strict=True)
    ]


def _cost(turns: Sequence[Mark], before: list[int], after: list[int], at: int) -> float:
    first, last = turns[before[at]].position, turns[after[at]].position
    return _off_nm(turns[at].position, first, last)


def _off_nm(where: Position, start: Position, end: Position) -> float:
    if distance_nm(start, end) < SHORTEST_NM:
        return distance_nm(start, where)
    return abs(beside(measure(start, end), [where])[0][1])


def _thinning(turns: Sequence[Mark], kept: list[int]) -> Message:
    """Return which turning points are left out, and how far off the new line they are."""
    off: list[tuple[int, float]] = []
    for first, last in pairwise(kept):
        ends = turns[first].position, turns[last].position
        off += [(at, _off_nm(turns[at].position, *ends)) for at in range(first + 1, last)]
    named = [
        message("unit-thinned.point", name=turns[at].name, off_nm=off_nm)
        for at, off_nm in off[:_MOST_NAMED]
    ]
    if len(off) > _MOST_NAMED:
        named.append(message("file.more", count=len(off) - _MOST_NAMED))
    return message(
        "unit-thinned",
        left_out=len(off),
        points=len(turns),
        named=tuple(named),
        most_nm=max(off_nm for _, off_nm in off),
    )


def _named(kept: list[Mark], choices: Choices) -> list[Mark]:
    """The marks under short names, the full name first in the description."""
    if choices.name_limit is None:
        return kept
    names, places = [mark.name for mark in kept], [mark.position for mark in kept]
    short = unit_names(names, places, choices.name_limit, capitals=choices.capitals)
    return [
        mark if mark.name == name else replace(mark, name=name, lines=(mark.name, *mark.lines))
        for mark, name in zip(kept, short, strict=True)
    ]


def _name_changes(kept: Sequence[Mark], named: Sequence[Mark]) -> list[Change]:
    pairs = [(old.name, new.name) for old, new in zip(kept, named, strict=True)]
    return [
        Change(message("unit-name", old=old, new=new), is_caution=False)
        for old, new in dict.fromkeys(pairs)
        if old != new
    ]


def _parts(named: list[Mark], choices: Choices) -> tuple[tuple[Mark, ...], ...]:
    """The routes of the file: one, or as few and as even as the limit allows."""
    limit = choices.unit.route_points
    if limit is None or choices.gpx_as == "track" or len(named) <= limit:
        return (tuple(named),)
    legs = len(named) - 1
    parts = -(-legs // (limit - 1))
    if choices.unit.routes is not None and parts > choices.unit.routes:
        key = "unit.routes-checkpoints" if choices.gpx_checkpoints else "unit.routes"
        raise InputError(key, routes=parts, limit=limit, most=choices.unit.routes)
    cuts = [legs * part // parts for part in range(parts + 1)]
    return tuple(tuple(named[a : b + 1]) for a, b in pairwise(cuts))


def _part_changes(parts: tuple[tuple[Mark, ...], ...], choices: Choices) -> list[Change]:
    if len(parts) == 1:
        return []
    listed = tuple(
        message(
            "unit-split.part",
            number=number,
            start=part[0].name,
            end=part[-1].name,
            points=len(part),
        )
        for number, part in enumerate(parts, start=1)
    )
    limit = choices.unit.route_points
    return [Change(message("unit-split", count=len(parts), limit=limit, parts=listed))]


def _figure_changes(named: Sequence[Mark], choices: Choices) -> list[Change]:
    unit, changes = choices.unit, []
    if unit.decimals < 6:
        most = max(distance_nm(m.position, _rounded(m.position, unit.decimals)) for m in named)
        rounded = message("unit-decimals", decimals=unit.decimals, most_nm=most)
        changes.append(Change(rounded, is_caution=most >= DOUBTFUL_NM))
    known = sum(mark.elevation_ft is not None for mark in each_once(named))
    if known and not unit.elevations:
        changes.append(Change(message("unit-elevations", count=known), is_caution=False))
    return changes


def _rounded(where: Position, decimals: int) -> Position:
    return Position(round(where.latitude_deg, decimals), round(where.longitude_deg, decimals))
