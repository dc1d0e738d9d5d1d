"""Codes like a mistyped one: slips, look-alikes, and what lies near."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rapidfuzz.distance import OSA

from plotter.earth.position import Position
from plotter.places.spelling import LONGEST, alike
from plotter.places.store import Store

CODES = frozenset(["KBOS", "KBOX", "BOS", "0B1", "OB2", "KMSP", "EDDF", "EDDM", "ABCDE", "B"])


def first(text: str) -> str:
    return alike(text, CODES, lambda code: [])[0]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("KBSO", "KBOS"),  # two changed places
        ("BKOS", "KBOS"),
        ("KBOSS", "KBOS"),  # one too many
        ("EDF", "EDDF"),  # one too few
        ("KB0S", "KBOS"),  # a figure for a letter
        ("0BI", "0B1"),  # a letter for a figure
        ("ob1", "0B1"),
        ("EDDG", "EDDF"),
        ("BACED", "ABCDE"),  # two slips in five letters
        (" kmps ", "KMSP"),
    ],
)
def test_what_was_meant_comes_first(typed: str, meant: str) -> None:
    assert first(typed) == meant


def test_codes_of_one_letter_are_like_anything_and_left_out() -> None:
    assert "B" not in alike("BB", CODES, lambda code: [])


@pytest.mark.parametrize("typed", ["", "QQQQ", "A" * (LONGEST + 1), "O" * 40, "東京"])
def test_nothing_like_it(typed: str) -> None:
    assert alike(typed, CODES, lambda code: []) == ()


def test_those_near_come_first_among_equals() -> None:
    there = {"EDDF": [Position(50.0, 8.5)], "EDDM": [Position(48.4, 11.8), Position(0.0, 0.0)]}
    for near, order in [
        (Position(46.0, 14.0), ("EDDM", "EDDF")),
        (Position(0.0, 1.0), ("EDDM", "EDDF")),
        (Position(54.0, 8.5), ("EDDF", "EDDM")),
        (None, ("EDDF", "EDDM")),
    ]:
        assert alike("EDDX", CODES, lambda code: there.get(code, []), near) == order


def test_a_real_slip_finds_the_airport_nearby(real_store: Store) -> None:
    assert real_store.suggestions("KDHL", 3, Position(43.9, -92.5))[0] == "KDLH"
    assert real_store.suggestions("KMPS", 3, Position(43.9, -92.5))[0] == "KMSP"


@given(st.text("ABO0I1", min_size=1, max_size=6), st.frozensets(st.text("ABO01", max_size=6)))
def test_slips_are_those_an_independent_library_counts(typed: str, codes: frozenset[str]) -> None:
    """Optimal string alignment of rapidfuzz is the outside authority for one slip."""
    found = alike(typed, codes, lambda code: [])
    within = {code for code in codes if len(code) > 1 and OSA.distance(typed, code) <= 1}
    assert within <= set(found)
    assert found == alike(typed, codes, lambda code: [])
    if typed in codes and len(typed) > 1:
        assert OSA.distance(found[0].replace("O", "0"), typed.replace("O", "0")) <= 1
