"""Which keys must be there and which go together."""

from __future__ import annotations

import pytest

from plotter.flight.plan.keys import TABLES
from plotter.flight.plan.rules import RULES, Asks, Needed, NotBoth, Together, broken
from plotter.messages import text


def keys_of(rule: object) -> set[str]:
    match rule:
        case Needed():
            return {rule.key, *rule.instead}
        case NotBoth():
            return set(rule.keys)
        case Together():
            return {key for part in rule.parts for key in part}
        case Asks():
            return {rule.key, rule.for_key}
    raise AssertionError(rule)


@pytest.mark.parametrize("table", RULES)
def test_rules_speak_of_keys_there_are(table: str) -> None:
    for rule in RULES[table]:
        assert keys_of(rule) <= set(TABLES[table])


def test_every_table_has_its_rules() -> None:
    assert RULES.keys() == TABLES.keys() | {"quiet"}


@pytest.mark.parametrize(
    ("table", "names", "keys"),
    [
        ("", ["format", "flight", "aircraft"], []),
        ("", [], ["format", "flight", "aircraft"]),
        ("flight", ["departure"], ["route", "cruise_altitude_ft"]),
        ("wind", ["altitude_ft", "speed_kt"], ["from_true_deg"]),
        ("wind", ["altitude_ft", "speed_kt", "from_true_deg"], []),
        ("wind", ["altitude_ft", "speed_kt", "from_deg"], ["from_deg"]),
        ("wind", ["altitude_ft", "speed_kt", "from_deg", "reference"], []),
        ("wind", ["altitude_ft", "speed_kt", "from_true_deg", "reference"], ["reference"]),
        ("wind", ["altitude_ft", "speed_kt", "from_true_deg", "from_deg"], ["from_deg"] * 2),
        ("winds_aloft", ["text"], ["station"]),
        ("winds_aloft", ["text", "station", "stations"], ["stations"]),
        ("weather", ["point"], []),
        ("weather", ["point", "altimeter_hpa", "altimeter_inhg"], ["altimeter_hpa"]),
        ("weather", ["point", "wind_speed_kt"], ["wind_speed_kt"]),
        ("leg", ["number", "wind_from_true_deg", "wind_speed_kt"], []),
        ("leg", ["number", "measured_course_reference"], ["measured_course_reference"]),
        ("aircraft.compass_card", ["steer_deg"], ["for_magnetic_deg"]),
        ("no-such-table", ["x"], []),
    ],
)
def test_what_is_broken(table: str, names: list[str], keys: list[str]) -> None:
    assert [fault.key for fault in broken(table, names)] == keys


FUEL = ["fuel_unit", "usable_fuel", "fuel_on_board"]
CRUISE = [*FUEL, "true_airspeed_kt", "cruise_fuel_per_hour"]


@pytest.mark.parametrize(
    ("more", "key", "other"),
    [
        (["climb_rate_fpm", "climb_true_airspeed_kt", "climb_fuel_per_hour"], None, ""),
        (["climb_rate_fpm"], "missing-key.together", "climb_true_airspeed_kt"),
        (["descent_fuel_per_hour", "descent_rate_fpm"], "missing-key.together", "descent_true_air"),
        (["climb_table"], None, ""),
        (["cruise_table"], "keys-exclude", "cruise_table"),
        (["calibrated_airspeed_kt"], "keys-exclude", "true_airspeed_kt"),
    ],
)
def test_what_an_aircraft_is_made_of(more: list[str], key: str | None, other: str) -> None:
    found = [fault.said for fault in broken("aircraft", [*CRUISE, *more])]
    assert (found[0].key if found else None) == key
    assert other in "".join(text(said) for said in found[:1])


def test_an_aircraft_cruises_by_figures_or_by_table() -> None:
    assert [fault.key for fault in broken("aircraft", FUEL)] == [
        "true_airspeed_kt",
        "cruise_fuel_per_hour",
    ]
    assert not list(broken("aircraft", [*FUEL, "cruise_table"]))
