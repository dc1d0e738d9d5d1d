"""A file of the pilot's own points, CSV or GeoJSON, read with a report of all its faults.

It is read as any such file is (:mod:`plotter.formats.table`, :mod:`plotter.formats.geojson`),
with stricter rules: every point has a name of its own to be used by, there are points alone, and an
elevation that cannot be is a fault.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from plotter.errors import FileFault, Where
from plotter.formats.incoming import (
    Contents,
    Faults,
    Part,
    Raw,
    elevation_ft_of,
    file_fault,
    position_of,
)
from plotter.formats.names import clean_name
from plotter.plain_file import open_plain
from plotter.route.reading.points import OwnPoint, OwnPoints

MOST_POINTS = 100_000
_BEGINNING = 64


class _OwnContents(Contents):
    """What such a file holds: points with names, and the faults found on the way."""

    def __init__(self, file: str) -> None:
        super().__init__(file)
        self.points: list[OwnPoint] = []
        self.faults = Faults()
        self.first_line: int | None = None
        self._seen: dict[str, str] = {}

    def take(self, part: Part, raw: Raw) -> None:
        """One point; a fault of it is kept with its place."""
        try:
            point = _point(raw)
            first = self._seen.setdefault(point.name.casefold(), raw.place)
            if len(self._seen) == len(self.points):
                raise ValueError(f"the name '{point.name}' is used on {first} already")
        except ValueError as fault:
            self.first_line = self.first_line if self.faults.count else raw.line
            self.faults.add(raw.place, str(fault))
            return
        self.points.append(point)
        if len(self.points) > MOST_POINTS:
            words = f"holds more than {MOST_POINTS:,} points; keep those near the route"
            raise self.fault(f"{words} in a smaller file", raw.line)

    def take_fix(
        self,
        part: Part,
        place: Callable[[], str],
        latitude: object,
        longitude: object,
        *,
        height_m: object = "",
        time: str = "",
    ) -> None:
        """A point of a line has no name of its own."""
        self.pass_over("point of a line")


def read_points_file(path: Path) -> OwnPoints:
    """The points of a CSV or GeoJSON file; raises FileFault with every fault and its place."""
    contents = _OwnContents(str(path))
    try:
        with open_plain(path) as stream:
            begins = stream.read(_BEGINNING).removeprefix(b"\xef\xbb\xbf").lstrip()
            stream.seek(0)
            if path.suffix.lower() in (".geojson", ".json") or begins.startswith(b"{"):
                from plotter.formats.geojson import read_geojson as read
            else:
                from plotter.formats.table import read_csv as read
            read(stream, contents)
    except OSError as fault:
        raise file_fault(str(path), f"cannot be read: {fault.strerror or fault}") from None
    for what, count in contents.passed_over.items():
        contents.faults.add("", f"{count:,} × {what}: a point with a name is needed")
    if contents.faults.count:
        raise _report(contents)
    if not contents.points:
        raise contents.fault("holds no point")
    return OwnPoints(contents.points)


def _point(raw: Raw) -> OwnPoint:
    name = clean_name(raw.name)
    if not name:
        raise ValueError("the point has no name")
    position = position_of(raw.latitude, raw.longitude)
    elevation_ft = elevation_ft_of(raw.elevation_ft, raw.elevation_m)
    if isinstance(elevation_ft, str):
        raise ValueError(elevation_ft)
    return OwnPoint(name, position, elevation_ft, clean_name(raw.note))


def _report(contents: _OwnContents) -> FileFault:
    return FileFault(
        f"{contents.file} cannot be used:\n  " + "\n  ".join(contents.faults.lines()),
        where=Where(file=contents.file, line=contents.first_line),
    )
