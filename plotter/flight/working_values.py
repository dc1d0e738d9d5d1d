"""What a working is made of: the numbers put in, the lines of arithmetic, where it is from."""

from __future__ import annotations

from typing import NamedTuple

from plotter.flight.columns import Value
from plotter.flight.log_values import LogRow, NavigationLog, Sector

PILOTS_HANDBOOK = "FAA-H-8083-25, chapter “Navigation”"


class Put(NamedTuple):
    """One number put into a formula: its letters, value, unit, and what it is."""

    symbol: str
    value: Value
    unit: str
    words: str


class Working(NamedTuple):
    """How one figure was made.

    ``formula`` is in letters; ``arithmetic`` the same with the numbers in it; ``result`` is
    unrounded, in ``unit``; ``printed`` is how the log shows it, ``rounding`` why.
    """

    column: str
    title: str
    formula: str
    put_in: tuple[Put, ...]
    arithmetic: tuple[str, ...]
    result: Value
    unit: str
    printed: str
    rounding: str
    source: str
    notes: tuple[str, ...] = ()


class Made(NamedTuple):
    """What a column's own arithmetic gives; the rest of a working is the same for all."""

    formula: str
    put_in: tuple[Put, ...] = ()
    arithmetic: tuple[str, ...] = ()
    source: str = PILOTS_HANDBOOK
    notes: tuple[str, ...] = ()


class Place(NamedTuple):
    """A row in its log, with its sector and the row before it in that sector."""

    log: NavigationLog
    sector: Sector
    row: LogRow
    before: LogRow | None


def figure(value: float, digits: int = 1) -> str:
    """A number in a working: a place or two more than is printed in the log."""
    return f"{round(value, digits) + 0.0:,.{digits}f}".replace("-", "−")


def angle(value: float) -> str:
    """An angle in a working."""
    return f"{figure(value)}°"
