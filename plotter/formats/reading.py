"""Any file of the pilot's read by its suffix: one registry of readers, one way to open a file."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import IO

from plotter.errors import InputError
from plotter.formats.incoming import KINDS, Contents, FilePoint, Part, file_fault
from plotter.messages import literal
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
        raise file_fault(str(path), f"is of no kind that is read ({', '.join(SUFFIXES)})")
    try:
        with open_plain(path) as stream:
            reader()(stream, contents)
    except OSError as fault:
        words = f"cannot be read: {fault.strerror or fault}"
        raise file_fault(str(path), words) from None
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
    said = list(_said(contents, part))
    if part.kind == "track":
        points, words = _turning_points(contents, part, tolerance_nm)
        said.append(Caution("CHECK", literal("track-thinned", words), where=_file(contents)))
    else:
        points = part.points
    waypoints, merged = _waypoints(points)
    said += [
        Caution("NOTE", literal("file-repeated", words), where=_file(contents)) for words in merged
    ]
    if len(waypoints) < 2:
        words = f"has no two different places in its {_called(contents, part)}"
        raise contents.fault(f"{words}, and a route needs two{_instead(contents, part)}")
    if len(waypoints) > MOST_POINTS:
        words = f"{len(waypoints):,} points in its {_called(contents, part)}"
        raise contents.fault(f"has {words}; {MOST_POINTS:,} is the most a route can have")
    return GivenRoute(tuple(waypoints), tuple(said), part.name)


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
            f"{contents.file} has no part '{wanted[:40]}'; it has {_listed(contents)}",
            code="part",
            candidates=[part.name or part.kind for part in contents.parts][:_MOST_LISTED],
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


def _why_nothing(contents: Contents) -> str:
    lonely = sum(part.met for part in contents.parts)
    if lonely:
        return "has no route, track or waypoints of two points or more"
    if contents.passed_over:
        return f"holds no point and no line to fly, only {_passed_over(contents)}"
    return "holds no point and no line"


def _passed_over(contents: Contents) -> str:
    return ", ".join(_counted(count, what) for what, count in contents.passed_over.items())


def _counted(count: int, what: str) -> str:
    if what == "waypoints":
        return what
    first, *rest = what.split(" ")
    return f"{count:,} {what}" if count == 1 else " ".join([f"{count:,}", f"{first}s", *rest])


def _listed(contents: Contents) -> str:
    """The parts with their numbers, as ``--part`` takes them."""
    shown = [
        f"{number} = {_label(part)}"
        for number, part in enumerate(contents.parts[:_MOST_LISTED], start=1)
    ]
    more = len(contents.parts) - len(shown)
    return ", ".join([*shown, *([f"and {more:,} more"] if more else [])]) or "none"


def _label(part: Part) -> str:
    name = f" '{part.name}'" if part.name else ""
    return f"{part.kind}{name} ({part.met:,} {'point' if part.met == 1 else 'points'})"


def _instead(contents: Contents, part: Part) -> str:
    """The parts of two points or more beside one that has too few."""
    others = [
        f"{number} = {_label(each)}"
        for number, each in enumerate(contents.parts, start=1)
        if each is not part and each.met >= 2
    ]
    return f"; it has {', '.join(others[:_MOST_LISTED])}" if others else ""


def _called(contents: Contents, part: Part) -> str:
    return f"part {contents.parts.index(part) + 1}, {_label(part)}"


def _refuse_faulty(contents: Contents, part: Part) -> None:
    """Refuse a part that cannot be used as it is, with every fault that is kept of it."""
    faults = part.faults
    if not faults.count or (part.kind == "track" and faults.count <= part.count):
        return
    lines = "\n  ".join(faults.lines())
    raise contents.fault(f"cannot be used, {_called(contents, part)}:\n  {lines}")


def _said(contents: Contents, part: Part) -> Iterator[Caution]:
    """What was used, what was not, and what was left out on the way."""
    where, others = _file(contents), len(contents.parts) - 1
    more = f" Parts of the file, for --part: {_listed(contents)}." if others else ""
    yield Caution(
        "NOTE", literal("file-part", f"Read from the file: {_label(part)}.{more}"), where=where
    )
    if part.kind == "waypoints":
        words = "Waypoints are taken in the order of the file: is it the order you will fly them?"
        yield Caution("CHECK", literal("file-order", words), where=where)
    if part.faults.count:
        words = f"The track goes on without {_counted(part.faults.count, 'point')} of it: "
        yield Caution(
            "CHECK", literal("file-fault", words + _in_one(part.faults.lines())), where=where
        )
    if part.left_out.count:
        words = f"Left out: {_in_one(part.left_out.lines())}"
        yield Caution("CHECK", literal("file-left-out", words), where=where)
    if part.checkpoints_left_out:
        words = f"{_counted(part.checkpoints_left_out, 'checkpoint')} left out; they are set anew."
        yield Caution("NOTE", literal("file-checkpoints", words), where=where)
    if contents.passed_over:
        words = f"Not read: {_passed_over(contents)}."
        yield Caution("NOTE", literal("file-passed-over", words), where=where)


def _in_one(lines: Sequence[str]) -> str:
    return "; ".join(lines) + "."


def _turning_points(
    contents: Contents, part: Part, tolerance_nm: float
) -> tuple[list[FilePoint], str]:
    """The points of a track that stand for it, and words that say so."""
    from plotter.earth.lines import thinned

    kept, off_nm = thinned(part.latitudes, part.longitudes, tolerance_nm)
    joined = f", its {part.pieces:,} pieces joined by straight legs" if part.pieces > 1 else ""
    words = (
        f"{len(kept):,} of {part.count:,} track points are kept{joined}: no other is more than "
        f"{max(off_nm, 0.01):.2f} NM off the geodesic between two of them "
        f"(--track-tolerance {tolerance_nm:g} NM)."
    )
    return [part.track_point(index) for index in kept], words


def _waypoints(points: Sequence[FilePoint]) -> tuple[list[Waypoint], list[str]]:
    """Waypoints, one for points that stand at one place, and words for each that was left out."""
    made: list[Waypoint] = []
    merged: list[str] = []
    for number, point in enumerate(points, start=1):
        name = point.name or f"P{number}"
        if made and made[-1].position == point.position:
            merged.append(f"{name} stands where {made[-1].name} does; one of them is used.")
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
        merged = [f"{len(merged):,} points stand where the one before them does; one is used."]
    return made, merged


def _file(contents: Contents) -> str:
    """The file's name without its folders: outputs are the same wherever the file lay."""
    return Path(contents.file).name
