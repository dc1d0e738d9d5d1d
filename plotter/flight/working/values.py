"""What a working is made of: the numbers put in, the lines of arithmetic, where it is from."""

from __future__ import annotations

from typing import NamedTuple

from plotter.flight.columns import COLUMNS, Value
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


# The working of a figure in words, as a student would write it, line by line.


def headline(made: Working) -> str:
    """The column, what it is, its result and how that is printed."""
    heading = COLUMNS[made.column].heading
    return f"{heading}  {made.title}: {result_words(made)}, printed {made.printed or '(empty)'}"


def put_words(put: Put) -> str:
    """One number put in: its symbol and its value."""
    return f"{put.symbol} = {value_words(put.value)} {put.unit}".rstrip()


def result_words(made: Working) -> str:
    """The result with its unit."""
    if made.result is None:
        return "none"
    return f"{value_words(made.result)} {made.unit}".strip()


def value_words(value: float | str | None) -> str:
    """A value of a working to two decimals, finer than it is printed in the log.

    >>> value_words(-1234.5), value_words(-0.001), value_words("2026-07-04T14:00Z")
    ('−1,234.50', '0.00', '2026-07-04T14:00Z')
    """
    if isinstance(value, float | int):
        return figure(value, 2)
    return value or ""
