"""The pilot's own layers: four kinds of file, brought, listed, read for a box, dropped."""

from __future__ import annotations

import datetime as dt
import gzip
import io
import json
import os
import random
import sqlite3
import zipfile
from contextlib import closing
from functools import reduce
from pathlib import Path
from typing import Any

import geopandas
import pytest
import shapely
from examples import TIMES
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plotter.datastore import layer_files, layer_store, layers
from plotter.datastore.home import only_one
from plotter.datastore.layer_files import Wanted
from plotter.datastore.layers import (
    add,
    attributes,
    check_layers,
    damaged_layers,
    drop,
    shapes_in,
)
from plotter.errors import DataFault, FileFault, InputError, TargetExists
from plotter.formats import frame as frame_in
from plotter.formats import gpkg_in
from plotter.places.model import OwnLayer, OwnShape

TODAY = dt.date(2026, 11, 25)
WORLD = (-90.0, -180.0, 90.0, 180.0)
LINES = [
    shapely.LineString([(-92.5, 44.0), (-92.4, 44.1), (-91.2, 44.2)]),
    shapely.MultiLineString([[(10, 10), (11, 10)], [(12, 10), (13, 11)]]),
]
NAMES = ["Demo River", "Demo “Bach”, 東"]


def frame(shapes: list[Any] = LINES, names: list[str] = NAMES, **more: list[Any]) -> Any:
    return geopandas.GeoDataFrame({"NAME": names, **more}, geometry=shapes, crs="EPSG:4326")


def geojson(folder: Path, made: Any, name: str = "rivers.geojson") -> Path:
    folder.mkdir(exist_ok=True)
    made.to_file(folder / name, driver="GeoJSON", engine="pyogrio")
    return folder / name


def zipped(folder: Path, made: Any, prefix: str = "") -> Path:
    folder.mkdir(exist_ok=True)
    made.to_file(folder / "a.shp", driver="ESRI Shapefile", engine="pyogrio", encoding="UTF-8")
    path = folder / "rivers.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for part in sorted(folder.glob("a.*")):
            archive.write(part, f"{prefix}{part.name}")
    return path


def bring(path: Path, own: Path, kind: str = "", **more: Any) -> OwnLayer:
    return add(Wanted(path, kind, own=own, **more), TODAY)


def test_geojson_keeps_names_attributes_and_positions(tmp_path: Path) -> None:
    path = geojson(tmp_path, frame(width=[12.5, None], lanes=[2, 3]))
    os.utime(path, (1_771_000_000, 1_771_000_000))  # 2026-02-13
    layer = bring(path, tmp_path)
    assert (layer.name, layer.kind, layer.features) == ("rivers", "rivers", 2)
    assert (layer.file_date, layer.added, layer.notes) == ("2026-02-13", "2026-11-25", ())
    assert layer.age_days("2026-02-23") == 10
    assert layers.layers(tmp_path) == (layer,)
    first, second = shapes_in(WORLD, own=tmp_path)
    assert (first.name, first.family, first.kind, first.number) == (NAMES[0], "line", "rivers", 1)
    assert first.parts == (((44.0, -92.5), (44.1, -92.4), (44.2, -91.2)),)
    assert [len(part) for part in second.parts] == [2, 2]
    assert second.name == NAMES[1]
    given = {"NAME": NAMES[0], "width": 12.5, "lanes": 2}
    assert attributes("rivers", 1, tmp_path) == given
    assert attributes("rivers", 2, tmp_path) == {"NAME": NAMES[1], "lanes": 3}
    assert check_layers(tmp_path) == []


def test_every_kind_of_file_says_the_same(tmp_path: Path) -> None:
    made = frame()
    packed = tmp_path / "rivers.geojson.gz"
    packed.write_bytes(gzip.compress(geojson(tmp_path, made).read_bytes()))
    geopackage = tmp_path / "rivers.gpkg"
    made.to_file(geopackage, driver="GPKG", engine="pyogrio")
    paths = [tmp_path / "rivers.geojson", packed, geopackage]
    paths += [zipped(tmp_path / "z", made), zipped(tmp_path / "slip", made, "../../../")]
    found = []
    for number, path in enumerate(paths):
        own = tmp_path / f"own-{number}"
        bring(path, own)
        found.append([(s.name, s.parts) for s in shapes_in(WORLD, own=own)])
    assert all(shapes == found[0] for shapes in found)
    assert {path.name for path in tmp_path.iterdir()} >= {"slip", "own-4"}
    assert not (tmp_path.parent / "a.shp").exists()


def test_a_table_of_points(tmp_path: Path) -> None:
    path = tmp_path / "towers.csv"
    path.write_text(
        "\ufeffName,Latitude_deg,Longitude_deg,height_ft\n"
        "Demo Tower,44.1,-92.3,1042\nNowhere,95,-92,1\nHalf,44,,1\n",
        encoding="utf-8",
    )
    layer = bring(path, tmp_path)
    assert (layer.kind, layer.features) == ("towers", 1)
    (tower,) = shapes_in((44, -93, 45, -92), own=tmp_path)
    assert tower.name == "Demo Tower"
    assert (tower.position.latitude_deg, tower.position.longitude_deg) == (44.1, -92.3)
    assert attributes("towers", 1, tmp_path)["height_ft"] == "1042"
    assert layer.notes == (
        "the file names no reference system: taken as WGS 84",
        "1 left out: lies nowhere on earth (first: feature 2 Nowhere)",
        "1 left out: no position (first: feature 3 Half)",
    )


def test_another_reference_system_is_turned_and_said(tmp_path: Path) -> None:
    """UTM zone 15 N (EPSG:26915): the central meridian 93°W is 500,000 m east, by definition."""
    made = geopandas.GeoDataFrame(
        {"name": ["Demo"]}, geometry=[shapely.Point(500_000, 4_871_000)], crs="EPSG:26915"
    )
    layer = bring(zipped(tmp_path / "z", made), tmp_path, "landmarks")
    (mark,) = shapes_in(WORLD, own=tmp_path)
    assert mark.position.longitude_deg == pytest.approx(-93.0, abs=1e-5)
    assert 43.9 < mark.position.latitude_deg < 44.1
    assert layer.notes == ("turned from EPSG:26915 into WGS 84",)


def test_geometry_is_checked_and_what_was_done_is_said(tmp_path: Path) -> None:
    bow_tie = shapely.Polygon([(0, 0), (1, 1), (1, 0), (0, 1)])
    holed = shapely.box(5, 5, 8, 8).difference(shapely.box(6, 6, 7, 7))
    speck = shapely.box(3, 3, 3.000001, 3.000001)
    shapes = [bow_tie, holed, None, shapely.Point(1, 1), speck]
    path = geojson(tmp_path, frame(shapes, ["Tie", "Ring", "Nil", "Dot", "Speck"]), "lakes.geojson")
    layer = bring(path, tmp_path)
    tie, ring = shapes_in(WORLD, own=tmp_path)
    assert layer.notes == (
        "1 repaired: an outline that crosses itself (first: feature 1 Tie)",
        "1 left out: no position (first: feature 3 Nil)",
        "1 left out: a Point is none of lakes (first: feature 4 Dot)",
        "1 left out: smaller than a metre (first: feature 5 Speck)",
    )
    # The bow tie's two triangles have a quarter each of the square's area.
    assert _area(tie) == pytest.approx(0.5)
    assert _area(ring) == pytest.approx(8.0)
    assert all(part[0] == part[-1] for part in ring.parts)


def _area(shape: OwnShape) -> float:
    """By the even-odd rule."""
    rings = [shapely.Polygon([(x, y) for y, x in part]) for part in shape.parts]
    return float(reduce(shapely.symmetric_difference, rings).area)


def test_nothing_that_can_be_kept_is_no_layer(tmp_path: Path) -> None:
    path = geojson(tmp_path, frame())
    with pytest.raises(
        FileFault, match="nothing of it can be kept; 1 left out: a LineString is none of towers"
    ):
        bring(path, tmp_path, "towers")
    assert layers.layers(tmp_path) == ()


@pytest.mark.parametrize(
    ("content", "name", "words"),
    [
        (b"", "a.geojson", "it is not GeoJSON"),
        (b'{"type": "Topology"}', "a.json", "it is not GeoJSON"),
        (b'{"type": "FeatureCollection", "features": [', "a.json", "cannot be read"),
        (b"<OGRVRTDataSource><OGRVRTLayer/></OGRVRTDataSource>", "a.csv", "it is not GeoJSON"),
        (b"<html></html>", "a.geojson", "it is not GeoJSON"),
        (b"SQLite format 3\0" + b"\0" * 100, "a.gpkg", "cannot be read|no layer"),
        (b"name,where\na,b\n", "points.csv", "needs columns latitude and longitude|no position"),
        (b"PK\x03\x04" + b"\0" * 30, "a.zip", "packed and damaged"),
        (b"\x1f\x8b\x08\0\0\0\0\0\0\0xxxx", "a.geojson.gz", "packed and damaged"),
        (gzip.compress(b"<html>", mtime=0), "a.geojson.gz", "it is not GeoJSON"),
    ],
    ids=range(10),
)
def test_what_is_no_layer(tmp_path: Path, content: bytes, name: str, words: str) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    with pytest.raises(FileFault, match=words) as caught:
        bring(path, tmp_path / "own", "points")
    assert caught.value.message.startswith(f"{name}: ")
    with pytest.raises(FileFault, match="there is no such file"):
        bring(tmp_path / "b.csv", tmp_path / "own")
    with pytest.raises(FileFault, match="is a directory"):
        bring(tmp_path, tmp_path / "own")


@pytest.mark.parametrize("method", [zipfile.ZIP_LZMA, zipfile.ZIP_BZIP2])
def test_a_zip_is_deflated_or_plain(tmp_path: Path, method: int) -> None:
    path = tmp_path / "a.zip"
    with zipfile.ZipFile(path, "w", method) as archive:
        for name in ("a.shp", "a.dbf"):
            archive.writestr(name, b"demo" * 9)
    with pytest.raises(FileFault, match=r"a.zip: .*are deflated"):
        bring(path, tmp_path)


@pytest.mark.parametrize("first", ["name,name", "height,height", "x,name,x"])
def test_two_columns_of_one_name_are_refused(tmp_path: Path, first: str) -> None:
    path = tmp_path / "masts.csv"
    columns = first.count(",") + 1
    path.write_text(f"{first},latitude,longitude\n{'a,' * columns}44,-92\n", encoding="utf-8")
    with pytest.raises(FileFault, match=r"two columns are named (name|height|x)"):
        bring(path, tmp_path / "own", "points")


@pytest.mark.parametrize("names", [[], ["a.shp"], ["a.shp", "a.dbf", "b.shp", "b.dbf"]])
def test_a_zip_holds_one_shapefile(tmp_path: Path, names: list[str]) -> None:
    path = tmp_path / "a.zip"
    with zipfile.ZipFile(path, "w") as archive:
        for name in [*names, "readme.txt"]:
            archive.writestr(name, b"demo")
    with pytest.raises(FileFault, match=f"holds {len(names) // 2} Shapefiles"):
        bring(path, tmp_path)


def test_bombs_stay_packed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(layer_files, "MOST_BYTES", 2_000_000)
    path = tmp_path / "rivers.geojson.gz"
    path.write_bytes(gzip.compress(b'{"type": "FeatureCollection"' + b" " * 50_000_000))
    with pytest.raises(FileFault, match="larger than 2 MB when unpacked"):
        bring(path, tmp_path)
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        for suffix in (".shp", ".dbf"):
            archive.writestr(f"a{suffix}", b"\0" * 1_500_000)
    path.write_bytes(made.getvalue())
    with pytest.raises(FileFault, match="larger than 2 MB when unpacked"):
        bring(path, tmp_path)


def test_many_features_are_read_in_chunks_and_bounded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    points = [shapely.Point(x / 10, 1) for x in range(10)]
    path = geojson(tmp_path, frame(points, [f"P{x}" for x in range(10)]), "p.geojson")
    monkeypatch.setattr(frame_in, "CHUNK", 4)
    assert bring(path, tmp_path).features == 10
    assert [s.name for s in shapes_in(WORLD, own=tmp_path)] == [f"P{x}" for x in range(10)]
    monkeypatch.setattr(layer_store, "MOST_FEATURES", 9)
    with pytest.raises(FileFault, match="more than 9 features"):
        bring(path, tmp_path, replace=True)
    assert layers.layers(tmp_path)[0].features == 10
    monkeypatch.setattr(layer_files, "MOST_POINTS", 1)
    long = geojson(tmp_path, frame())
    with pytest.raises(FileFault, match="left out: more than 1 points"):
        bring(long, tmp_path)


def test_a_geopackage_of_several_layers(tmp_path: Path) -> None:
    path = tmp_path / "all.gpkg"
    for name in ("rivers", "rails"):
        frame().to_file(path, layer=name, driver="GPKG", engine="pyogrio")
    with pytest.raises(FileFault, match="several layers; choose one: rivers, rails"):
        bring(path, tmp_path, "rivers")
    with pytest.raises(FileFault, match="available: rivers, rails"):
        bring(path, tmp_path, "rivers", layer="lakes")
    assert bring(path, tmp_path, "railways", layer="rails").name == "all"


def test_a_geopackage_of_views_is_refused(tmp_path: Path) -> None:
    """A view may be written so that it never comes to an end."""
    path = tmp_path / "rivers.gpkg"
    frame().to_file(path, layer="rivers", driver="GPKG", engine="pyogrio")
    with sqlite3.connect(path) as connection:
        connection.executescript(
            "PRAGMA writable_schema = ON; ALTER TABLE rivers RENAME TO under;"
            "UPDATE gpkg_contents SET table_name = 'rivers';"
            "CREATE VIEW rivers AS SELECT * FROM under;"
        )
    connection.close()
    with pytest.raises(FileFault, match="its table 'rivers' is no plain table"):
        bring(path, tmp_path)


ENDLESS = "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i FROM n) SELECT"
LISTING = f"CREATE VIEW gpkg_contents AS {ENDLESS} 'rivers' AS table_name, * FROM n"


@pytest.mark.parametrize(
    ("table", "statement"),
    [
        ("gpkg_contents", f"ALTER TABLE gpkg_contents RENAME TO other; {LISTING};"),
        ("gpkg_extensions", f"CREATE VIEW gpkg_extensions AS {ENDLESS} i FROM n;"),
        ("gpkg_extensions", "CREATE VIRTUAL TABLE gpkg_extensions USING fts5(a);"),
        ("rtree_demo_geom", f"CREATE VIEW rtree_demo_geom AS {ENDLESS} i FROM n;"),
    ],
)
def test_a_geopackage_whose_own_tables_never_end_is_refused(
    tmp_path: Path, table: str, statement: str
) -> None:
    path = tmp_path / "rivers.gpkg"
    frame().to_file(path, layer="rivers", driver="GPKG", engine="pyogrio")
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(
            "PRAGMA legacy_alter_table = ON; DROP TABLE gpkg_extensions;" + statement
        )
    with pytest.raises(FileFault, match=f"its table '{table}' is no plain table; export"):
        bring(path, tmp_path)


def test_too_much_work_for_a_geopackage_is_stopped(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(gpkg_in, "MOST_STEPS", 0)
    monkeypatch.setattr(gpkg_in, "_STEP", 1)
    path = tmp_path / "rivers.gpkg"
    frame().to_file(path, layer="rivers", driver="GPKG", engine="pyogrio")
    with pytest.raises(FileFault, match="it cannot be read: interrupted"):
        bring(path, tmp_path)


@pytest.mark.parametrize("name", ["rivers.zip", "rivers.geojson"])
def test_what_fails_outside_is_no_damage_of_the_file(tmp_path: Path, name: str) -> None:
    path = zipped(tmp_path, frame()) if name.endswith(".zip") else geojson(tmp_path, frame(), name)
    with pytest.raises(OSError, match="not this file"), layer_files.laid_out(path):
        raise OSError("not this file")


def test_names_and_kinds(tmp_path: Path) -> None:
    path = geojson(tmp_path, frame(), "Été — 1.geojson")
    with pytest.raises(FileFault, match=r"add --as rivers\|lakes"):
        bring(path, tmp_path)
    with pytest.raises(InputError, match="no layer can be 'ways'"):
        bring(path, tmp_path, "ways")
    for name in ("../x", "A", "", "x" * 41, "a b"):
        if name:
            with pytest.raises(InputError, match="cannot be a layer's name"):
                bring(path, tmp_path, "roads", name=name)
    assert bring(path, tmp_path, "roads").name == "t-1"
    with pytest.raises(TargetExists, match="already"):
        bring(path, tmp_path, "roads")
    assert bring(path, tmp_path, "roads", replace=True).kind == "roads"
    only = geojson(tmp_path, frame(), "—.geojson")
    with pytest.raises(FileFault, match="give one with --name"):
        bring(only, tmp_path, "roads")


def test_dropped_is_gone(tmp_path: Path) -> None:
    bring(geojson(tmp_path, frame()), tmp_path)
    with pytest.raises(InputError, match="no layer 'lakes'; there is rivers"):
        drop("lakes", tmp_path)
    drop("rivers", tmp_path)
    assert layers.layers(tmp_path) == ()
    assert list(shapes_in(WORLD, own=tmp_path)) == []
    with pytest.raises(InputError, match="no layer at all"):
        drop("rivers", tmp_path)


def test_kinds_are_told_apart(tmp_path: Path) -> None:
    path = geojson(tmp_path, frame())
    for kind in ("rivers", "roads"):
        bring(path, tmp_path, kind, name=kind)
    assert {s.kind for s in shapes_in(WORLD, ["roads"], tmp_path)} == {"roads"}
    assert len(list(shapes_in(WORLD, own=tmp_path))) == 4


def test_a_box_across_180_degrees(tmp_path: Path) -> None:
    points = [shapely.Point(x, -17) for x in (179.9, 180.0, -180.0, -179.9, 0.0)]
    path = geojson(tmp_path, frame(points, list("abcde")), "p.geojson")
    bring(path, tmp_path)
    found = {s.name for s in shapes_in((-18, 179, -16, -179), own=tmp_path)}
    assert found == set("abcd")


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, list[Any]]:
    folder = tmp_path_factory.mktemp("many")
    lines = [
        shapely.LineString([(x, y), (x + 7.3, y + 4.1), (x + 3.3, y - 2.2)])
        for x in range(-175, 165, 23)
        for y in range(-80, 80, 17)
    ]
    bring(geojson(folder, frame(lines, [str(n) for n in range(len(lines))])), folder)
    return folder, lines


BOXES = st.tuples(st.floats(-90, 85), st.floats(-180, 175), st.floats(0, 60), st.floats(0, 180))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60 * TIMES)
@given(BOXES, st.booleans())
def test_all_that_touch_a_box_are_found(
    many: tuple[Path, list[Any]], corner: tuple[float, ...], through_the_index: bool
) -> None:
    """Against brute force by shapely."""
    (folder, lines), (south, west, high, wide) = many, corner
    north, east = min(90.0, south + high), min(180.0, west + wide)
    box = shapely.box(west, south, east, north)
    wanted = {n for n, line in enumerate(lines, start=1) if line.intersects(box)}
    before = layer_store.MOST_CELLS
    layer_store.MOST_CELLS = before if through_the_index else 0
    try:
        found = {s.number for s in shapes_in((south, west, north, east), own=folder)}
    finally:
        layer_store.MOST_CELLS = before
    assert wanted <= found


def test_a_view_is_read_without_the_rest(many: tuple[Path, list[Any]]) -> None:
    folder, lines = many
    assert len(list(shapes_in((40, -100, 45, -90), own=folder))) < len(lines) / 10


def test_a_changed_row_is_damage_too(tmp_path: Path) -> None:
    bring(geojson(tmp_path, frame()), tmp_path)
    path = tmp_path / "layers" / "rivers.sqlite"
    with sqlite3.connect(path) as connection:
        connection.execute("UPDATE features SET name = 'Other' WHERE number = 2")
    connection.close()
    path.write_bytes(layer_store.sealed(path.read_bytes()))
    with pytest.raises(DataFault, match="plotter data drop rivers"):
        list(shapes_in(WORLD, own=tmp_path))
    assert "feature 2" in check_layers(tmp_path)[0]


def spoilt(content: bytes, seed: int) -> bytes:
    """A store cut short, with bytes flipped, a page of zeros or one page in place of another."""
    dice = random.Random(seed)
    made, page = bytearray(content), 4096
    pages = len(made) // page
    match seed % 4:
        case 0:
            return content[: dice.randrange(len(content))]
        case 1:
            for _ in range(dice.randint(1, 9)):
                made[dice.randrange(len(made))] ^= dice.randint(1, 255)
        case 2:
            at = dice.randrange(pages) * page
            made[at : at + page] = bytes(page)
        case 3:
            at, other = (dice.randrange(pages) * page for _ in range(2))
            made[at : at + page] = content[other : other + page]
    return bytes(made)


def test_a_damaged_layer_is_never_drawn_in_part(tmp_path: Path) -> None:
    """34 rivers, 400 seeds: all of them or, named, none of them."""
    lines = [
        shapely.LineString([(x, 44 + n / 9), (x + 1, 44.3), (x + 2.2, 45 + n / 30)])
        for n in range(34)
        for x in (-92.5 + n / 20,)
    ]
    names = [f"River {n} {'of the north ' * (n % 7)}" for n in range(34)]
    bring(geojson(tmp_path, frame(lines, names, note=["x" * 40 * n for n in range(34)])), tmp_path)
    path, aside = (tmp_path / "layers" / f"rivers.sqlite{end}" for end in ("", ".damaged"))
    content = path.read_bytes()
    assert len(content) > 10 * 4096
    for seed in range(400):
        path.write_bytes(made := spoilt(content, seed))
        found = [shape.name for shape in shapes_in(WORLD, own=tmp_path)]
        if made == content:
            assert (len(found), damaged_layers(tmp_path)) == (34, ())
            continue
        assert (found, damaged_layers(tmp_path)) == ([], ("rivers",)), seed
        assert aside.read_bytes() == made
        assert not path.exists()
    assert layers.layers(tmp_path) == ()
    (finding,) = check_layers(tmp_path)
    assert finding.startswith("own layer rivers is damaged")
    with pytest.raises(InputError, match="no layer 'rivers'"):
        attributes("rivers", 1, tmp_path)
    bring(tmp_path / "rivers.geojson", tmp_path)
    assert check_layers(tmp_path) == []
    assert damaged_layers(tmp_path) == ()
    assert not aside.exists()


def test_a_damaged_layer_can_be_added_again_or_dropped_at_once(tmp_path: Path) -> None:
    path = tmp_path / "layers" / "rivers.sqlite"
    for _ in range(2):
        bring(geojson(tmp_path, frame()), tmp_path)
        path.write_bytes(path.read_bytes()[:5000])
    assert damaged_layers(tmp_path) == ("rivers",)
    drop("rivers", tmp_path)
    assert damaged_layers(tmp_path) == ()
    assert [each.name for each in path.parent.iterdir()] == ["lock"]


def test_one_damaged_layer_leaves_the_others(tmp_path: Path) -> None:
    for name in ("a", "b", "c"):
        bring(geojson(tmp_path, frame()), tmp_path, name=name)
    with (tmp_path / "layers" / "b.sqlite").open("ab") as handle:
        handle.write(b"\0")
    assert {shape.layer for shape in shapes_in(WORLD, own=tmp_path)} == {"a", "c"}
    assert damaged_layers(tmp_path) == ("b",)


def test_a_layer_kept_before_layers_were_sealed_is_not_drawn(tmp_path: Path) -> None:
    bring(geojson(tmp_path, frame()), tmp_path)
    path = tmp_path / "layers" / "rivers.sqlite"
    content = path.read_bytes()
    path.write_bytes(content[:60] + bytes(4) + content[64:])
    assert damaged_layers(tmp_path) == ("rivers",)
    assert "kept by an earlier version" in check_layers(tmp_path)[0]


def test_while_layers_are_being_changed_a_damaged_one_is_left_in_place(tmp_path: Path) -> None:
    """What is there may be a whole one a moment later."""
    bring(geojson(tmp_path, frame()), tmp_path)
    path = tmp_path / "layers" / "rivers.sqlite"
    path.write_bytes(b"nothing")
    with only_one(path.parent / layers.LOCK, "busy"):
        assert damaged_layers(tmp_path) == ("rivers",)
        assert list(shapes_in(WORLD, own=tmp_path)) == []
        assert path.exists()
    assert damaged_layers(tmp_path) == ("rivers",)
    assert not path.exists()


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read all")
def test_a_layer_that_cannot_be_read_is_no_damage(tmp_path: Path) -> None:
    bring(geojson(tmp_path, frame()), tmp_path)
    path = tmp_path / "layers" / "rivers.sqlite"
    path.chmod(0)
    with pytest.raises(DataFault, match="cannot be read: Permission denied"):
        layers.layers(tmp_path)
    assert path.exists()


def test_the_same_file_gives_the_same_bytes(tmp_path: Path) -> None:
    path = geojson(tmp_path, frame())
    for own in ("a", "b"):
        bring(path, tmp_path / own)
    made = [(tmp_path / own / "layers" / "rivers.sqlite").read_bytes() for own in ("a", "b")]
    assert made[0] == made[1]


def test_attributes_that_are_too_long_are_left_out_and_said(tmp_path: Path) -> None:
    path = geojson(tmp_path, frame(note=["x" * 200_000, ""]))
    layer = bring(path, tmp_path)
    assert attributes("rivers", 1, tmp_path) == {}
    assert layer.notes == ("1 attributes too long, left out (first: feature 1 Demo River)",)


def test_hostile_names_are_cleaned(tmp_path: Path) -> None:
    path = geojson(tmp_path, frame(names=["\x1b[2J</script>\u202e", " "]))
    bring(path, tmp_path)
    assert [s.name for s in shapes_in(WORLD, own=tmp_path)] == ["[2J</script>", ""]


REAL = "PLOTTER_OWN_LAYERS"


@pytest.mark.slow
@pytest.mark.skipif(REAL not in os.environ, reason=f"{REAL} names no folder of real layers")
def test_real_layers(tmp_path: Path) -> None:
    """A folder of GeoJSON files, gzipped or not."""
    for path in sorted(Path(os.environ[REAL]).glob("*.geojson*")):
        layer = bring(path, tmp_path)
        content = gzip.decompress(path.read_bytes()) if path.suffix == ".gz" else path.read_bytes()
        given = json.loads(content)["features"]
        assert layer.features == len(given)
        assert layer.notes == ()
    assert check_layers(tmp_path) == []


def test_a_table_with_more_cells_than_heads_is_refused_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "towers.csv"
    path.write_text("name,latitude,longitude\nA,44.1,-92.3\nBarn,44,5,-92,5\n", encoding="utf-8")
    with pytest.raises(FileFault, match="line 3: 5 cells under 3 column names"):
        bring(path, tmp_path)


@pytest.mark.parametrize("letters", ["[-92,5,44,5]", "[ -92 , 5 ,44.0,5e0 , 1]"])
def test_a_geojson_of_four_numbers_a_position_is_refused(tmp_path: Path, letters: str) -> None:
    path = tmp_path / "rivers.geojson"
    extra = '"bbox": [-93, 43, -91, 45], "properties": {"table": [[1, 2, 3, 4], [5, 6, 7, 8]]}'
    shape = '{"type": "LineString", "coordinates": [[-92, 44], %s]}'
    text = f'{{"type": "Feature", %s, "geometry": {shape}}}'
    path.write_text(text % (extra, letters))
    with pytest.raises(FileFault, match="a position has more than three numbers"):
        bring(path, tmp_path)
    path.write_text(text % (extra, "[-92.5, 44.5, 300]"))
    assert bring(path, tmp_path).features == 1
