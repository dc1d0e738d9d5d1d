"""The rows of a CSV from outside, whoever reads them: one rule for what parts the cells, and no
row with more cells than the first has heads (decimal commas among comma-separated cells)."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from itertools import chain

from plotter.errors import FileFault, Where

DELIMITERS = ",;\t"


def delimiter_of(first: str) -> str:
    """Return what parts the cells: the one of :data:`DELIMITERS` that is most in the first line.

    >>> delimiter_of("name;latitude;longitude")
    ';'
    """
    return max(DELIMITERS, key=first.count)


def surplus(row: Sequence[str], heads: int) -> str:
    """Return what is wrong with a row that has more cells than there are heads; else empty.

    >>> surplus(["Barn", "44", "5", "-92", "5"], 3)[:41]
    'has 5 cells under 3 column names; write n'
    >>> surplus(["Barn", "44.5", "-92.5", ""], 3)
    ''
    """
    if not any(cell.strip() for cell in row[heads:]):
        return ""
    return (
        f"has {len(row)} cells under {heads} column names; write numbers with a decimal point, "
        "and put text that contains the separator in double quotes"
    )


def check_rows(lines: Iterable[str]) -> None:
    """Walk through a CSV; raises FileFault, with its line, for the first row of too many cells."""
    walked = iter(lines)
    first = next(walked, "")
    rows = csv.reader(chain([first], walked), delimiter=delimiter_of(first))
    heads = len(next(rows, []))
    try:
        for row in rows:
            if words := surplus(row, heads):
                raise FileFault(f"line {rows.line_num:,} {words}", where=Where(line=rows.line_num))
    except csv.Error as fault:
        words = f"line {rows.line_num:,} is not CSV ({fault})"
        raise FileFault(words, where=Where(line=rows.line_num)) from None
