"""The reference system that a layer's file names, checked before GDAL and PROJ follow it.

A GeoJSON is on WGS 84 or refused. A Shapefile and a GeoPackage may name any system, but none that
rests on a file of its own (a datum's grid): PROJ would open whatever path stands there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import closing
from mmap import ACCESS_READ, mmap
from pathlib import Path

from plotter.errors import FileFault
from plotter.formats.frame import GEOJSON, GEOPACKAGE, SHAPEFILE, Kind, Source
from plotter.formats.geojson_crs import foreign_crs, long_position
from plotter.formats.gpkg_in import opened
from plotter.places.store import SQLITE_FAULTS

AGAIN = "export it again in WGS 84 (EPSG:4326)"
_GRIDS = re.compile(
    r"grids\s*=\s*(?!@null\b)|PROJ4_GRIDS\W+(?!@null\b)|PARAMETERFILE|\+(init|file)\s*=",
    re.IGNORECASE,
)
"""How the texts of a system (PROJ strings, both versions of WKT) name a file. ``@null`` names none:
Web Mercator is written with it."""
_DEFINITIONS = "SELECT * FROM gpkg_spatial_ref_sys"
_UNDEFINED = "Undefined geographic"
"""How GDAL calls the system 0 of a GeoPackage, "undefined geographic" (OGC 12-128r19, 1.1.2)."""


def check_system(path: Path, kind: Kind) -> None:
    """Refuse a file that is not to be read as it is; raises FileFault."""
    if kind == GEOJSON:
        with path.open("rb") as handle, closing(mmap(handle.fileno(), 0, access=ACCESS_READ)) as m:
            if wrong := foreign_crs(m) or long_position(m):
                raise FileFault(wrong)
    for text in _texts(path, kind):
        if _GRIDS.search(text):
            raise FileFault(f"its reference system points to another file; {AGAIN}")


def _texts(path: Path, kind: Kind) -> Iterator[str]:
    """The words in which a file describes its systems."""
    if kind == SHAPEFILE:
        yield _prj(path)
    if kind == GEOPACKAGE:
        try:
            with closing(opened(path)) as connection:
                yield from (str(value) for row in connection.execute(_DEFINITIONS) for value in row)
        except SQLITE_FAULTS as fault:
            raise FileFault(f"it cannot be read: {fault}") from fault


def _prj(path: Path) -> str:
    prj = path.with_suffix(".prj")
    return prj.read_text(encoding="utf-8", errors="replace") if prj.is_file() else ""


def system_notes(source: Source) -> tuple[str, ...]:
    """What must be said of the reference system; raises FileFault for one that GDAL cannot read."""
    kind, system = source.kind, source.system
    if system in ("EPSG:4326", "OGC:CRS84") or kind == GEOJSON:
        return ()
    if not system and (kind == GEOPACKAGE or (kind == SHAPEFILE and _prj(source.path).strip())):
        raise FileFault(f"its reference system cannot be read; {AGAIN}")
    if not system or _UNDEFINED in system:
        return ("the file names no reference system: taken as WGS 84",)
    return (f"turned from {shown_system(system)} into WGS 84",)


def shown_system(system: str) -> str:
    """A system by its code, where it has one.

    >>> shown_system("EPSG:26915"), shown_system('LOCAL_CS["Site grid",UNIT["metre",1]]')
    ('EPSG:26915', 'its own system')
    """
    return system if len(system) < 40 and "[" not in system else "its own system"
