"""A typed route cut into words that know where they stand."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from plotter.route.reading.text import words_of


def texts(route: str | list[str], one: str = "") -> list[str]:
    return [word.text for word in words_of(route, lambda text: text == one)]


def test_spaces_part_points() -> None:
    assert texts("  KAAA   KBBB\tKCCC\n") == ["KAAA", "KBBB", "KCCC"]


def test_an_argument_of_several_points_is_cut() -> None:
    assert texts(["KAAA KBBB", "KCCC"]) == ["KAAA", "KBBB", "KCCC"]


def test_an_argument_that_is_one_coordinate_stays_whole() -> None:
    assert texts(["KAAA", "43 54 N 092 30 W"], "43 54 N 092 30 W")[1] == "43 54 N 092 30 W"


def test_a_quoted_coordinate_may_hold_the_marks_of_minutes_and_seconds() -> None:
    assert texts("""KAAA '43°54.5' N 92°30.0' W' KBBB""") != []
    assert texts('KAAA "43°54\'30"N 92°30\'00"W" KBBB')[1] == "43°54'30\"N 92°30'00\"W"


def test_a_lone_quote_is_only_a_letter() -> None:
    assert texts("KAAA 'KBBB") == ["KAAA", "'KBBB"]


def test_nothing_typed_gives_no_words() -> None:
    assert texts("") == []
    assert texts([]) == []
    assert texts(["", "  "]) == []


@given(st.lists(st.text(max_size=12), max_size=6))
def test_every_word_stands_where_it_says(arguments: list[str]) -> None:
    whole = " ".join(arguments)
    words = words_of(arguments, lambda text: False)
    assert all(whole[word.where.start : word.where.end] == word.text for word in words)
    ends = [0] + [word.where.end for word in words]
    assert all(word.where.start >= end for word, end in zip(words, ends, strict=False))


@given(st.text(max_size=40))
def test_no_letter_is_lost_but_spaces_and_quotes(route: str) -> None:
    kept = "".join(word.text for word in words_of(route, lambda text: False))
    assert [c for c in kept if c not in "\"'" and not c.isspace()] == [
        c for c in route if c not in "\"'" and not c.isspace()
    ]
