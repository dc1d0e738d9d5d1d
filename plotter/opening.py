"""What the pilot gives, in whatever form it comes, made into values: dates, own points."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path

from plotter.errors import FileFault, InputError, Where
from plotter.route.own_points import OwnPoint, OwnPoints


def open_date(date: dt.date | str | None) -> dt.date:
    """A date as it is, typed as YYYY-MM-DD, or today's for ``None``; raises InputError.

    >>> open_date("2026-07-04")
    datetime.date(2026, 7, 4)
    """
    if date is None:
        return dt.date.today()
    if isinstance(date, dt.datetime):
        return date.date()
    if isinstance(date, dt.date):
        return date
    try:
        return dt.date.fromisoformat(date.strip())
    except ValueError:
        raise InputError(
            f"'{date}' is not a date; write it as year-month-day: 2026-07-04", code="date"
        ) from None


def open_points(points: OwnPoints | str | Path | Sequence[Path] | None) -> OwnPoints:
    """Own points as they are, or of one or several CSV or GeoJSON files.

    Raises FileFault for a file that cannot be read and for a name that two files give.
    """
    if points is None:
        return OwnPoints()
    if isinstance(points, OwnPoints):
        return points
    paths = [Path(points)] if isinstance(points, str | Path) else list(points)
    return OwnPoints(_all_points(paths))


def _all_points(paths: Sequence[Path]) -> list[OwnPoint]:
    if not paths:
        return []
    from plotter.formats.points_file import read_points_file

    found: list[OwnPoint] = []
    given_by: dict[str, Path] = {}
    for path in paths:
        points = list(read_points_file(path))
        for point in points:
            other = given_by.setdefault(point.name.casefold(), path)
            if other is not path:
                raise FileFault(
                    f"{path} and {other} both give a point named '{point.name}'; rename one",
                    where=Where(file=str(path)),
                )
        found += points
    return found
