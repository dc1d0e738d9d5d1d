"""What is noted for a leg goes with its two ends."""

from __future__ import annotations

from typing import Any

import pytest

from plotter.flight.plan.leg_ends import by_ends, by_number, ends_of, ends_of_legs

THREE = ["KAAA", "KBBB", "KCCC"]
NOTED = [{"between": ["KBBB", "KCCC"], "measured_nm": 60.5}]


@pytest.mark.parametrize(
    ("points", "number"),
    [
        (THREE, 2),
        (["KBBB", "KCCC"], 1),
        (["KAAA", "KNEW", "KBBB", "KCCC", "KDDD"], 3),
        (["kaaa", "Barn=kbbb", "KCCC/N0105A055"], 2),
    ],
)
def test_a_note_stays_with_its_leg(points: list[str], number: int) -> None:
    made = by_number(NOTED, points)
    assert made.rows == [{"number": number, "measured_nm": 60.5}]
    assert made.aside == []


@pytest.mark.parametrize(
    "points", [THREE[::-1], ["KAAA", "KCCC"], ["KBBB", "KNEW", "KCCC"], ["KBBB"], []]
)
def test_a_note_whose_leg_is_gone_stands_aside_whole(points: list[str]) -> None:
    made = by_number(NOTED, points)
    assert made.rows == []
    assert made.aside == NOTED


def test_two_legs_between_the_same_points_are_two() -> None:
    points = ["KAAA", "KBBB", "KAAA", "KBBB"]
    assert ends_of_legs(points)[2] == ("KAAA", "KBBB", 2)
    rows = [{"number": 1, "altitude_ft": 3500}, {"number": 3, "altitude_ft": 5500}]
    kept = by_ends(rows, points)
    assert kept[1]["between"] == ["KAAA", "KBBB", 2]
    assert by_number(kept, points).rows == rows
    assert by_number(kept, ["KBBB", *points]).rows[1]["number"] == 4
    assert by_number(kept, points[:3]).aside == kept[1:]


@pytest.mark.parametrize("number", [0, 3, -1, "1", None, 1.0])
def test_a_number_that_is_no_leg_is_left_for_the_reader_to_refuse(number: Any) -> None:
    rows = [{"number": number, "altitude_ft": 3500}]
    assert by_ends(rows, THREE) == rows
    assert by_number(rows, THREE).rows == rows


@pytest.mark.parametrize(
    "between", [None, 7, "KA", [], ["KAAA"], ["KAAA", 7], ["A", "B", "C"], ["A", "B", 2, 3]]
)
def test_ends_that_are_none_are_left_for_the_reader_to_refuse(between: Any) -> None:
    row = {"between": between}
    assert ends_of(row) is None
    assert by_number([row], THREE).rows == [row]
