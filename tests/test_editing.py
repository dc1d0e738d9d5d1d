"""Changes to a typed route leave everything else in it as it was typed."""

from __future__ import annotations

import pytest

from plotter.earth.coordinates import parse_coordinate
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.route.editing import (
    ends_of,
    inserted,
    moved,
    named,
    point_count,
    points_of,
    removed,
    reordered,
    replaced,
    turned_back,
    typed_position,
)

QUOTED = "KAAA '44 30 N 092 15 W' KBBB"


def test_speed_groups_and_directs_are_no_points() -> None:
    route = "N0105A055 KAAA DCT KBBB/N0110A075 dct KCCC"
    assert points_of(route) == ["KAAA", "KBBB/N0110A075", "KCCC"]
    assert point_count("") == point_count("   ") == 0


def test_a_quoted_point_is_one_and_goes_with_its_quotes() -> None:
    assert points_of(QUOTED) == ["KAAA", "44 30 N 092 15 W", "KBBB"]
    assert moved(QUOTED, 1, "KCCC") == "KAAA KCCC KBBB"
    assert removed(QUOTED, 1) == "KAAA KBBB"
    assert turned_back(QUOTED) == "KBBB '44 30 N 092 15 W' KAAA"
    assert inserted(QUOTED, 2, "KCCC") == "KAAA '44 30 N 092 15 W' KCCC KBBB"
    assert ends_of(QUOTED)[1] == QUOTED.index("KBBB") - 1


def test_a_moved_point_keeps_its_name_and_its_group_and_a_replaced_one_does_not() -> None:
    route = "KAAA BARN=44.1,-92.5/N0105A055 KBBB"
    assert moved(route, 1, "X") == "KAAA BARN=X/N0105A055 KBBB"
    assert replaced(route, 1, "X") == "KAAA X KBBB"


@pytest.mark.parametrize(
    ("route", "index", "wanted"),
    [
        ("", 0, "X"),
        ("KAAA", 0, "X KAAA"),
        ("KAAA  ", 1, "KAAA X"),
        ("N0105A055 KAAA KBBB", 0, "N0105A055 X KAAA KBBB"),
        ("KAAA DCT KBBB", 2, "KAAA DCT KBBB X"),
    ],
)
def test_a_point_put_in(route: str, index: int, wanted: str) -> None:
    assert inserted(route, index, "X") == wanted


@pytest.mark.parametrize(
    ("route", "index", "wanted"),
    [
        ("KAAA", 0, ""),
        ("KAAA DCT KBBB", 0, "KBBB"),
        ("KAAA DCT KBBB", 1, "KAAA"),
        ("KAAA DCT KBBB DCT KCCC", 1, "KAAA DCT KCCC"),
    ],
)
def test_a_point_taken_out_takes_a_loose_direct_along(route: str, index: int, wanted: str) -> None:
    assert removed(route, index) == wanted


@pytest.mark.parametrize("index", [-1, 2, 99])
def test_a_point_that_is_not_there_is_refused(index: int) -> None:
    with pytest.raises(InputError, match="its points are numbered 1 to 2"):
        moved("KAAA KBBB", index, "X")
    with pytest.raises(InputError, match="its points are numbered 1 to 2"):
        removed("KAAA KBBB", index)


@pytest.mark.parametrize("order", [[0], [0, 0], [1, 2], [0, 1, 2]])
def test_an_order_that_is_none_is_refused(order: list[int]) -> None:
    with pytest.raises(InputError, match="every point"):
        reordered("KAAA KBBB", order)


@pytest.mark.parametrize(
    "position",
    [
        Position(43.9088, -92.5),
        Position(-0.00001, 0.00001),
        Position(90.0, 180.0),
        Position(-89.99999, -179.99999),
    ],
)
def test_a_written_position_reads_as_itself_to_half_a_second(position: Position) -> None:
    read = parse_coordinate(typed_position(position)).position
    assert abs(read.latitude_deg - position.latitude_deg) <= 0.5 / 3600 + 1e-12
    turn = abs(read.longitude_deg - position.longitude_deg)
    assert min(turn, 360 - turn) <= 0.5 / 3600 + 1e-12


def test_a_name_is_given_changed_and_taken_away_again() -> None:
    assert named(QUOTED, 1, "BARN") == "KAAA BARN='44 30 N 092 15 W' KBBB"
    assert named("KAAA OLD=44.5,-92.25 KBBB", 1, "NEW") == "KAAA NEW=44.5,-92.25 KBBB"
    assert named("KAAA OLD=44.5,-92.25 KBBB", 1, "") == "KAAA 44.5,-92.25 KBBB"


@pytest.mark.parametrize("name", ["two words", "A=B", "'", "<b>", "x" * 61])
def test_what_is_no_name_is_refused(name: str) -> None:
    with pytest.raises(InputError, match="is not a valid point name; use one word"):
        named("KAAA KBBB", 0, name)
