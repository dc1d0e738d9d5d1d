"""The tables themselves: sorted, unique, in range, joined, clean; and what was found in them."""

from __future__ import annotations

import csv
import datetime as dt
import json
import unicodedata
import zoneinfo
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from plotter.earth.geodesic import distance_nm
from plotter.earth.magnetism import variation
from plotter.earth.position import Position

DATA = Path(__file__).parent.parent / "data"
CSV_TABLES = ("airports", "runways", "frequencies", "navaids", "towns")
TIERS = {"world": (360, 0.05), "coarse": (20, 0.01), "fine": (5, 0.001)}
LAYERS = ["land", "coast", "border", "state", "lake", "river"]
KINDS = {
    "small_airport",
    "medium_airport",
    "large_airport",
    "heliport",
    "seaplane_base",
    "balloonport",
    "closed",
}
DIFFER = "two sources differ, first used"
DMS = "second source reads degrees-minutes-seconds as decimals, first used"
BY_TOWN = "two sources differ, second used: it lies by the town both name, the first far from it"
ANOTHER = "code names another field in the second source, not compared"
RULES = {"one source", "two sources agree", DIFFER, DMS, BY_TOWN, ANOTHER}


@cache
def rows(table: str) -> tuple[dict[str, str], ...]:
    with (DATA / f"{table}.csv").open(encoding="utf-8", newline="") as handle:
        return tuple(csv.DictReader(handle, strict=True))


@cache
def airports() -> dict[str, dict[str, str]]:
    return {row["ident"]: row for row in rows("airports")}


@cache
def cells(tier: str) -> dict[str, dict[str, list[list[int]]]]:
    lines = (DATA / "basemap" / f"{tier}.jsonl").read_text(encoding="utf-8").splitlines()
    read: list[dict[str, Any]] = [json.loads(line) for line in lines]
    return {cell["cell"]: cell["layers"] for cell in read}


def in_range(table: str, column: str, low: float, high: float) -> int:
    values = [float(row[column]) for row in rows(table) if row[column]]
    assert low <= min(values)
    assert max(values) <= high
    return len(values)


@pytest.mark.parametrize("table", CSV_TABLES)
def test_a_table_is_sorted_without_repeats_and_clean(table: str) -> None:
    listed = [tuple(row.values()) for row in rows(table)]
    assert listed == sorted(set(listed))
    content = (DATA / f"{table}.csv").read_bytes()
    assert b"\r" not in content
    text = content.decode("utf-8")
    assert unicodedata.is_normalized("NFC", text)
    kinds = {unicodedata.category(mark) for mark in set(text) - {"\n", "\u200c", "\u200d"}}
    assert not kinds & {"Cc", "Cf", "Co", "Cn", "Zl", "Zp"}
    assert all(value == value.strip() for row in listed for value in row)


def test_keys_are_unique() -> None:
    assert len(airports()) == len(rows("airports"))
    assert len({row["key"] for row in rows("navaids")}) == len(rows("navaids"))
    assert len({ident.upper() for ident in airports()}) == len(airports())


@pytest.mark.parametrize("column", ["icao", "iata", "gps"])
def test_a_code_of_these_columns_is_borne_once(column: str) -> None:
    codes = Counter(row[column] for row in rows("airports") if row[column])
    assert codes
    assert max(codes.values()) == 1


def test_the_world_is_there() -> None:
    kinds = Counter(row["kind"] for row in rows("airports"))
    assert set(kinds) == KINDS
    assert kinds["small_airport"] + kinds["medium_airport"] + kinds["large_airport"] > 47_000
    assert kinds["closed"] > 12_000
    assert len(rows("navaids")) == 11_018


def test_everything_that_belongs_to_an_airport_has_one() -> None:
    for table, column in (
        ("runways", "airport"),
        ("frequencies", "airport"),
        ("navaids", "associated_airport"),
    ):
        assert {row[column] for row in rows(table)} - {""} <= set(airports())


def test_numbers_are_in_range() -> None:
    for table in ("airports", "navaids", "towns"):
        assert in_range(table, "latitude_deg", -90, 90) == len(rows(table))
        assert in_range(table, "longitude_deg", -180, 180) == len(rows(table))
    in_range("airports", "elevation_ft", -1_300, 18_000)
    in_range("runways", "length_ft", 1, 30_000)
    in_range("runways", "width_ft", 1, 9_000)
    for end in ("1", "2"):
        in_range("runways", f"heading_{end}_true_deg", 0, 360)
    assert in_range("frequencies", "frequency_mhz", 0.1, 1_800) == len(rows("frequencies"))
    in_range("navaids", "frequency_khz", 100, 136_000)
    in_range("navaids", "station_declination_deg_east", -60, 60)
    in_range("towns", "population", 1, 40_000_000)
    for row in rows("runways"):
        assert {row["lighted"], row["closed"]} <= {"0", "1"}


def test_numbers_are_written_plainly() -> None:
    for table in CSV_TABLES:
        number_columns = [c for c in rows(table)[0] if c.endswith(("_deg", "_ft", "_nm", "hz"))]
        for column in number_columns:
            for value in {row[column] for row in rows(table)} - {""}:
                whole, point, decimals = value.partition(".")
                assert whole.removeprefix("-").isdigit(), (table, column, value)
                assert not point or (decimals.isdigit() and decimals[-1] != "0"), value
                assert value != "-0"


def test_time_zones_are_known() -> None:
    zones = {row["time_zone"] for row in rows("airports")} - {""}
    assert len(zones) > 300
    assert zones <= zoneinfo.available_timezones()
    assert airports()["KDEN"]["time_zone"] == "America/Denver"
    assert airports()["EGLL"]["time_zone"] == "Europe/London"


def test_position_rules_are_the_six_and_fit_their_distance() -> None:
    assert {row["position_rule"] for row in rows("airports")} == RULES
    for row in rows("airports"):
        rule, apart_nm = row["position_rule"], row["sources_apart_nm"]
        assert (rule in ("one source", ANOTHER)) == (apart_nm == ""), row
        if apart_nm:
            assert (float(apart_nm) <= 0.5) == (rule == "two sources agree"), row


def test_brussels_is_known_to_be_wrong_in_the_second_source() -> None:
    brussels = airports()["EBBR"]
    assert brussels["position_rule"] == DMS
    assert round(float(brussels["sources_apart_nm"]), 1) == 22.9
    # 50°54'05"N 004°29'04"E: aerodrome reference point in the Belgian AIP (from memory)
    published = Position(50 + 54 / 60 + 5 / 3600, 4 + 29 / 60 + 4 / 3600)
    used = Position(float(brussels["latitude_deg"]), float(brussels["longitude_deg"]))
    assert distance_nm(used, published) < 0.5


def test_degrees_minutes_seconds_read_as_decimals_are_a_handful() -> None:
    found = [row for row in rows("airports") if row["position_rule"] == DMS]
    assert len(found) == 19
    assert Counter(row["country"] for row in found) == {"BE": 17, "LU": 1, "IN": 1}


def test_where_the_second_position_is_used_it_lies_by_the_town() -> None:
    found = {row["ident"]: row for row in rows("airports") if row["position_rule"] == BY_TOWN}
    assert set(found) == {"28OR", "43OR", "4KY5"}
    for ident, town in (("28OR", "Newberg"), ("43OR", "Bend")):
        (place,) = (t for t in rows("towns") if t["name"] == town and t["country"] == "US")
        assert distance_nm(_position(found[ident]), _position(place)) < 10


def test_a_city_comes_before_its_parts() -> None:
    """GeoNames lists New South Memphis with more people than Memphis, Tennessee."""
    people = {(t["name"], t["country"]): t["population"] for t in rows("towns")}
    for part in ("New South Memphis", "North La Crosse", "West Coon Rapids"):
        assert people[part, "US"] == "", part
    assert people["Coon Rapids", "US"] == "62240"


def _position(row: dict[str, str]) -> Position:
    return Position(float(row["latitude_deg"]), float(row["longitude_deg"]))


def test_a_reused_code_is_a_question_of_identity_not_of_position() -> None:
    found = [row for row in rows("airports") if row["position_rule"] == ANOTHER]
    assert len(found) > 1_000
    assert airports()["01WI"] in found  # closed; the second source has another field under 01WI
    assert all(row["sources_apart_nm"] == "" for row in found)


def test_rows_the_dataset_disowns_are_left_out() -> None:
    for row in rows("airports"):
        assert not row["name"].lower().startswith(("(dup", "{dup", "(bogus", "(misloc"))


def test_station_declination_is_positive_east() -> None:
    """Against the World Magnetic Model: stations were set to the variation of their time.

    Variation has moved by a few degrees since, so 8 degrees are allowed, and one in twenty more.
    """
    stations = [row for row in rows("navaids") if row["station_declination_deg_east"]][::10]
    good = 0
    for row in stations:
        today = variation(_position(row), dt.date(2025, 1, 1)).degrees_east
        good += abs(float(row["station_declination_deg_east"]) - today) <= 8
    assert len(stations) > 250
    assert good / len(stations) > 0.95


def test_only_beacons_with_radials_have_a_declination() -> None:
    kinds = {row["kind"] for row in rows("navaids") if row["station_declination_deg_east"]}
    assert kinds == {"VOR", "VOR-DME", "VORTAC"}


@pytest.mark.parametrize("tier", TIERS)
def test_cells_are_sorted_and_named_by_their_corner(tier: str) -> None:
    names = list(cells(tier))
    assert names == sorted(set(names))
    if tier == "world":
        assert names == ["world"]
        return
    for name in names:
        south, west = int(name[:3]), int(name[3:])
        assert name == f"{south:+03d}{west:+04d}"
        assert (south + 90) % TIERS[tier][0] == (west + 180) % TIERS[tier][0] == 0


def absolute(steps: list[int]) -> Iterator[tuple[int, int]]:
    x = y = 0
    for dx, dy in zip(steps[::2], steps[1::2], strict=True):
        x, y = x + dx, y + dy
        yield x, y


@pytest.mark.parametrize("tier", ["coarse", "fine"])
def test_shapes_lie_in_their_cell_grown_by_a_hair(tier: str) -> None:
    size_deg, unit_deg = TIERS[tier]
    for name, layers in cells(tier).items():
        assert list(layers) == [layer for layer in LAYERS if layer in layers]
        for layer, shapes in layers.items():
            assert shapes == sorted(shapes)
            area = layer in ("land", "lake")
            hair = 2 if area else 0
            low_x, low_y = (round(int(name[i:j]) / unit_deg) for i, j in ((3, 7), (0, 3)))
            side = round(size_deg / unit_deg)
            for shape in shapes:
                points = list(absolute(shape))
                assert len(points) >= (3 if area else 2)
                assert all(low_x - hair <= x <= low_x + side + hair for x, _ in points), name
                assert all(low_y - hair <= y <= low_y + side + hair for _, y in points), name


def filled(rings: list[list[int]], x: float, y: float) -> bool:
    """Even-odd rule."""
    inside = False
    for ring in rings:
        points = list(absolute(ring))
        for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1], strict=True):
            if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
                inside = not inside
    return inside


def surface(tier: str, latitude: float, longitude: float) -> str:
    size_deg, unit_deg = TIERS[tier]
    south, west = (int(value // size_deg) * size_deg for value in (latitude, longitude))
    if tier == "coarse":
        south = int((latitude + 90) // 20) * 20 - 90
        west = int((longitude + 180) // 20) * 20 - 180
    name = "world" if tier == "world" else f"{south:+03d}{west:+04d}"
    layers = cells(tier).get(name, {})
    x, y = longitude / unit_deg, latitude / unit_deg
    if filled(layers.get("lake", []), x, y):
        return "lake"
    return "land" if filled(layers.get("land", []), x, y) else "sea"


# What everyone's atlas shows there (from memory).
@pytest.mark.parametrize(
    ("latitude", "longitude", "expected"),
    [
        (44.0, -87.0, "lake"),  # Lake Michigan
        (41.8, -88.5, "land"),  # west of Chicago
        (45.0001, -93.0, "land"),  # on the edge of a cell
        (44.9999, -94.9999, "land"),  # beside a corner of four cells
        (38.0, -60.0, "sea"),  # Atlantic
        (-17.8, 178.0, "land"),  # Viti Levu, Fiji
        (-16.85, 179.99, "land"),  # Taveuni, west of the antimeridian
        (-16.85, -179.99, "land"),  # and east of it
        (42.0, 50.5, "sea"),  # Caspian Sea: a hole in the land
        (61.1, 6.5, "sea"),  # Sognefjord
        (-80.0, 0.0, "land"),  # Antarctica
    ],
)
def test_land_lake_and_sea_are_where_they_are(
    latitude: float, longitude: float, expected: str
) -> None:
    assert surface("fine", latitude, longitude) == expected


@pytest.mark.parametrize("tier", ["world", "coarse"])
def test_coarser_tiers_show_the_continents(tier: str) -> None:
    assert surface(tier, 40.0, -100.0) == "land"
    assert surface(tier, 44.0, -87.0) == "lake"
    assert surface(tier, 30.0, -50.0) == "sea"
    assert surface(tier, -25.0, 135.0) == "land"


def test_airfields_far_inland_stand_on_land() -> None:
    """Colorado, Kansas and Wyoming have no coast: every open field there is on land."""
    inland = [
        row
        for row in rows("airports")
        if row["region"] in ("US-CO", "US-KS", "US-WY") and row["kind"] == "small_airport"
    ][::40]
    assert len(inland) > 15
    for row in inland:
        where = _position(row)
        assert surface("fine", where.latitude_deg, where.longitude_deg) == "land", row["ident"]


def test_the_map_stays_small() -> None:
    sizes = {tier: (DATA / "basemap" / f"{tier}.jsonl").stat().st_size for tier in TIERS}
    assert sizes["world"] < 50_000  # goes whole into every map
    assert sizes["coarse"] < 1_100_000
    assert sizes["fine"] < 6_500_000
