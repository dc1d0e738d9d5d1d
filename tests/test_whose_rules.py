"""Whose rules hold: the state of each point, as the data has it or as its neighbours have."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from flights import aircraft, all_cruise, plan

from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import LegNotes, Stop
from plotter.flight.reserve import AircraftCategory
from plotter.flight.whose_rules import abroad, in_the_united_states, rules_of_flight, state_of
from plotter.places.store import Store


def flown(store: Store, route: str, **changes: Any) -> NavigationLog:
    return navigation_log(plan(route=route, **changes), store)


@pytest.mark.parametrize(
    ("route", "inside", "rules"),
    [
        ("KRST KLSE", [True], "US"),
        ("KRST 44.5,-92 KLSE", [True, True], "US"),
        ("KRST 44.5,-92 44.6,-92 KLSE", [True, True, True], "US"),
        ("TJSJ TIST", [True], "US"),  # Puerto Rico, US Virgin Islands
        ("KBUF CYHM CYTZ", [False, False], "ICAO"),
        ("KROC KBUF CYHM", [True, False], "ICAO"),
        ("NZQN 44.8S,168E NZMF", [False, False], "ICAO"),
        ("44.0,-92.0 44.5,-92.0", [True], "US"),
        ("44.5,-79.6 45.0,-79.0", [False], "ICAO"),  # Ontario
        ("40.0,-40.0 40.5,-40.0", [None], "US"),  # the Atlantic
        ("40.0,-40.0 44.0,-92.0", [True], "US"),
    ],
)
def test_the_state_of_a_leg(
    real_store: Store, route: str, inside: list[bool | None], rules: str
) -> None:
    log = flown(real_store, route.replace("44.8S,168E", "-44.8,168.0"), cruise_altitudes_ft=(9500,))
    legs = log.plot.route.legs
    assert [in_the_united_states(leg, log.plot.route) for leg in legs] == inside
    assert rules_of_flight(log.plan, log.plot.route) == rules


def test_a_point_has_the_state_of_the_data(real_store: Store) -> None:
    points = flown(real_store, "KBUF 43,-79 CYHM").plot.route.waypoints
    assert [state_of(point) for point in points] == ["US", "", "CA"]
    assert [point.name for point in abroad(points)] == ["CYHM"]


ASKED = {"cruising-altitude", "cruising-altitude-state"}


@pytest.mark.parametrize(
    ("route", "rules", "expected"),
    [
        # East at an even thousand: the US table refuses it where it holds, and only there.
        ("KRST KLSE", None, {"cruising-altitude": "CHECK"}),
        ("KRST KLSE", "US", {"cruising-altitude": "CHECK"}),
        ("EDNY LOWI", None, {"cruising-altitude-state": "CHECK"}),
        ("EDNY LOWI", "US", {"cruising-altitude-state": "CHECK"}),
        ("EDNY LOWI", "ICAO", {"cruising-altitude": "CHECK", "cruising-altitude-state": "NOTE"}),
        ("44.0,-92.0 44.0,-91.0", None, {"cruising-altitude": "CHECK"}),
        ("44.5,-79.6 44.5,-79.0", None, {"cruising-altitude-state": "CHECK"}),
        ("40.0,-40.0 40.0,-39.0", None, {"cruising-altitude-state": "CHECK"}),
        ("40.0,-40.0 40.0,-39.0", "US", {"cruising-altitude": "CHECK"}),
    ],
)
def test_no_table_is_applied_where_another_state_decides(
    real_store: Store, route: str, rules: Any, expected: dict[str, str]
) -> None:
    changes = {"cruise_altitudes_ft": (6500.0,), "aircraft": all_cruise()}
    log = flown(real_store, route, **changes, visual_rules=rules)
    assert {one.code: one.rank for one in log.cautions if one.code in ASKED} == expected


def test_many_points_abroad_are_counted(real_store: Store) -> None:
    route = "EDNY LOWI LIPB LIPZ LIPE LIRF"
    (said,) = [one for one in flown(real_store, route).cautions if one.code in ASKED]
    assert "EDNY (DE), LOWI (AT), LIPB (IT), LIPZ (IT) and 2 more are" in said.text


def test_least_heights_are_read_in_the_rules_of_where_it_is(real_store: Store) -> None:
    of_europe = "the state's own rule (DE, AT) decides; ICAO Annex 2, 4.6"
    legs = (LegNotes(1, highest_ground_ft=6400.0),)
    for route, source in (("KRST KLSE", "14 CFR 91.119(b), (c)"), ("EDNY LOWI", of_europe)):
        found = {one.code: one for one in flown(real_store, route, legs=legs).cautions}
        assert found["ground-within-500-ft"].source == source


NIGHT_IN_MINNESOTA = dt.datetime(2026, 7, 4, 23, tzinfo=dt.timezone(dt.timedelta(hours=-5)))
NIGHT_IN_OTAGO = dt.datetime(2026, 7, 4, 22, tzinfo=dt.timezone(dt.timedelta(hours=12)))
OF_NZ = "the state's own rule (NZ) decides; ICAO Annex 6, Part II, 2.2.3.6"
OF_THE_US = "14 CFR 91.151(a)"


@pytest.mark.parametrize(
    ("route", "registered_in", "category", "source"),
    [
        ("KRST KLSE", "", "airplane", OF_THE_US),
        ("KRST KLSE", "NZ", "airplane", OF_THE_US),  # 14 CFR 91.1(a): whoever flies there
        ("KRST KLSE", "US", "rotorcraft", "14 CFR 91.151(b)"),
        ("44.0,-92.0 44.0,-91.0", "", "airplane", OF_THE_US),
        ("NZQN NZMF", "", "airplane", OF_NZ),
        ("NZQN NZMF", "NZ", "airplane", OF_NZ),
        (
            "NZQN NZMF",
            "US",
            "airplane",
            f"{OF_NZ}; {OF_THE_US} too, for a US registration (91.703)",
        ),
        (
            "NZQN NZMF",
            "us",
            "airplane",
            f"{OF_NZ}; {OF_THE_US} too, for a US registration (91.703)",
        ),
        (
            "NZQN NZMF",
            "",
            "rotorcraft",
            "the state's own rule (NZ) decides; ICAO Annex 6, Part III, Section III, 2.8",
        ),
        (
            "KROC CYHM",
            "",
            "airplane",
            "the state's own rule (CA) decides there; ICAO Annex 6, Part II, 2.2.3.6; "
            f"{OF_THE_US} in the US",
        ),
        (
            "40.0,-40.0 40.0,-39.0",
            "",
            "airplane",
            "the rule of the state flown in decides; ICAO Annex 6, Part II, 2.2.3.6",
        ),
    ],
)
def test_the_reserve_names_whose_rule_it_is(
    real_store: Store, route: str, registered_in: str, category: AircraftCategory, source: str
) -> None:
    made = aircraft(registered_in=registered_in)
    log = flown(real_store, route, aircraft=made, aircraft_category=category)
    assert [sector.reserve.source for sector in log.sectors] == [source]


@pytest.mark.parametrize(
    ("departure", "minutes"), [(NIGHT_IN_OTAGO, 45.0), (NIGHT_IN_OTAGO.replace(hour=11), 30.0)]
)
def test_abroad_the_reserve_is_icaos(
    real_store: Store, departure: dt.datetime, minutes: float
) -> None:
    """ICAO Annex 6, Part II, 2.2.3.6: 30 min by day, 45 min by night, and it is said."""
    log = flown(real_store, "NZQN NZMF", departure=departure)
    assert log.sectors[0].reserve.minutes == minutes
    (note,) = [one for one in log.cautions if one.code == "reserve-state"]
    assert (note.rank, note.said["minutes"]) == ("NOTE", minutes)
    assert "NZ" in str(note.said["decides"])


def test_each_sector_has_the_rule_of_where_it_is(real_store: Store) -> None:
    log = flown(real_store, "KROC KBUF CYHM", stops=(Stop("KBUF"),))
    first, second = (sector.reserve.source for sector in log.sectors)
    assert first == OF_THE_US
    assert "(CA) decides there" in second
    assert [one.where for one in log.cautions if one.code == "reserve-state"] == ["CYHM"]


@pytest.mark.parametrize(
    ("route", "registered_in", "said"),
    [
        ("KRST KLSE", "", ("14 CFR 91.209(a)", "14 CFR 1.1", True)),
        (
            "NZQN NZMF",
            "NZ",
            (
                "the state's own rule (NZ) decides; ICAO Annex 2, 3.2.3",
                "the state's own rule (NZ) decides; ICAO Annex 2, chapter 1",
                False,
            ),
        ),
        (
            "NZQN NZMF",
            "US",
            (
                "the state's own rule (NZ) decides; ICAO Annex 2, 3.2.3; 14 CFR 91.209(a) too, "
                "for a US registration (91.703)",
                "the state's own rule (NZ) decides; ICAO Annex 2, chapter 1; 14 CFR 1.1 too, for a "
                "US registration (91.703)",
                True,
            ),
        ),
    ],
)
def test_lights_and_night_name_whose_rule_it_is(
    real_store: Store, route: str, registered_in: str, said: tuple[str, str, bool]
) -> None:
    made = aircraft(registered_in=registered_in)
    departure = NIGHT_IN_OTAGO if route.startswith("NZ") else NIGHT_IN_MINNESOTA
    log = flown(real_store, route, departure=departure, aircraft=made)
    found = {one.code: one for one in log.cautions}
    sources = found["position-lights"].source, found["night"].source
    assert (*sources, "night-currency" in found) == said


@pytest.mark.parametrize(
    ("route", "registered_in", "source"),
    [
        ("KRST KLSE", "", "14 CFR 91.211(a)"),
        ("NZQN NZMF", "", "the state's own rule (NZ) decides; ICAO Annex 6, Part II"),
        (
            "NZQN NZMF",
            "US",
            "the state's own rule (NZ) decides; ICAO Annex 6, Part II; 14 CFR 91.211(a) too, for a "
            "US registration (91.703)",
        ),
    ],
)
def test_oxygen_names_whose_rule_it_is(
    real_store: Store, route: str, registered_in: str, source: str
) -> None:
    made = all_cruise(registered_in=registered_in)
    log = flown(real_store, route, cruise_altitudes_ft=(14_500.0,), aircraft=made)
    assert [one.source for one in log.cautions if one.code == "oxygen"] == [source]


def test_night_currency_is_asked_in_the_us_alone(real_store: Store) -> None:
    evening = dt.datetime(2026, 7, 4, 23, tzinfo=dt.timezone(dt.timedelta(hours=-4)))
    for registered_in, asked in (("", ["KROC"]), ("US", ["KROC", "CYHM"])):
        made = aircraft(registered_in=registered_in)
        log = flown(real_store, "KROC CYHM", departure=evening, aircraft=made)
        assert [one.where for one in log.cautions if one.code == "night-currency"] == asked


def test_no_us_law_is_named_in_a_log_of_new_zealand(real_store: Store) -> None:
    legs = (LegNotes(1, highest_ground_ft=9000.0),)
    log = flown(
        real_store,
        "NZQN NZMF",
        departure=NIGHT_IN_OTAGO,
        cruise_altitudes_ft=(9500.0,),
        aircraft=aircraft(fuel_on_board=2.0),
        legs=legs,
    )
    said = [f"{one.text} {one.source}" for one in log.cautions]
    assert [words for words in said if "CFR" in words] == []


def test_a_helicopter_may_be_lower(real_store: Store) -> None:
    legs = (LegNotes(1, highest_ground_ft=6400.0),)
    for category, said in (("airplane", False), ("rotorcraft", True)):
        log = flown(real_store, "KRST KLSE", legs=legs, aircraft_category=category)
        (low,) = [one for one in log.cautions if one.code == "ground-within-500-ft"]
        assert ("91.119(d)" in low.text) is said
