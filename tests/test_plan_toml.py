"""Values written as TOML, read back by the standard library."""

from __future__ import annotations

import datetime as dt
import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.errors import InputError
from plotter.flight.plan.edit import toml_key, toml_text, toml_value

TEXTS = st.text(st.characters(exclude_categories=["Cs"]))
NUMBERS = st.integers(-(2**53), 2**53) | st.floats(allow_nan=False)
ZONES = st.integers(-14 * 60, 14 * 60).map(lambda m: dt.timezone(dt.timedelta(minutes=m)))
PLAIN = TEXTS | st.booleans() | NUMBERS | st.datetimes(timezones=ZONES)
VALUES = st.recursive(
    PLAIN, lambda inside: st.lists(inside) | st.dictionaries(TEXTS, inside), max_leaves=8
)


@given(VALUES)
def test_what_is_written_is_what_is_read(value: Any) -> None:
    assert tomllib.loads(f"a = {toml_value(value)}")["a"] == value


@given(TEXTS, TEXTS)
def test_keys_and_texts_of_any_letters(key: str, text: str) -> None:
    assert tomllib.loads(f"{toml_key(key)} = {toml_text(text)}\n") == {key: text}


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (5500.0, "5500"),
        (-0.5, "-0.5"),
        (True, "true"),
        ([3500.0, 4500], "[3500, 4500]"),
        ([], "[]"),
        ({}, "{}"),
        ([{"a": 1}, {"b c": "x"}], '[\n  { a = 1 },\n  { "b c" = "x" },\n]'),
        (["x" * 60, "y" * 60], f'[\n  "{"x" * 60}",\n  "{"y" * 60}",\n]'),
        ("FT 3000\nOMA 2219\n", '"""\nFT 3000\nOMA 2219\n"""'),
        (
            dt.datetime(2026, 7, 4, 9, tzinfo=dt.timezone(dt.timedelta(hours=-5))),
            "2026-07-04T09:00:00-05:00",
        ),
    ],
)
def test_as_a_pilot_would_write_it(value: object, written: str) -> None:
    assert toml_value(value) == written


@pytest.mark.parametrize("value", [None, [None], {"a": None}, b"x", object()])
def test_what_a_plan_cannot_hold(value: object) -> None:
    with pytest.raises(InputError, match="cannot be a value of a plan"):
        toml_value(value)
