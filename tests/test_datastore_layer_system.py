"""What a layer's file says of its reference system, and that nothing it points to is opened."""

from __future__ import annotations

import datetime as dt
import json
import socket
import sqlite3
import threading
import zipfile
from collections.abc import Iterator
from contextlib import closing, contextmanager, nullcontext
from pathlib import Path
from typing import Any

import geopandas
import pyogrio
import pytest
import shapely

from plotter.datastore import layer_store, offline
from plotter.datastore.layer_files import Wanted
from plotter.datastore.layers import add, shapes_in
from plotter.errors import FileFault

TODAY = dt.date(2026, 11, 25)
WORLD = (-90.0, -180.0, 90.0, 180.0)


class Listener:
    """A port of this machine, and what connected to it."""

    def __init__(self, port: socket.socket) -> None:
        self._port, self.requests = port, list[bytes]()
        self.address = f"http://127.0.0.1:{port.getsockname()[1]}/system.wkt"

    def answer(self) -> None:
        while True:
            try:
                connection, _ = self._port.accept()
            except OSError:
                return
            with closing(connection):
                self.requests.append(connection.recv(500))
                connection.sendall(b"HTTP/1.0 404 Not Found\r\nContent-Length: 0\r\n\r\n")


@pytest.fixture
def listener() -> Iterator[Listener]:
    with closing(socket.create_server(("127.0.0.1", 0))) as port:
        made = Listener(port)
        threading.Thread(target=made.answer, daemon=True).start()
        yield made
        port.shutdown(socket.SHUT_RDWR)


def geojson(folder: Path, crs: Any, key: str = "crs") -> Path:
    feature = {
        "type": "Feature",
        "properties": {"name": "Demo"},
        "geometry": {"type": "Point", "coordinates": [-92.5, 44.0]},
    }
    path = folder / "points.geojson"
    path.write_text(
        json.dumps({"type": "FeatureCollection", key: crs, "features": [feature]}), encoding="utf-8"
    )
    return path


def frame(x: float = -93.0, y: float = 44.0, crs: str | None = "EPSG:4326") -> Any:
    return geopandas.GeoDataFrame({"name": ["Demo"]}, geometry=[shapely.Point(x, y)], crs=crs)


def shapefile(folder: Path, made: Any, prj: str | None = None) -> Path:
    made.to_file(folder / "a.shp", driver="ESRI Shapefile", engine="pyogrio")
    if prj is not None:
        (folder / "a.prj").write_text(prj, encoding="utf-8")
    path = folder / "points.zip"
    with zipfile.ZipFile(path, "w") as archive:
        for part in sorted(folder.glob("a.*")):
            archive.write(part, part.name)
    return path


def geopackage(folder: Path, made: Any, *statements: str) -> Path:
    path = folder / "points.gpkg"
    made.to_file(path, driver="GPKG", engine="pyogrio")
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        for statement in statements:
            connection.execute(statement)
    return path


def bring(path: Path) -> tuple[tuple[str, ...], tuple[float, float]]:
    """The notes of the layer, and where its one point lies."""
    own = path.parent / "own"
    notes = add(Wanted(path, "points", own=own), TODAY).notes
    (shape,) = shapes_in(WORLD, own=own)
    return notes, (shape.position.latitude_deg, shape.position.longitude_deg)


LINKS = {
    "link": lambda address: {"type": "link", "properties": {"href": address, "type": "ogcwkt"}},
    "url": lambda address: {"type": "url", "properties": {"url": address}},
    "name": lambda address: {"type": "name", "properties": {"name": address}},
}


@pytest.mark.parametrize("key", ["crs", "CRS"])
@pytest.mark.parametrize("link", list(LINKS))
def test_a_link_is_refused_and_not_fetched(
    tmp_path: Path, listener: Listener, link: str, key: str
) -> None:
    with pytest.raises(FileFault, match=r"points\.geojson: the crs .*; export"):
        bring(geojson(tmp_path, LINKS[link](listener.address), key))
    assert listener.requests == []


def test_gdal_is_offline_whatever_the_environment_says(
    tmp_path: Path, listener: Listener, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The check of the ``crs`` is taken away here: the second bar must hold alone."""
    monkeypatch.setattr(layer_store, "check_system", lambda *_: None)
    for name in ("NO_PROXY", "no_proxy"):
        monkeypatch.setenv(name, "*")
    path = geojson(tmp_path, LINKS["link"](listener.address))
    bring(path)
    assert listener.requests == []
    # And without it there are requests, so that the test can fail.
    monkeypatch.setattr(layer_store, "offline", nullcontext)
    pyogrio.set_gdal_config_options(dict.fromkeys(offline.SETTINGS))
    add(Wanted(path, "points", replace=True, own=tmp_path / "own"), TODAY)
    assert listener.requests


@contextmanager
def _environment(monkeypatch: pytest.MonkeyPatch, **values: str) -> Iterator[None]:
    for name in offline.ENVIRONMENT:
        monkeypatch.delenv(name, raising=False)
    for name, value in values.items():
        monkeypatch.setenv(name, value)
    yield


def test_the_environment_is_as_it_was_afterwards(monkeypatch: pytest.MonkeyPatch) -> None:
    import os

    with _environment(monkeypatch, no_proxy="localhost"), offline.offline():
        assert os.environ["no_proxy"] == offline.NOWHERE
    assert os.environ["no_proxy"] == "localhost"
    assert "PROJ_NETWORK" not in os.environ


@pytest.mark.parametrize("name", ["EPSG:3857", "urn:ogc:def:crs:EPSG::26915"])
def test_a_geojson_on_another_system_is_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(FileFault, match=f"the crs is {name}, but GeoJSON"):
        bring(geojson(tmp_path, LINKS["name"](name)))
    assert bring(geojson(tmp_path, LINKS["name"]("urn:ogc:def:crs:OGC:1.3:CRS84"))) == (
        (),
        (44.0, -92.5),
    )


@pytest.mark.parametrize("make", [shapefile, geopackage])
def test_positions_on_another_system_are_turned_and_that_is_noted(
    tmp_path: Path, make: Any
) -> None:
    """EPSG:3857 by its definition (EPSG guidance note 7-2): x = R·λ with R = 6,378,137 m."""
    notes, (latitude, longitude) = bring(make(tmp_path, frame(-10_000_000, 0.0, "EPSG:3857")))
    assert notes == ("turned from EPSG:3857 into WGS 84",)
    assert latitude == pytest.approx(0.0, abs=1e-5)
    assert longitude == pytest.approx(-10_000_000 / 6_378_137 * 57.29577951, abs=1e-5)


NONE = ("the file names no reference system: taken as WGS 84",)
SRS = "UPDATE gpkg_{} SET srs_id = {}"


def test_a_file_that_names_no_system_is_taken_as_wgs_84(tmp_path: Path) -> None:
    (tmp_path / "z").mkdir()
    assert bring(shapefile(tmp_path / "z", frame(), " ")) == (NONE, (44.0, -93.0))
    both = [SRS.format(table, 0) for table in ("geometry_columns", "contents")]
    assert bring(geopackage(tmp_path, frame(), *both)) == (NONE, (44.0, -93.0))


GRID = (
    'GEOGCS["g",DATUM["d",SPHEROID["s",6378137,298.257223563],{}],PRIMEM["Greenwich",0],'
    'UNIT["degree",0.0174532925199433]{}]'
)
GRIDS = [
    GRID.format('EXTENSION["PROJ4_GRIDS","SHIFT"]', ""),
    GRID.format("TOWGS84[0,0,0]", ',EXTENSION["PROJ4","+proj=longlat +nadgrids=SHIFT"]'),
    "+proj=longlat +a=6378137 +nadgrids = SHIFT",
    "+init=SHIFT:1",
    'BOUNDCRS[ABRIDGEDTRANSFORMATION["x",METHOD["NTv2"],PARAMETERFILE["f","SHIFT"]]]',
]
POINTS_ELSEWHERE = "its reference system points to another file; export it again in WGS 84"


@pytest.mark.parametrize("text", GRIDS, ids=range(len(GRIDS)))
def test_a_system_that_rests_on_a_file_is_refused(tmp_path: Path, text: str) -> None:
    text = text.replace("SHIFT", str(tmp_path / "shift.tif"))
    (tmp_path / "z").mkdir()
    with pytest.raises(FileFault, match=POINTS_ELSEWHERE):
        bring(shapefile(tmp_path / "z", frame(), text))
    other = f"UPDATE gpkg_spatial_ref_sys SET definition = '{text}' WHERE srs_id = 4326"
    with pytest.raises(FileFault, match=POINTS_ELSEWHERE):
        bring(geopackage(tmp_path, frame(), other))


@pytest.mark.parametrize("prj", ["junk", "/etc/a.prj", "http://127.0.0.1:9/a", "grid.vrt"])
def test_a_system_that_cannot_be_read_is_not_taken_as_wgs_84(tmp_path: Path, prj: str) -> None:
    with pytest.raises(FileFault, match="its reference system cannot be read; export it again"):
        bring(shapefile(tmp_path, frame(), prj))


@pytest.mark.parametrize(
    ("srs", "words"), [(999, "cannot be read"), (-1, "cannot be converted to WGS 84")]
)
def test_nor_one_of_a_geopackage(tmp_path: Path, srs: int, words: str) -> None:
    both = [SRS.format(table, srs) for table in ("geometry_columns", "contents")]
    path = geopackage(tmp_path, frame(), "PRAGMA foreign_keys = OFF", *both)
    with pytest.raises(FileFault, match=f"its reference system {words}; export it again"):
        bring(path)


def test_a_site_grid_cannot_be_turned(tmp_path: Path) -> None:
    with pytest.raises(FileFault, match="its reference system cannot be converted to WGS 84"):
        bring(shapefile(tmp_path, frame(), 'LOCAL_CS["Site grid",UNIT["metre",1]]'))


POINTING = {
    "a.vrt": b'<OGRVRTDataSource><OGRVRTLayer name="a"><SrcDataSource>b.csv</SrcDataSource>'
    b"</OGRVRTLayer></OGRVRTDataSource>",
    "b.vrt": b'<VRTDataset rasterXSize="1" rasterYSize="1"></VRTDataset>',
    "c.tif": b"II*\0\x08\0\0\0" + b"\0" * 64,
    "d.csv": b"<OGRVRTDataSource/>,a\n1,2\n",
    "e.json": b'{"type": "Catalog", "links": [{"href": "b.geojson"}]}',
    "f.csv": b"/vsicurl/http://127.0.0.1:9/a.csv,x\n",
    "g.geojson": b"GeoJSON:http://127.0.0.1:9/",
}


@pytest.mark.parametrize("name", list(POINTING))
def test_a_file_that_points_to_others_is_not_followed(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    path.write_bytes(POINTING[name])
    for packed in (path, tmp_path / "packed.zip"):
        if packed != path:
            with zipfile.ZipFile(packed, "w") as archive:
                archive.write(path, name)
        with pytest.raises(FileFault, match=r"it is not GeoJSON|this zip holds 0 Shapefiles"):
            bring(packed)
