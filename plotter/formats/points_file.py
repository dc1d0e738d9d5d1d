"""A file of the pilot's own points, CSV or GeoJSON, read with a report of all its faults.

It is read as any such file is (:mod:`plotter.formats.table`, :mod:`plotter.formats.geojson`),
with stricter rules: every point has a name of its own to be used by, there are points alone, and an
elevation that cannot be is a fault.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from plotter.errors import FileFault, InputError, Where, fault_in_file
from plotter.formats.incoming import (
    Contents,
    Faults,
    Part,
    Raw,
    elevation_ft_of,
    position_of,
)
from plotter.formats.names import clean_name
from plotter.messages import Message, message
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
                raise InputError("file.name-taken", name=point.name, place=first)
        except InputError as fault:
            self.first_line = self.first_line if self.faults.count else raw.line
            self.faults.add(raw.place, fault.said)
            return
        self.points.append(point)
        if len(self.points) > MOST_POINTS:
            raise self.fault(message("file.many-own-points", most=MOST_POINTS), raw.line)

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
        self.pass_over("skipped.point-of-a-line")


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
        reason = str(fault.strerror or fault)
        raise fault_in_file(str(path), message("file.unreadable", reason=reason)) from None
    for skipped in contents.skipped:
        contents.faults.add("", message("file.not-a-named-point", skipped=skipped))
    if contents.faults.count:
        raise _report(contents)
    if not contents.points:
        raise contents.fault(message("file.no-point"))
    return OwnPoints(contents.points)


def _point(raw: Raw) -> OwnPoint:
    name = clean_name(raw.name)
    if not name:
        raise InputError("file.no-name")
    position = position_of(raw.latitude, raw.longitude)
    elevation_ft = elevation_ft_of(raw.elevation_ft, raw.elevation_m)
    if isinstance(elevation_ft, Message):
        raise InputError(elevation_ft)
    return OwnPoint(name, position, elevation_ft, clean_name(raw.note))


def _report(contents: _OwnContents) -> FileFault:
    return FileFault(
        "file.faults",
        where=Where(file=contents.file, line=contents.first_line),
        file=contents.file,
        faults=contents.faults.messages(),
    )
