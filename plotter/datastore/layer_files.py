"""The pilot's file laid out for GDAL: known by its bytes, unpacked within bounds, in a scratch
folder under names of our own, so that no name in an archive ever becomes a path."""

from __future__ import annotations

import zipfile
import zlib
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import IO, Any, cast

import numpy as np
import shapely

from plotter.errors import FileFault, WriteFault
from plotter.files import reason, scratch_folder
from plotter.formats.csv_rows import check_rows
from plotter.formats.frame import CSV, GEOPACKAGE, SHAPEFILE, Kind, kind_of
from plotter.formats.gpkg_in import opened
from plotter.formats.zip_entries import open_entry
from plotter.places.grid import DEGREE
from plotter.places.model import KINDS, Family
from plotter.places.store import SQLITE_FAULTS
from plotter.plain_file import open_plain

MOST_BYTES = 500 * 10**6
"""The most a file may have, packed and unpacked."""
HEAD = 8192
CHUNK = 1 << 20
_PARTS = (".shp", ".shx", ".dbf", ".prj", ".cpg")
_NEEDED = (".shp", ".dbf")
_LISTINGS = ("gpkg_contents", "gpkg_geometry_columns")
_KEPT_BY_THE_FORMAT = ("gpkg_", "rtree_", "layer_styles")
"""How the tables begin that GDAL reads of its own accord."""
_GZIP, _ZIP = b"\x1f\x8b", b"PK\x03\x04"
_KNOWN = "GeoJSON, GeoPackage, a zipped Shapefile or CSV (the first and last may be gzipped)"


@dataclass(frozen=True, slots=True)
class Wanted:
    """A file to bring: what it is, under which name; ``own`` is a folder for tests."""

    path: Path
    kind: str = ""
    name: str = ""
    layer: str | None = None
    replace: bool = False
    own: Path | None = None


@contextmanager
def laid_out(path: Path) -> Iterator[tuple[Path, Kind]]:
    """A file ready to be read, and its kind; gone afterwards.

    Raises FileFault where it is none of the kinds, damaged or too large.
    """
    head = _given(path)
    with scratch_folder() as folder:
        try:
            unpacked = _unpacked(path, folder, head)
        except (OSError, EOFError, zlib.error, zipfile.BadZipFile, RuntimeError) as fault:
            raise _fault(fault) from fault
        yield unpacked


def _unpacked(path: Path, folder: Path, head: bytes) -> tuple[Path, Kind]:
    if head.startswith(_ZIP):
        return _shapefile(path, folder), SHAPEFILE
    copy = folder / "layer"
    _copy(path, copy, gzipped=head.startswith(_GZIP))
    inner = path.with_suffix("") if head.startswith(_GZIP) else path
    kind = kind_of(_head(copy), inner.suffix)
    if kind is None or kind == SHAPEFILE:
        raise FileFault(f"it is not {_KNOWN}")
    if kind == GEOPACKAGE:
        _tables_only(copy)
    if kind == CSV:
        with copy.open(encoding="utf-8-sig", errors="replace", newline="") as lines:
            check_rows(lines)
    return copy.rename(copy.with_suffix(kind.suffix)), kind


def _tables_only(path: Path) -> None:
    """Refuse a GeoPackage whose layers are views or virtual tables: one may never end.

    What kind each is comes first, from the schema alone; even then nothing is asked of the file
    but through :func:`~plotter.formats.gpkg_in.opened`, which stops what never would.
    """
    kinds = "SELECT name, type, sql FROM sqlite_master WHERE type IN ('table', 'view')"
    try:
        with closing(opened(path)) as connection:
            made = {
                str(name).lower(): _is_plain(kind, sql)
                for name, kind, sql in connection.execute(kinds)
            }
            _check_plain(made, [name for name in made if name.startswith(_KEPT_BY_THE_FORMAT)])
            for listing in _LISTINGS:
                rows = connection.execute(f"SELECT table_name FROM {listing}")
                _check_plain(made, (str(row[0]) for row in rows))
    except SQLITE_FAULTS as fault:
        raise FileFault(f"it cannot be read: {fault}") from fault


def _is_plain(kind: object, sql: object) -> bool:
    """A table with rows of its own, or the index of places that a GeoPackage keeps of one."""
    words = str(sql).upper()
    is_virtual = words.startswith("CREATE VIRTUAL")
    return kind == "table" and (not is_virtual or " USING RTREE" in " ".join(words.split()))


def _check_plain(made: Mapping[str, bool], names: Iterable[str]) -> None:
    for name in names:
        if not made.get(name.lower(), True):
            raise FileFault(f"its table '{name[:40]}' is no plain table; export the layer anew")


def _given(path: Path) -> bytes:
    """The first bytes of the pilot's file."""
    try:
        return _head(path)
    except FileNotFoundError:
        raise FileFault("there is no such file") from None
    except OSError as fault:
        raise FileFault(f"it cannot be read: {(fault.strerror or 'no file').lower()}") from fault


def _fault(fault: Exception) -> FileFault | WriteFault:
    if isinstance(fault, OSError) and fault.errno:
        return WriteFault(f"no room to unpack it: {reason(fault)}")
    if isinstance(fault, NotImplementedError):
        return FileFault(f"it cannot be unpacked: {fault}")
    return FileFault(f"it is packed and damaged: {fault}")


def _head(path: Path) -> bytes:
    with open_plain(path) as handle:
        return handle.read(HEAD)


def _copy(path: Path, to: Path, *, gzipped: bool) -> None:
    import gzip

    with open_plain(path) as packed:
        source = cast(IO[bytes], gzip.GzipFile(fileobj=packed)) if gzipped else packed
        _pour(source, to, MOST_BYTES)


def _pour(source: IO[bytes], to: Path, most: int) -> int:
    """Copy at most so many bytes; gives how many there were."""
    with to.open("wb") as target:
        while chunk := source.read(CHUNK):
            if target.tell() + len(chunk) > most:
                raise FileFault(f"it is larger than {MOST_BYTES // 10**6} MB when unpacked")
            target.write(chunk)
        return target.tell()


def _shapefile(path: Path, folder: Path) -> Path:
    """The one Shapefile of a zip, its parts under names of our own."""
    with open_plain(path) as packed, zipfile.ZipFile(packed) as archive:
        parts = _parts(archive)
        left = MOST_BYTES
        for suffix, info in parts.items():
            with open_entry(archive, info) as source:
                left -= _pour(source, folder / f"layer{suffix}", left)
    if kind_of(_head(folder / "layer.shp"), ".shp") != SHAPEFILE:
        raise FileFault("the .shp in this zip is no Shapefile")
    return folder / "layer.shp"


def _parts(archive: zipfile.ZipFile) -> dict[str, zipfile.ZipInfo]:
    found: dict[str, dict[str, zipfile.ZipInfo]] = {}
    for info in archive.infolist():
        name = PurePosixPath(info.filename)
        if name.suffix.lower() in _PARTS and not info.is_dir():
            found.setdefault(str(name.with_suffix("")), {})[name.suffix.lower()] = info
    whole = [parts for parts in found.values() if set(_NEEDED) <= set(parts)]
    if len(whole) != 1:
        raise FileFault(f"this zip holds {len(whole)} Shapefiles (.shp with .dbf); one is expected")
    return whole[0]


# Geometry of the pilot's own layers, checked: taken, repaired or left out, and counted.

PER_DEG = 100_000
"""Positions are kept in whole parts of a degree: 1.1 m or less."""
MOST_POINTS = 500_000
"""Points of one feature; the whole coast of Canada at 1:10,000,000 has fewer."""
_FAMILIES: dict[str, Family] = {
    **{"Point": "point", "MultiPoint": "point"},
    **{"LineString": "line", "MultiLineString": "line", "LinearRing": "line"},
    **{"Polygon": "area", "MultiPolygon": "area"},
}
_FEWEST: dict[Family, int] = {"point": 1, "line": 2, "area": 4}
Part = list[int]
"""Longitude, latitude of the first point, then differences, in units."""


@dataclass(frozen=True, slots=True)
class Sound:
    """A geometry that can be kept: its family, its parts in units, the 1° cells it touches."""

    family: Family
    parts: list[Part]
    cells: list[int]
    bounds: tuple[float, float, float, float]


@dataclass(slots=True)
class Findings:
    """What was repaired and what was left out, by reason, with the first feature of each."""

    counts: Counter[str] = field(default_factory=Counter)
    first: dict[str, str] = field(default_factory=dict)

    def add(self, reason: str, which: str) -> None:
        """Count one."""
        self.counts[reason] += 1
        self.first.setdefault(reason, which)

    def words(self) -> tuple[str, ...]:
        """A line for each reason, the most frequent first."""
        return tuple(
            f"{count:,} {reason} (first: {self.first[reason]})"
            for reason, count in self.counts.most_common()
        )


def sound(geometry: Any, kind: str, findings: Findings, which: str) -> Sound | None:  # noqa: ANN401
    """A geometry of shapely as it is kept; ``None`` where it is left out, which is counted."""
    wrong = _wrong(geometry, kind)
    if wrong:
        findings.add(f"left out: {wrong}", which)
        return None
    family = _FAMILIES[geometry.geom_type]
    if family == "area" and not geometry.is_valid:
        geometry = _areas_of(shapely.make_valid(geometry))
        findings.add("repaired: an outline that crosses itself", which)
    parts = [part for part in map(_packed, _lines(geometry)) if len(part) >= 2 * _FEWEST[family]]
    if not parts:
        findings.add("left out: smaller than a metre", which)
        return None
    return Sound(family, parts, list(_cells(geometry)), geometry.bounds)


def _wrong(geometry: Any, kind: str) -> str:  # noqa: ANN401
    """Why a geometry cannot be kept; empty where it can."""
    if geometry is None or geometry.is_empty:
        return "no position"
    family = _FAMILIES.get(geometry.geom_type)
    if family not in KINDS[kind]:
        return f"a {geometry.geom_type} is none of {kind}"
    points = shapely.get_coordinates(geometry)
    if len(points) > MOST_POINTS:
        return f"more than {MOST_POINTS:,} points"
    limits = np.array([180.0, 90.0])
    return "" if (np.abs(points) <= limits).all() else "lies nowhere on earth"


def _areas_of(geometry: Any) -> Any:  # noqa: ANN401
    """The areas among what a repair has made."""
    parts = shapely.get_parts(shapely.get_parts(geometry))
    return shapely.multipolygons([part for part in parts if part.geom_type == "Polygon"])


def _lines(geometry: Any) -> Iterator[Any]:  # noqa: ANN401
    """The points, lines or rings a geometry is made of."""
    for part in shapely.get_parts(geometry):
        yield from shapely.get_rings(part) if part.geom_type == "Polygon" else (part,)


def _packed(line: Any) -> Part:  # noqa: ANN401
    """A line in whole units, without points that fall together."""
    whole = np.rint(shapely.get_coordinates(line) * PER_DEG).astype(np.int64)
    kept = np.ones(len(whole), dtype=bool)
    kept[1:] = (np.diff(whole, axis=0) != 0).any(axis=1)
    whole = whole[kept]
    steps: Part = np.vstack((whole[:1], np.diff(whole, axis=0))).ravel().tolist()
    return steps


def _cells(geometry: Any) -> Iterator[int]:  # noqa: ANN401
    """The numbers of the 1° cells that a geometry touches."""
    west, south, east, north = geometry.bounds
    numbers = np.array(sorted(set(DEGREE.cells_in(south, west, north, east))))
    if len(numbers) == 1:
        yield int(numbers[0])
        return
    rows, columns = np.divmod(numbers, DEGREE.columns)
    boxes = shapely.box(columns - 180.0, rows - 90.0, columns - 179.0, rows - 89.0)
    shapely.prepare(geometry)
    touched = numbers[shapely.intersects(geometry, boxes)]
    yield from (int(number) for number in touched)


def unpacked(part: Part) -> tuple[tuple[float, float], ...]:
    """Latitude, longitude [°] of each point of a part.

    >>> unpacked([-9250000, 4400000, 5, 0])
    ((44.0, -92.5), (44.0, -92.49995))
    """
    points = np.array(part, dtype=np.int64).reshape(-1, 2).cumsum(axis=0)
    return tuple((y / PER_DEG, x / PER_DEG) for x, y in points.tolist())
