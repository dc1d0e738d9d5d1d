"""Forty plans saved: each byte that was not to be changed is the one that was there."""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from plotter.flight.plan.edit import write_plan

PLAN = """\
# ours, not to be touched: "= # [x]"
format = 1

[flight]
route = "KRST KLSE"   # the river
departure = 2026-07-04T09:00:00-05:00
cruise_altitude_ft = [
  3500,  # first
  4500,
]
# line = "rhumb"                        # constant true course
# left for later

[aircraft]
true_airspeed_kt = 110 # by the manual
fuel_unit = 'US gal'
usable_fuel = 53
their_own = { a = 1, "b c" = [1, 2] }   # nobody here knows this
# taxi_fuel = 1.1                       # start and taxi

# Winds, low to high.
[[wind]]
altitude_ft = 3000
from_true_deg = 240
speed_kt = 15

# The upper one.
[[wind]]
altitude_ft = 6000
from_true_deg = 260
speed_kt = 22
# end of the winds

# Our limits.
# [limits]
# reserve_min = 60
"""
EDITS: dict[str, tuple[dict[str, Any], list[tuple[str, str]]]] = {
    "a value in its place, its comment in its column": (
        {"flight": {"route": "KRST KEAU"}},
        [('"KRST KLSE"   # the river', '"KRST KEAU"   # the river')],
    ),
    "a number that grows keeps a space before its comment": (
        {"aircraft": {"true_airspeed_kt": 110.25}},
        [("110 # by", "110.25 # by")],
    ),
    "a key that was a comment comes to life there": (
        {"aircraft": {"taxi_fuel": 2.5}},
        [
            (
                "# taxi_fuel = 1.1                       #",
                "taxi_fuel = 2.5                         #",
            )
        ],
    ),
    "a key taken out becomes a comment": (
        {"aircraft": {"usable_fuel": None}},
        [("usable_fuel = 53", "# usable_fuel = 53")],
    ),
    "a new key goes below the last key and above the comments that follow": (
        {"wind": [{}, {"temperature_c": 8}]},
        [("speed_kt = 22\n# end", "speed_kt = 22\ntemperature_c = 8\n# end")],
    ),
    "a table that was a comment comes to life there with its key": (
        {"limits": {"reserve_min": 45}},
        [("# [limits]\n# reserve_min = 60", "[limits]\nreserve_min = 45")],
    ),
    "a table that is new goes to the end": (
        {"weather": [{"point": "KRST"}]},
        [("# reserve_min = 60\n", '# reserve_min = 60\n\n[[weather]]\npoint = "KRST"\n')],
    ),
    "a row taken out leaves the comment above it": (
        {"wind": [{}]},
        [("[[wind]]\naltitude_ft = 6000\nfrom_true_deg = 260\nspeed_kt = 22\n", "")],
    ),
    "a row that is new goes below the last one": (
        {"wind": [{}, {}, {"altitude_ft": 9000}]},
        [("speed_kt = 22\n", "speed_kt = 22\n\n[[wind]]\naltitude_ft = 9000\n")],
    ),
    "several at once, a list of many lines among them": (
        {"flight": {"cruise_altitude_ft": [5500], "line": "rhumb"}, "format": 1},
        [
            ("[\n  3500,  # first\n  4500,\n]", "[5500]"),
            (
                '# line = "rhumb"                        #',
                'line = "rhumb"                          #',
            ),
        ],
    ),
}
FORMS = list(itertools.product(("", "\ufeff"), ("\n", "\r\n")))


@pytest.mark.parametrize(("mark", "newline"), FORMS, ids=["lf", "crlf", "mark-lf", "mark-crlf"])
@pytest.mark.parametrize("name", EDITS)
def test_a_saved_plan_differs_in_what_was_changed_alone(name: str, mark: str, newline: str) -> None:
    changes, pieces = EDITS[name]
    wanted = PLAN
    for old, new in pieces:
        assert wanted.count(old) == 1, old
        wanted = wanted.replace(old, new)
    saved = write_plan(mark + PLAN.replace("\n", newline), changes)
    assert saved.encode() == (mark + wanted.replace("\n", newline)).encode()


def test_there_are_forty() -> None:
    assert len(EDITS) * len(FORMS) == 40
