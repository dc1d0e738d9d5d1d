"""The cautions of ground, altitude and oxygen: each arises where it must and only there."""

from __future__ import annotations

from typing import Any

import pytest
from cautioned import QUIET_FLIGHT, cautions
from flights import aircraft, all_cruise

from plotter.flight.aircraft import Airspeed, VerticalRate
from plotter.flight.plan.values import LegNotes, Limits
from plotter.places.store import Store

SLOW_CLIMB = aircraft(climb=VerticalRate(120.0, Airspeed(90.0), 12.0))


@pytest.mark.parametrize(
    ("rank", "code", "changes", "words"),
    [
        (
            "STOP",
            "below-ground",
            {"legs": (LegNotes(2, highest_ground_ft=7000.0),)},
            "Leg 2 is flown at 6,500 ft, but its highest ground is 7,000",
        ),
        (
            "CHECK",
            "ground-clearance",
            {
                "legs": (LegNotes(2, highest_ground_ft=6000.0),),
                "limits": Limits(ground_clearance_ft=1000.0),
            },
            "clears its highest ground by 500 ft",
        ),
        (
            "CHECK",
            "ground-within-500-ft",
            {"legs": (LegNotes(2, highest_ground_ft=6499.0),)},
            "Leg 2 clears its highest ground by 1 ft, too low to be lawful",
        ),
        (
            "CHECK",
            "ground-within-1000-ft",
            {"legs": (LegNotes(2, highest_ground_ft=6000.0),)},
            "Leg 2 clears its highest ground by 500 ft. Over a town or",
        ),
        (
            "STOP",
            "below-ground",
            {"legs": (LegNotes(2, highest_ground_ft=1450.0, highest_obstacle_ft=6500.0),)},
            "Leg 2 is flown at 6,500 ft, but its highest obstacle is 6,500",
        ),
        (
            "CHECK",
            "ground-clearance",
            {
                "legs": (LegNotes(2, highest_ground_ft=1450.0, highest_obstacle_ft=6000.0),),
                "limits": Limits(ground_clearance_ft=1000.0),
            },
            "clears its highest obstacle by 500 ft",
        ),
        (
            "CHECK",
            "ground-within-1000-ft",
            {"legs": (LegNotes(2, highest_obstacle_ft=6000.0),)},
            "Leg 2 clears its highest obstacle by 500 ft",
        ),
        (
            "CHECK",
            "ground-within-1000-ft",
            {"legs": (LegNotes(2, highest_ground_ft=6000.0, highest_obstacle_ft=1890.0),)},
            "Leg 2 clears its highest ground by 500 ft",
        ),
        (
            "CHECK",
            "ground-on-the-way",
            {"aircraft": SLOW_CLIMB, "legs": (LegNotes(2, highest_ground_ft=4800.0),)},
            "Leg 2 starts or ends at 5,030 ft in climb or descent, and its",
        ),
        ("CHECK", "cruising-altitude", {"cruise_altitudes_ft": (6500.0,)}, "6,500 ft on 093°M"),
        (
            "CHECK",
            "cruising-altitude",
            {"cruise_altitudes_ft": (6500.0,), "visual_rules": "ICAO"},
            "the ICAO table requires odd thousands plus 500 ft, if more",
        ),
        (
            "NOTE",
            "cruising-altitude-state",
            {"visual_rules": "ICAO"},
            "some divide the circle at 090° and 270°",
        ),
        (
            "CHECK",
            "cruising-altitude-state",
            {"route": "NZQN NZMF"},
            "NZQN (NZ), NZMF (NZ) are outside the US, so no altitude was",
        ),
        (
            "CHECK",
            "oxygen",
            {"cruise_altitudes_ft": (14_500.0,)},
            "all the time above 14,000 ft; the crew must use oxygen after 30 min",
        ),
        (
            "NOTE",
            "oxygen-later",
            {"route": "KRST KLSE", "cruise_altitudes_ft": (13_500.0,), "aircraft": all_cruise()},
            "after 30 min there the crew must use oxygen",
        ),
        ("NOTE", "terrain-not-checked", {}, "Legs 1–3: terrain not checked"),
        (
            "NOTE",
            "terrain-in-part",
            {
                "legs": (
                    LegNotes(1, highest_ground_ft=1450.0),
                    LegNotes(3, highest_ground_ft=1500.0),
                )
            },
            "Legs 1, 3: no highest obstacle given. Read it off the chart too and enter it as "
            "highest_obstacle_ft.",
        ),
        (
            "NOTE",
            "terrain-in-part",
            {"legs": (LegNotes(2, highest_obstacle_ft=1890.0),)},
            "Leg 2: no highest ground given. Read it off the chart too and enter it as "
            "highest_ground_ft.",
        ),
        (
            "CHECK",
            "peaks-below-cruise",
            {"cruise_altitudes_ft": (4500.0, 40_000.0, 4500.0)},
            "40,000",
        ),
        (
            "CHECK",
            "above-visual-altitudes",
            {"cruise_altitudes_ft": (18_000.0,)},
            "below 18,000 ft",
        ),
        (
            "CHECK",
            "typed-too-short",
            {"legs": (LegNotes(1, distance_nm=5.0),)},
            "you typed 5.0 NM, but its ends are 54.0 NM apart. Time and fuel come out too small",
        ),
        (
            "CHECK",
            "ground-on-the-way",
            {"aircraft": SLOW_CLIMB, "legs": (LegNotes(2, highest_ground_ft=6000.0),)},
            "Leg 2 starts or ends at 5,030 ft in climb or descent, and its",
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
        ("peaks-below-cruise", {"cruise_altitudes_ft": (5500.0, 8500.0, 6500.0)}),
        ("above-visual-altitudes", {"cruise_altitudes_ft": (17_500.0,)}),
        ("typed-too-short", {"legs": (LegNotes(1, distance_nm=53.2),)}),
        ("typed-too-short", {"legs": (LegNotes(1, distance_nm=60.0),)}),
        ("ground-within-500-ft", {"legs": (LegNotes(2, highest_ground_ft=6000.0),)}),
        ("ground-within-1000-ft", {"legs": (LegNotes(2, highest_ground_ft=5500.0),)}),
        ("ground-within-1000-ft", {"legs": (LegNotes(2, highest_ground_ft=6001.0),)}),
        ("ground-clearance", {"legs": (LegNotes(2, highest_ground_ft=6000.0),)}),
        ("terrain-in-part", {}),
        ("terrain-in-part", QUIET_FLIGHT),
        ("terrain-not-checked", QUIET_FLIGHT),
        ("cruising-altitude", {"route": "NZQN NZMF", "cruise_altitudes_ft": (7500.0,)}),
        ("cruising-altitude-state", {}),
        ("oxygen", {"cruise_altitudes_ft": (12_500.0,)}),
        ("oxygen-later", {"cruise_altitudes_ft": (12_500.0,)}),
        (
            "ground-on-the-way",
            {"aircraft": SLOW_CLIMB, "legs": (LegNotes(2, highest_ground_ft=4500.0),)},
        ),
        ("ground-on-the-way", {"legs": (LegNotes(1, highest_ground_ft=6000.0),)}),
        ("ground-on-the-way", {"legs": (LegNotes(3, highest_ground_ft=6000.0),)}),
    ],
)
def test_a_caution_stays_away(real_store: Store, code: str, changes: dict[str, Any]) -> None:
    assert code not in cautions(real_store, **changes)


@pytest.mark.parametrize(
    "notes",
    [
        {},
        {"highest_ground_ft": 1550.0},
        {"highest_ground_ft": 2650.0},  # a mast, as the key was once meant
        {"highest_obstacle_ft": 2650.0},
        {"highest_ground_ft": 1550.0, "highest_obstacle_ft": 2650.0},
        {"highest_ground_ft": 2700.0, "highest_obstacle_ft": 2700.0},
    ],
)
def test_nothing_typed_of_ground_or_obstacle_ends_the_cruising_altitude(
    real_store: Store, notes: dict[str, float]
) -> None:
    """KONA to KRST is westbound over fields of 656 to 1,317 ft: 5,500 ft is an odd altitude.

    The rule binds wherever the surface is more than 3,000 ft below (14 CFR 91.159); the highest
    ground of a leg does not tell how low the rest of it lies, and a mast is no surface.
    """
    changes = {"route": "KONA KRST", "cruise_altitudes_ft": (5500.0,), "aircraft": all_cruise()}
    found = cautions(real_store, **changes, legs=(LegNotes(1, **notes),))
    assert "4,500 ft or 6,500 ft" in found["cruising-altitude"].text


def test_a_field_below_the_sea_raises_the_cruising_altitude(real_store: Store) -> None:
    """Furnace Creek (L06), Death Valley, lies 210 ft below the sea: 2,900 ft are 3,110 ft above."""
    changes = {"cruise_altitudes_ft": (2900.0,), "aircraft": all_cruise()}
    assert "cruising-altitude" in cautions(real_store, **changes, route="L06 35.9,-116.5")
    assert "cruising-altitude" not in cautions(real_store, **changes, route="KRST KLSE")
