"""What a file of the pilot's holds, whatever its format: parts, their points, and every fault.

A part is a route (points to fly in order), waypoints (points in the order of the file) or a track
(a line as it was flown or drawn). A reader hands over raw text; it is checked here, so that every
format is read by the same rules:

* a point whose position cannot be is a fault of its part, kept with its place in the file;
* an elevation or a time that cannot be read is left out, and that is said;
* a number is decimal digits, with a point and an exponent where there are such, nothing else;
* a time without a zone is UTC, as GPX 1.1 wants it.

Memory is bounded by the limits below: a named point takes some 0.5 kB, a point of a track 32
bytes, and of faults only the first few are kept and the rest counted.
"""

from __future__ import annotations

import datetime as dt
import math
from array import array
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Literal, NamedTuple, Protocol

from plotter.earth.position import Position
from plotter.earth.units import feet_from_metres
from plotter.errors import FileFault, PositionError, fault_in_file
from plotter.formats.names import clean_name, clean_text
from plotter.formats.records import number_of
from plotter.messages import Message, message, text

PartKind = Literal["route", "track", "waypoints"]
KINDS: tuple[PartKind, ...] = ("route", "track", "waypoints")

MOST_PARTS = 1_000
MOST_NAMED_POINTS = 100_000
MOST_TRACK_POINTS = 1_000_000
MOST_NOTED = 20_000_000
"""Characters of all notes together: one may take four bytes, and makes its whole note do so."""
MOST_FAULTS_KEPT = 10
NOTE_LIMIT = 2_000
"""Characters kept of a note; what is longer is cut and marked with an ellipsis."""
LOWEST_FT, HIGHEST_FT = -2_000.0, 100_000.0
"""Heights a file may give: below the lowest land, above the highest balloon."""

_EPOCH = dt.datetime(1970, 1, 1, tzinfo=dt.UTC)
_UNKNOWN = math.nan


class FilePoint(NamedTuple):
    """A point of a file: checked position, elevation [ft] or ``None``, note, time [UTC]."""

    name: str
    position: Position
    elevation_ft: float | None = None
    note: str = ""
    time: dt.datetime | None = None


class Source(Protocol):
    """Bytes that are read piece by piece."""

    def read(self, size: int = -1, /) -> bytes:
        """The next bytes, none at the end."""


class Raw(NamedTuple):
    """The same as the file has it; ``place`` says where in the file, in words."""

    latitude: object
    longitude: object
    name: str = ""
    note: str = ""
    elevation_m: object = ""
    elevation_ft: object = ""
    time: str = ""
    place: str = ""
    line: int | None = None


@dataclass
class Faults:
    """Faults in the order they were met: the first few kept, all of them counted."""

    kept: list[Message] = field(default_factory=list)
    count: int = 0

    def add(self, place: str, what: Message) -> None:
        """Add a fault."""
        self.count += 1
        if len(self.kept) < MOST_FAULTS_KEPT:
            self.kept.append(message("file.at", place=place, what=what) if place else what)

    def messages(self) -> tuple[Message, ...]:
        """Return those kept, and how many more there were."""
        more = self.count - len(self.kept)
        return (*self.kept, *([message("file.more", count=more)] if more else []))


@dataclass
class Part:
    """One part of a file as it is being read.

    ``points`` are those of a route or of waypoints; a track has its own arrays. ``faults`` are
    points that could not be read, ``left_out`` what was dropped of points that could.
    """

    kind: PartKind
    name: str = ""
    points: list[FilePoint] = field(default_factory=list)
    latitudes: array[float] = field(default_factory=lambda: array("d"))
    longitudes: array[float] = field(default_factory=lambda: array("d"))
    heights_ft: array[float] = field(default_factory=lambda: array("d"))
    seconds: array[float] = field(default_factory=lambda: array("d"))
    pieces: int = 0
    checkpoints_left_out: int = 0
    faults: Faults = field(default_factory=Faults)
    left_out: Faults = field(default_factory=Faults)

    @property
    def count(self) -> int:
        """How many points it has."""
        return len(self.latitudes) if self.kind == "track" else len(self.points)

    @property
    def met(self) -> int:
        """How many points it has or would have, had they been readable."""
        return self.count + self.faults.count

    def track_point(self, index: int) -> FilePoint:
        """One point of a track; it has no name, and its height goes into the note.

        The trap: a track's height is where the aircraft was, not the ground below it.
        """
        height_ft, seconds = self.heights_ft[index], self.seconds[index]
        return FilePoint(
            "",
            Position(self.latitudes[index], self.longitudes[index]),
            None,
            "" if math.isnan(height_ft) else text(message("track-height", height_ft=height_ft)),
            None if math.isnan(seconds) else _EPOCH + dt.timedelta(seconds=seconds),
        )


class Contents:
    """What a file holds; a reader fills it, part by part, and the limits are kept here."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.parts: list[Part] = []
        self.passed_over: dict[str, int] = {}
        self._named = 0
        self._on_tracks = 0
        self._noted = 0

    def begin(self, kind: PartKind, name: str = "") -> Part:
        """A new part; raises FileFault where there are too many."""
        if len(self.parts) >= MOST_PARTS:
            raise self.fault(message("file.many-parts", most=MOST_PARTS))
        self.parts.append(Part(kind, clean_name(name)))
        return self.parts[-1]

    def take(self, part: Part, raw: Raw) -> None:
        """One point of a route or of waypoints."""
        self._named += 1
        if self._named > MOST_NAMED_POINTS:
            raise self.fault(message("file.many-points", most=MOST_NAMED_POINTS))
        try:
            position = position_of(raw.latitude, raw.longitude)
        except PositionError as fault:
            part.faults.add(_place(raw), fault.said)
            return
        name, note = clean_name(raw.name), clean_text(raw.note)
        if len(note) > NOTE_LIMIT:
            note = note[: NOTE_LIMIT - 1] + "…"
            part.left_out.add(_place(raw), message("file.long-note", most=NOTE_LIMIT))
        self._noted += len(note)
        if self._noted > MOST_NOTED:
            raise self.fault(message("file.long-notes", most=MOST_NOTED))
        elevation_ft = _kept(part, raw, elevation_ft_of(raw.elevation_ft, raw.elevation_m))
        seconds = _kept(part, raw, seconds_of(raw.time))
        time = None if seconds is None else _EPOCH + dt.timedelta(seconds=seconds)
        part.points.append(FilePoint(name, position, elevation_ft, note, time))

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
        """One point of a track; flat and short, because a track may have a million of them."""
        self._on_tracks += 1
        if self._on_tracks > MOST_TRACK_POINTS:
            raise self.fault(message("file.many-track-points", most=MOST_TRACK_POINTS))
        try:
            lat, lon = number_of(latitude), number_of(longitude)
        except ValueError:
            lat = lon = _UNKNOWN
        if not (-90.0 <= lat <= 90.0 and -180.0 <= lon <= 180.0):
            part.faults.add(place(), _why_not(latitude, longitude))
            return
        height_ft, seconds = elevation_ft_of("", height_m), seconds_of(time)
        for value in (height_ft, seconds):
            if isinstance(value, Message):
                part.left_out.add(place(), value)
        part.latitudes.append(lat)
        part.longitudes.append(lon)
        part.heights_ft.append(height_ft if isinstance(height_ft, float) else _UNKNOWN)
        part.seconds.append(seconds if isinstance(seconds, float) else _UNKNOWN)

    def set_times(self, part: Part, times: list[float]) -> None:
        """The times of a track whose format gives them apart from its points, in their order."""
        for index, seconds in enumerate(times[: part.count]):
            part.seconds[index] = seconds

    def rename(self, part: Part, name: str) -> None:
        """Give a part the name that stands behind its beginning."""
        part.name = clean_name(name)

    def pass_over(self, key: str, count: int = 1) -> None:
        """Count something that is not read; ``key`` is its message's, which takes the count."""
        self.passed_over[key] = self.passed_over.get(key, 0) + count

    @property
    def skipped(self) -> tuple[Message, ...]:
        """What was not read, in the order it was met."""
        return tuple(message(key, count=count) for key, count in self.passed_over.items())

    def fault(self, what: Message, line: int | None = None) -> FileFault:
        """Return a fault of the whole file, to be raised."""
        return fault_in_file(self.file, what, line)


_SKIPPED = {
    "": "skipped.no-geometry",
    "polygon": "skipped.polygon",
    "multipolygon": "skipped.multipolygon",
    "geometrycollection": "skipped.collection",
}


def skipped_geometry(kind: object) -> str:
    """Return the key for a geometry that is not read.

    >>> skipped_geometry("Polygon"), skipped_geometry(None)
    ('skipped.polygon', 'skipped.no-geometry')
    """
    return _SKIPPED.get(kind.lower() if isinstance(kind, str) else "", "skipped.geometry")


def first_three(figures: Sequence[object]) -> tuple[object, object, object]:
    """Return the longitude, latitude and height of one position, as far as there are such.

    With more than three numbers (decimal commas, most often) the latitude is the fault.

    >>> first_three(["-92.5", "44.5"])
    ('-92.5', '44.5', '')
    >>> first_three(["-92", "5", "44", "5"])[1]
    Message(key='position.numbers', values=(('count', 4),))
    """
    count = len(figures)
    while count and figures[count - 1] == "":
        count -= 1
    longitude, latitude, height = [*figures[:3], "", "", ""][:3]
    if count > 3:
        latitude = message("position.numbers", count=count)
    return longitude, latitude, height


def position_of(latitude: object, longitude: object) -> Position:
    """Return the position of two raw values [°]; raises PositionError.

    >>> position_of("44.5", "-92")
    Position(latitude_deg=44.5, longitude_deg=-92.0)
    >>> position_of("-92", "44.5")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    plotter.errors.PositionError: latitude -92 is out of range; enter -90 to 90; are ...
    """
    lat, lon = degrees_of(latitude, "latitude"), degrees_of(longitude, "longitude")
    try:
        return Position(lat, lon)
    except PositionError as fault:
        if 90.0 < abs(lat) <= 180.0 and abs(lon) <= 90.0:
            raise PositionError("position.exchanged", reason=fault.said) from None
        raise


def degrees_of(value: object, what: str) -> float:
    """Return a raw value as a number of degrees; raises PositionError."""
    if isinstance(value, Message):
        raise PositionError(value)
    try:
        return number_of(value)
    except ValueError:
        typed = str(value).strip()
        if not typed or value is None:
            raise PositionError("position.missing", angle=what) from None
        key = "position.decimal-comma" if "," in typed else "position.not-decimal"
        raise PositionError(key, angle=what, typed=typed[:40]) from None


def seconds_of(typed: str) -> float | Message | None:
    """Return an ISO 8601 date and time as seconds since 1970 (UTC), ``None``, or what is wrong.

    >>> seconds_of("1970-01-01T01:00:00+01:00"), seconds_of("1970-01-01T00:00:01.5"), seconds_of("")
    (0.0, 1.5, None)
    >>> text(seconds_of("noon"))
    "time 'noon' is not a date and time"
    """
    if not typed:
        return None
    try:
        time = dt.datetime.fromisoformat(typed.strip())
    except (ValueError, OverflowError):
        time = dt.datetime.min
    # In the first and the last year an offset or a rounding leads out of those a calendar holds.
    if not dt.MINYEAR < time.year < dt.MAXYEAR:
        return message("time.not-iso", typed=typed.strip()[:40])
    return (time if time.tzinfo else time.replace(tzinfo=dt.UTC)).timestamp()


def elevation_ft_of(feet: object, metres: object) -> float | Message | None:
    """Return an elevation [ft] given in feet, else in metres, ``None``, or what is wrong.

    >>> elevation_ft_of("1317", ""), elevation_ft_of("", "")
    (1317.0, None)
    >>> text(elevation_ft_of("", "100000"))
    'elevation 100000 m is out of range; enter -2,000 to 100,000 ft'
    """
    value, unit = (feet, "ft") if _given(feet) else (metres, "m")
    if not _given(value):
        return None
    try:
        number = number_of(value)
    except ValueError:
        return message("elevation.not-a-number", typed=str(value)[:40])
    found = number if unit == "ft" else feet_from_metres(number)
    if LOWEST_FT < found < HIGHEST_FT:
        return found
    return message(
        "elevation.range", value=number, unit=unit, lowest_ft=LOWEST_FT, highest_ft=HIGHEST_FT
    )


def _given(value: object) -> bool:
    if value is None or value == "":
        return False
    return not (isinstance(value, float) and math.isnan(value))


def _kept(part: Part, raw: Raw, value: float | Message | None) -> float | None:
    """Return the value, or ``None`` where it is a message that says why there is none."""
    if isinstance(value, Message):
        part.left_out.add(_place(raw), value)
        return None
    return value


def _place(raw: Raw) -> str:
    return f"{raw.place} ({clean_name(raw.name, 40)})" if raw.name.strip() else raw.place


def _why_not(latitude: object, longitude: object) -> Message:
    try:
        position_of(latitude, longitude)
    except PositionError as fault:
        return fault.said
    raise AssertionError("only for positions that cannot be read")


# Text from outside, read whole: UTF-8, with or without a byte-order mark, of a bounded size.

MOST_BYTES = 16_000_000


def read_text(stream: Source, contents: Contents, most_bytes: int = MOST_BYTES) -> str:
    """The text of a file; raises FileFault where it is too long or no UTF-8."""
    data = stream.read(most_bytes + 1)
    if len(data) > most_bytes:
        raise contents.fault(message("file.too-large", most_mb=most_bytes // 1_000_000))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data[: fault.start].count(b"\n") + 1
        raise contents.fault(message("file.not-utf-8"), line) from None
