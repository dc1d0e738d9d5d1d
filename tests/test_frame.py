"""GeoDataFrames and the GeoPackage: the tables it must have, read back by others, same bytes."""

from __future__ import annotations

import threading
from pathlib import Path

import awkward
import packages
import plots
import pyogrio
import pytest
import readers

from plotter import wording
from plotter.errors import InputError, WriteFault
from plotter.exports import FORMATS, Job
from plotter.formats.frame import to_geodataframe, write_geopackage
from plotter.formats.names import shown_name
from plotter.route.plotting import Plot

HOSTILE = plots.named(*awkward.NAMES.values())
NO_CHECKPOINT = plots.plot_of([plots.at_point("A", 1.0, 1.0), plots.at_point("B", 1.0, 1.1)])
# OGC 12-128r19, clauses 1.1.2 (reference systems), 1.1.3 (contents) and 2.1.5 (geometry columns).
MUST_HAVE = {"gpkg_spatial_ref_sys", "gpkg_contents", "gpkg_geometry_columns"}
LAYERS = {"legs": "MULTILINESTRING", "points": "POINT", "checkpoints": "POINT"}


@pytest.fixture(params=plots.GOLDEN)
def plot(request: pytest.FixtureRequest) -> Plot:
    return plots.GOLDEN[request.param]()


def written(folder: Path, plot: Plot) -> Path:
    path = folder / "route.gpkg"
    write_geopackage(plot, path)
    return path


@pytest.mark.parametrize("build", [*plots.GOLDEN.values(), lambda: HOSTILE, lambda: NO_CHECKPOINT])
def test_it_has_what_the_standard_wants(build: type[Plot], tmp_path: Path) -> None:
    path = written(tmp_path, build())
    assert path.read_bytes()[:16] == b"SQLite format 3\x00"
    with packages.opened(path) as database:
        assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []
        assert database.execute("PRAGMA application_id").fetchone() == (packages.APPLICATION_ID,)
        assert database.execute("PRAGMA user_version").fetchone() == (10400,)
        tables = {row[0] for row in database.execute("SELECT name FROM sqlite_master")}
        assert tables >= MUST_HAVE
        systems = {row["srs_id"]: row for row in packages.rows(database, "gpkg_spatial_ref_sys")}
        assert systems.keys() >= {-1, 0, 4326}, "clause 1.1.2"
        assert systems[4326]["organization_coordsys_id"] == 4326
        contents = packages.rows(database, "gpkg_contents")
        shapes = packages.rows(database, "gpkg_geometry_columns")
    assert [(row["table_name"], row["data_type"]) for row in contents] == [
        *((name, "features") for name in LAYERS),
        ("notes", "attributes"),
    ]
    assert {row["table_name"]: row["geometry_type_name"] for row in shapes} == LAYERS
    assert {(row["srs_id"], row["z"], row["m"]) for row in shapes} == {(4326, 0, 0)}
    assert {row["last_change"] for row in contents} == {"1980-01-01T00:00:00.000Z"}


@pytest.mark.parametrize("build", [*plots.GOLDEN.values(), lambda: HOSTILE])
def test_gdal_and_sqlite_read_names_order_and_positions(build: type[Plot], tmp_path: Path) -> None:
    plot = build()
    path = written(tmp_path, plot)
    for layer, expected in (
        ("points", readers.turning_points(plot)),
        ("checkpoints", readers.checkpoints(plot)),
    ):
        assert readers.close(readers.gdal_points(path, layer, "name"), expected)
        with packages.opened(path) as database:
            rows = packages.rows(database, layer)
        shapes = [packages.shape(row["geom"]) for row in rows]
        read = [readers.seen(r["name"], s.y, s.x) for r, s in zip(rows, shapes, strict=True)]
        assert readers.close(read, expected)
    ends = [(shown_name(leg.start.name), shown_name(leg.end.name)) for leg in plot.route.legs]
    assert [(row["start"], row["end"]) for row in readers.gdal(path, "legs")] == ends


def test_every_leg_is_a_multilinestring_cut_at_180(tmp_path: Path) -> None:
    for plot, pieces in ((plots.short(), 1), (plots.across_180(), 2)):
        path = tmp_path / f"{plot.name}.gpkg"
        write_geopackage(plot, path)
        for row in readers.gdal(path, "legs"):
            assert row["geometry"].geom_type == "MultiLineString"
            assert len(row["geometry"].geoms) == pieces
            west, _, east, _ = row["geometry"].bounds
            assert -180.0 <= west <= east <= 180.0
            assert all(line.bounds[2] - line.bounds[0] < 3.0 for line in row["geometry"].geoms)


def test_figures_are_unrounded_and_what_is_not_in_the_data_is_null(tmp_path: Path) -> None:
    plot = plots.short()
    path = written(tmp_path, plot)
    with packages.opened(path) as database:
        legs, points, marks = (packages.rows(database, layer) for layer in LAYERS)
    assert [row["distance_nm"] for row in legs] == [leg.distance_nm for leg in plot.route.legs]
    assert [row["elevation_ft"] for row in points] == [1317.0, None, None]
    assert [row["note"] for row in points] == ["", "invented for the demo", ""]
    assert [row["leg"] for row in marks] == [1, 1, 2, 2, 2]


def test_columns_keep_their_types_also_where_there_is_no_row(tmp_path: Path) -> None:
    path = written(tmp_path, NO_CHECKPOINT)
    with packages.opened(path) as database:
        columns = {
            layer: {row[1]: row[2] for row in database.execute(f"PRAGMA table_info({layer})")}
            for layer in LAYERS
        }
        assert packages.rows(database, "checkpoints") == []
    assert columns["checkpoints"] == {
        **{"fid": "INTEGER", "geom": "POINT", "number": "INTEGER", "name": "TEXT"},
        **{"leg": "INTEGER", "distance_from_start_nm": "REAL", "distance_to_go_nm": "REAL"},
    }
    assert columns["points"]["elevation_ft"] == "REAL", "no point of this route has one"
    assert to_geodataframe(NO_CHECKPOINT, "checkpoints").shape == (0, 6)


def test_cautions_and_data_dates_are_in_it(plot: Plot, tmp_path: Path) -> None:
    with packages.opened(written(tmp_path, plot)) as database:
        notes = "\n".join(row["note"] for row in packages.rows(database, "notes"))
    for line in (*wording.STANDING, *(caution.text for caution in plot.cautions)):
        assert line in notes
    for date in (plot.data.airports, plot.data.navaids, plot.data.magnetic_model_valid_to):
        assert date in notes


def made() -> bytes:
    return FORMATS["gpkg"].write(Job(plots.short()))


def test_documents_made_before_or_at_the_same_time_change_nothing() -> None:
    alone = made()
    FORMATS["gpkg"].write(Job(HOSTILE))
    results: list[bytes] = []
    threads = [threading.Thread(target=lambda: results.append(made())) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert results == [alone] * 4


def test_gdals_settings_are_put_back() -> None:
    pyogrio.set_gdal_config_options({"OGR_SQLITE_JOURNAL": "DELETE"})
    try:
        made()
        assert pyogrio.get_gdal_config_option("OGR_SQLITE_JOURNAL") == "DELETE"
        assert pyogrio.get_gdal_config_option("OGR_CURRENT_DATE") is None
    finally:
        pyogrio.set_gdal_config_options({"OGR_SQLITE_JOURNAL": None})


def test_a_file_that_cannot_be_made_is_a_fault_in_words(tmp_path: Path) -> None:
    with pytest.raises(WriteFault, match=r"the GeoPackage was not written.*nowhere"):
        write_geopackage(plots.short(), tmp_path / "nowhere" / "route.gpkg")
    assert pyogrio.get_gdal_config_option("OGR_CURRENT_DATE") is None


def test_frames_have_one_row_each_and_run_on_over_180() -> None:
    plot = plots.across_180()
    legs = to_geodataframe(plot)
    assert list(legs["number"]) == [1, 2]
    assert legs.crs.to_epsg() == 4326
    assert legs.total_bounds[2] > 180.0, "unrolled: no jump within a line"
    assert list(to_geodataframe(plot, "points")["name"]) == [p.name for p in plot.route.waypoints]
    marks = to_geodataframe(plot, "checkpoints")
    assert list(marks["number"]) == [mark.number for mark in plot.checkpoints]
    assert marks["leg"].dtype.kind == "i"


def test_a_part_that_is_none_is_refused() -> None:
    with pytest.raises(InputError, match="unknown part 'wings'; use legs, points, checkpoints"):
        to_geodataframe(plots.short(), "wings")  # type: ignore[arg-type]
