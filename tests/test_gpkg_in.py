"""GeoPackage read through SQLite: its layers, and what a hostile one cannot do."""

from __future__ import annotations

from pathlib import Path

import pytest
from given_files import BARN, MILL, geopackage, gpkg_mark, gpkg_point

from plotter.errors import FileFault
from plotter.formats import gpkg_in
from plotter.formats.incoming import Contents
from plotter.formats.reading import read_file

TWO = [gpkg_mark("Barn", *BARN), gpkg_mark("Mill", *MILL)]
ENDLESS = (
    f"CREATE VIEW marks AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i FROM n) "
    f"SELECT i AS fid, {gpkg_point(*BARN)} AS geom, 'A' AS name FROM n"
)
CROSS = (
    "CREATE VIEW marks AS SELECT a.* FROM m a, m b, m c, m d, m e, m f, m g, m h "
    "WHERE a.fid + h.fid < 0"
)


def read(tmp_path: Path, *statements: str) -> Contents:
    return read_file(geopackage(tmp_path / "demo.gpkg", statements))


def test_a_layer_of_points_is_waypoints(tmp_path: Path) -> None:
    (part,) = read(tmp_path, *TWO).parts
    assert (part.kind, part.name) == ("waypoints", "marks")
    assert [(p.name, p.position.latitude_deg) for p in part.points] == [
        ("Barn", 43.95),
        ("Mill", 44.25),
    ]


@pytest.mark.parametrize("blob", ["NULL", "x''", "x'4750'", "x'47500001E6100000FFFF'", "'words'"])
def test_a_geometry_that_is_none_is_passed_over(blob: str, tmp_path: Path) -> None:
    contents = read(tmp_path, *TWO, f"INSERT INTO marks (geom) VALUES ({blob})")
    assert contents.parts[0].count == 2
    assert contents.passed_over == {"skipped.no-geometry": 1}


def test_an_empty_member_of_a_geometry_is_left_out(tmp_path: Path) -> None:
    """A MultiPoint of an empty and of a full point; a MultiLineString of an empty line alone."""
    import shapely

    points = shapely.from_wkt("MULTIPOINT (EMPTY, (-92.41 43.95))")
    lines = shapely.from_wkt("MULTILINESTRING (EMPTY, (-92.41 43.95, -92.75 44.25))")
    blobs = [f"x'47500001E6100000{shapely.to_wkb(shape, hex=True)}'" for shape in (points, lines)]
    contents = read(tmp_path, *(f"INSERT INTO marks (geom) VALUES ({blob})" for blob in blobs))
    waypoints, track = contents.parts
    assert [point.position.latitude_deg for point in waypoints.points] == [43.95]
    assert (track.kind, track.pieces, track.count) == ("track", 1, 2)


def test_another_reference_system_is_refused_not_guessed(tmp_path: Path) -> None:
    with pytest.raises(FileFault, match="EPSG:3857; save it in WGS 84"):
        read(tmp_path, "UPDATE gpkg_geometry_columns SET srs_id = 3857")


def test_a_name_of_a_layer_is_not_run(tmp_path: Path) -> None:
    name = 'marks"; DROP TABLE marks; --'
    quoted = name.replace('"', '""')
    contents = read(
        tmp_path,
        *TWO,
        f'ALTER TABLE marks RENAME TO "{quoted}"',
        f"UPDATE gpkg_contents SET table_name = '{name}'",
        f"UPDATE gpkg_geometry_columns SET table_name = '{name}'",
    )
    assert contents.parts[0].count == 2


def test_a_view_without_end_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileFault, match="damaged, or asks for more work"):
        read(tmp_path, "DROP TABLE marks", ENDLESS)


def test_a_view_that_only_works_is_stopped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(gpkg_in, "MOST_STEPS", 2_000_000)
    fill = [gpkg_mark(f"P{number}", *BARN) for number in range(60)]
    with pytest.raises(FileFault, match="interrupted"):
        read(tmp_path, *fill, "ALTER TABLE marks RENAME TO m", CROSS)


def test_a_file_is_opened_for_reading_only(tmp_path: Path) -> None:
    path = geopackage(tmp_path / "demo.gpkg", TWO)
    before = path.read_bytes()
    read_file(path)
    assert path.read_bytes() == before
    assert [each.name for each in tmp_path.iterdir()] == ["demo.gpkg"]
