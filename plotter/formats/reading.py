"""Any file of the pilot's read by its suffix: one registry of readers, one way to open a file."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import IO

from plotter.errors import InputError, fault_in_file
from plotter.formats.incoming import KINDS, Contents, FilePoint, Part
from plotter.messages import Message, message
from plotter.plain_file import open_plain
from plotter.route.reading.whole import GivenRoute
from plotter.route.values import Caution, Waypoint

Reader = Callable[[IO[bytes], Contents], None]


def _gpx() -> Reader:
    from plotter.formats.gpx_in import read_gpx

    return read_gpx


def _kml() -> Reader:
    from plotter.formats.kml_in import read_kml

    return read_kml


def _kmz() -> Reader:
    from plotter.formats.kml_in import read_kmz

    return read_kmz


def _geojson() -> Reader:
    from plotter.formats.geojson import read_geojson

    return read_geojson


def _csv() -> Reader:
    from plotter.formats.table import read_csv

    return read_csv


def _gpkg() -> Reader:
    from plotter.formats.gpkg_in import read_gpkg

    return read_gpkg


_READERS: dict[str, Callable[[], Reader]] = {
    ".gpx": _gpx,
    ".kml": _kml,
    ".kmz": _kmz,
    ".geojson": _geojson,
    ".json": _geojson,
    ".gpkg": _gpkg,
    ".csv": _csv,
}
SUFFIXES: tuple[str, ...] = tuple(_READERS)


def has_known_suffix(text: str) -> bool:
    """Whether a text ends like the name of a file that is read.

    >>> has_known_suffix("Sunday.GPX"), has_known_suffix("KRST"), has_known_suffix(".gpx")
    (True, False, False)
    """
    return Path(text.strip()).suffix.lower() in _READERS


def read_file(path: Path) -> Contents:
    """Everything a file holds; raises FileFault where it cannot be opened or is not its format."""
    contents = Contents(str(path))
    reader = _READERS.get(path.suffix.lower())
    if reader is None:
        raise fault_in_file(str(path), message("file.unknown-kind", suffixes=SUFFIXES))
    try:
        with open_plain(path) as stream:
            reader()(stream, contents)
    except OSError as fault:
        reason = str(fault.strerror or fault)
        raise fault_in_file(str(path), message("file.unreadable", reason=reason)) from None
    return contents


# The part of a file that is to be flown, made into waypoints, with all that must be said of it.

TRACK_TOLERANCE_NM = 0.5
"""How far a track may be off the legs that stand for it: a pencil's breadth or two on a chart of
1:500,000 (1.9 mm)."""
MOST_POINTS = 10_000
"""Of one route; as many as may be typed."""
_MOST_LISTED = 6


def file_route(
    contents: Contents, wanted: str | None = None, tolerance_nm: float = TRACK_TOLERANCE_NM
) -> GivenRoute:
    """The route a file gives: of the part wanted, or of its first route, track or waypoints.

    A route or waypoints with a point that cannot be read are refused with every such point, a
    track goes on without it, and that is said. Raises FileFault, and InputError for a part that
    is not there or a tolerance [NM] that a track cannot be kept within.
    """
    part = _chosen(contents, wanted)
    _refuse_faulty(contents, part)
    cautions = list(_cautions(contents, part))
    if part.kind == "track":
        points, thinned = _turning_points(part, tolerance_nm)
        cautions.append(Caution("CHECK", thinned, where=_file(contents)))
    else:
        points = part.points
    waypoints, merged = _waypoints(points)
    cautions += [Caution("NOTE", each, where=_file(contents)) for each in merged]
    number, label = contents.parts.index(part) + 1, _label(part)
    if len(waypoints) < 2:
        raise contents.fault(_one_place(contents, part))
    if len(waypoints) > MOST_POINTS:
        long = message(
            "file.long-part", number=number, part=label, count=len(waypoints), most=MOST_POINTS
        )
        raise contents.fault(long)
    return GivenRoute(tuple(waypoints), tuple(cautions), part.name)


def _chosen(contents: Contents, wanted: str | None) -> Part:
    usable = [part for part in contents.parts if part.met >= 2]
    if wanted is None:
        for kind in KINDS:
            for part in usable:
                if part.kind == kind:
                    return part
        raise contents.fault(_why_nothing(contents))
    found = _named(contents, wanted.strip())
    if found is None:
        raise InputError(
            "part.unknown" if contents.parts else "part.no-parts",
            candidates=[part.name or part.kind for part in contents.parts][:_MOST_LISTED],
            file=contents.file,
            part=wanted[:40],
            parts=_listed(contents),
        )
    return found


def _named(contents: Contents, wanted: str) -> Part | None:
    """The part of that kind, number or name: an exact name before one in other letters."""
    parts, folded = contents.parts, wanted.casefold()
    is_number = wanted.isascii() and wanted.isdecimal() and len(wanted) < 9
    if is_number and 1 <= int(wanted) <= len(parts):
        return parts[int(wanted) - 1]
    matches = [
        *(part for part in parts if part.kind == folded and part.met >= 2),
        *(part for part in parts if part.name == wanted != ""),
        *(part for part in parts if part.name.casefold() == folded != ""),
        *(part for part in parts if part.kind == folded),
    ]
    return next(iter(matches), None)


def _why_nothing(contents: Contents) -> Message:
    if sum(part.met for part in contents.parts):
        return message("file.lonely-points")
    if contents.passed_over:
        return message("file.only-skipped", skipped=contents.skipped)
    return message("file.nothing")


def _listed(contents: Contents, without: Part | None = None) -> tuple[Message, ...]:
    """Return the parts with the numbers they are chosen by; ``without`` one, only the usable."""
    numbered = [
        message("file-part.numbered", number=number, part=_label(part))
        for number, part in enumerate(contents.parts, start=1)
        if without is None or (part is not without and part.met >= 2)
    ]
    more = len(numbered) - _MOST_LISTED
    return (*numbered[:_MOST_LISTED], *([message("file.more", count=more)] if more > 0 else []))


def _label(part: Part) -> Message:
    key = "file-part.named" if part.name else "file-part.unnamed"
    return message(key, kind=part.kind, name=part.name, count=part.met)


def _one_place(contents: Contents, part: Part) -> Message:
    others = _listed(contents, without=part)
    key = "file.one-place-of-parts" if others else "file.one-place"
    number = contents.parts.index(part) + 1
    return message(key, number=number, part=_label(part), parts=others)


def _refuse_faulty(contents: Contents, part: Part) -> None:
    """Refuse a part that cannot be used as it is, with every fault that is kept of it."""
    faults = part.faults
    if not faults.count or (part.kind == "track" and faults.count <= part.count):
        return
    number = contents.parts.index(part) + 1
    raise contents.fault(
        message("file.faulty-part", number=number, part=_label(part), faults=faults.messages())
    )


def _cautions(contents: Contents, part: Part) -> Iterator[Caution]:
    """What was used, what was not, and what was left out on the way."""
    where, several = _file(contents), len(contents.parts) > 1
    key = "file-part.others" if several else "file-part"
    read = message(key, part=_label(part), parts=_listed(contents))
    yield Caution("NOTE", read, where=where)
    if part.kind == "waypoints":
        yield Caution("CHECK", message("file-order"), where=where)
    if part.faults.count:
        said = message("file-fault", count=part.faults.count, faults=part.faults.messages())
        yield Caution("CHECK", said, where=where)
    if part.left_out.count:
        left_out = message("file-left-out", faults=part.left_out.messages())
        yield Caution("CHECK", left_out, where=where)
    if part.checkpoints_left_out:
        checkpoints = message("file-checkpoints", count=part.checkpoints_left_out)
        yield Caution("NOTE", checkpoints, where=where)
    if contents.passed_over:
        skipped = message("file-passed-over", skipped=contents.skipped)
        yield Caution("NOTE", skipped, where=where)


def _turning_points(part: Part, tolerance_nm: float) -> tuple[list[FilePoint], Message]:
    """Return the points of a track that stand for it, and the message about it."""
    from plotter.earth.lines import thinned

    kept, off_nm = thinned(part.latitudes, part.longitudes, tolerance_nm)
    said = message(
        "track-thinned.joined" if part.pieces > 1 else "track-thinned",
        kept=len(kept),
        count=part.count,
        pieces=part.pieces,
        off_nm=max(off_nm, 0.01),
        tolerance_nm=tolerance_nm,
    )
    return [part.track_point(index) for index in kept], said


def _waypoints(points: Sequence[FilePoint]) -> tuple[list[Waypoint], list[Message]]:
    """Return waypoints, one a place, and a message for each point left out."""
    made: list[Waypoint] = []
    merged: list[Message] = []
    for number, point in enumerate(points, start=1):
        name = point.name or f"P{number}"
        if made and made[-1].position == point.position:
            merged.append(message("file-repeated", name=name, other=made[-1].name))
            continue
        made.append(
            Waypoint(
                name,
                name,
                "file",
                point.position,
                elevation_ft=point.elevation_ft,
                note=point.note,
                time=point.time,
            )
        )
    if len(merged) > _MOST_LISTED:
        merged = [message("file-repeated.many", count=len(merged))]
    return made, merged


def _file(contents: Contents) -> str:
    """The file's name without its folders: outputs are the same wherever the file lay."""
    return Path(contents.file).name
