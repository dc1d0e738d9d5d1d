"""GPX 1.1 and 1.0 read: routes, tracks and waypoints; extensions are passed over.

Source: the schemas of https://www.topografix.com/GPX/1/1/ and /GPX/1/0/. ``ele`` is in metres,
``time`` in UTC. The note of a point is its ``cmt`` and ``desc``; in a file this program wrote the
``cmt`` alone is the pilot's, the ``desc`` is written again each time; where a point has the
extension ``ground_elevation_ft`` [ft], ``ele`` is a planned altitude.
"""

from __future__ import annotations

import re

from plotter.formats.incoming import Contents, Part, PartKind, Raw, Source
from plotter.formats.xml_in import Walk

NAMESPACES = frozenset(
    (
        "http://www.topografix.com/GPX/1/1",
        "http://www.topografix.com/GPX/1/0",
        "urn:plotter:gpx:1",
        "",
    )
)
OWN_CREATOR = "plotter"
GROUND = "ground_elevation_ft"
_OLD_PLANNED = re.compile(r"(?:^|; )planned (?:\S+ )?at -?[\d,]+ ft(?:;|$)", re.M)
"""In the description of files written before the extension: their ``ele`` is not the ground's."""
_POINTS = {
    "wpt": ["gpx"],
    "rtept": ["gpx", "rte"],
    "trkpt": ["gpx", "trk", "trkseg"],
}
"""Each kind of point and where it belongs: extensions may hold elements of the same names."""
_LINES: dict[str, PartKind] = {"rte": "route", "trk": "track"}
_TEXTS = frozenset(("ele", "time", "name", "cmt", "desc", "type"))


def read_gpx(stream: Source, contents: Contents) -> None:
    """Read a whole GPX file into its contents; raises FileFault for what is none."""
    walk = Walk(contents.file, "gpx", NAMESPACES)
    walk.through(stream, _Gpx(walk, contents))


class _Gpx:
    """The elements of one file, as they come by."""

    streamed: frozenset[str] = frozenset()

    def __init__(self, walk: Walk, contents: Contents) -> None:
        self._walk = walk
        self._contents = contents
        self._own = False
        self._line: Part | None = None
        self._waypoints: Part | None = None
        self._place: dict[str, str] = {}
        self._texts: dict[str, str] = {}

    def start(self, path: list[str], attributes: dict[str, str]) -> None:
        name = path[-1]
        if name in _POINTS:
            if path[:-1] == _POINTS[name]:
                self._place = attributes
                self._texts = {}
            else:
                self._contents.pass_over("skipped.inside")
        elif name in _LINES and len(path) == 2:
            self._line = self._contents.begin(_LINES[name])
        elif name == "trkseg" and len(path) == 3 and self._line is not None:
            self._line.pieces += 1
        elif name == "gpx" and len(path) == 1:
            self._own = attributes.get("creator") == OWN_CREATOR

    def piece(self, path: list[str], text: str) -> None:
        """Nothing here is streamed."""

    def end(self, path: list[str], text: str) -> None:
        name = path[-1]
        if name == GROUND:
            if path[-2:-1] == ["extensions"] and path[:-3] == _POINTS.get(path[-3]):
                self._texts[GROUND] = text
        elif name in _TEXTS:
            parent = path[-2] if len(path) > 1 else ""
            if parent in _POINTS and path[:-2] == _POINTS[parent]:
                self._texts[name] = text
            elif name == "name" and parent in _LINES and len(path) == 3 and self._line is not None:
                self._contents.rename(self._line, text)
        elif name in _POINTS and path[:-1] == _POINTS[name]:
            if name == "trkpt":
                self._fix()
            else:
                self._point(name)

    def _fix(self) -> None:
        track, texts = self._line, self._texts
        if track is None or track.kind != "track":
            return
        place = self._place
        self._contents.take_fix(
            track,
            self._where,
            place.get("lat"),
            place.get("lon"),
            height_m=texts.get("ele", ""),
            time=texts.get("time", ""),
        )

    def _point(self, name: str) -> None:
        part = self._waypoints if name == "wpt" else self._line
        if part is None and name == "wpt":
            part = self._waypoints = self._contents.begin("waypoints")
        if part is None or part.kind == "track":
            return
        texts, said = self._texts, self._texts.get("desc", "")
        planned = self._own and (GROUND in texts or bool(_OLD_PLANNED.search(said)))
        if self._own and texts.get("type") == "checkpoint":
            part.checkpoints_left_out += 1
            return
        self._contents.take(
            part,
            Raw(
                self._place.get("lat"),
                self._place.get("lon"),
                texts.get("name", ""),
                self._note(texts),
                elevation_m="" if planned else texts.get("ele", ""),
                elevation_ft=texts.get(GROUND, "") if planned else "",
                time=texts.get("time", ""),
                place=self._where(),
            ),
        )

    def _note(self, texts: dict[str, str]) -> str:
        notes = [texts.get("cmt", "").strip()]
        if not self._own:
            notes.append(texts.get("desc", "").strip())
        return "; ".join(dict.fromkeys(note for note in notes if note))

    def _where(self) -> str:
        return f"line {self._walk.line:,}"
