"""The table of plan keys: all that is said of a key comes from its entry."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

import pytest

from plotter.flight import invented
from plotter.flight.plan import check, keys, rules
from plotter.flight.plan.keys import TABLE_KEYS, TABLES
from plotter.flight.plan.kinds import Key, NotNegative
from plotter.flight.plan.names import keys_in, label
from plotter.flight.plan.schema import plan_schema
from plotter.flight.plan.starter import starter
from plotter.web.plan_forms import FORMS, WAYS, forms

PACKAGE = Path(__file__).parent.parent / "plotter"


def words_of(path: Path) -> set[str]:
    """Names and texts of a module, its docstrings left out."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        for name in ("id", "attr", "arg", "value", "target"):
            word = getattr(node, name, None)
            if isinstance(word, str) and "\n" not in word:
                found.update(re.findall(r"\w+", word))
    return found


def naming(key: str) -> Iterator[str]:
    for path in sorted(PACKAGE.rglob("*.py")):
        if key in words_of(path):
            yield path.relative_to(PACKAGE).as_posix()


def test_a_key_is_named_in_the_table_in_its_value_and_where_it_is_used() -> None:
    table, value = "flight/plan/keys.py", "flight/aircraft.py"
    uses = {
        "flight/sectors.py",  # taxied away before each take-off
        "flight/log.py",
        "flight/printed.py",
        "flight/cautions/fuel.py",
        "formats/log_table.py",
    }
    assert set(naming("taxi_fuel")) == {table, value, *uses}


def test_what_is_made_of_the_table_names_none_of_its_keys() -> None:
    named_apart = {each for table, key in WAYS for each in (table, key)}
    named_apart |= {way.key for ways in WAYS.values() for way in ways}
    named_apart |= {key for ways in WAYS.values() for way in ways for key in way.also}
    ours = {key for names in TABLES.values() for key in names if "_" in key}
    ours -= named_apart | {step for table in TABLES for step in table.split(".")}
    for name in ("check", "rules", "schema", "names", "starter", "lines", "edit", "read"):
        assert not ours & words_of(PACKAGE / "flight" / "plan" / f"{name}.py"), name
    assert not ours & words_of(PACKAGE / "web" / "plan_forms.py")


NEW = Key(
    "Oil",
    "Oil on board, in quarts.",
    unit="qt",
    needed="6",
    at_most="usable_fuel",
    form="aircraft",
    invented="Oil",
    start="6",
    note="before start",
)


@pytest.fixture
def with_oil(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """One more key in the table, and nowhere else."""
    kinds = TABLE_KEYS["aircraft"].__annotations__
    monkeypatch.setitem(kinds, "oil_qt", Annotated[NotNegative, NEW])
    monkeypatch.setattr(keys, "TABLES", {**TABLES, "aircraft": tuple(kinds)})
    keys_in.cache_clear()
    check._checker.cache_clear()
    yield
    monkeypatch.undo()
    keys_in.cache_clear()
    check._checker.cache_clear()


@pytest.mark.usefixtures("with_oil")
def test_a_new_key_needs_its_entry_alone() -> None:
    assert "oil_qt = 6                              # before start\n" in starter("Sunday")
    assert plan_schema()["$defs"]["Aircraft"]["properties"]["oil_qt"] == {
        "type": "number",
        "minimum": 0.0,
        "description": "Oil on board, in quarts.",
    }
    assert label("aircraft", "oil_qt") == "Oil"
    assert dict(invented._parts())["aircraft.oil_qt"].called == "Oil"
    assert rules.Needed("oil_qt", "6") in list(rules._rules("aircraft"))
    fields = next(form["fields"] for form in forms()["forms"] if form["name"] == "aircraft")
    (field,) = [field for field in fields if field["ways"][0]["key"] == "oil_qt"]
    assert (field["label"], field["unit"], field["kind"]) == ("Oil", "qt", "number")
    (fault,) = check.check({"aircraft": {"oil_qt": -1}})[1]
    assert fault["type"] == "greater_than_equal"


def test_every_key_has_its_place() -> None:
    titles = {form.name for form in FORMS} | {table for form in FORMS for table in form.rows}
    for table in TABLE_KEYS:
        for name, key in keys_in(table).items():
            assert key.form in {*titles, ""}, name
            assert not (key.start and key.offer), name
            assert not key.at_most or key.at_most in TABLES[table], name
            assert set(key.not_with) | set(key.instead) <= set(TABLES[table]), name
            assert not key.asks or key.asks in TABLES[table], name
