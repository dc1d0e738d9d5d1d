"""What the pilot gives, in whatever form it comes, made into values: points, routes, plans."""

from __future__ import annotations

import codecs
import datetime as dt
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from plotter.errors import FileFault, InputError, Where, fault_in_file
from plotter.messages import Message, message
from plotter.plain_file import open_plain
from plotter.route.reading.points import OwnPoint, OwnPoints
from plotter.route.reading.text import QUOTES
from plotter.route.reading.whole import GivenRoute

if TYPE_CHECKING:
    from plotter.flight.plan.values import Plan
    from plotter.formats.unit_limits import UnitLimits

PLAN_SUFFIX = ".toml"
MOST_PLAN_BYTES = 1_000_000
_A_DATE = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
"""Alone of what ISO 8601 has: ``20260704`` and ``2026-W27-6`` are easily another day mistyped."""


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
        if not _A_DATE.fullmatch(date.strip()):
            raise ValueError(date)
        return dt.date.fromisoformat(date.strip())
    except ValueError:
        raise InputError("date.format", date=str(date)) from None


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


def open_route(
    route: str | Sequence[str],
    *,
    part: str | None = None,
    tolerance_nm: float | None = None,
    folder: Path | None = None,
) -> str | Sequence[str] | GivenRoute:
    """A route as typed, to be read point by point, or whole from the one file that is named.

    A text, or a single argument, that ends in a known suffix (``.gpx``, ``.kml``, …) is a file;
    ``folder`` is where a relative name is looked for. ``part`` chooses among a file's routes,
    tracks and waypoints, ``tolerance_nm`` [NM] is for a track. What comes back is what
    :func:`~plotter.route.plotting.plot_route` takes, and in a file's route every decision is
    among the cautions. Raises FileFault with every fault of the part that is used, and InputError
    for a file among typed points or a part without a file.

    >>> open_route("KRST KDLH")
    'KRST KDLH'
    """
    name = _file_name(route)
    if name is None:
        if part is not None or tolerance_nm is not None:
            raise InputError("part.no-file")
        return route
    from plotter.formats.reading import TRACK_TOLERANCE_NM, file_route, read_file

    contents = read_file((folder or Path()) / name)
    return file_route(contents, part, TRACK_TOLERANCE_NM if tolerance_nm is None else tolerance_nm)


def open_unit(text: str, folder: Path | None = None) -> UnitLimits:
    """The limits of a GPS unit, as typed (``key=value``, commas between) or of a TOML file.

    Raises InputError for a limit that is none, FileFault for a file that cannot be read.

    >>> open_unit("route-points=30").route_points
    30
    """
    from plotter.formats.unit_limits import limits_of, read_limits

    if not text.strip().lower().endswith(".toml"):
        return read_limits(text)
    import tomllib

    path = (folder or Path()) / text.strip()
    try:
        return limits_of(tomllib.loads(_plan_text(path)))
    except (tomllib.TOMLDecodeError, RecursionError) as fault:
        raise _unreadable(path, message("file.not-toml", reason=str(fault))) from None
    except ValueError:  # of a whole number with thousands of digits
        raise _unreadable(path, message("file.digits")) from None
    except FileFault:
        raise
    except InputError as fault:
        raise _unreadable(path, fault.said) from None


def _file_name(route: str | Sequence[str]) -> str | None:
    """The name of the file that is the whole route, or ``None`` where points are typed."""
    whole = [route] if isinstance(route, str) else list(route)
    if not any("." in word for word in whole):
        return None
    from plotter.formats.reading import has_known_suffix

    if len(whole) == 1:
        alone = whole[0].strip()
        quoted = len(alone) > 2 and alone[0] == alone[-1] and alone[0] in QUOTES
        if has_known_suffix(alone.strip(QUOTES) if quoted else alone):
            one_word = quoted or not isinstance(route, str) or len(alone.split()) == 1
            if one_word or Path(alone).exists():
                return alone.strip(QUOTES) if quoted else alone
        whole = alone.split()
    files = [word for word in whole if has_known_suffix(word) and "=" not in word]
    if files:
        raise InputError("file-among-points", name=files[0])
    return None


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
                    "file.name-in-two-files",
                    where=Where(file=str(path)),
                    file=str(path),
                    other=str(other),
                    name=point.name,
                )
        found += points
    return found


def is_plan_file(argument: str | Path) -> bool:
    """Whether an argument is the name of a plan file, by its suffix.

    >>> is_plan_file("sunday.toml"), is_plan_file("KRST")
    (True, False)
    """
    return str(argument).lower().endswith(PLAN_SUFFIX)


def open_plan(plan: Plan | str | Path) -> Plan:
    """A plan as it is, of a plan file, or of the text of one (more than one line).

    The file of own points of a plan file is found from the file's own folder. Raises FileFault
    for a file that cannot be read, :class:`~plotter.errors.PlanError` with every fault in it.
    """
    if not isinstance(plan, str | Path):
        return plan
    from plotter.flight.plan.read import read_plan

    if isinstance(plan, str) and "\n" in plan:
        return read_plan(plan, "plan")
    path = Path(plan)
    opened = read_plan(_plan_text(path), str(path))
    if not opened.points_file:
        return opened
    return replace(opened, points_file=str(path.parent / opened.points_file))


class OpenFlight(NamedTuple):
    """A plan that was read, its own points, and its route as typed or from a file."""

    plan: Plan
    own_points: OwnPoints
    route: str | GivenRoute


def open_flight(
    plan: Plan | str | Path, points: OwnPoints | str | Path | Sequence[Path] | None = None
) -> OpenFlight:
    """A plan as :func:`open_plan` gives it, with the own points and the route of files it names.

    Those files are found from the plan's own folder. ``points`` that are given are used instead of
    the plan's. Raises FileFault for a file that cannot be read and
    PlanError with every fault of the plan.
    """
    opened = open_plan(plan)
    given = opened.points_file or None if points is None else points
    is_file = isinstance(plan, Path) or (isinstance(plan, str) and "\n" not in plan)
    route = open_route(opened.route, folder=Path(str(plan)).parent if is_file else None)
    as_typed = opened.route if not isinstance(route, GivenRoute) else route
    return OpenFlight(opened, open_points(given), as_typed)


@contextmanager
def faults_on_lines(plan: Plan | str | Path, route: str | GivenRoute) -> Iterator[None]:
    """Faults that a plan file shows when it is used, raised again with their lines in it.

    ``plan`` is what :func:`open_flight` was given, ``route`` what it gave back. A plan that is a
    value has no lines, and nothing is changed.
    """
    try:
        yield
    except InputError as fault:
        if not isinstance(plan, str | Path):
            raise
        from plotter.flight.plan.lines import on_lines

        is_text = isinstance(plan, str) and "\n" in plan
        text, file = (str(plan), "plan") if is_text else (_plan_text(Path(plan)), str(plan))
        raise on_lines(fault, text, file, route if isinstance(route, str) else "") from None


def _plan_text(path: Path) -> str:
    """The text of a plan's or a unit's file; line ends stay as they are."""
    try:
        with open_plain(path) as stream:
            data = stream.read(MOST_PLAN_BYTES + 1)
    except OSError as fault:
        raise _unreadable(path, _why_not_opened(fault)) from None
    if len(data) > MOST_PLAN_BYTES:
        raise _unreadable(path, message("file.larger-than-a-plan"))
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        raise _unreadable(path, message("file.utf-16"))
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as fault:
        line = data[: fault.start].count(b"\n") + 1
        raise _unreadable(path, message("file.not-utf-8"), line) from None


def _why_not_opened(fault: OSError) -> Message:
    if isinstance(fault, FileNotFoundError):
        return message("file.not-found")
    return message("file.unreadable", reason=str(fault.strerror or fault))


def _unreadable(path: Path, what: Message, line: int | None = None) -> FileFault:
    return fault_in_file(str(path), what, line)
