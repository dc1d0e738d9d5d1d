"""Files of a geographic information system read into plain features, by geopandas and GDAL.

GDAL opens far more than files: a text that begins in the right way makes it read other files or
connect to the network. So each file is known by its own first bytes before GDAL sees it, and what
GDAL took it for is compared afterwards; ``datastore/offline.py`` keeps GDAL off the network.
Positions come out in WGS 84, longitude first as GDAL has them.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from plotter.errors import FileFault

if TYPE_CHECKING:
    import geopandas

CHUNK = 10_000
"""Features held at once."""
WGS_84 = "EPSG:4326"
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
        raise FileFault(f"it cannot be read: {_said(fault)}") from fault
    if info["driver"] != kind.driver:
        raise FileFault(f"it is not what it seems: {info['driver']} instead of {kind.driver}")
    return Source(path, kind, chosen, int(info["features"]), info["crs"] or "")


def _chosen(names: list[str], layer: str | None) -> str:
    if layer in names or (layer is None and len(names) == 1):
        return layer or names[0]
    listed = ", ".join(names) or "none"
    what = "no layer" if layer is None and not names else f"the layers {listed}"
    raise FileFault(f"it holds {what}; choose one with --layer")


def features(source: Source, most: int) -> Iterator[Feature]:
    """The features of a file one by one, :data:`CHUNK` of them in memory, ``most`` in all.

    Raises FileFault where GDAL stops, or there are more.
    """
    for start in range(0, most + 1, CHUNK):
        frame = _frame(source, start)
        if start + len(frame) > most:
            raise FileFault(f"it holds more than {most:,} features")
        yield from _features(frame)
        if len(frame) < CHUNK:
            return


def _frame(source: Source, start: int) -> geopandas.GeoDataFrame:
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
        raise FileFault(f"it cannot be read on: {_said(fault)}") from fault
    twice = frame.columns[frame.columns.duplicated()]
    if len(twice):
        raise FileFault(f"two of its columns are called '{twice[0]}'; rename or remove one")
    if not isinstance(frame, geopandas.GeoDataFrame):
        raise FileFault("it holds no positions; a CSV needs columns latitude and longitude")
    if frame.crs is not None and not frame.crs.equals(WGS_84, ignore_axis_order=True):
        try:
            frame = frame.to_crs(WGS_84)
        except RuntimeError as fault:  # pyproj's own
            raise FileFault(
                "its reference system cannot be turned into WGS 84; export it again in WGS 84 "
                f"({WGS_84})"
            ) from fault
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
