"""The pilot's own points: every form that is read, every fault that is told."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from examples import TIMES
from hypothesis import given, settings
from hypothesis import strategies as st

from plotter.earth.position import Position
from plotter.errors import FileFault
from plotter.formats.points_file import MOST_POINTS, read_points_file
from plotter.formats.reading import read_file
from plotter.route.reading.points import OwnPoint

BARN = OwnPoint("Red barn", Position(43.95, -92.41), 1180.0, "silo, white roof")
CSV = "name,latitude,longitude,elevation_ft,note\n"
ROW = 'Red barn,43.95,-92.41,1180,"silo, white roof"\n'


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "points.csv"


def read(file: Path, text: str | bytes) -> list[OwnPoint]:
    file.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return list(read_points_file(file))


def test_a_csv_file(file: Path) -> None:
    assert read(file, CSV + ROW) == [BARN]


@pytest.mark.parametrize(
    "text",
    [
        "\ufeff" + CSV + ROW,
        (CSV + ROW).replace("\n", "\r\n"),
        'name;latitude;longitude;elevation_ft;note\nRed barn;43.95;-92.41;1180;"silo, white roof"',
        'NOTE,Lon,LAT,Name,elevation\n"silo, white roof",-92.41,43.95,Red barn,1180\n',
        CSV + "\n" + ROW + "\n\n",
    ],
    ids=["byte-order-mark", "crlf", "semicolons", "other-order", "blank-lines"],
)
def test_other_ways_to_write_it(file: Path, text: str) -> None:
    assert read(file, text) == [BARN]


def test_metres_become_feet(file: Path) -> None:
    points = read(file, "name,latitude,longitude,elevation_m\nBarn,44,-92,304.8\n")
    assert points[0].elevation_ft == pytest.approx(1000.0)


def test_a_geojson_file(tmp_path: Path) -> None:
    feature = {
        "type": "Feature",
        "geometry": {"type": "Point", "coordinates": [-92.41, 43.95, 304.8]},
        "properties": {"name": "Red barn", "note": "silo", "height_of_silo": 90},
    }
    path = tmp_path / "points.geojson"
    path.write_text(json.dumps({"type": "FeatureCollection", "features": [feature]}))
    (point,) = read_points_file(path)
    assert point.position == Position(43.95, -92.41)
    assert point.elevation_ft == pytest.approx(1000.0)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no column latitude"),
        ("name,latitude\nBarn,44\n", "no column longitude"),
        ("Barn,44,-92\n", "first line must be"),
        (
            "name,latitude,longitude,lat\nBarn,44,-92,10\n",
            "two columns are named latitude",
        ),
        (CSV, "no point"),
        (CSV + "Barn,95,-92,,\n", "latitude 95 is out of range"),
        (CSV + "Barn,44,-192,,\n", "longitude -192 is out of range"),
        (CSV + "Barn,nan,-92,,\n", "latitude 'nan' is not in decimal degrees"),
        (CSV + "Barn,north,-92,,\n", "latitude 'north' is not in decimal degrees"),
        (CSV + "Barn,4_4.5,-92,,\n", "latitude '4_4.5' is not in decimal degrees"),
        (CSV + "Barn,44,-92,1_000,\n", "line 2: elevation '1_000' is not a number"),
        (CSV + "Barn,-92,44,,\n", "are latitude and longitude exchanged?"),
        (CSV + ",44,-92,,\n", "line 2: the point has no name"),
        (CSV + "Barn,44,-92,high,\n", "line 2: elevation 'high' is not a number"),
        (CSV + "Barn,44,-92,1e9,\n", "elevation 1e+09 ft is out of range"),
        (CSV + "Barn,44,-92,,\nBARN,45,-92,,\n", "name 'BARN' is already used on line 2"),
        ("name;latitude;longitude\nBarn;44,5;-92,1\n", "write the decimals with a point"),
        (CSV + 'Barn,44,-92,,"never closed\n', "not CSV"),
        (b"name,latitude,longitude\nH\xe4user,44,-92\n", "not UTF-8 text"),
        (b"\xff\xfen\x00a\x00", "not UTF-8"),
        ('{"features": 3}', "no features"),
        ('{"features": [', "not JSON"),
        ("[" * 100_000, "no column"),
        ('{"a":' * 100_000, "nested too deep"),
        (
            '{"features": [{"geometry": {"type": "Polygon"}}]}',
            "only points with a name can be used",
        ),
        (
            '{"features": [{"geometry": {"type": "LineString", "coordinates": [[1, 2], [3, 4]]}}]}',
            "only points with a name can be used",
        ),
        (
            '{"features": [{"geometry": {"type": "MultiPoint", "coordinates": [[1, 2], [3, 4]]},'
            '"properties": {"name": "Barn"}}]}',
            "name 'Barn' is already used on feature 1",
        ),
        ('{"features": [{"geometry": {"type":"Point","coordinates":[{},1]}}]}', "no name"),
    ],
)
def test_faults_are_told_with_their_place(file: Path, text: str | bytes, words: str) -> None:
    with pytest.raises(FileFault) as caught:
        read(file, text)
    assert words in caught.value.message
    assert str(file) in caught.value.message
    assert caught.value.where is not None


def test_all_faults_at_once_but_no_flood(file: Path) -> None:
    rows = "".join(f"Barn {number},95,0,,\n" for number in range(30))
    with pytest.raises(FileFault) as caught:
        read(file, CSV + rows)
    assert caught.value.message.count("out of range") == 10
    assert "and 20 more" in caught.value.message


def test_more_rows_than_points_are_taken_are_refused(file: Path) -> None:
    rows = "".join(f"P{number},44,-92,,\n" for number in range(MOST_POINTS * 2))
    with pytest.raises(FileFault, match=r"more than 100,000 points"):
        read(file, CSV + rows)


def test_an_endless_file_is_not_read_whole(file: Path) -> None:
    file.write_bytes(b"")
    with file.open("r+b") as stream:
        stream.truncate(2_000_000_000)
    with pytest.raises(FileFault, match="larger than 16 MB"):
        read_points_file(file)


@pytest.mark.parametrize("name", ["missing.csv", "."])
def test_a_file_that_cannot_be_opened(tmp_path: Path, name: str) -> None:
    with pytest.raises(FileFault, match="cannot be read"):
        read_points_file(tmp_path / name)


def test_hostile_names_are_kept_as_text(file: Path) -> None:
    points = read(file, CSV + '"<img src=x onerror=alert(1)>",44,-92,,"${7*7}\u2028`"\n')
    assert points[0].name == "<img src=x onerror=alert(1)>"
    assert "\u2028" not in points[0].note


@settings(max_examples=80 * TIMES, deadline=None)
@given(st.binary(max_size=200))
def test_any_bytes_give_points_or_a_fault(
    tmp_path_factory: pytest.TempPathFactory, data: bytes
) -> None:
    path = tmp_path_factory.mktemp("any") / "points.csv"
    path.write_bytes(b"name,latitude,longitude\n" + data)
    try:
        assert list(read_points_file(path))
    except FileFault as fault:
        assert fault.message


@pytest.mark.parametrize(
    ("head", "row", "words"),
    [
        ("name,latitude,longitude", "Barn,44,5,-92,5", "5 cells under 3 column names"),
        ("name;latitude;longitude", "Barn;44.5;-92.5;x", "4 cells under 3 column names"),
    ],
)
def test_a_row_with_more_cells_than_heads_is_refused(
    tmp_path: Path, head: str, row: str, words: str
) -> None:
    """Decimal commas among commas would give 44 N 5 E."""
    path = tmp_path / "points.csv"
    path.write_text(f"{head}\n{row}\n", encoding="utf-8")
    for read in (read_points_file, read_file):
        with pytest.raises(FileFault, match="decimal point") as raised:
            read(path)
        assert words in raised.value.message


def test_empty_cells_at_the_end_of_a_row_do_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "points.csv"
    path.write_text("name,latitude,longitude\nBarn,44.5,-92.5,, \n", encoding="utf-8")
    assert len(read_points_file(path)) == 1


def test_a_geojson_position_of_four_numbers_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "points.geojson"
    path.write_text(
        '{"type": "Feature", "properties": {"name": "Barn"}, '
        '"geometry": {"type": "Point", "coordinates": [-92, 5, 44, 5]}}'
    )
    with pytest.raises(FileFault, match="a position has 4 numbers"):
        read_points_file(path)
