"""Where tables and keys of a TOML text stand."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from plotter.flight.plan.lines import line_numbers, line_of, statements
from plotter.flight.plan.names import table_name

PLANS = sorted((Path(__file__).parent / "plans").glob("*.toml"))

AWKWARD = '''\
# [not] a = "table"
a = "x # [y] = 1"   # a comment with "quotes
b.c = [ 1, # one ]
  [2, "]"], {d = "}", e = [3]},
]
"quoted.key" = """
f = 1
[g]
\\""" still inside """""
\'h\' = \'\'\'
[[i]]
\'\'\'
  [ spaced . "table" ]
j = { k = "l", m = [
  1 ] }
[[n]]
o = 1
[[n.p]]
q = 2\t
[[n]]
[[n.p]]
q = 3
[[n.p]]
q = 4
r = 2026-07-04T09:00:00-05:00'''


def paths_in(value: object, path: tuple[str | int, ...] = ()) -> set[tuple[str | int, ...]]:
    """Every path of parsed tables, told independently of the reader of lines."""
    found = {path} if path else set()
    items = enumerate(value) if isinstance(value, list) else ()
    items = value.items() if isinstance(value, dict) else items
    for step, inside in items:
        found |= paths_in(inside, (*path, step))
    return found


def test_an_awkward_text() -> None:
    assert tomllib.loads(AWKWARD)["quoted.key"] == 'f = 1\n[g]\n""" still inside ""'
    assert line_numbers(AWKWARD) == {
        ("a",): 2,
        ("b", "c"): 3,
        ("b",): 3,
        ("b", "c", 0): 3,
        ("b", "c", 1): 4,
        ("b", "c", 2): 4,
        ("quoted.key",): 6,
        ("h",): 10,
        ("spaced", "table"): 13,
        ("spaced",): 13,
        ("spaced", "table", "j"): 14,
        ("n", 0): 16,
        ("n",): 16,
        ("n", 0, "o"): 17,
        ("n", 0, "p", 0): 18,
        ("n", 0, "p"): 18,
        ("n", 0, "p", 0, "q"): 19,
        ("n", 1): 20,
        ("n", 1, "p", 0): 21,
        ("n", 1, "p"): 21,
        ("n", 1, "p", 0, "q"): 22,
        ("n", 1, "p", 1): 23,
        ("n", 1, "p", 1, "q"): 24,
        ("n", 1, "p", 1, "r"): 25,
    }


@pytest.mark.parametrize("text", [AWKWARD, *(path.read_text() for path in PLANS)])
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_every_path_is_one_of_the_text_and_none_is_lost(text: str, newline: str) -> None:
    text = text.replace("\n", newline)
    parsed, numbers = paths_in(tomllib.loads(text)), line_numbers(text)
    assert numbers.keys() <= parsed
    lines = text.split("\n")
    for path in parsed:
        line = line_of(numbers, path)
        assert line is not None
        if path in numbers and isinstance(path[-1], str):
            assert path[-1] in lines[line - 1]


def test_items_of_an_array_have_lines_of_their_own() -> None:
    text = 'a = [ # none yet, [\n\n {b = [1, 2]}, # {\n [3, ], "[",\n]\nc = []\nd = {e = [\n1]}\n'
    assert tomllib.loads(text)["a"] == [{"b": [1, 2]}, [3], "["]
    assert line_numbers(text) == {
        ("a",): 1,
        ("a", 0): 3,
        ("a", 1): 4,
        ("a", 2): 4,
        ("c",): 6,
        ("d",): 7,
    }


def test_what_is_not_there_is_where_its_table_is() -> None:
    numbers = line_numbers("\n[a]\nb = 1\n")
    assert line_of(numbers, ("a", "c")) == 2
    assert line_of(numbers, ("a", "b", 3, "d")) == 3
    assert line_of(numbers, ("z",)) is None


def test_a_statement_knows_its_value() -> None:
    text = 'a = 1 # one\n[b]\nc = [\n2]\nd = ""\n'
    values = [text[each.value : each.end] for each in statements(text)]
    assert values == [" 1 # one", "", " [\n2]", ' ""']


def test_names_of_tables() -> None:
    assert table_name(()) == ""
    assert table_name(("aircraft", "climb_table", 2, "fuel")) == "aircraft.climb_table.fuel"
