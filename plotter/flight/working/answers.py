"""The arithmetic behind each figure of a log, as a student would write it.

:func:`working` gives, for one row and column, the formula, the numbers put into it, the result, how
it is rounded for print and where the method is written. It is computed from the same values as the
log; a test works every formula again from the numbers it shows.
"""

from __future__ import annotations

from collections.abc import Iterator

from plotter.earth.angles import half_turn
from plotter.errors import InputError
from plotter.flight.columns import COLUMNS, Column
from plotter.flight.log_values import LogRow, NavigationLog
from plotter.flight.printed import PrintedRow, printed_row
from plotter.flight.working.arithmetic import MAKERS
from plotter.flight.working.values import Place, Working, figure

_ADDED = (
    *("distance_nm", "distance_to_go_nm", "ete_min", "fuel_used", "fuel_remaining"),
    *("magnetic_course_deg", "true_heading_deg", "magnetic_heading_deg"),
    *("compass_card_correction_deg", "compass_heading_deg"),
)
"""The columns whose printed figures are sums or differences of printed ones."""


def working(log: NavigationLog, row_number: int, column: str) -> Working:
    """The working of one figure; rows are numbered from 1 as the log prints them.

    Raises InputError, code ``row`` or ``column``, for one that is not there.
    """
    place = _place(log, row_number)
    known = column_named(column)
    made = MAKERS[known](place)
    shown = COLUMNS[known]
    printed = printed_row(log.plan, place.sector, place.row, place.before)
    unit = shown.unit or log.plan.aircraft.fuel_unit
    return Working(
        known,
        shown.title,
        made.formula,
        made.put_in,
        made.arithmetic,
        shown.value(place.row),
        unit,
        shown.printed(printed),
        shown.rounding,
        made.source,
        (*made.notes, *_apart(shown, printed)),
    )


def _apart(column: Column, printed: PrintedRow) -> Iterator[str]:
    """How far a printed figure lies from the unrounded one, where print is more than rounding."""
    value, plain = column.value(printed.row), column.plain(printed)
    if column.key in _ADDED and isinstance(value, float) and isinstance(plain, int | float):
        unit = f" {column.unit}" if column.unit in ("NM", "min") else ""
        apart = plain - value
        if column.unit.startswith("°"):
            apart, unit = half_turn(apart), "°"
        yield f"printed {column.rounding}: {figure(abs(apart), 2)}{unit} from the unrounded figure"


def column_named(text: str) -> str:
    """The key of a column from its key or its heading.

    Raises InputError, code ``column``, with the headings there are.

    >>> column_named("gs"), column_named("true_heading_deg")
    ('groundspeed_kt', 'true_heading_deg')
    """
    wanted = text.strip().casefold()
    for key, column in COLUMNS.items():
        if wanted in (key, column.heading.casefold()):
            return key
    headings = ", ".join(column.heading for column in COLUMNS.values())
    raise InputError(
        "column",
        candidates=tuple(column.heading for column in COLUMNS.values()),
        name=text[:40],
        columns=headings,
    )


def row_numbered(log: NavigationLog, number: int) -> LogRow:
    """The row of a number; raises InputError, code ``row``, with the numbers there are."""
    return _place(log, number).row


def _place(log: NavigationLog, number: int) -> Place:
    for sector in log.sectors:
        before = None
        for row in sector.rows:
            if row.number == number:
                return Place(log, sector, row, before)
            before = row
    raise InputError("row", number=number, last=log.rows[-1].number)
