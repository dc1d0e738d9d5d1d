"""The forms of the page hold every key of a plan file, in words and with units."""

from __future__ import annotations

import re
from typing import Any

import pytest
from served import Served

from plotter.flight.plan.keys import TABLES
from plotter.flight.plan.names import ROWS, keys_in, label
from plotter.flight.plan.rules import RULES, Needed
from plotter.web.assets import page as page_html
from plotter.web.plan_forms import FORMS, forms, unit

BY_HAND = {"leg.measured_course_deg", "leg.measured_course_reference", "leg.measured_nm"}
"""Asked beside the answer to them, further down the page (hand.js)."""
NOT_SET = {"leg.number"}
"""Said by the place of its fields."""
DESCRIBED = forms()


def fields() -> list[dict[str, Any]]:
    found = [field for form in DESCRIBED["forms"] for field in form["fields"]]
    return found + [
        field for form in DESCRIBED["forms"] for rows in form["rows"] for field in rows["fields"]
    ]


def test_every_keys_in_a_plan_file_can_be_set_on_the_page() -> None:
    on_page = {
        f"{field['table']}.{key}"
        for field in fields()
        for way in field["ways"]
        for key in (way["key"], *way["also"])
    }
    elsewhere = set(re.findall(r'data-plan="([a-z_.]+)"', page_html("token")))
    every = {f"{table}.{key}" for table, keys in TABLES.items() if table for key in keys}
    tables = {name for name in TABLES if "." in name}
    assert every - tables == (on_page | elsewhere | BY_HAND | NOT_SET) - {
        "quiet.code",
        "quiet.reason",
    }


def test_every_key_has_a_name_of_its_own_words() -> None:
    for table, keys in TABLES.items():
        for key in keys if table else ():
            known = keys_in(table).get(key)
            assert known, f"{table}.{key}"
            assert known.label
            assert "_" not in known.label
            assert "[" not in known.label


def test_every_table_of_rows_has_its_fields_and_what_a_row_needs() -> None:
    shown = [rows for form in DESCRIBED["forms"] for rows in form["rows"]]
    assert {rows["table"] for rows in shown} == {*ROWS, "quiet"}
    for rows in shown:
        keys = {way["key"] for field in rows["fields"] for way in field["ways"]}
        asked = [rule for rule in RULES[rows["table"]] if isinstance(rule, Needed)]
        assert rows["table"] == "quiet" or len(rows["needed"]) == len(asked)
        for needed in rows["needed"]:
            assert rows["table"] == "leg" or keys & set(needed)


@pytest.mark.parametrize(
    ("table", "key", "kind", "sign"),
    [
        ("aircraft", "climb_rate_fpm", "number", "ft/min"),
        ("aircraft", "fuel_unit", "choice", ""),
        ("aircraft", "taxi_fuel", "number", "fuel"),
        ("aircraft.compass_card", "steer_deg", "number", "°M"),
        ("stop", "full_stop", "tick", ""),
        ("stop", "point", "turning", ""),
        ("weather", "wind_from_deg", "number", "°"),
        ("weather", "altimeter_inhg", "number", ""),
        ("leg", "true_course_deg", "number", "°T"),
        ("limits", "daylight_margin_min", "number", "min"),
        ("flight", "visual_rules", "choice", ""),
        ("winds_aloft", "station", "words", ""),
    ],
)
def test_a_field_is_what_its_key_says(table: str, key: str, kind: str, sign: str) -> None:
    (field,) = [
        each for each in fields() if each["table"] == table and each["ways"][0]["key"] == key
    ]
    assert (field["kind"], field["unit"]) == (kind, sign)
    assert field["says"]


def test_every_figure_but_those_chosen_has_its_unit() -> None:
    for field in fields():
        chosen = field["kind"] != "number" or len(field["ways"]) > 1
        assert chosen or field["unit"], field["label"]


def test_what_may_be_chosen_is_what_the_file_takes() -> None:
    (rules,) = [each for each in fields() if each["ways"][0]["key"] == "visual_rules"]
    assert rules["choices"] == ["US", "ICAO"]
    assert (rules["usual"], rules["blank"]) == ("", "US, only in the US")


def test_names_of_forms_are_each_one() -> None:
    assert len({form.name for form in FORMS}) == len(FORMS)


def test_the_page_is_given_them(page: Served) -> None:
    assert page.get("/api/plan/forms").json() == DESCRIBED


def test_unknown_keys_stay_what_they_are() -> None:
    assert label("wind", "sped") == "sped"
    assert unit("name") == ""
