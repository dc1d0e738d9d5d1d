"""The working of a figure in words, as a student would write it, line by line."""

from __future__ import annotations

from plotter.flight.columns import COLUMNS
from plotter.flight.working_values import Put, Working, figure


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
