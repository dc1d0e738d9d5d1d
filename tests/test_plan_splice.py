"""Single changes of a TOML text, letter by letter."""

from __future__ import annotations

import pytest

from plotter.flight.plan.edit import begin_table, find_key, has_table, remove, set_key

TEXT = """\
a = 1 # top
[flight]
name = "x"      # our name
long = [ # many
  1,
]
# line = "rhumb"   # or not
# text = \"\"\"
# many = [
# [quiet]
# sleeping = 1
[[wind]]
speed = 1
"""


@pytest.mark.parametrize(
    ("path", "written", "old", "new"),
    [
        (("a",), "22", "a = 1 # top", "a = 22 # top"),
        (("flight", "name"), '"xyz"', 'name = "x"      #', 'name = "xyz"    #'),
        (("flight", "name"), '"much longer"', 'name = "x"      #', 'name = "much longer" #'),
        (("flight", "long"), "[2]", "long = [ # many\n  1,\n]", "long = [2]"),
        (("flight", "line"), "2", '# line = "rhumb"   # or', "line = 2           # or"),
        (("flight", "text"), "2", "\n]\n", "\n]\ntext = 2\n"),
        (("flight", "many"), "2", "\n]\n", "\n]\nmany = 2\n"),
        (("flight", "sleeping"), "2", "\n]\n", "\n]\nsleeping = 2\n"),
        (("flight", "our own"), "2", "\n]\n", '\n]\n"our own" = 2\n'),
        (("b",), "2", "# top\n", "# top\nb = 2\n"),
        (("wind", 0, "b"), "2", "speed = 1\n", "speed = 1\nb = 2\n"),
    ],
)
def test_a_key_is_set(path: tuple[str | int, ...], written: str, old: str, new: str) -> None:
    assert TEXT.count(old) == 1
    assert set_key(TEXT, path, written) == TEXT.replace(old, new)


def test_a_key_above_all_tables() -> None:
    assert set_key("[a]\nb = 1\n", ("c",), "2") == "c = 2\n[a]\nb = 1\n"
    assert set_key("", ("c",), "2") == "c = 2\n"


def test_a_last_line_without_an_end() -> None:
    assert set_key("[a]\nb = 1", ("a", "c"), "2") == "[a]\nb = 1\nc = 2\n"
    assert set_key("[a]", ("a", "c"), "2") == "[a]\nc = 2\n"
    assert set_key("[a]\nb = 1", ("a", "b"), "2") == "[a]\nb = 2"


def test_a_key_that_goes_sleeps_and_wakes() -> None:
    gone = remove(TEXT, ("flight", "name"))
    assert gone == TEXT.replace('name = "x" ', '# name = "x" ')
    woken = set_key(gone, ("flight", "name"), '"y"')
    assert woken == TEXT.replace('"x"      #', '"y"        #')


def test_what_has_many_lines_goes_whole() -> None:
    assert remove(TEXT, ("flight", "long")) == TEXT.replace("long = [ # many\n  1,\n]\n", "")
    assert remove(TEXT, ("wind",)) == TEXT.replace("[[wind]]\nspeed = 1\n", "")
    two = TEXT + "[[wind]]\nspeed = 2\n"
    assert remove(two, ("wind", 0)) == TEXT.replace("speed = 1", "speed = 2")
    assert remove(TEXT, ("nothing",)) == TEXT


@pytest.mark.parametrize(
    ("path", "old", "new"),
    [
        (("quiet",), "# [quiet]", "[quiet]"),
        (("limits",), "speed = 1\n", "speed = 1\n\n[limits]\n"),
        (("wind", 1), "speed = 1\n", "speed = 1\n\n[[wind]]\n"),
        (("stop", 0), "speed = 1\n", "speed = 1\n\n[[stop]]\n"),
    ],
)
def test_a_table_is_begun(path: tuple[str | int, ...], old: str, new: str) -> None:
    assert begin_table(TEXT, path) == TEXT.replace(old, new)


def test_a_sleeping_heading_is_left_where_it_may_not_wake() -> None:
    assert begin_table(TEXT, ("quiet",), awake=False) == TEXT + "\n[quiet]\n"
    assert begin_table("", ("quiet",)) == "[quiet]\n"


def test_what_is_there() -> None:
    assert has_table(TEXT, ("flight",))
    assert has_table(TEXT, ("wind", 0))
    assert has_table(TEXT, ())
    assert not has_table(TEXT, ("a",))
    assert find_key(TEXT, ("a",))
    assert not find_key(TEXT, ("flight",))
    assert not find_key(TEXT, ("flight", "line"))
