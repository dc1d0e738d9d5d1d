"""A plotted route as GeoDataFrames and as a GeoPackage: the only module that knows geopandas.

Source: OGC 12-128r19 (GeoPackage 1.4), written by GDAL. GDAL stamps each layer with the time of
writing (``last_change``); that is fixed at a date that says nothing, for the length of a call,
so that the same flight gives the same bytes.
"""

from __future__ import annotations

import re
import threading
import warnings
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from plotter.errors import FileFault, InputError, WriteFault
from plotter.formats.descriptions import standing_lines
from plotter.formats.records import (
    ALTITUDE,
    TIME,
    Record,
    checkpoint_records,
    has_altitudes,
    has_times,
    leg_records,
    point_records,
)
from plotter.formats.strokes import split_at_180, strokes
from plotter.route.plotting import Plot

if TYPE_CHECKING:
    import geopandas

Part = Literal["legs", "points", "checkpoints"]
WGS_84 = "EPSG:4326"
NOTES = "notes"
_NO_TIME = "1980-01-01T00:00:00.000Z"
_SETTINGS = {
    "OGR_CURRENT_DATE": _NO_TIME,
    # The file is scratch until it is whole: no journal beside it, no waiting for the disk.
    "OGR_SQLITE_JOURNAL": "OFF",
    "OGR_SQLITE_SYNCHRONOUS": "OFF",
}
_one_at_a_time = threading.Lock()

_KINDS: dict[str, str] = {"number": "int64", "leg": "int64"}
_FLOATS = ("_nm", "_deg", "_deg_east", "_ft")
_COLUMNS: dict[str, tuple[str, ...]] = {
    "legs": (
        *("number", "start", "end", "distance_nm"),
        *("true_course_deg", "variation_deg_east", "magnetic_course_deg"),
    ),
    "points": (
        *("number", "name", "kind", "ident", "place", "elevation_ft"),
        *("distance_from_start_nm", "distance_to_go_nm", "note"),
    ),
    "checkpoints": ("number", "name", "leg", "distance_from_start_nm", "distance_to_go_nm"),
}
_TITLES = {"legs": "Legs", "points": "Turning points", "checkpoints": "Checkpoints"}


def to_geodataframe(plot: Plot, part: Part = "legs") -> geopandas.GeoDataFrame:
    """Legs (lines), turning points or checkpoints (points) in WGS 84 longitude and latitude.

    Distances are [NM], courses [°T] and [°M], variation [°, east positive]. A leg's line is
    densified and unrolled: across 180° its longitudes go on past ±180. Raises InputError for a
    part that is none of the three.
    """
    if part not in _COLUMNS:
        raise InputError("input.part", part=part, parts=tuple(_COLUMNS))
    return _frame(plot, part, _unrolled_lines(plot) if part == "legs" else _places(plot, part))


def write_geopackage(plot: Plot, path: Path) -> None:
    """Write a new GeoPackage: layers ``legs``, ``points``, ``checkpoints``, a table ``notes``.

    The columns are those of the GeoDataFrames, a leg a MultiLineString that is cut where it
    crosses 180°; ``notes`` holds the cautions and the data's dates. GDAL writes step by step, so
    ``path`` is scratch, to be copied when it is whole. Raises
    :class:`~plotter.errors.WriteFault` with GDAL's words. The trap: where the disk
    fills up as the file is closed GDAL says nothing, so the rows are counted afterwards.
    """
    from pyogrio.errors import DataLayerError, DataSourceError, FeatureError, FieldError

    with _settings():
        try:
            rows = _write_layers(plot, path)
            found = {layer: _count(path, layer) for layer in rows}
        except (DataLayerError, DataSourceError, FeatureError, FieldError) as fault:
            raise _not_made(str(fault)) from fault
    if found != rows:
        raise _not_made(f"{found} rows instead of {rows}")


def _not_made(words: str) -> WriteFault:
    return WriteFault("write.geopackage", reason=words.partition(": sqlite3_exec")[0])


def _write_layers(plot: Plot, path: Path) -> dict[str, int]:
    """Write every layer and table; gives how many rows each has."""
    import geopandas
    from pyogrio import write_dataframe

    shapes = {"legs": "MultiLineString", "points": "Point", "checkpoints": "Point"}
    frames = {
        part: _frame(plot, part, _cut_lines(plot) if part == "legs" else _places(plot, part))
        for part in shapes
    }
    for part, shape in shapes.items():
        write_dataframe(
            frames[part],
            path,
            layer=part,
            driver="GPKG",
            geometry_type=shape,
            dataset_options={"VERSION": "1.4"},
            layer_options={"SPATIAL_INDEX": "NO", "DESCRIPTION": _TITLES[part]},
        )
    lines = standing_lines(plot)
    notes = geopandas.GeoDataFrame({"number": range(1, len(lines) + 1), "note": lines})
    write_dataframe(notes, path, layer=NOTES, driver="GPKG")
    return {part: len(frame) for part, frame in frames.items()} | {NOTES: len(notes)}


def _count(path: Path, layer: str) -> int:
    """The rows of a layer, read one by one rather than from GDAL's own note of them."""
    from pyogrio.raw import read

    _, ids, _, _ = read(path, layer=layer, return_fids=True, read_geometry=False)
    return len(ids)


@contextmanager
def _settings() -> Iterator[None]:
    """GDAL's settings for one file; they are the whole process's, so one writer at a time."""
    from pyogrio import get_gdal_config_option, set_gdal_config_options

    with _one_at_a_time:
        before = {name: get_gdal_config_option(name) for name in _SETTINGS}
        set_gdal_config_options(_SETTINGS)
        try:
            yield
        finally:
            set_gdal_config_options(before)


def _frame(plot: Plot, part: str, geometry: list[Any]) -> geopandas.GeoDataFrame:
    """The records of a part with their geometry; typed, also where there is none of them."""
    import geopandas
    import numpy as np

    records = list(_RECORDS[part](plot))
    columns = {
        name: np.array([record[name] for record in records], dtype=_kind(name))
        for name in _columns(plot, part)
    }
    return geopandas.GeoDataFrame(columns, geometry=geometry, crs=WGS_84)


def _columns(plot: Plot, part: str) -> tuple[str, ...]:
    is_place, planned = part != "legs", has_altitudes(plot)
    timed = planned or (part == "points" and has_times(plot))
    return (*_COLUMNS[part], *[TIME] * (is_place and timed), *[ALTITUDE] * (is_place and planned))


def _kind(column: str) -> str:
    return "float64" if column.endswith(_FLOATS) else _KINDS.get(column, "object")


def _unrolled_lines(plot: Plot) -> list[Any]:
    from shapely import LineString

    return [LineString([(x, y) for y, x in strokes(leg.line)]) for leg in plot.route.legs]


def _cut_lines(plot: Plot) -> list[Any]:
    from shapely import MultiLineString

    cut = [split_at_180(strokes(leg.line)) for leg in plot.route.legs]
    return [MultiLineString([[(x, y) for y, x in piece] for piece in pieces]) for pieces in cut]


def _places(plot: Plot, part: str) -> list[Any]:
    from shapely import Point

    marks = plot.route.waypoints if part == "points" else plot.checkpoints
    return [Point(mark.position.longitude_deg, mark.position.latitude_deg) for mark in marks]


_RECORDS: dict[str, Callable[[Plot], Iterator[Record]]] = {
    "legs": leg_records,
    "points": point_records,
    "checkpoints": checkpoint_records,
}

# Files of a geographic information system read into plain features, by geopandas and GDAL.
#
# GDAL opens far more than files: a text that begins in the right way makes it read other files or
# connect to the network. So each file is known by its own first bytes before GDAL sees it, and what
# GDAL took it for is compared afterwards; ``datastore/offline.py`` keeps GDAL off the network.
# Positions come out in WGS 84, longitude first as GDAL has them.

CHUNK = 10_000
"""Features held at once."""
_CSV_OPTIONS = {
    "X_POSSIBLE_NAMES": "longitude*,lon,lng,long,x",
    "Y_POSSIBLE_NAMES": "latitude*,lat,y",
    "KEEP_GEOM_COLUMNS": "YES",
    "AUTODETECT_TYPE": "NO",
}
_GEOJSON = re.compile(rb'\s*\{.{0,4000}?"type"\s*:\s*"Feature', re.DOTALL)
_GEOPACKAGE, _SHAPEFILE = b"SQLite format 3\x00", b"\x00\x00\x27\x0a"


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of file: GDAL's name of its driver, and the suffix GDAL knows it by."""

    driver: str
    suffix: str


GEOJSON, GEOPACKAGE = Kind("GeoJSON", ".geojson"), Kind("GPKG", ".gpkg")
SHAPEFILE, CSV = Kind("ESRI Shapefile", ".shp"), Kind("CSV", ".csv")


@dataclass(frozen=True, slots=True)
class Feature:
    """One feature: a geometry of shapely or ``None``, and its attributes as plain values."""

    geometry: Any
    attributes: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Source:
    """A file opened: which layer of it, how many features, whether it names a reference system."""

    path: Path
    kind: Kind
    layer: str
    features: int
    system: str


def kind_of(head: bytes, suffix: str) -> Kind | None:
    """What a file is by its first bytes; ``None`` for what is none of the four.

    >>> kind_of(b'{"type": "FeatureCollection"', ".json").driver
    'GeoJSON'
    >>> kind_of(b"<OGRVRTDataSource>", ".csv") is None
    True
    """
    if head.startswith(_GEOPACKAGE):
        return GEOPACKAGE
    if head.startswith(_SHAPEFILE):
        return SHAPEFILE
    if _GEOJSON.match(head.removeprefix(b"\xef\xbb\xbf")):
        return GEOJSON
    plain = head[:1].isalnum() or head[:1] in b'"\xef_'
    first = head.split(b"\n", 1)[0]
    is_table = plain and (b"," in first or b";" in first or b"\t" in first)
    return CSV if suffix.lower() == ".csv" and is_table and b"\0" not in head else None


def open_source(path: Path, kind: Kind, layer: str | None = None) -> Source:
    """Look into a file; raises FileFault where it is damaged or holds several layers and none is
    asked for.
    """
    from pyogrio import list_layers, read_info
    from pyogrio.errors import DataLayerError, DataSourceError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            names = [str(name) for name, shape in list_layers(path) if shape or kind == CSV]
            chosen = _chosen(names, layer)
            info = read_info(path, layer=chosen, **_options(kind))
    except (DataSourceError, DataLayerError, ValueError, UnicodeDecodeError) as fault:
        raise FileFault("file.unreadable", reason=_said(fault)) from fault
    if info["driver"] != kind.driver:
        raise FileFault("file.other-kind", kind=info["driver"], expected=kind.driver)
    return Source(path, kind, chosen, int(info["features"]), info["crs"] or "")


def _chosen(names: list[str], layer: str | None) -> str:
    if layer in names or (layer is None and len(names) == 1):
        return layer or names[0]
    if not names:
        raise FileFault("file.no-layer")
    if layer is None:
        raise FileFault("file.layers", layers=tuple(names))
    raise FileFault("file.unknown-layer", layer=layer[:40], layers=tuple(names))


def features(source: Source, most: int) -> Iterator[Feature]:
    """The features of a file one by one, :data:`CHUNK` of them in memory, ``most`` in all.

    Raises FileFault where GDAL stops, or there are more.
    """
    for start in range(0, most + 1, CHUNK):
        frame = _frame_of_layer(source, start)
        if start + len(frame) > most:
            raise FileFault("file.many-features", most=most)
        yield from _features(frame)
        if len(frame) < CHUNK:
            return


def _frame_of_layer(source: Source, start: int) -> geopandas.GeoDataFrame:
    """One chunk, in WGS 84."""
    import geopandas
    from pyogrio import read_dataframe
    from pyogrio.errors import DataLayerError, DataSourceError, FeatureError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            frame = read_dataframe(
                source.path,
                layer=source.layer,
                skip_features=start,
                max_features=CHUNK,
                force_2d=True,
                on_invalid="ignore",
                datetime_as_string=True,
                **_options(source.kind),
            )
    except (DataSourceError, DataLayerError, FeatureError, ValueError, RuntimeError) as fault:
        raise FileFault("file.stopped", reason=_said(fault)) from fault
    twice = frame.columns[frame.columns.duplicated()]
    if len(twice):
        raise FileFault("file.column-twice", column=str(twice[0]))
    if not isinstance(frame, geopandas.GeoDataFrame):
        raise FileFault("file.no-positions")
    if frame.crs is not None and not frame.crs.equals(WGS_84, ignore_axis_order=True):
        try:
            frame = frame.to_crs(WGS_84)
        except RuntimeError as fault:  # pyproj's own
            raise FileFault("file.system", system=WGS_84) from fault
    return frame


def _features(frame: geopandas.GeoDataFrame) -> Iterator[Feature]:
    columns = [name for name in frame.columns if name != frame.geometry.name]
    for geometry, *values in zip(
        frame.geometry.array, *(frame[name].array for name in columns), strict=True
    ):
        pairs = zip(columns, map(_plain, values), strict=True)
        yield Feature(geometry, {str(name): value for name, value in pairs if value is not None})


def _plain(value: object) -> str | int | float | bool | None:
    """A value that JSON knows; ``None`` for what is missing, and for bytes."""
    value = getattr(value, "item", lambda: value)()
    if isinstance(value, str | bool | int):
        return value
    if isinstance(value, float):
        return value if value - value == 0.0 else None
    return None if value is None or isinstance(value, bytes) else str(value)


def _options(kind: Kind) -> dict[str, str]:
    return _CSV_OPTIONS if kind == CSV else {}


def _said(fault: Exception) -> str:
    """GDAL's own words, short and without the path of a scratch folder."""
    return re.sub(r"'[^']*/", "'", " ".join(str(fault).split()))[:200]
