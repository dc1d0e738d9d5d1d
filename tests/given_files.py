"""Files as they come from outside: good ones in small, and a corpus of broken and hostile ones.

Every name and point is invented for the demo. Nothing is stored: each file is made when a test
asks for it, so that what is wrong with it can be read here.
"""

from __future__ import annotations

import io
import json
import sqlite3
import struct
import zipfile
from collections.abc import Callable, Sequence
from contextlib import closing
from pathlib import Path

from plotter.messages import Message

Figures = tuple[object, object]
BARN, MILL, TOWER = (43.95, -92.41), (44.25, -92.75), (44.5, -92.2)
GPX_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n<gpx xmlns="{}" version="1.1" creator="demo">\n'
GPX_NAMESPACE = "http://www.topografix.com/GPX/1/1"
KML_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n<kml xmlns="http://www.opengis.net/kml/2.2">\n'


def gpx(body: str, namespace: str = GPX_NAMESPACE) -> str:
    """A GPX file of any body."""
    return GPX_HEAD.format(namespace) + body + "\n</gpx>\n"


def gpx_point(tag: str, where: Figures, inside: str = "") -> str:
    """A point of a GPX file."""
    return f'<{tag} lat="{where[0]}" lon="{where[1]}">{inside}</{tag}>\n'


def gpx_route(*points: Figures, name: str = "Demo route") -> str:
    """A GPX file of one route through points called A, B, C…"""
    inside = "".join(
        gpx_point("rtept", where, f"<name>{chr(65 + number % 26)}</name>")
        for number, where in enumerate(points)
    )
    return gpx(f"<rte><name>{name}</name>\n{inside}</rte>")


def gpx_track(*points: Figures) -> str:
    """A GPX file of one track in one piece."""
    inside = "".join(gpx_point("trkpt", where) for where in points)
    return gpx(f"<trk><name>Demo track</name><trkseg>\n{inside}</trkseg></trk>")


def kml(body: str) -> str:
    """A KML file of any body."""
    return f"{KML_HEAD}<Document>{body}</Document></kml>\n"


def kml_point(name: str, where: Figures, inside: str = "") -> str:
    """A placemark at a latitude and longitude."""
    point = f"<Point><coordinates>{where[1]},{where[0]}</coordinates></Point>"
    return f"<Placemark><name>{name}</name>{inside}{point}</Placemark>\n"


def kmz(document: bytes, name: str = "doc.kml", method: int = zipfile.ZIP_DEFLATED) -> bytes:
    """A KMZ of one document."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", method) as archive:
        archive.writestr(name, document)
    return packed.getvalue()


def geojson(*features: object) -> str:
    """A GeoJSON collection."""
    return json.dumps({"type": "FeatureCollection", "features": features})


def feature(kind: str, coordinates: object, **properties: object) -> dict[str, object]:
    """One GeoJSON feature."""
    geometry = {"type": kind, "coordinates": coordinates}
    return {"type": "Feature", "geometry": geometry, "properties": properties}


def geopackage(path: Path, statements: Sequence[str]) -> Path:
    """A bare GeoPackage with one layer ``marks`` (name, note), and then whatever is asked for."""
    with closing(sqlite3.connect(path)) as made:
        made.executescript(
            """
            PRAGMA application_id = 1196444487;
            CREATE TABLE gpkg_spatial_ref_sys (srs_id, organization, organization_coordsys_id);
            INSERT INTO gpkg_spatial_ref_sys VALUES (4326, 'EPSG', 4326), (3857, 'EPSG', 3857);
            CREATE TABLE gpkg_contents (table_name, data_type);
            INSERT INTO gpkg_contents VALUES ('marks', 'features');
            CREATE TABLE gpkg_geometry_columns (table_name, column_name, srs_id);
            INSERT INTO gpkg_geometry_columns VALUES ('marks', 'geom', 4326);
            CREATE TABLE marks (fid INTEGER PRIMARY KEY, geom BLOB, name TEXT, note TEXT);
            """
        )
        for statement in statements:
            made.execute(statement)
        made.commit()
    return path


def gpkg_point(latitude: float, longitude: float) -> str:
    """A point as a GeoPackage holds it, written as SQL."""
    blob = b"GP\x00\x01" + struct.pack("<i", 4326)
    blob += struct.pack("<BIdd", 1, 1, longitude, latitude)
    return f"x'{blob.hex()}'"


def gpkg_mark(name: str, latitude: float, longitude: float) -> str:
    """A statement that puts one mark into the layer."""
    return f"INSERT INTO marks (geom, name) VALUES ({gpkg_point(latitude, longitude)}, '{name}')"


def _deep(depth: int) -> str:
    return gpx("<extensions>" + "<a>" * depth + "</a>" * depth + "</extensions>")


def _bomb() -> str:
    entities = "".join(
        f'<!ENTITY e{n} "{f"&e{n - 1};" * 10 if n else "lol"}">\n' for n in range(10)
    )
    return f"<?xml version='1.0'?>\n<!DOCTYPE gpx [\n{entities}]>\n<gpx>&e9;</gpx>"


def _doctype(inside: str) -> str:
    return f"<?xml version='1.0'?><!DOCTYPE gpx {inside}><gpx><rte/></gpx>"


_POLYGON = (
    "<Placemark><name>Field</name><Polygon><outerBoundaryIs><LinearRing><coordinates>"
    "-92,44 -92,45 -91,44 -92,44</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark>"
)
_WHOLE = gpx_route(BARN, MILL, TOWER)
_ENDLESS = f"<LineString><coordinates>{'1' * 500}</coordinates></LineString>"
_MANY_TAGS = gpx("".join(f"<a{n}/>" for n in range(20_000)))


def _crowd(files: int) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for number in range(files):
            archive.writestr(f"{number}.kml", b"")
    return packed.getvalue()


def _locked() -> bytes:
    """A KMZ whose document says that it is encrypted (APPNOTE 4.4.4, bit 0)."""
    packed = bytearray(kmz(kml("").encode()))
    packed[6] |= 1
    packed[packed.index(b"PK\x01\x02") + 8] |= 1
    return bytes(packed)


def _damaged_lzma() -> bytes:
    """A KMZ packed by LZMA, some of it overwritten."""
    packed = kmz(kml("<name>Old mill</name>" * 50).encode(), method=zipfile.ZIP_LZMA)
    return packed[:60] + b"\xff" * 20 + packed[80:]


REFUSED: dict[str, tuple[str, Callable[[], str | bytes], str]] = {
    "empty": (".gpx", lambda: b"", "file.ends-early"),
    "only space": (".gpx", lambda: b"  \n", "file.ends-early"),
    "cut in a tag": (".gpx", lambda: _WHOLE[: _WHOLE.index("lon")], "file.ends-early"),
    "cut between points": (".gpx", lambda: _WHOLE[: _WHOLE.rindex("<rtept")], "file.ends-early"),
    "a DOCTYPE of nothing": (".gpx", lambda: _doctype(""), "file.doctype"),
    "a DOCTYPE from a file": (
        ".gpx",
        lambda: _doctype('SYSTEM "file:///etc/passwd"'),
        "file.doctype",
    ),
    "a DOCTYPE from a host": (
        ".gpx",
        lambda: _doctype('PUBLIC "-//x//EN" "http://example.invalid/x"'),
        "file.doctype",
    ),
    "an entity bomb": (".gpx", _bomb, "file.doctype"),
    "an entity nobody declared": (".gpx", lambda: gpx("&nosuch;"), "file.not-xml"),
    "depth 20,000": (".gpx", lambda: _deep(20_000), "file.deep"),
    "20,000 names of tags": (".gpx", lambda: _MANY_TAGS, "file.many-names"),
    "an attribute of 3 MB": (
        ".gpx",
        lambda: gpx(f'<rte a="{"x" * 3_000_000}"/>'),
        "file.long-tag",
    ),
    "a comment of 3 MB": (".gpx", lambda: gpx(f"<!--{'x' * 3_000_000}-->"), "file.long-tag"),
    "other XML": (".gpx", lambda: kml(""), "file.first-element-of"),
    "GPX in a strange namespace": (".gpx", lambda: gpx("", "urn:demo"), "file.first-element-of"),
    "Latin-1 said to be UTF-8": (
        ".gpx",
        lambda: gpx_route(BARN, MILL, name="Zürich").encode("latin-1"),
        "file.other-encoding",
    ),
    "an encoding nobody knows": (
        ".gpx",
        lambda: _WHOLE.replace("UTF-8", "demo-8"),
        "file.encoding",
    ),
    "JSON under another name": (".gpx", geojson, "file.not-xml"),
    "a binary": (".gpx", lambda: bytes(range(256)) * 8, "file.not-xml"),
    "latitude 95": (".gpx", lambda: gpx_route(BARN, (95, -92), MILL), "position.range"),
    "NaN": (".gpx", lambda: gpx_route(BARN, ("NaN", -92), MILL), "position.not-decimal"),
    "infinity": (".gpx", lambda: gpx_route(BARN, (44, "-inf")), "position.not-decimal"),
    "pairs exchanged": (
        ".gpx",
        lambda: gpx_route((-92.41, 43.95), (-92.75, 44.25)),
        "position.exchanged",
    ),
    "no position": (".gpx", lambda: gpx("<rte><rtept/><rtept/></rte>"), "position.missing"),
    "one point": (".gpx", lambda: gpx_route(BARN), "file.lonely-points"),
    "one place twice": (".gpx", lambda: gpx_route(BARN, BARN), "file.one-place"),
    "no point": (".gpx", lambda: gpx("<rte/><trk/>"), "file.nothing"),
    "1,001 routes": (".gpx", lambda: gpx("<rte/>" * 1_001), "file.many-parts"),
    "polygons only": (".kml", lambda: kml(_POLYGON * 3), "file.only-skipped"),
    "a link only": (
        ".kml",
        lambda: kml("<NetworkLink><Link><href>http://example.invalid/</href></Link></NetworkLink>"),
        "file.only-skipped",
    ),
    "KML of latitude first": (
        ".kml",
        lambda: kml(kml_point("A", (-92.4, 43.9)) + kml_point("B", (-92.7, 44.2))),
        "position.exchanged",
    ),
    "a coordinate without end": (
        ".kml",
        lambda: kml(f"<Placemark>{_ENDLESS}</Placemark>"),
        "file.long-coordinate",
    ),
    "not a zip": (".kmz", lambda: kml("").encode(), "file.not-a-zip"),
    "a cut zip": (".kmz", lambda: kmz(kml("").encode())[:-30], "file.not-a-zip"),
    "a zip without KML": (".kmz", lambda: kmz(b"", "notes.txt"), "file.no-kml"),
    "a zip bomb": (
        ".kmz",
        lambda: kmz(kml(" " * 30_000_000).encode()),
        "file.zip-bomb",
    ),
    "a zip of 40,000 files": (".kmz", lambda: _crowd(40_000), "file.archive-list"),
    "a locked zip": (".kmz", _locked, "file.packing"),
    "a zip by bzip2": (".kmz", lambda: kmz(b"x", method=zipfile.ZIP_BZIP2), "file.packing"),
    "a damaged LZMA entry": (".kmz", _damaged_lzma, "file.packing"),
    "no JSON": (".geojson", lambda: "{", "file.not-json"),
    "deep JSON": (".geojson", lambda: "[" * 100_000, "file.deep-json"),
    "JSON, not GeoJSON": (".geojson", lambda: "[1, 2]", "file.not-geojson"),
    "JSON without features": (
        ".geojson",
        lambda: '{"type": "FeatureCollection"}',
        "file.not-geojson",
    ),
    "JSON of NaN": (
        ".geojson",
        lambda: geojson(feature("MultiPoint", [[float("nan"), 44], [-92, 45]])),
        "position.not-a-number",
    ),
    "JSON of words": (
        ".geojson",
        lambda: geojson(feature("MultiPoint", [["x", {}], "point"])),
        "position.not-decimal",
    ),
    "UTF-16 CSV": (".csv", lambda: "name,latitude,longitude\n".encode("utf-16"), "file.not-utf-8"),
    "CSV without a head": (".csv", lambda: "A,44,-92\nB,45,-92\n", "file.no-columns"),
    "CSV with a column twice": (
        ".csv",
        lambda: "name,lat,latitude,lon\nA,1,1,1\n",
        "file.column-twice",
    ),
    "CSV of decimal commas": (
        ".csv",
        lambda: 'name;lat;lon\nA;"44,5";"-92,1"\nB;45;-92\n',
        "position.decimal-comma",
    ),
    "CSV with an open quote": (".csv", lambda: 'name,lat,lon\n"A,44,-92\n', "file.not-csv"),
    "no GeoPackage": (".gpkg", lambda: b"SQLite format 3\x00" + b"\x00" * 200, "file.not-gpkg"),
    "half a GeoPackage": (
        ".gpkg",
        lambda: b"SQLite format 3\x00" + b"\x00" * 52 + b"GPKG" + b"\x00" * 200,
        "file.damaged-gpkg",
    ),
    "XML under GeoPackage's name": (
        ".gpkg",
        lambda: '<OGRVRTDataSource><OGRVRTLayer name="a"/></OGRVRTDataSource>',
        "file.not-gpkg",
    ),
}
"""By what is wrong: the suffix, the file, and the key of its message."""


def keys_of(said: Message) -> set[str]:
    """The keys of a message and of all that are nested in it."""
    nested = [
        each
        for _, value in said.values
        for each in (value if isinstance(value, tuple) else (value,))
    ]
    return {said.key}.union(*(keys_of(each) for each in nested if isinstance(each, Message)))
