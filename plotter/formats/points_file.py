"""A file of the pilot's own points, CSV or GeoJSON, read with a report of all its faults.

CSV: a header row with ``name``, ``latitude``, ``longitude`` and, where wanted, ``elevation_ft`` (or
``elevation_m``; plain ``elevation`` is feet) and ``note``; commas or semicolons; UTF-8 with or
without a byte-order mark. GeoJSON: point features with a ``name`` property.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from plotter.errors import FileFault, Where
from plotter.formats.incoming import elevation_ft_of, position_of
from plotter.formats.names import clean_name
from plotter.route.own_points import OwnPoint, OwnPoints

MOST_POINTS = 100_000
MOST_BYTES = 32_000_000
_MOST_FAULTS_SHOWN = 10

COLUMNS = {
    "name": "name",
    "latitude": "latitude",
    "latitude_deg": "latitude",
    "lat": "latitude",
    "longitude": "longitude",
    "longitude_deg": "longitude",
    "lon": "longitude",
    "elevation": "elevation_ft",
    "elevation_ft": "elevation_ft",
    "elevation_m": "elevation_m",
    "note": "note",
}
_NEEDED = ("name", "latitude", "longitude")


@dataclass
class _Reading:
    """Points read so far and the faults found on the way, each with its line."""

    file: str
    points: list[OwnPoint] = field(default_factory=list)
    faults: list[tuple[int, str]] = field(default_factory=list)
    seen: dict[str, int] = field(default_factory=dict)

    def take(self, line: int, fields: dict[str, str]) -> None:
        try:
            point = _point(fields)
        except ValueError as fault:
            self.faults.append((line, str(fault)))
            return
        first = self.seen.setdefault(point.name.casefold(), line)
        if first != line:
            self.faults.append((line, f"the name '{point.name}' is used on line {first} already"))
            return
        self.points.append(point)
        if len(self.points) > MOST_POINTS:
            raise FileFault(
                f"{self.file} holds more than {MOST_POINTS:,} points; "
                "keep those near the route in a smaller file",
                where=Where(file=self.file, line=line),
            )


def read_points_file(path: Path) -> OwnPoints:
    """The points of a CSV or GeoJSON file; raises FileFault with every fault and its line."""
    text = _text(path)
    reading = _Reading(str(path))
    is_json = path.suffix.lower() in (".geojson", ".json") or text.lstrip()[:1] == "{"
    (_read_geojson if is_json else _read_csv)(text, reading)
    if reading.faults:
        raise _report(reading)
    if not reading.points:
        raise FileFault(f"{path} holds no point", where=Where(file=str(path)))
    return OwnPoints(reading.points)


def _text(path: Path) -> str:
    try:
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as fault:
        reason = fault.strerror or str(fault)
        raise FileFault(f"{path} cannot be read: {reason}", where=Where(file=str(path))) from None
    if len(data) > MOST_BYTES:
        raise FileFault(
            f"{path} is over {MOST_BYTES // 1_000_000} MB; keep the points near the route in a "
            "smaller file",
            where=Where(file=str(path)),
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data[: fault.start].count(b"\n") + 1
        raise FileFault(
            f"{path}, line {line}: not UTF-8 text; save the file as UTF-8",
            where=Where(file=str(path), line=line),
        ) from None


def _report(reading: _Reading) -> FileFault:
    shown = [f"line {line}: {words}" for line, words in reading.faults[:_MOST_FAULTS_SHOWN]]
    more = len(reading.faults) - len(shown)
    if more:
        shown.append(f"and {more:,} more")
    return FileFault(
        f"{reading.file} cannot be used:\n  " + "\n  ".join(shown),
        where=Where(file=reading.file, line=reading.faults[0][0]),
    )


def _read_csv(text: str, reading: _Reading) -> None:
    lines = io.StringIO(text, newline="")
    first = text.partition("\n")[0]
    delimiter = ";" if first.count(";") > first.count(",") else ","
    rows = csv.reader(lines, delimiter=delimiter, strict=True)
    try:
        header = next(rows, [])
        columns = _columns(header, reading.file)
        for row in rows:
            if any(cell.strip() for cell in row):
                reading.take(rows.line_num, dict(zip(columns, row, strict=False)))
    except csv.Error as fault:
        raise FileFault(
            f"{reading.file}, line {rows.line_num}: not CSV ({fault})",
            where=Where(file=reading.file, line=rows.line_num),
        ) from None


def _columns(header: list[str], file: str) -> list[str]:
    columns = [COLUMNS.get(cell.strip().lower(), "") for cell in header]
    for name in filter(None, columns):
        if columns.count(name) > 1:
            raise FileFault(
                f"{file}, line 1: more than one column gives the {name}; keep one of them",
                where=Where(file=file, line=1),
            )
    missing = [name for name in _NEEDED if name not in columns]
    if missing:
        found = ", ".join(cell.strip() for cell in header if cell.strip()) or "nothing"
        raise FileFault(
            f"{file}, line 1: no column {' and no column '.join(missing)} (found: {found[:200]}); "
            "the first line must be: name,latitude,longitude,elevation_ft,note",
            where=Where(file=file, line=1),
        )
    return columns


def _point(fields: dict[str, str]) -> OwnPoint:
    name = clean_name(fields.get("name", ""))
    if not name:
        raise ValueError("the point has no name")
    position = position_of(fields.get("latitude"), fields.get("longitude"))
    elevation_ft = elevation_ft_of(
        *(fields.get(column, "").strip() for column in ("elevation_ft", "elevation_m"))
    )
    if isinstance(elevation_ft, str):
        raise ValueError(elevation_ft)
    return OwnPoint(name, position, elevation_ft, clean_name(fields.get("note", "")))


def _read_geojson(text: str, reading: _Reading) -> None:
    try:
        whole = json.loads(text)
    except (ValueError, RecursionError):
        raise FileFault(
            f"{reading.file} is not JSON; check that the file is whole",
            where=Where(file=reading.file),
        ) from None
    for number, feature in enumerate(_features(whole, reading.file), start=1):
        fields = _feature_fields(feature)
        if fields is None:
            reading.faults.append((number, "the feature is not a point with a longitude, latitude"))
        else:
            reading.take(number, fields)


def _features(whole: object, file: str) -> Iterator[object]:
    features = whole.get("features") if isinstance(whole, dict) else None
    if not isinstance(features, list):
        raise FileFault(
            f"{file} is not a GeoJSON FeatureCollection of points", where=Where(file=file)
        )
    return iter(features)


def _feature_fields(feature: object) -> dict[str, str] | None:
    """A feature as a CSV row would give it; GeoJSON puts longitude first (RFC 7946, 3.1.1)."""
    if not isinstance(feature, dict):
        return None
    geometry, properties = feature.get("geometry"), feature.get("properties")
    if not isinstance(geometry, dict) or geometry.get("type") != "Point":
        return None
    coordinates = geometry.get("coordinates")
    if not isinstance(coordinates, list) or not 2 <= len(coordinates) <= 3:
        return None
    known = {
        COLUMNS[key.lower()]: str(value)
        for key, value in (properties if isinstance(properties, dict) else {}).items()
        if key.lower() in COLUMNS and value is not None
    }
    if len(coordinates) == 3:
        known.setdefault("elevation_m", str(coordinates[2]))
    return known | {"longitude": str(coordinates[0]), "latitude": str(coordinates[1])}
