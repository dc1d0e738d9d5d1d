"""Names for small units: plain, short, no two places alike."""

from __future__ import annotations

import re

import awkward
import pytest

from plotter.formats.gps_unit import unit_name, unit_names


@pytest.mark.parametrize(
    ("text", "limit", "expected"),
    [
        ("KRST", 6, "KRST"),
        ("Water tower", 10, "WATERTOWER"),
        ("Water tower", 6, "WATERT"),
        ("Zürich Straße", 10, "ZURICHSTRA"),
        ("Łódź", 6, "LODZ"),
        ("Ærø", 6, "AEROE"),
        ("Þórshöfn", 10, "THORSHOFN"),
        ("ﬁeld №5", 10, "FIELDNO5"),
        ("١٢", 6, ""),
        ("機場", 6, ""),
        ("--", 6, ""),
    ],
)
def test_a_name_in_capitals_and_digits(text: str, limit: int, expected: str) -> None:
    assert unit_name(text, limit) == expected


def named(*names: str, limit: int = 6) -> list[str]:
    return unit_names(names, range(len(names)), limit)


def test_names_that_would_be_the_same_are_numbered_within_the_limit() -> None:
    assert named("Old mill north", "Old mill south", "Old mill west") == [
        "OLDMIL",
        "OLDMI2",
        "OLDMI3",
    ]
    twelve = named(*(f"Old mill {letter}" for letter in "abcdefghijkl"))
    assert twelve[8:10] == ["OLDMI9", "OLDM10"]


def test_an_identifier_keeps_its_form_whatever_stands_before_it() -> None:
    assert named("k.rst", "krst", "KRST") == ["KRST2", "KRST3", "KRST"]
    assert named("A", "a", "A2") == ["A", "A3", "A2"]


def test_two_places_of_one_identifier_are_told_apart_and_one_place_is_not() -> None:
    assert unit_names(["KRST", "KLSE", "KRST"], [1, 2, 1], 6) == ["KRST", "KLSE", "KRST"]
    assert unit_names(["KRST", "KLSE", "KRST"], [1, 2, 3], 6) == ["KRST", "KLSE", "KRST2"]
    assert unit_names(["North", "South"], [1, 1], 6) == ["NORTH", "SOUTH"]


def test_a_name_of_which_nothing_can_be_kept_becomes_its_number() -> None:
    assert named("機場", "KRST", "!") == ["P1", "KRST", "P3"]
    assert named("P2", "機場") == ["P2", "P22"]


@pytest.mark.parametrize("limit", [6, 10])
def test_hostile_names_come_out_plain_and_different(limit: int) -> None:
    short = named(*awkward.NAMES.values(), limit=limit)
    assert all(re.fullmatch(rf"[A-Z0-9]{{1,{limit}}}", name) for name in short)
    assert len(set(short)) == len(short)


def test_a_thousand_names_alike_are_told_apart() -> None:
    short = named(*["Checkpoint"] * 5_000)
    assert len(set(short)) == 5_000
    assert max(map(len, short)) == 6
