"""The JSON Schema of plan files, judged by an independent validator."""

from __future__ import annotations

import datetime as dt
import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from plotter.errors import PlanError
from plotter.flight.plan.keys import TABLES
from plotter.flight.plan.read import read_plan
from plotter.flight.plan.schema import plan_schema
from plotter.flight.plan.starter import starter

SCHEMA = plan_schema()
VALIDATOR = Draft202012Validator(SCHEMA)
PLANS = sorted((Path(__file__).parent / "plans").glob("format-1*.toml"))
WHOLE = (Path(__file__).parent / "plans" / "format-1.toml").read_text(encoding="utf-8")


def as_json(value: Any) -> Any:
    """TOML as an editor hands it to a schema: times are text."""
    if isinstance(value, dict):
        return {key: as_json(inside) for key, inside in value.items()}
    if isinstance(value, list):
        return [as_json(inside) for inside in value]
    return value.isoformat() if isinstance(value, dt.date) else value


def fits(text: str) -> bool:
    return bool(VALIDATOR.is_valid(as_json(tomllib.loads(text))))


def test_it_is_a_schema() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert json.loads(json.dumps(SCHEMA)) == SCHEMA


@pytest.mark.parametrize("text", [starter("x"), *(path.read_text("utf-8") for path in PLANS)])
def test_plans_fit_it(text: str) -> None:
    assert fits(text)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("format = 1", "format = 2"),
        ("format = 1\n", ""),
        ("usable_fuel = 53", "usable_fuel = 53\nfuel = 1"),
        ("usable_fuel = 53", "usable_fuel = 0"),
        ("usable_fuel = 53", ""),
        ("calibrated_airspeed_kt = 100", ""),
        ("calibrated_airspeed_kt = 100", "calibrated_airspeed_kt = 1\ntrue_airspeed_kt = 1"),
        ("descent_rate_fpm = 500\n", ""),
        ('reference = "magnetic"\nspeed', "speed"),
        ("from_deg = 240", "from_deg = 240\nfrom_true_deg = 240"),
        ("speed_kt = 25", "speed_kt = 400"),
        ('fuel_unit = "US gal"', 'fuel_unit = "gallon"'),
        ("number = 2", "number = 0"),
        ("wind_speed_kt = 18\n", ""),
        ("altimeter_hpa = 1014", "altimeter_hpa = 1014\naltimeter_inhg = 30"),
        ('stations = ["OMA", "GRI"]', ""),
        ("[limits]", "[[limits]]"),
        ('night = "flown with an instructor"', 'night = ""'),
    ],
)
def test_what_the_reader_refuses_does_not_fit(old: str, new: str) -> None:
    assert WHOLE.count(old) == 1
    text = WHOLE.replace(old, new)
    assert not fits(text)
    with pytest.raises(PlanError):
        read_plan(text, "x")


def test_every_key_says_what_it_is_for() -> None:
    for name, table in SCHEMA["$defs"].items():
        assert table["description"], name
        for key, kind in table["properties"].items():
            assert kind.get("description"), f"{name} {key}"
            assert "title" not in kind
    assert set(SCHEMA["properties"]) == set(TABLES[""])
