"""The cautions of the fields flown from and to: each arises where it must and only there."""

from __future__ import annotations

from typing import Any

import pytest
from cautioned import cautions
from flights import aircraft, all_cruise

from plotter.flight.aircraft import Airspeed, VerticalRate
from plotter.flight.plan.values import GivenWind, Limits, Stop, Weather
from plotter.places.store import Store

AT_DULUTH = (Weather("KDLH", wind=GivenWind(210.0, "true", 25.0)),)


@pytest.mark.parametrize(
    ("rank", "code", "changes", "words"),
    [
        (
            "CHECK",
            "runway",
            {"limits": Limits(runway_ft=9500.0)},
            "runway at KRST is 9,033 ft",
        ),
        (
            "CHECK",
            "crosswind",
            {
                "weather": (Weather("KRST", wind=GivenWind(250.0, "true", 30.0)),),
                "limits": Limits(crosswind_kt=5.0),
            },
            "above your limit of 5 kt",
        ),
        (
            "CHECK",
            "crosswind",
            {
                "weather": AT_DULUTH,
                "limits": Limits(crosswind_kt=10.0, runway_ft=8000.0),
            },
            "22 kt from the left on runway 27, above your limit of 10 kt. Its other runways are "
            "shorter than your 8,000 ft",
        ),
        (
            "CHECK",
            "crosswind-not-tested",
            {
                "weather": AT_DULUTH,
                "limits": Limits(crosswind_kt=25.0),
            },
            "not tested: no wind in [[weather]] for KRST. Look it up.",
        ),
        (
            "CHECK",
            "crosswind-not-tested",
            {
                "route": "KRST 43.9,-91.5",
                "weather": (Weather("43.9,-91.5", wind=GivenWind(210.0, "true", 5.0)),),
                "limits": Limits(crosswind_kt=25.0),
            },
            "no wind in [[weather]] for KRST; the heading of a usable runway is not in",
        ),
        (
            "CHECK",
            "runway-not-tested",
            {"route": "KRST 43.9,-91.5", "limits": Limits(runway_ft=2000.0)},
            "not in the data, so your limit of 2,000 ft is not tested. Look them up",
        ),
        (
            "NOTE",
            "density-altitude",
            {"weather": (Weather("KRST", 1013.25, 34.0),)},
            "Density altitude at KRST is",
        ),
        ("CHECK", "no-elevation", {"route": "43.9,-92.4 KLSE"}, "not in the data"),
        (
            "CHECK",
            "no-descent",
            {
                "route": "KASE KRIL",
                "cruise_altitudes_ft": (12500.0,),
                "aircraft": aircraft(descent=VerticalRate(50.0, Airspeed(180.0), 5)),
            },
            "arrives over KRIL at",
        ),
        ("CHECK", "rolls-on", {"stops": (Stop("KEAU", fuel_added=3.0, full_stop=False),)}, "KEAU"),
        (
            "CHECK",
            "rolls-on",
            {"stops": (Stop("KEAU", 20.0, full_stop=False),)},
            "Both are counted",
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
        ("rolls-on", {"stops": (Stop("KEAU", full_stop=False),)}),
        ("rolls-on", {"stops": (Stop("KEAU", 20.0, 5.0),)}),
        ("crosswind", {"weather": AT_DULUTH, "limits": Limits(crosswind_kt=10.0)}),
        ("runway", {"weather": AT_DULUTH, "limits": Limits(runway_ft=8000.0)}),
        ("crosswind-not-tested", {"weather": AT_DULUTH}),
        (
            "crosswind-not-tested",
            {
                "weather": (*AT_DULUTH, Weather("krst", wind=GivenWind(0.0, "true", 0.0))),
                "limits": Limits(crosswind_kt=10.0),
            },
        ),
    ],
)
def test_a_caution_stays_away(real_store: Store, code: str, changes: dict[str, Any]) -> None:
    assert code not in cautions(real_store, **changes)


@pytest.mark.parametrize(
    ("destination", "code", "fitting"),
    [
        ("01MN", "seaplane-base", {"lands_on_water": True}),
        ("05MN", "heliport", {"aircraft_category": "rotorcraft"}),
    ],
)
def test_where_the_flight_cannot_land_is_a_stop_unless_the_plan_fits(
    real_store: Store, destination: str, code: str, fitting: dict[str, Any]
) -> None:
    changes = {"route": f"KRST {destination}"}
    found = cautions(real_store, **changes)
    assert found[code].rank == "STOP"
    assert cautions(real_store, **changes, **fitting)[code].rank == "CHECK"


@pytest.mark.parametrize(
    ("stop", "rank"), [((Stop("US-0531"),), "STOP"), ((), "CHECK")], ids=["landed at", "flown over"]
)
def test_a_closed_airport_on_the_way(real_store: Store, stop: tuple[Stop, ...], rank: str) -> None:
    """Sowieja Airport, Farmington, Minnesota, is closed in the data."""
    found = cautions(real_store, route="KRST US-0531 KLSE", stops=stop)
    assert found["closed"].rank == rank


def test_arrivals_without_descent_say_which_way_it_is(real_store: Store) -> None:
    low = cautions(real_store, route="KRST KLSE", cruise_altitudes_ft=(1500.0,))["no-descent"]
    assert "it is never above the pattern" in low.text
    assert "pattern at 1,660 ft" in low.text
    slow = aircraft(descent=VerticalRate(50.0, Airspeed(180.0), 5.0))
    changes = {"route": "KASE KRIL", "cruise_altitudes_ft": (12500.0,), "aircraft": slow}
    assert "does not bring it down in time" in cautions(real_store, **changes)["no-descent"].text


@pytest.mark.parametrize(
    ("craft", "route", "words"),
    [
        (aircraft(), "43.9,-92.4 KLSE", "climb is computed from sea level"),
        (aircraft(), "KRST 43.9,-91.5", "descent is computed from sea level"),
        (all_cruise(), "43.9,-92.4 KLSE", "the cruising altitude is not checked"),
        (aircraft(climb=None), "43.9,-92.4 KLSE", "the cruising altitude is not checked"),
    ],
)
def test_what_rests_on_an_elevation_that_is_not_in_the_data(
    real_store: Store, craft: Any, route: str, words: str
) -> None:
    said = cautions(real_store, aircraft=craft, route=route)["no-elevation"].text
    assert f"is not in the data; {words}" in said


def test_a_field_of_a_stop_is_climbed_from_and_descended_to(real_store: Store) -> None:
    changes = {"route": "KRST 43.9,-91.5 KLSE", "stops": (Stop("43.9,-91.5"),)}
    said = cautions(real_store, **changes)["no-elevation"].text
    assert "climb and descent are computed from sea level" in said
