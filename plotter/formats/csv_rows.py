"""The rows of a CSV from outside, whoever reads them: one rule for what parts the cells, and no
row with more cells than the first has heads (decimal commas among comma-separated cells)."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from itertools import chain

from plotter.errors import FileFault, Where
from plotter.messages import Message, message

DELIMITERS = ",;\t"


def delimiter_of(first: str) -> str:
    """Return what parts the cells: the one of :data:`DELIMITERS` that is most in the first line.

    >>> delimiter_of("name;latitude;longitude")
    ';'
    """
    return max(DELIMITERS, key=first.count)


def surplus(row: Sequence[str], heads: int) -> Message | None:
    """Return what is wrong with a row that has more cells than there are heads, or ``None``.

    >>> surplus(["Barn", "44", "5", "-92", "5"], 3)["cells"]
    5
    >>> surplus(["Barn", "44.5", "-92.5", ""], 3)
    """
    if not any(cell.strip() for cell in row[heads:]):
        return None
    return message("file.surplus-cells", cells=len(row), heads=heads)


def check_rows(lines: Iterable[str]) -> None:
    """Walk through a CSV; raises FileFault, with its line, for the first row of too many cells."""
    walked = iter(lines)
    first = next(walked, "")
    rows = csv.reader(chain([first], walked), delimiter=delimiter_of(first))
    heads = len(next(rows, []))
    try:
        for row in rows:
            if wrong := surplus(row, heads):
                raise _on_line(rows.line_num, wrong)
    except csv.Error as fault:
        raise _on_line(rows.line_num, message("file.not-csv", reason=str(fault))) from None


def _on_line(line: int, what: Message) -> FileFault:
    return FileFault("file.on-line", where=Where(line=line), line=line, what=what)


def no_columns(missing: Sequence[str], found: Iterable[str], header: str) -> Message:
    """Return the message about columns that a file needs and does not have."""
    names = ", ".join(name.strip() for name in found if name.strip())[:200]
    if names:
        return message("file.no-columns", columns=tuple(missing), found=names, header=header)
    return message("file.no-columns-at-all", columns=tuple(missing), header=header)
