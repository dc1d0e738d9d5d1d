"""A plan changed and saved: what was asked is there, and nothing else is lost."""

from __future__ import annotations

import copy
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.errors import CannotDo, InputError, PlanError
from plotter.flight.plan.edit import patched, same, write_plan
from plotter.flight.plan.read import read_plan
from plotter.flight.plan.starter import starter

PLANS = [path.read_text("utf-8") for path in sorted((Path(__file__).parent / "plans").glob("*"))]
STARTER = starter("Sunday")
TEXTS = [STARTER, *PLANS]


def comments(text: str) -> list[str]:
    return [line for line in text.splitlines() if line.startswith("#")]


@pytest.mark.parametrize("text", TEXTS)
def test_no_change_changes_no_letter(text: str) -> None:
    assert write_plan(text, {}) == text
    assert write_plan(text, tomllib.loads(text)) == text


def test_a_page_saves_what_it_knows() -> None:
    changes = {
        "flight": {"route": "KRST KLSE KDLH", "cruise_altitude_ft": 5500.0, "line": "rhumb"},
        "wind": [{"speed_kt": 20}, {}, {"altitude_ft": 9000, "from_true_deg": 9, "speed_kt": 30}],
        "leg": [{"number": 2, "highest_ground_ft": 1500}],
        "quiet": {"night": "with an instructor"},
        "aircraft": {"compass_card": [{"steer_deg": 3}, *({} for _ in range(7))]},
    }
    saved = write_plan(STARTER, changes)
    plan = read_plan(saved, "x")
    assert plan.route == "KRST KLSE KDLH"
    assert [wind.wind.speed_kt for wind in plan.winds] == [20, 22, 30]
    assert plan.legs[0].highest_ground_ft == 1500
    assert plan.quiet == {"night": "with an instructor"}
    assert plan.aircraft.compass_card is not None
    assert plan.aircraft.compass_card.pairs[0].correction_deg == 3.0
    woken = [line[:24].strip() for line in comments(STARTER) if line not in comments(saved)]
    assert woken == [
        '# line = "rhumb"',
        "# [[leg]]",
        "# number = 1",
        "# highest_ground_ft = 14",
        "# [quiet]",
        '# night = "flown with an',
    ]


def test_keys_that_nobody_here_knows_stay() -> None:
    text = '[flight]\nmine = "keep" # me\n[ours]\nx = [1, {y = 2}]\n'
    saved = write_plan(text, {"flight": {"route": "A B"}})
    assert saved == text.replace("me\n", 'me\nroute = "A B"\n')


def test_what_is_taken_out_and_put_back() -> None:
    out = write_plan(STARTER, {"aircraft": {"climb_rate_fpm": None}, "wind": [{}]})
    tables = tomllib.loads(out)
    assert "climb_rate_fpm" not in tables["aircraft"]
    assert len(tables["wind"]) == 1
    back = write_plan(out, {"aircraft": {"climb_rate_fpm": 500}})
    assert comments(back) == comments(STARTER)
    assert tomllib.loads(write_plan(STARTER, {"wind": []})).keys() == tables.keys() - {"wind"}
    assert "wind" not in tomllib.loads(write_plan(STARTER, {"wind": None}))


def test_a_time_stays_as_it_was_written() -> None:
    change = {"flight": {"departure": "2026-08-01T10:00:00-05:00"}}
    assert "departure = 2026-08-01T10:00:00-05:00   # take-off" in write_plan(STARTER, change)
    quoted = '[flight]\ndeparture = "2026-07-04T14:00Z"\n'
    assert 'departure = "2026-08-01T10:00:00-05:00"' in write_plan(quoted, change)
    wrong = write_plan(STARTER, {"flight": {"departure": "at nine"}})
    assert tomllib.loads(wrong)["flight"]["departure"] == "at nine"


@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_the_mark_stay(mark: str) -> None:
    text = mark + STARTER.replace("\n", "\r\n")
    saved = write_plan(text, {"flight": {"line": "rhumb"}, "leg": [{"number": 1}]})
    assert saved.startswith(mark)
    assert saved.count("\n") == saved.count("\r\n") == STARTER.count("\n")
    mixed = "a = 1\r\nb = 2\n"
    assert write_plan(mixed, {"a": 3}) == "a = 3\r\nb = 2\n"


def test_a_heading_that_sleeps_inside_a_table_is_left_asleep() -> None:
    text = '[flight]\nroute = "A B"\n# [quiet]\nname = "x"\n'
    saved = write_plan(text, {"quiet": {"night": "yes"}})
    assert saved == text + '\n[quiet]\nnight = "yes"\n'


def test_an_empty_text_is_begun() -> None:
    assert tomllib.loads(write_plan("", {"format": 1, "wind": [{"speed_kt": 1}]})) == {
        "format": 1,
        "wind": [{"speed_kt": 1}],
    }


def test_what_cannot_be_changed_is_refused_and_not_half_done() -> None:
    with pytest.raises(CannotDo, match="change it in an editor"):
        write_plan('flight.route = "A B"\n', {"flight": {"name": "x"}})
    with pytest.raises(InputError, match="cannot be a value of a plan"):
        write_plan(STARTER, {"flight": {"name": [None]}})
    with pytest.raises(PlanError, match="not TOML"):
        write_plan("a b", {"format": 1})


def test_dotted_and_inline_tables_are_changed_in_place() -> None:
    text = 'flight.route = "A B" # ours\nlimits = { reserve_min = 45 } # mine\n'
    saved = write_plan(text, {"flight": {"route": "A C"}, "limits": {"reserve_min": 60}})
    assert saved == text.replace("A B", "A C").replace("45", "60")


@pytest.mark.parametrize(
    ("one", "other", "equal"),
    [(1, 1.0, True), (1, True, False), ([1], [1, 2], False), ({"a": 1}, {"b": 1}, False)],
)
def test_sameness(one: object, other: object, equal: bool) -> None:
    assert same(one, other) is equal


WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
KEYS = st.sampled_from(
    ["name", "route", "line", "number", "fuel_added", "speed_kt", "from_deg", "true_airspeed_kt",
     "compass_card", "climb_table", "station", "text", "night", "Ü 1"]
)  # fmt: skip
PLAIN = WORDS | st.booleans() | st.integers(-999, 99999) | st.floats(-1e6, 1e6) | st.none()
TABLES = st.dictionaries(KEYS, PLAIN | st.lists(st.integers(0, 9)), max_size=4)
CHANGES = st.fixed_dictionaries(
    {},
    optional={name: TABLES | st.none() for name in ("flight", "aircraft", "limits", "quiet", "x")}
    | {name: st.lists(TABLES, max_size=3) for name in ("wind", "leg", "stop", "weather")},
)


def given_only(value: Any) -> Any:
    """The merge patch without what it takes out, told apart from the code that is tested."""
    if isinstance(value, dict):
        return {key: given_only(v) for key, v in value.items() if v is not None and v != []}
    return [given_only(v) for v in value] if isinstance(value, list) else value


@given(st.sampled_from(TEXTS), CHANGES)
def test_any_change_is_made_whole_and_every_other_comment_stays(
    text: str, changes: dict[str, Any]
) -> None:
    before = tomllib.loads(text)
    kept = copy.deepcopy(changes)
    saved = write_plan(text, changes)
    assert changes == kept
    after = tomllib.loads(saved)
    for name, table in given_only(changes).items():
        rows = (
            [(after[name], table)]
            if isinstance(table, dict)
            else zip(after[name], table, strict=True)
        )
        assert all({key: row[key] for key in new} == new for row, new in rows)
    for name in before.keys() - changes.keys():
        assert after[name] == before[name]
    assert patched(after, {}) == after
    lost = set(comments(text)) - set(comments(saved))
    assert not {line for line in lost if line.endswith(".")}, "prose is never lost"
    assert write_plan(saved, changes) == saved
