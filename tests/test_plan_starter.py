"""The plan file to start from: whole, without a fault, and every key there is in it."""

from __future__ import annotations

import re
import tomllib

import pytest

from plotter.flight.log import navigation_log
from plotter.flight.plan.edit import toml_text
from plotter.flight.plan.keys import TABLES
from plotter.flight.plan.read import read_plan
from plotter.flight.plan.starter import starter
from plotter.places.store import Store
from plotter.wording import STANDING

TEXT = starter("Sunday")


def uncommented(text: str) -> str:
    """The starter with every key that may be left out put in."""
    return re.sub(r"^# ?(?=\[|\w+ = |\"\"\"|\]|  \{ )", "", text, flags=re.M)


def test_it_loads_without_a_fault_and_flies(real_store: Store) -> None:
    plan = read_plan(TEXT, "sunday.toml")
    assert plan.name == "Sunday"
    log = navigation_log(plan, real_store)
    assert [one.code for one in log.cautions if one.rank != "NOTE"] == ["invented"]


def test_it_says_what_is_invented_and_carries_the_cautions() -> None:
    words = " ".join(TEXT.replace("\n#", " ").split())
    assert "invented" in words
    assert read_plan(TEXT, "x").aircraft.name.endswith("invented")
    assert all(standing in words for standing in STANDING)


def test_every_key_of_every_table_is_in_it_and_explained_or_active() -> None:
    tables = tomllib.loads(uncommented(TEXT))
    assert tables.keys() == {*TABLES[""]}
    for name, keys in TABLES.items():
        inside = tables
        for step in filter(None, name.split(".")):
            inside = inside[step]
        rows = inside if isinstance(inside, list) else [inside]
        assert {key for row in rows for key in row} == set(keys), name


def test_lines_fit_a_screen_and_are_plain() -> None:
    assert all(len(line) <= 100 for line in TEXT.split("\n"))
    assert TEXT.isascii()
    assert "\t" not in TEXT
    assert TEXT.endswith("\n")


@pytest.mark.parametrize(
    "name", ['a "b"', "back\\slash", "Zażółć 航线 🛩", "tab\tnew\nline", "\x7f\x00"]
)
def test_any_name_is_written_as_toml(name: str) -> None:
    assert read_plan(starter(name), "x").name == name
    assert tomllib.loads(f"a = {toml_text(name)}")["a"] == name
