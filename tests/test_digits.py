"""Whole numbers as short text."""

from __future__ import annotations

import json

from hypothesis import given
from hypothesis import strategies as st

from plotter.maps.packing import ALPHABET, BASE, decoded, encoded
from plotter.maps.page import asset, sealed


@given(st.lists(st.integers(-4_000_000, 4_000_000), max_size=40))
def test_decoding_undoes_encoding(numbers: list[int]) -> None:
    assert decoded(encoded(numbers)) == numbers


@given(st.lists(st.integers(), max_size=10))
def test_neither_json_nor_html_has_anything_to_escape(numbers: list[int]) -> None:
    text = encoded(numbers)
    assert json.dumps(text) == f'"{text}"'
    assert sealed(text) == text


def test_the_alphabet_has_two_letters_for_each_digit() -> None:
    assert len(ALPHABET) == len(set(ALPHABET)) == 2 * BASE


def test_small_steps_take_one_letter_and_common_ones_two() -> None:
    assert {len(encoded([n])) for n in range(-22, 23)} == {1}
    assert {len(encoded([n])) for n in (-1000, -23, 23, 1000)} == {2}


def test_a_number_is_encoded_alike_whatever_came_before() -> None:
    assert encoded([5]) + encoded([-900]) == encoded([5, -900])


def test_the_script_counts_in_the_same_base() -> None:
    assert f"const BASE = {BASE};" in asset("map/base.js")
