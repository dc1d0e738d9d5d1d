"""The points a GPS unit lists by name: turning points and, where chosen, checkpoints."""

from __future__ import annotations

import datetime as dt
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from plotter.earth.position import Position
from plotter.formats.descriptions import checkpoint_line, leg_line, point_line
from plotter.formats.names import clean_text, shown_name
from plotter.route.plot import Plot

CHECKPOINT = "checkpoint"


@dataclass(frozen=True, slots=True)
class Mark:
    """One such point; ``lines`` is what is said of it, ``note`` the pilot's own words.

    ``elevation_ft`` [ft] is the ground's, or the altitude a log plans to pass the point at.
    """

    name: str
    kind: str
    position: Position
    elevation_ft: float | None
    lines: tuple[str, ...]
    note: str = ""
    time: dt.datetime | None = None


def marks(plot: Plot, with_checkpoints: bool) -> Iterator[Mark]:
    """The marks of a plot in the order they are flown, under full names."""
    checks = deque(plot.checkpoints if with_checkpoints else ())
    for point, leg in zip(plot.route.waypoints, [*plot.route.legs, None], strict=True):
        lines = (point_line(point), leg_line(leg) if leg else "")
        name, note = shown_name(point.name), clean_text(point.note)
        height_ft = point.elevation_ft if point.altitude_ft is None else point.altitude_ft
        yield Mark(name, point.kind, point.position, height_ft, lines, note, point.time)
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
