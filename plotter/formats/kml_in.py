"""KML 2.0 to 2.3 and KMZ read: folders of points, lines, timed tracks.

Source: OGC 07-147r2 (2.2) and 12-007r2 (2.3, ``Track``). The points of a folder are waypoints in
their order, a line is a track; a folder called ``Turning points``, as this program writes it, is a
route. Polygons, models and overlays are passed over, links are never followed. Longitude comes
first in KML; heights are metres above the sea, or above whatever is below where they are clamped.
In a document of this program (its value ``creator``) descriptions are not the pilot's and heights
are planned altitudes; note and elevation are values of each point.
"""

from __future__ import annotations

import io
import math
import re
import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from html import unescape
from typing import IO
from zipfile import BadZipFile, ZipFile

from plotter.formats.incoming import Contents, Part, PartKind, Raw, Source, first_three, seconds_of
from plotter.formats.xml_in import Walk
from plotter.formats.zip_entries import open_entry
from plotter.messages import Message, message

NAMESPACES = frozenset(
    (
        *(f"http://www.opengis.net/kml/2.{minor}" for minor in (2, 3)),
        *(f"http://earth.google.com/kml/2.{minor}" for minor in (0, 1, 2)),
        "http://www.google.com/kml/ext/2.2",
        "",
    )
)
ROUTE_FOLDER = "Turning points"
_BOXES = frozenset(("kml", "Document", "Folder"))
_GEOMETRIES = frozenset(("Point", "LineString", "Track"))
_GROUPS = frozenset(("MultiGeometry", "MultiTrack"))
_PASSED_OVER = {
    "Polygon": "skipped.polygon",
    "Model": "skipped.model",
    "GroundOverlay": "skipped.overlay",
    "PhotoOverlay": "skipped.overlay",
    "NetworkLink": "skipped.link",
}
_TAG = re.compile(r"<[^<>]*>")
OWN_CREATOR = "plotter"
# Files of this program from before it wrote values: known by a caution, elevations only in words.
_OLD_CAUTION = "A planning aid, not an approved source of navigation"
_OLD_ELEVATION = re.compile(r"(?:^|; )elevation (-?[\d,]+) ft(?:$|; planned )", re.M)


@dataclass
class _Box:
    """A document or folder: its name, and its points as a part once it has one."""

    name: str = ""
    points: Part | None = None


@dataclass
class _Mark:
    """A placemark as it is being read."""

    line: int
    texts: dict[str, str] = field(default_factory=dict)
    data: dict[str, str] = field(default_factory=dict)
    points: list[str] = field(default_factory=list)
    track: Part | None = None
    times: list[float] = field(default_factory=list)


def read_kml(stream: Source, contents: Contents) -> None:
    """Read a whole KML file into its contents; raises FileFault for what is none."""
    walk = Walk(contents.file, "kml", NAMESPACES)
    walk.through(stream, _Kml(walk, contents))


class _Kml:
    """The elements of one file, as they come by."""

    streamed = frozenset(("coordinates",))

    def __init__(self, walk: Walk, contents: Contents) -> None:
        self._walk = walk
        self._contents = contents
        self._boxes: list[_Box] = []
        self._own = self._is_old = False
        self._mark: _Mark | None = None
        self._is_own_geometry = False
        self._key = ""
        self._rest = ""

    def start(self, path: list[str], attributes: dict[str, str]) -> None:
        name = path[-1]
        if name in _BOXES:
            self._boxes.append(_Box())
        elif name == "Placemark":
            if self._mark is not None:
                raise self._contents.fault(message("file.placemarks"), self._walk.line)
            self._mark = _Mark(self._walk.line)
        elif name in _GEOMETRIES:
            self._begin_geometry(path)
        elif name == "coordinates":
            self._rest = ""
        elif name == "Data":
            self._key = attributes.get("name", "")
        elif name in _PASSED_OVER:
            self._contents.pass_over(_PASSED_OVER[name])

    def piece(self, path: list[str], text: str) -> None:
        """A piece of a list of coordinates; the last one may be cut and waits for its rest."""
        mark, parent = self._mark, path[-2] if len(path) > 1 else ""
        if mark is None or parent not in ("LineString", "Point") or not self._is_own_geometry:
            return
        whole = (self._rest + text).split()
        self._rest = "" if text[-1:].isspace() or not whole else whole.pop()
        if len(self._rest) > 200:
            raise self._contents.fault(message("file.long-coordinate"), self._walk.line)
        for word in whole:
            self._coordinate(mark, parent, word)

    def end(self, path: list[str], text: str) -> None:
        name, parent = path[-1], path[-2] if len(path) > 1 else ""
        mark = self._mark
        if name == "description" and parent == "Document":
            self._own = self._is_old = _OLD_CAUTION in _plain(text)
        elif name == "value" and path[-4:-1] == ["Document", "ExtendedData", "Data"]:
            if self._key == "creator" and text == OWN_CREATOR:
                self._own, self._is_old = True, False
        elif name == "name" and parent in _BOXES and self._boxes:
            self._name_box(text)
        elif name in _BOXES:
            self._boxes.pop()
        elif mark is not None:
            self._end_in_mark(mark, path, name, parent, text)

    def _end_in_mark(self, mark: _Mark, path: list[str], name: str, parent: str, text: str) -> None:
        if name == "Placemark":
            self._end_mark(mark)
        elif name == "coordinates":
            if self._rest and parent in ("LineString", "Point") and self._is_own_geometry:
                self._coordinate(mark, parent, self._rest)
            self._rest = ""
        elif parent == "Placemark" and name in ("name", "description"):
            mark.texts[name] = text
        elif name == "when" and path[-3:-1] == ["Placemark", "TimeStamp"]:
            mark.texts["when"] = text
        elif name == "value" and parent == "Data":
            mark.data[self._key] = text
        elif parent == "Track" and self._is_own_geometry:
            self._end_in_track(mark, name, text)

    def _end_in_track(self, mark: _Mark, name: str, text: str) -> None:
        """``when`` and ``coord`` come in step, but may stand apart; coordinates by spaces."""
        if name == "when":
            seconds = seconds_of(text)
            if isinstance(seconds, Message) and mark.track is not None:
                mark.track.left_out.add(self._where(), seconds)
            mark.times.append(seconds if isinstance(seconds, float) else math.nan)
        elif name == "coord":
            self._line_point(mark, text.split())

    def _begin_geometry(self, path: list[str]) -> None:
        """A geometry of the placemark itself; extended data may hold elements of the same names."""
        inner = path[path.index("Placemark") + 1 : -1] if self._mark is not None else []
        self._is_own_geometry = _GROUPS.issuperset(inner)
        if self._mark is None or path[-1] == "Point" or not self._is_own_geometry:
            return
        if self._mark.track is None:
            self._mark.track = self._contents.begin("track")
        self._mark.track.pieces += 1

    def _coordinate(self, mark: _Mark, parent: str, word: str) -> None:
        if parent == "Point":
            mark.points.append(word)
            if len(mark.points) > 1_000:
                raise self._contents.fault(message("file.many-in-a-placemark"), mark.line)
        else:
            self._line_point(mark, word.split(","))

    def _line_point(self, mark: _Mark, figures: list[str]) -> None:
        if mark.track is None:
            return
        longitude, latitude, height = first_three(figures)
        self._contents.take_fix(mark.track, self._where, latitude, longitude, height_m=height)

    def _where(self) -> str:
        return f"line {self._walk.line:,}"

    def _name_box(self, text: str) -> None:
        box = self._boxes[-1]
        box.name = text.strip()
        if box.points is not None:
            self._contents.rename(box.points, text)

    def _end_mark(self, mark: _Mark) -> None:
        self._mark = None
        name = mark.texts.get("name", "").strip()
        if mark.track is not None:
            self._contents.rename(mark.track, name)
            self._contents.set_times(mark.track, mark.times)
        for point in mark.points:
            longitude, latitude, height = first_three(point.split(","))
            raw = Raw(latitude, longitude, name, elevation_m=height)
            self._contents.take(self._points(), self._described(raw, mark))

    def _points(self) -> Part:
        """The part of the points of the innermost folder."""
        if not self._boxes:
            self._boxes.append(_Box())
        box = self._boxes[-1]
        if box.points is None:
            kind: PartKind = "route" if box.name == ROUTE_FOLDER else "waypoints"
            box.points = self._contents.begin(kind, self._part_name(box))
        return box.points

    def _part_name(self, box: _Box) -> str:
        """A folder's own name; of our route folder the document's, which is the route's."""
        if box.name != ROUTE_FOLDER:
            return box.name
        return next((outer.name for outer in self._boxes if outer.name), "")

    def _described(self, raw: Raw, mark: _Mark) -> Raw:
        """The point with note, elevation and time, from where this program or others put them."""
        words = _plain(mark.texts.get("description", ""))
        own = self._own
        note = mark.data.get("note", "" if own else words)
        old = _OLD_ELEVATION.search(words) if self._is_old else None
        feet = mark.data.get("elevation_ft", old[1].replace(",", "") if old else None)
        return raw._replace(
            note=note,
            # A bare 0 stands where a writer had no height to give; ours are planned altitudes.
            elevation_m="" if own or raw.elevation_m in ("0", "0.0") else raw.elevation_m,
            elevation_ft=feet,
            time=mark.texts.get("when", ""),
            place=f"line {mark.line:,}",
        )


def _plain(description: str) -> str:
    """A description without its markup; KML descriptions are HTML.

    >>> _plain("<b>Silo</b>, white&nbsp;roof<br>Invented &lt;demo&gt;")
    'Silo, white roof Invented <demo>'
    """
    return " ".join(unescape(_TAG.sub(" ", description)).replace(" ,", ",").split())


# KMZ opened: the one KML document inside a zip archive, unpacked as it is read.
#
# Source: OGC 07-147r2, annex C. Nothing is unpacked to the disk and nothing but that document is
# read, so paths, links and archives within the archive do no harm. Bounded are the archive, its
# list of contents, and the unpacked bytes, by count and in proportion to the packed ones.

MOST_PACKED_BYTES = 64_000_000
MOST_LIST_BYTES = 1_000_000
"""Of the archive's list of contents: some ten thousand files."""
MOST_TIMES_PACKED = 200
"""KML packs to a fifth or a twentieth; an archive of nothing but zeros to a thousandth."""
FREE_BYTES = 1_000_000
"""Unpacked bytes that are read whatever the proportion."""

_END, _END_64 = b"PK\x05\x06", b"PK\x06\x07"
_END_BYTES, _END_64_BYTES, _LONGEST_COMMENT = 22, 20, 0xFFFF


def read_kmz(stream: IO[bytes], contents: Contents) -> None:
    """Read the KML of an archive into its contents; raises FileFault for what has none."""
    with _refused(contents):
        _check_list(stream, contents)
        with ZipFile(stream) as archive:
            name = _document(archive, contents)
            packed = archive.getinfo(name).compress_size
            with open_entry(archive, archive.getinfo(name)) as unpacked:
                read_kml(_Bounded(unpacked, packed, contents), contents)


@contextmanager
def _refused(contents: Contents) -> Iterator[None]:
    """The faults of a broken archive, in words."""
    try:
        yield
    except (BadZipFile, EOFError, zlib.error, struct.error, UnicodeDecodeError, ValueError):
        raise contents.fault(message("file.not-a-zip")) from None
    except (NotImplementedError, RuntimeError):
        raise contents.fault(message("file.packing")) from None


def _check_list(stream: IO[bytes], contents: Contents) -> None:
    """Refuse an archive whose list of contents alone would fill the memory."""
    size = stream.seek(0, io.SEEK_END)
    if size > MOST_PACKED_BYTES:
        raise contents.fault(message("file.too-large", most_mb=MOST_PACKED_BYTES // 1_000_000))
    tail_at = max(0, size - _LONGEST_COMMENT - _END_BYTES - _END_64_BYTES)
    stream.seek(tail_at)
    tail = stream.read()
    at = tail.rfind(_END)
    if at < 0:
        raise BadZipFile
    (list_bytes,) = struct.unpack_from("<L", tail, at + 12)
    if _END_64 in tail or list_bytes > MOST_LIST_BYTES:
        raise contents.fault(message("file.archive-list"))
    stream.seek(0)


def _document(archive: ZipFile, contents: Contents) -> str:
    """The main document: ``doc.kml``, or the first KML of the archive."""
    names = [name for name in archive.namelist() if name.lower().endswith(".kml")]
    if not names:
        raise contents.fault(message("file.no-kml"))
    if len(names) > 1:
        contents.pass_over("skipped.kml", len(names) - 1)
    return "doc.kml" if "doc.kml" in names else names[0]


class _Bounded:
    """A stream that refuses to give more than a packed size can honestly hold."""

    def __init__(self, stream: Source, packed: int, contents: Contents) -> None:
        self._stream = stream
        self._most = FREE_BYTES + packed * MOST_TIMES_PACKED
        self._contents = contents
        self._given = 0

    def read(self, size: int = -1, /) -> bytes:
        """The next bytes; raises FileFault past the limit."""
        chunk = self._stream.read(size)
        self._given += len(chunk)
        if self._given > self._most:
            raise self._contents.fault(message("file.zip-bomb", most=MOST_TIMES_PACKED))
        return chunk
