"""How old the tables behind a figure are, said where the figure is shown."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping

from plotter.places.store import Store
from plotter.route.cautions import Caution

LIMIT_DAYS = 365
"""Older tables are told. Twelve months are our choice: airport data is published every 28 days
(ICAO Annex 15, the AIRAC cycle), so no table here is ever as new as a current chart."""


def age_cautions(
    dates: Mapping[str, str], tables: Iterable[str], day: dt.date, day_of: str = "the flight"
) -> list[Caution]:
    """One note for all tables more than a year old on a day; ``dates`` [ISO 8601] by table.

    ``day_of`` says what happens that day.

    >>> dates = {"airports": "2025-12-02", "navaids": "2022-10-11"}
    >>> age_cautions(dates, ["airports", "navaids"], dt.date(2026, 7, 4))[0].text
    'More than a year old on the day of the flight: navaids of 2022-10-11 (3.7 years). \
Check against current publications.'
    """
    old: dict[str, list[str]] = defaultdict(list)
    for table in dict.fromkeys(tables):
        if age_days(dates[table], day) > LIMIT_DAYS:
            old[dates[table]].append(table.replace("_", " "))
    if not old:
        return []
    listed = ", ".join(_listed(names, date, day) for date, names in sorted(old.items()))
    when = "today" if day_of == "today" else f"on the day of {day_of}"
    words = f"More than a year old {when}: {listed}. Check against current publications."
    return [Caution("NOTE", "data-age", words)]


def table_dates(store: Store) -> dict[str, str]:
    """The date [ISO 8601] of each table of a store."""
    return {name: entry["date"] for name, entry in store.register.items()}


def age_days(table_date: str, day: dt.date) -> int:
    """How old [days] a table of a date is on a day."""
    return (day - dt.date.fromisoformat(table_date)).days


def age(table_date: str, day: dt.date) -> str:
    """The age of a table in words.

    >>> age("2022-10-11", dt.date(2026, 7, 4)), age("2026-06-04", dt.date(2026, 7, 4))
    ('3.7 years', '30 days')
    """
    days = age_days(table_date, day)
    return f"{days / 365.25:.1f} years" if days > LIMIT_DAYS else f"{max(0, days)} days"


def _listed(names: list[str], date: str, day: dt.date) -> str:
    return f"{' and '.join(names)} of {date} ({age(date, day)})"
