"""Any file of the pilot's read by its suffix: one registry of readers, one way to open a file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import IO

from plotter.formats.incoming import Contents, file_fault

Reader = Callable[[IO[bytes], Contents], None]


def _gpx() -> Reader:
    from plotter.formats.gpx_in import read_gpx

    return read_gpx


def _kml() -> Reader:
    from plotter.formats.kml_in import read_kml

    return read_kml


def _kmz() -> Reader:
    from plotter.formats.kmz_in import read_kmz

    return read_kmz


def _geojson() -> Reader:
    from plotter.formats.geojson_in import read_geojson

    return read_geojson


def _csv() -> Reader:
    from plotter.formats.csv_in import read_csv

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
        with path.open("rb") as stream:
            reader()(stream, contents)
    except OSError as fault:
        words = f"cannot be read: {fault.strerror or fault}"
        raise file_fault(str(path), words) from None
    return contents
