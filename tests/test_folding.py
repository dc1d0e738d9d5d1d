"""Names in plain letters."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.places.spelling import plain, telling, words


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("Zürich", "zurich"),
        ("Ærøskøbing", "aeroskobing"),
        ("Großostheim", "grossostheim"),
        ("Chicago O'Hare", "chicago ohare"),
        ("", ""),
    ],
)
def test_plain_letters(name: str, found: str) -> None:
    assert plain(name) == found


def test_usual_short_forms_are_written_out() -> None:
    assert words("St. Louis") == words("Saint Louis")
    assert words("Mt. Vernon") == words("MOUNT VERNON")


def test_dashes_part_words_and_apostrophes_do_not() -> None:
    assert words("Minneapolis–Saint Paul") == ["minneapolis", "saint", "paul"]
    assert words("O’Hare") == words("O'Hare") == ["ohare"]


def test_a_script_without_plain_letters_keeps_its_own() -> None:
    assert words("Київ") == ["київ"]


def test_words_that_say_only_what_it_is_are_set_aside_unless_all_are() -> None:
    assert telling(words("Demo Regional Airport")) == ["demo"]
    assert telling(words("Regional Airport")) == ["regional", "airport"]


@given(st.text(max_size=30))
def test_plain_stays_plain(name: str) -> None:
    once = plain(name)
    assert plain(once) == once
    assert all(letter.isascii() for letter in once)
