"""Typed coordinates: every published notation, every way to get one wrong."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from plotter.earth.coordinates import (
    ParsedCoordinate,
    decimal_text,
    doc4444,
    looks_like_coordinate,
    parse_coordinate,
)
from plotter.earth.position import Position
from plotter.errors import PositionError

ROWS = json.loads(
    (Path(__file__).parent / "published" / "coordinates.json").read_text(encoding="utf-8")
)
READ = [row for row in ROWS if row["topic"] == "coordinate_parse" and "lat" in row["expected"]]
REFUSED = [row for row in ROWS if row["expected"] == {"error": True}]
WRITTEN = [row for row in ROWS if row["topic"] == "coordinate_format"]
NAMED_POINT = [row for row in ROWS if "point" in row["expected"]]
OMAHA = Position(41.234, -95.5)
ROCHESTER = Position(43.0 + 54.5 / 60.0, -92.5)


def test_every_published_row_is_used() -> None:
    assert len(READ) + len(REFUSED) + len(WRITTEN) + len(NAMED_POINT) == len(ROWS) == 17


@pytest.mark.parametrize("row", READ, ids=lambda row: row["id"])
def test_published_notation(row: dict[str, Any]) -> None:
    ours, expected = parse_coordinate(row["inputs"]), row["expected"]
    within = 0.0 if row["tolerance"] == "exact" else row["tolerance"]
    assert ours.position.latitude_deg == pytest.approx(expected["lat"], abs=within, rel=0.0)
    assert ours.position.longitude_deg == pytest.approx(expected["lon"], abs=within, rel=0.0)
    assert ours.height_m == expected.get("height")
    assert looks_like_coordinate(row["inputs"])


@pytest.mark.parametrize("row", REFUSED, ids=lambda row: row["id"])
def test_published_ranges(row: dict[str, Any]) -> None:
    with pytest.raises(PositionError) as caught:
        parse_coordinate(row["inputs"])
    assert caught.value.code == "coordinate-range"
    assert looks_like_coordinate(row["inputs"])


@pytest.mark.parametrize("row", NAMED_POINT, ids=lambda row: row["id"])
def test_a_bearing_and_distance_from_a_point_is_no_coordinate(row: dict[str, Any]) -> None:
    assert not looks_like_coordinate(row["inputs"])
    with pytest.raises(PositionError):
        parse_coordinate(row["inputs"])


@pytest.mark.parametrize("row", WRITTEN, ids=lambda row: row["id"])
def test_published_form_written(row: dict[str, Any]) -> None:
    place = Position(row["inputs"]["lat"], row["inputs"]["lon"])
    assert doc4444(place) == row["expected"]["text"]


@pytest.mark.parametrize(
    ("text", "position", "notation"),
    [
        ("41.234,-95.5", OMAHA, "decimal"),
        ("41.234, -95.5", OMAHA, "decimal"),
        ("  +41.234 ,-95.50 ", OMAHA, "decimal"),
        ("41.234 -95.5", OMAHA, "decimal"),
        ("41.234N,95.5W", OMAHA, "decimal"),
        ("41.234n 95.5w", OMAHA, "decimal"),
        ("N41.234 W95.5", OMAHA, "decimal"),
        ("41.234°N 95.5°W", OMAHA, "decimal"),
        ("41.234°, -95.5°", OMAHA, "decimal"),
        ("−37.5,−122.1", Position(-37.5, -122.1), "decimal"),
        ("-37.5,-122.1", Position(-37.5, -122.1), "decimal"),
        (".5,-.5", Position(0.5, -0.5), "decimal"),
        ("0,0", Position(0.0, 0.0), "decimal"),
        ("-90,180", Position(-90.0, 180.0), "decimal"),
        ("43°54.5'N 92°30.0'W", ROCHESTER, "degrees-minutes"),
        ("43°54.5′N, 92°30.0′W", ROCHESTER, "degrees-minutes"),
        ("43º 54.5’ N   092º 30’ W", ROCHESTER, "degrees-minutes"),
        ("N43 54.5 W092 30.0", ROCHESTER, "degrees-minutes"),
        ("N43°54.5' W092°30.0'", ROCHESTER, "degrees-minutes"),
        ("43 54 30 N 092 30 00 W", ROCHESTER, "degrees-minutes-seconds"),
        ("43°54'30\"N 92°30'00\"W", ROCHESTER, "degrees-minutes-seconds"),
        ("43°54′30″N 92°30′0″W", ROCHESTER, "degrees-minutes-seconds"),
        ("43°54''N 92°30'W".replace("''", "'30''"), ROCHESTER, "degrees-minutes-seconds"),
        ("43-54-30.0N 092-30-00.0W", ROCHESTER, "degrees-minutes-seconds"),
        ("43:54:30N 092:30:00W", ROCHESTER, "degrees-minutes-seconds"),
        ("4354.5N 09230.0W", ROCHESTER, "packed"),
        ("435430N0923000W", ROCHESTER, "packed"),
        ("46n078w", Position(46.0, -78.0), "doc-4444"),
        ("4620S07805E", Position(-46 - 20 / 60, 78 + 5 / 60), "doc-4444"),
        ("9000N18000W", Position(90.0, -180.0), "doc-4444"),
        ("+40-075", Position(40.0, -75.0), "iso-6709"),
        ("+4012.22-07500.25", Position(40 + 12.22 / 60, -75 - 0.25 / 60), "iso-6709"),
        ("-00.5-000.5/", Position(-0.5, -0.5), "iso-6709"),
    ],
)
def test_read(text: str, position: Position, notation: str) -> None:
    ours = parse_coordinate(text)
    assert ours.position.latitude_deg == pytest.approx(position.latitude_deg, abs=1e-13)
    assert ours.position.longitude_deg == pytest.approx(position.longitude_deg, abs=1e-13)
    assert ours.notation == notation
    assert ours.height_m is None
    assert looks_like_coordinate(text)


def test_minus_nought_is_nought() -> None:
    place = parse_coordinate("-0,-0.0").position
    assert math.copysign(1.0, place.latitude_deg) == math.copysign(1.0, place.longitude_deg) == 1.0


def test_the_reference_system_and_the_height_are_kept() -> None:
    ours = parse_coordinate("+27.5916+086.5640+8850CRSWGS_84/")
    assert ours == ParsedCoordinate(Position(27.5916, 86.564), 8850.0, "iso-6709", "WGS_84")
    assert parse_coordinate("+40-075-12.5/").height_m == -12.5


@pytest.mark.parametrize(
    ("text", "turned"),
    [
        ("-122.1,37.5", "37.5,-122.1"),
        ("-122.1, 37.5", "37.5, -122.1"),
        ("-122.1 37.5", "37.5 -122.1"),
        ("95,10", "10,95"),
        ("W092 30.0 N43 54.5", "N43 54.5 W092 30.0"),
        ("92°30'W 43°54.5'N", "43°54.5'N 92°30'W"),
        ("5W 4N", "4N 5W"),
        ("078W46N", "46N078W"),
        ("-075+40/", "+40-075/"),
    ],
)
def test_longitude_first_is_refused_and_the_turned_pair_offered(text: str, turned: str) -> None:
    with pytest.raises(PositionError, match="latitude comes first") as caught:
        parse_coordinate(text)
    assert caught.value.code == "coordinate-swapped"
    assert caught.value.candidates == (turned,)
    parse_coordinate(turned)


@pytest.mark.parametrize(
    ("text", "wrong", "says"),
    [
        ("95,-100", "95", "latitude 95 is out of range; enter -90 to 90"),
        ("-95,-100.5", "95", "latitude -95 is out of range; enter -90 to 90"),
        ("41.2,181", "181", "longitude 181 is out of range; enter -180 to 180"),
        ("200,10", "200", "latitude 200 is out of range; enter -90 to 90"),
        ("91S100W", "91", "latitude 91S is out of range; enter -90 to 90"),
        ("-91,200", "-91,200", "enter -90 to 90, and longitude 200 is out of range"),
        (
            "4661N18100W",
            "4661N18100W",
            "enter 0 to less than 60, and longitude 181W is out of range",
        ),
        ("4660N07805W", "60", "60 minutes"),
        ("462060N0780512W", "60", "60 seconds"),
        ("46°61'N 78°W", "61", "61 minutes"),
        ("4600N18001W", "18001", "longitude 180.017"),
        ("90°00'01\"N 0°E", "90°00'01", "latitude 90.0003"),
        ("+9001-00000/", "9001", "latitude 90.0167"),
        ("46N78W", "46N78W", "46N078W"),
        ("4620N078W", "4620N078W", "4620N07805W"),
        ("460N078W", "460N078W", "digits"),
        ("N46W78", "N46W78", "digits"),
        ("435N 09230W", "435", "3 digits"),
        ("+40-75/", "40-75", "latitude and longitude need the same precision"),
        ("+4012-075/", "4012-075", "latitude and longitude need the same precision"),
        (
            "41,234 -95,5",
            ",234 -95,",
            "use a comma only once, between latitude and longitude, and a point for decimals",
        ),
        (
            "41,234 -95.5",
            ",",
            "use a comma only once, between latitude and longitude, and a point for decimals",
        ),
        (
            "43 54,5N 92 30W",
            ",",
            "use a comma only once, between latitude and longitude, and a point for decimals",
        ),
        (
            "41.2,-95.5,100",
            ",-95.5,",
            "use a comma only once, between latitude and longitude, and a point for decimals",
        ),
        ("nan,5", "nan", "' does not belong in a coordinate"),
        ("5,inf", "inf", "' does not belong in a coordinate"),
        ("1e1,5", "e", "one hemisphere letter each"),
        ("41.5N,-95.5", "N", "one hemisphere letter each"),
        ("-41.5N,95.5W", "-41.5N", "a sign and a hemisphere letter mean the same; remove one"),
        ("43 54.5 -92 30", "43 54.5", "hemisphere letter"),
        ("43 54 N 92 30 N", "43 54 N 92 30 N", "one latitude and one longitude"),
        ("41.2 N W 95", "W", "both after them"),
        ("43N54 20W30", "W", "both after them"),
        ("43.5 30N 92W", "43.5", "only the last number may have decimals"),
        ("43'54°N 92W", "'", "does not belong"),
        ("1 2 3 4N 92W", "1 2 3 4N", "4 numbers where degrees, minutes and seconds belong"),
        ("1.2.3,4", "1.2.3", "more than one decimal point"),
        ("--5,3", "-", "does not belong"),
        ("43-N 92W", "-", "does not belong"),
        ("41.5", "41.5", "not latitude and longitude"),
        ("", "", "not latitude and longitude"),
        ("N,W", "N", "0 numbers where degrees, minutes and seconds belong"),
        ("４６,5", "４", "'４' does not belong in a coordinate"),
        (",5", ",5", "only one of latitude and longitude given; enter both"),
    ],
)
def test_refused_with_a_caret_under_the_wrong_part(text: str, wrong: str, says: str) -> None:
    with pytest.raises(PositionError) as caught:
        parse_coordinate(text)
    error = caught.value
    assert says in error.message
    assert error.where is not None
    assert error.where.text == text
    assert text[error.where.start : error.where.end] == wrong


@pytest.mark.parametrize(
    "text",
    ["4660N07805W", "41.5,195", "nan,5", "inf,inf", "1e5,5", "95.5", "+40-75/", "43°54'", "N43W92",
     "-5", "43 54 N", "46N78W"],
)  # fmt: skip
def test_what_is_meant_as_a_coordinate_is_known_as_one(text: str) -> None:
    assert looks_like_coordinate(text)


@pytest.mark.parametrize(
    "text",
    ["KOMA", "46N", "N43", "S50", "E16", "1N7", "00N", "SE-0012", "ES-0001", "US-0123", "DUB180040",
     "46N180040", "S1130", "N0105A055", "VFR", "DCT", "WEST", "95", "", " ", "N", "Big Barn 2",
     "nan", "MY FIELD, TEXAS"],
)  # fmt: skip
def test_an_identifier_is_not_taken_for_a_coordinate(text: str) -> None:
    assert not looks_like_coordinate(text)


@pytest.mark.parametrize(
    ("position", "text"),
    [
        (Position(46.9996, -78.9996), "4700N07900W"),
        (Position(-46.3333333, 8.0833333), "4620S00805E"),
        (Position(89.9999, 179.9999), "9000N18000E"),
        (Position(-0.001, -0.001), "0000N00000E"),
        (Position(0.0, -180.0), "0000N18000W"),
    ],
)
def test_written_as_doc_4444(position: Position, text: str) -> None:
    assert doc4444(position) == text
    parse_coordinate(text)


@pytest.mark.parametrize(
    ("position", "text"),
    [
        (Position(41.234, -95.5), "41.234,-95.5"),
        (Position(-3.1e-05, 3.1e-07), "-0.000031,0"),
        (Position(90.0, -180.0), "90,-180"),
        (Position(-1e-9, 100.0), "0,100"),
    ],
)
def test_written_as_decimals(position: Position, text: str) -> None:
    assert decimal_text(position) == text


def test_written_as_whole_degrees() -> None:
    assert decimal_text(Position(40.4, 100.0), 0) == "40,100"


def test_a_height_that_is_no_number_is_refused() -> None:
    with pytest.raises(PositionError, match="height"):
        parse_coordinate("+40-075+" + "9" * 400 + "/")
