"""The working of figures, printed as a student would write it."""

from __future__ import annotations

from collections.abc import Mapping

from plotter import wording
from plotter.cli.printing import paragraph, say, shown
from plotter.errors import InputError
from plotter.flight.columns import COLUMNS
from plotter.flight.log_values import NavigationLog
from plotter.flight.working import column_named, row_numbered, working
from plotter.flight.working_values import Working
from plotter.flight.working_words import headline, put_words


def worked(log: NavigationLog, row: str | None, column: str | None) -> dict[int, tuple[str, ...]]:
    """The rows, and the columns of each, whose working is asked for."""
    columns = tuple(COLUMNS) if column is None else (column_named(column),)
    if row is None:
        return {one.number: columns for one in log.rows}
    if not (row.isascii() and row.isdecimal() and len(row) < 9):
        raise InputError(
            f"'{row}' is not the number of a row; write one from 1 to {len(log.rows)}", code="row"
        )
    return {row_numbered(log, int(row)).number: columns}


def print_workings(log: NavigationLog, asked: Mapping[int, tuple[str, ...]]) -> None:
    """Print the working of figures, row by row."""
    blocks = []
    for number, columns in asked.items():
        row = row_numbered(log, number)
        names = f"{shown(row.start.name)} to {shown(row.end.name)}"
        blocks.append(f"Row {number}, {names}, {row.phase}")
        blocks += [_working(working(log, number, column)) for column in columns]
    say("\n\n".join(blocks))
    say("")
    say("\n".join(paragraph(text) for text in wording.STANDING))


def _working(made: Working) -> str:
    lines = [headline(made), f"    {made.formula}"]
    lines += [f"    {put_words(put)}   ({shown(put.words)})" for put in made.put_in]
    lines += [paragraph(shown(line), " " * 8, " " * 6) for line in made.arithmetic]
    lines.append(f"    {made.rounding}; source: {made.source}")
    lines += [paragraph(shown(note), " " * 6, "    note: ") for note in made.notes]
    return "\n".join(lines)
