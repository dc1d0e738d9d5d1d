"""Faults of a plan in the words of the page: no key, no bracket, nothing for an editor."""

from __future__ import annotations

import re
from copy import deepcopy
from typing import Any

import pytest
from served import Served

from plotter.errors import InputError, PlanError, Where
from plotter.flight.plan.keys import TABLE_KEYS, TABLES
from plotter.flight.plan.lines import Faults, parsed
from plotter.flight.plan.names import ROWS, KeyName, label
from plotter.flight.plan.read import plan_of_tables
from plotter.flight.plan.rules import RULES, broken
from plotter.flight.plan.starter import starter
from plotter.messages import Message, message, text
from plotter.messages import _table as sentences_of
from plotter.web.plan_faults import plan_faults, title

PLAN = parsed(starter("Demo, invented"), "demo")
KEYS = {key for keys in TABLES.values() for key in keys if "_" in key}
NEVER_ON_THE_PAGE = {"not-toml.line", "not-toml.quotes", "not-toml.seconds", "plan-fault"}
"""Of a text that is no plan yet."""
FOR_AN_EDITOR = re.compile(r"\[|\]|\"\"\"| = |quotes|\bkey\b|plotter plot")


def at(table: str) -> tuple[str | int, ...]:
    path: tuple[str | int, ...] = tuple(table.split("."))
    return (*path, 0) if table in ROWS else path


def rule_faults() -> list[Any]:
    """What every rule of every table says: of nothing there, all there, and each key alone."""
    found = []
    for table in (name for name in RULES if name):
        keys = list(TABLE_KEYS[table].__annotations__) if table in TABLE_KEYS else []
        for names in ([], keys, *([key] for key in keys)):
            for lacking in broken(table, names):
                faults = Faults()
                faults.add((*at(table), lacking.key), lacking.said)
                found.append(faults.error_by_key())
    return found


@pytest.mark.parametrize("fault", rule_faults(), ids=lambda fault: fault.message[:50])
def test_every_rule_speaks_of_fields(fault: PlanError) -> None:
    (said,) = plan_faults(fault)
    assert not FOR_AN_EDITOR.search(said["words"]), said["words"]
    assert not KEYS & set(re.findall(r"\w+", said["words"])), said["words"]
    assert said["title"]
    assert "_" not in said["title"]
    assert fault.where is not None
    assert said["key"] == fault.where.key


WRONG: list[tuple[str, tuple[str | int, ...], Any, str]] = [
    (
        "aircraft.true_airspeed_kt",
        ("aircraft", "true_airspeed_kt"),
        "fast",
        'is "fast", not a number',
    ),
    ("wind.1.speed_kt", ("wind", 0, "speed_kt"), 900, "is 900; write 300 or less"),
    ("limits.runway_ft", ("limits", "runway_ft"), -1, "is -1; write 0 or more"),
    ("flight.visual_rules", ("flight", "visual_rules"), "XX", "'US' or 'ICAO'"),
    ("aircraft.name", ("aircraft", "name"), " ", "is blank; enter something"),
    ("aircraft.fuel_on_board", ("aircraft", "fuel_on_board"), 99, "more than “Usable”, 53"),
    ("wind.2.altitude_ft", ("wind", 1, "altitude_ft"), 3000, "is 3000, which Wind 1 has already"),
    ("quiet.night", ("quiet", "night"), "", "is blank"),
    ("winds_aloft.text", ("winds_aloft", "text"), "x", "no heading"),
]


@pytest.mark.parametrize(("key", "path", "value", "words"), WRONG)
def test_a_wrong_value_is_told_at_its_field(
    key: str, path: tuple[str | int, ...], value: Any, words: str
) -> None:
    plan = deepcopy(PLAN) | {"quiet": {}, "winds_aloft": {"station": "MSP"}}
    if path[0] != "winds_aloft":
        del plan["winds_aloft"]
    inside: Any = plan
    for step in path[:-1]:
        inside = inside[step]
    inside[path[-1]] = value
    with pytest.raises(PlanError) as caught:
        plan_of_tables(plan)
    (said,) = plan_faults(caught.value)
    assert said["key"] == key
    assert words in said["words"]
    assert not FOR_AN_EDITOR.search(said["words"])


@pytest.mark.parametrize(
    ("fault", "key", "name"),
    [
        (InputError("no", code="cruise_altitude_ft"), "flight.cruise_altitude_ft", "Altitude"),
        (InputError("no", code="fuel_added"), "stop", "Stops"),
        (InputError("no", code="winds-aloft-station"), "winds_aloft.station", "Station"),
        (InputError("no", code="short-leg"), "", ""),
        (InputError("no", where=Where(key="quiet")), "quiet", "Silenced caution"),
    ],
)
def test_a_fault_of_the_flight_finds_its_field(fault: InputError, key: str, name: str) -> None:
    (said,) = plan_faults(fault)
    assert (said["key"], said["title"]) == (key, name)


def test_a_leg_is_called_by_its_number() -> None:
    fault = InputError("is 0", where=Where(key="leg.1.distance_nm"))
    (said,) = plan_faults(fault, [{"number": 3, "distance_nm": 0}])
    assert said["key"] == "leg.3.distance_nm"
    assert said["title"] == "Leg 3, Distance"


def test_hostile_names_of_keys_are_shown_as_they_are() -> None:
    (said,) = plan_faults(InputError("is x", where=Where(key="quiet.\u202e<b>")))
    assert "\u202e" not in said["title"]
    assert title(("wind", 1)) == "Wind 2"


def tables(page: Served) -> dict[str, Any]:
    found: dict[str, Any] = page.get("/api/plan/new").json()["plan"]
    return found | {"flight": found["flight"] | {"cruise_altitude_ft": 4500}}


@pytest.mark.parametrize(
    ("more", "key", "words"),
    [
        ({"stop": [{"point": "KDLH"}]}, "stop.1.point", "KLSE"),
        ({"weather": [{"point": "KEAU"}]}, "weather.1.point", "KLSE"),
        ({"quiet": {"reserve": "no"}}, None, ""),
        ({"leg": [{"between": ["KLSE", "KDLH"], "distance_nm": -1}]}, "leg.2.distance_nm", "-1"),
        ({"leg": [{"number": 7}]}, "leg.7.number", "1 to 2"),
    ],
)
def test_the_sheet_tells_faults_in_words_of_the_page(
    page: Served, more: dict[str, Any], key: str | None, words: str
) -> None:
    body = {"route": "KRST KLSE KDLH", "plan": tables(page) | more}
    faults = page.post("/api/sheet", body).json()["log_faults"]
    assert [each["key"] for each in faults] == ([] if key is None else [key])
    assert all(words in each["words"] and "[[" not in each["words"] for each in faults)


def test_labels_are_told_apart_inside_one_table() -> None:
    for table, keys in TABLES.items():
        ways = {"from_deg", "from_true_deg", "altimeter_inhg", "altimeter_hpa"}
        names = [label(table, key) for key in keys if key not in ways]
        assert len(set(names)) == len(names), table


@pytest.mark.parametrize(
    ("said", "shown"),
    [
        (message("two-winds"), "has both winds and a winds aloft forecast"),
        (message("quiet-unused", silenced="night"), "Silenced caution night silences nothing"),
        (message("keys-exclude", name="", other=KeyName("leg", "highest_ground_ft")), "“Highest g"),
    ],
)
def test_a_caution_speaks_of_fields_too(said: Message, shown: str) -> None:
    assert shown in text(said, "page")


@pytest.mark.parametrize("subject", ["flight", "plan"])
def test_no_sentence_of_the_page_names_a_key_or_a_table_of_the_file(subject: str) -> None:
    table = sentences_of(subject)
    sentences = {**table.COMMON, **getattr(table, "PAGE", {})}
    for key in ("missing-key.format", *NEVER_ON_THE_PAGE):
        sentences.pop(key, None)
    for key, template in sentences.items():
        words = re.sub(r"{[^}]*}", "", template)
        assert not re.search(r"\[\[?[a-z]", words), (key, words)
        assert not KEYS & set(re.findall(r"\w+", words)), (key, words)
