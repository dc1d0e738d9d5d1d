"""What the pilot gives, in whatever form it comes, made into values: dates, own points."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from plotter.errors import FileFault, InputError, Where
from plotter.flight.plan import Plan
from plotter.route.own_points import OwnPoint, OwnPoints

LARGEST_PLAN_BYTES = 1_000_000


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


class OpenFlight(NamedTuple):
    """A plan file read: the plan, and the own points it names."""

    plan: Plan
    own_points: OwnPoints


def open_flight(path: Path) -> OpenFlight:
    """The plan of a file, and its own points, whose file lies beside it.

    Raises FileFault for a file that cannot be read and PlanError with every fault of the plan.
    """
    from plotter.flight.plan_file import read_plan

    plan = read_plan(_text(path), str(path))
    return OpenFlight(
        plan, open_points(path.parent / plan.points_file if plan.points_file else None)
    )


def _text(path: Path) -> str:
    """The text of a plan file; a plan is a few pages, so a huge file is none."""
    where = Where(file=str(path))
    try:
        if path.stat().st_size > LARGEST_PLAN_BYTES:
            raise FileFault(f"{path} is larger than any plan; name a plan file", where=where)
        return path.read_bytes().decode("utf-8")
    except UnicodeDecodeError as fault:
        raise FileFault(
            f"{path} is not UTF-8 text at byte {fault.start}; save it as UTF-8", where=where
        ) from None
    except OSError as fault:
        said = "there is no such file" if isinstance(fault, FileNotFoundError) else fault.strerror
        raise FileFault(f"{path} cannot be read: {said}", where=where) from None


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
