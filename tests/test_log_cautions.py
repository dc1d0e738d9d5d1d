"""The other cautions of a log, and all of them together: ranks, classes, silence."""

from __future__ import annotations

from typing import Any

import pytest
from cautioned import EVENING, QUIET_FLIGHT, cautions
from flights import aircraft, all_cruise, plan

from plotter.errors import InputError
from plotter.flight.compass import compass_card
from plotter.flight.log import navigation_log
from plotter.flight.plan.values import LegNotes, Stop
from plotter.places.store import Store
from plotter.route.values import RANKS
from plotter.wording import STANDING

WIDE_WEST = compass_card([(60, 61), (90, 91), (120, 120)])


@pytest.mark.parametrize(
    ("rank", "code", "changes", "words"),
    [
        ("STOP", "reserve", {"aircraft": aircraft(fuel_on_board=20.0)}, "Reserve not met"),
        ("STOP", "reserve", {"aircraft": aircraft(fuel_on_board=12.0)}, "the tanks run dry at"),
        ("CHECK", "far-apart", {"every_nm": 200.0}, "without a checkpoint, KRST to KLSE"),
        (
            "CHECK",
            "compass-card",
            {"aircraft": aircraft(compass_card=compass_card([(0, 12), (180, 180)]))},
            "Have it swung",
        ),
        (
            "CHECK",
            "compass-card-gap",
            {"aircraft": aircraft(compass_card=compass_card([(0, 0), (30, 31), (150, 150)]))},
            "too few pairs: none between 030 and 150, and you fly 09",
        ),
        ("NOTE", "no-compass-card", {"aircraft": all_cruise()}, "equals magnetic heading"),
        ("NOTE", "all-cruise", {"aircraft": all_cruise()}, "No climb and no descent"),
        ("NOTE", "no-taxi-fuel", {"aircraft": all_cruise()}, "No taxi fuel"),
        ("NOTE", "leg-split", {"route": "KRST KBIL"}, "is split into"),
        ("NOTE", "not-in-the-figures", {}, "Traffic patterns, landings and holding"),
        ("NOTE", "quiet-unused", {"quiet": {"nigth": "a slip"}}, "[quiet] nigth silences nothing"),
        (
            "NOTE",
            "course-changes",
            {"route": "KRST KBIL", "legs": (LegNotes(1, variation_deg_east=5.0),)},
            "for mid-leg",
        ),
    ],
)
def test_a_caution_arises(
    real_store: Store, rank: str, code: str, changes: dict[str, Any], words: str
) -> None:
    found = cautions(real_store, **changes)[code]
    assert found.rank == rank
    assert words in found.text


@pytest.mark.parametrize(
    ("code", "changes"),
    [
        ("compass-card-gap", {}),
        ("compass-card-gap", {"aircraft": aircraft(compass_card=WIDE_WEST), "route": "KRST KLSE"}),
        ("unlikely-figure", {}),
        ("course-changes", {"route": "KRST KBIL"}),
        ("quiet-unused", {"quiet": {"terrain-not-checked": "read off the chart"}}),
    ],
)
def test_a_caution_stays_away(real_store: Store, code: str, changes: dict[str, Any]) -> None:
    assert code not in cautions(real_store, **changes)


def test_a_quiet_flight_has_no_stop_and_no_check(real_store: Store) -> None:
    found = cautions(real_store, **QUIET_FLIGHT)
    assert [one.code for one in found.values() if one.rank != "NOTE"] == []


def test_ranks_come_in_order_and_each_class_once(real_store: Store) -> None:
    changes = {"departure": EVENING, "aircraft": aircraft(fuel_on_board=12.0), "every_nm": 200.0}
    found = navigation_log(plan(**changes), real_store).told
    ranks = [RANKS.index(one.rank) for one in found]
    assert ranks == sorted(ranks)
    codes = [one.code for one in found]
    assert len(codes) == len(set(codes))
    far = next(one for one in found if one.code == "far-apart")
    for minutes, stretch in ((27, "KRST to KLSE"), (35, "KLSE to KEAU"), (21, "CP1 to KDLH")):
        assert f"{minutes} min without a checkpoint, {stretch}" in far.text


def test_a_check_is_silenced_with_its_reason_and_a_stop_is_not(real_store: Store) -> None:
    quiet = {"cruising-altitude": "below 3,000 ft above the ground all the way"}
    log = navigation_log(plan(quiet=quiet), real_store)
    assert "cruising-altitude" not in {one.code for one in log.cautions}
    assert [one.reason for one in log.silenced] == list(quiet.values())
    short = plan(aircraft=aircraft(fuel_on_board=12.0), quiet={"reserve": "I know"})
    with pytest.raises(InputError, match="is a STOP and cannot be silenced"):
        navigation_log(short, real_store)


def test_what_is_not_checked_is_said_on_every_output() -> None:
    assert any(text.startswith("Not checked: airspace") for text in STANDING)


def test_the_reserve_is_tested_for_every_sector(real_store: Store) -> None:
    stops = (Stop("KLSE"), Stop("KEAU"))
    log = navigation_log(plan(stops=stops, aircraft=aircraft(fuel_on_board=17.0)), real_store)
    short = [one for one in log.sectors if one.margin_fuel < 0.0]
    assert [one.where for one in log.cautions if one.code == "reserve"] == [
        one.end.name for one in short
    ]
    (stop,) = [one for one in log.told if one.code == "reserve"]
    assert stop.where.split(", ") == [one.end.name for one in short]
    assert all(one.text in stop.text for one in log.cautions if one.code == "reserve")


def test_an_unused_code_of_quiet_can_be_silenced_itself(real_store: Store) -> None:
    quiet = {"night": "kept from last week", "quiet-unused": "I know"}
    log = navigation_log(plan(quiet=quiet), real_store)
    assert "quiet-unused" not in {one.code for one in log.cautions}
    assert [one.caution.code for one in log.silenced] == ["quiet-unused"]


def test_several_unused_codes_are_one_line(real_store: Store) -> None:
    said = cautions(real_store, quiet={"night": "a", "nosuch": "b"})["quiet-unused"].text
    assert "[quiet] night silences nothing" in said
    assert "[quiet] nosuch silences nothing" in said
