"""GeoJSON by RFC 7946: every rule kept, read back by GDAL, figures with their units."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import awkward
import geojson_rules
import plots
import pytest
import readers

from plotter import wording
from plotter.formats.geojson import geojson
from plotter.formats.names import shown_name
from plotter.route.plotting import Plot

HOSTILE = plots.named(*awkward.NAMES.values())


@pytest.fixture(params=plots.GOLDEN)
def plot(request: pytest.FixtureRequest) -> Plot:
    return plots.GOLDEN[request.param]()


def features(plot: Plot, part: str) -> list[dict[str, Any]]:
    whole = json.loads(geojson(plot))
    return [each for each in whole["features"] if each["properties"]["part"] == part]


@pytest.mark.parametrize(
    "build",
    [*plots.GOLDEN.values(), plots.far_north, plots.rhumb, lambda: HOSTILE, lambda: plots.many(50)],
)
def test_it_keeps_every_rule(build: type[Plot]) -> None:
    assert geojson_rules.faults(geojson(build())) == []


BROKEN = [
    (b'"FeatureCollection"', b'"Features"', "1.4"),
    (b'"notes"', b'"properties"', "7.1"),
    (b'"notes"', b'"crs"', "4"),
    (b'"Feature"', b'"feature"', "3.2"),
    (b'"leg-2"', b'"leg-1"', "3.2"),
    (b'"leg-2"', b"[2]", "3.2"),
    (b'"properties": {', b'"figures": {', "3.2"),
    (b'"geometry"', b'"shape"', "3.2"),
    (b'"LineString"', b'"Line"', "1.4"),
    (b'"LineString"', b'"MultiLineString"', "3.1.1"),
    (b'"Point"', b'"LineString"', "3.1.1"),
    (b'"LineString"', b'"Point"', "3.1.1"),
    (b"[[-92.5, 43.9], [-92.75, 44.25]]", b"12", "3.1"),
    (b"[[-92.5, 43.9], [-92.75, 44.25]]", b"[[-92.5, 43.9]]", "3.1.4"),
    (b"[[-92.5, 43.9], ", b"[[-92.5], ", "3.1.1"),
    (b"[[-92.5, 43.9], ", b"[[-92.5, null], ", "3.1.1"),
    (b"[[-92.5, 43.9], ", b"[[43.9, -92.5], ", "4"),
    (b"[[-92.5, 43.9], ", b"[[179.0, 43.9], ", "3.1.9"),
    (b"[[-92.5, 43.9], ", b"[[NaN, 43.9], ", "2"),
    (b"XDMA", b"\xff", "2"),
]


@pytest.mark.parametrize(("old", "new", "section"), BROKEN, ids=str)
def test_the_rules_find_what_is_broken(old: bytes, new: bytes, section: str) -> None:
    good = geojson(plots.short())
    assert old in good
    found = geojson_rules.faults(good.replace(old, new, 1))
    assert section in [fault.partition(":")[0] for fault in found], found


def test_gdal_reads_names_order_and_positions(plot: Plot, tmp_path: Path) -> None:
    path = tmp_path / "route.geojson"
    path.write_bytes(geojson(plot))
    rows = readers.gdal(path, plot.name)
    for part, expected in (
        ("turning point", readers.turning_points(plot)),
        ("checkpoint", readers.checkpoints(plot)),
    ):
        read = [
            readers.seen(row["name"], row["geometry"].y, row["geometry"].x)
            for row in rows
            if row["part"] == part
        ]
        assert readers.close(read, expected)
    legs = [row for row in rows if row["part"] == "leg"]
    assert [(row["start"], row["end"]) for row in legs] == [
        (leg.start.name, leg.end.name) for leg in plot.route.legs
    ]


def test_hostile_names_are_read_back_by_gdal(tmp_path: Path) -> None:
    path = tmp_path / "hostile.geojson"
    path.write_bytes(geojson(HOSTILE))
    read = [
        readers.seen(row["name"], row["geometry"].y, row["geometry"].x)
        for row in readers.gdal(path, HOSTILE.name)
        if row["part"] == "turning point"
    ]
    assert readers.close(read, readers.turning_points(HOSTILE))


def test_longitude_comes_first() -> None:
    first, *_ = features(plots.short(), "turning point")
    assert first["geometry"] == {"type": "Point", "coordinates": [-92.5, 43.9]}


def test_a_leg_over_180_is_cut_on_both_sides_of_the_meridian() -> None:
    plot = plots.across_180()
    for leg, (side, other) in zip(features(plot, "leg"), [(180, -180), (-180, 180)], strict=True):
        assert leg["geometry"]["type"] == "MultiLineString"
        before, after = leg["geometry"]["coordinates"]
        assert (before[-1][0], after[0][0]) == (side, other)
        assert before[-1][1] == after[0][1]
    assert {leg["geometry"]["type"] for leg in features(plots.short(), "leg")} == {"LineString"}


def test_the_curve_of_a_long_leg_is_in_it() -> None:
    (leg,) = features(plots.far_north(), "leg")
    line = leg["geometry"]["coordinates"]
    assert len(line) > 10
    assert max(latitude for _, latitude in line) > 76.0


def test_figures_have_their_units_in_their_names() -> None:
    plot = plots.short()
    leg, point, mark = (features(plot, part)[0] for part in ("leg", "turning point", "checkpoint"))
    first = plot.route.legs[0]
    assert leg["id"] == "leg-1"
    assert leg["properties"] == {
        "part": "leg",
        "number": 1,
        "start": "XDMA",
        "end": "Water tower",
        "distance_nm": round(first.distance_nm, 3),
        "true_course_deg": round(first.true_course_deg, 2),
        "variation_deg_east": -0.75,
        "magnetic_course_deg": round(first.magnetic_course_deg, 2),
    }
    assert point["properties"] == {
        "part": "turning point",
        "number": 1,
        "name": "XDMA",
        "kind": "airport",
        "ident": "XDMA",
        "place": "Demo Prairie Field",
        "elevation_ft": 1317.0,
        "distance_from_start_nm": 0.0,
        "distance_to_go_nm": round(plot.route.distance_nm, 3),
        "note": "",
    }
    assert mark["id"] == "checkpoint-1"
    assert mark["properties"]["distance_from_start_nm"] == 10.0


def test_north_is_0_and_an_elevation_not_in_the_data_is_null() -> None:
    plot = plots.plot_of(
        [plots.at_point("A", 10.0, 20.0), plots.at_point("B", 11.0, 19.99999)], variations=(0.001,)
    )
    (leg,) = features(plot, "leg")
    assert leg["properties"]["true_course_deg"] == 0.0
    assert features(plots.short(), "turning point")[2]["properties"]["elevation_ft"] is None


def test_cautions_and_data_dates_are_in_it(plot: Plot) -> None:
    whole = json.loads(geojson(plot))
    notes = "\n".join(whole["notes"])
    for line in (*wording.STANDING, *(caution.text for caution in plot.cautions)):
        assert line in notes
    for date in (plot.data.airports, plot.data.navaids, plot.data.magnetic_model_valid_to):
        assert date in notes
    assert (whole["name"], whole["date"]) == (shown_name(plot.name), plot.date.isoformat())


def test_it_is_utf_8_with_one_feature_a_line() -> None:
    plot = plots.named("Zürich", "機場")
    document = geojson(plot)
    assert document.decode("utf-8").count("Zürich") == 2
    assert document.count(b"\n") == 2 + 1 + 2 + len(plot.checkpoints)
    assert b"\r" not in document
    for line in document.splitlines()[1:-1]:
        assert json.loads(line.rstrip(b","))["type"] == "Feature"
