"""The cautions of a log: each arises where it must and only there; ranks, classes, silence."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from flights import TAKE_OFF, aircraft, all_cruise, plan, wind

from plotter.earth.sun import is_night
from plotter.errors import InputError
from plotter.flight.aircraft import Airspeed, Cruise, VerticalRate
from plotter.flight.compass import compass_card
from plotter.flight.log import navigation_log
from plotter.flight.plan.values import GivenWind, LegNotes, Limits, Stop, Weather, WindsAloft
from plotter.places.store import Store
from plotter.route.values import RANKS, Caution
from plotter.wording import STANDING

EVENING = dt.datetime(2026, 7, 4, 20, 30, tzinfo=dt.timezone(dt.timedelta(hours=-5)))


def cautions(store: Store, **changes: Any) -> dict[str, Caution]:
    return {one.code: one for one in navigation_log(plan(**changes), store).told}


ALOFT = WindsAloft(
    "VALID 041800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000\n"
    "FT  3000    6000    9000\nMSP 2215 2422+12 2530+06",
    ("MSP",),
)
AT_DULUTH = (Weather("KDLH", wind=GivenWind(210.0, "true", 25.0)),)
WIDE_WEST = compass_card([(60, 61), (90, 91), (120, 120)])
MARGIN = {"limits": Limits(daylight_margin_min=120.0)}
SLOW_CLIMB = aircraft(climb=VerticalRate(120.0, Airspeed(90.0), 12.0))
CASES: list[tuple[str, str, dict[str, Any], str]] = [
    ("STOP", "reserve", {"aircraft": aircraft(fuel_on_board=20.0)}, "Reserve not met"),
    ("STOP", "reserve", {"aircraft": aircraft(fuel_on_board=12.0)}, "the tanks run dry at"),
    (
        "STOP",
        "below-ground",
        {"legs": (LegNotes(2, highest_ground_ft=7000.0),)},
        "Leg 2 is flown at 6,500 ft, and its highest ground is 7,000 ft",
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
        "Leg 2 clears its highest ground by 1 ft: too low",
    ),
    (
        "CHECK",
        "ground-within-1000-ft",
        {"legs": (LegNotes(2, highest_ground_ft=6000.0),)},
        "by 500 ft. Over a town or another congested area the rule asks for 1,000 ft",
    ),
    (
        "STOP",
        "below-ground",
        {"legs": (LegNotes(2, highest_ground_ft=1450.0, highest_obstacle_ft=6500.0),)},
        "Leg 2 is flown at 6,500 ft, and its highest obstacle is 6,500 ft",
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
        "Leg 2 is entered or left at 5,030 ft",
    ),
    ("CHECK", "cruising-altitude", {"cruise_altitudes_ft": (6500.0,)}, "6,500 ft on 093°M"),
    (
        "CHECK",
        "cruising-altitude",
        {"cruise_altitudes_ft": (6500.0,), "visual_rules": "ICAO"},
        "the table of ICAO asks for odd thousands",
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
        "NZQN (NZ), NZMF (NZ) lie outside",
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
    (
        "CHECK",
        "strong-wind",
        {"winds": (wind(0.0, 55.2),), "aircraft": all_cruise()},
        "wind of 56 kt is more than half the true airspeed of 110 kt",
    ),
    (
        "CHECK",
        "low-groundspeed",
        {"winds": (wind(85.0, 92.0),), "route": "KRST KLSE", "aircraft": all_cruise()},
        "Leg 1: groundspeed is 18 kt, below 20 kt",
    ),
    (
        "CHECK",
        "departure-offset",
        {"departure": dt.datetime(2026, 12, 4, 17, tzinfo=TAKE_OFF.tzinfo)},
        "typed the departure as 2026-12-04 17:00 UTC-05:00, but the clock at KRST differs then: "
        "take-off is 16:00 CST (22:00Z). If 17:00 is the local time, write "
        "2026-12-04T17:00:00-06:00.",
    ),
    (
        "NOTE",
        "no-time-zone",
        {"route": "KRST 43.9,-91.3"},
        "its times are printed in UTC-05:00, as you typed",
    ),
    ("CHECK", "night", {"departure": EVENING}, "at night, from"),
    ("CHECK", "night-currency", {"departure": EVENING}, "To carry passengers"),
    ("NOTE", "position-lights", {"departure": EVENING}, "between sunset and sunrise"),
    (
        "CHECK",
        "daylight-margin",
        {
            "departure": EVENING - dt.timedelta(hours=2),
            "limits": Limits(daylight_margin_min=60.0),
        },
        "min before sunset",
    ),
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
    ("CHECK", "far-apart", {"every_nm": 200.0}, "without a checkpoint, KRST to KLSE"),
    ("CHECK", "no-wind", {"winds": ()}, "calm air"),
    ("CHECK", "two-winds", {"winds_aloft": ALOFT}, "the forecast is used"),
    ("CHECK", "wind-beyond", {"cruise_altitudes_ft": (11500.0,)}, "above every altitude"),
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
    ("NOTE", "terrain-not-checked", {}, "Leg 1, 2, 3: terrain not checked"),
    (
        "NOTE",
        "terrain-in-part",
        {"legs": (LegNotes(1, highest_ground_ft=1450.0), LegNotes(3, highest_ground_ft=1500.0))},
        "Leg 1, 3: no highest obstacle is typed. Read it off the chart too and give it as "
        "highest_obstacle_ft.",
    ),
    (
        "NOTE",
        "terrain-in-part",
        {"legs": (LegNotes(2, highest_obstacle_ft=1890.0),)},
        "Leg 2: no highest ground is typed. Read it off the chart too and give it as "
        "highest_ground_ft.",
    ),
    ("NOTE", "leg-split", {"route": "KRST KBIL"}, "is split into"),
    (
        "NOTE",
        "rests-on",
        {"aircraft": aircraft(cruise=Cruise(Airspeed(100.0, "calibrated"), 8.5))},
        "no altimeter setting is given",
    ),
    ("CHECK", "peaks-below-cruise", {"cruise_altitudes_ft": (4500.0, 40_000.0, 4500.0)}, "40,000"),
    ("CHECK", "above-visual-altitudes", {"cruise_altitudes_ft": (18_000.0,)}, "below 18,000 ft"),
    ("CHECK", "rolls-on", {"stops": (Stop("KEAU", fuel_added=3.0, full_stop=False),)}, "KEAU"),
    ("CHECK", "rolls-on", {"stops": (Stop("KEAU", 20.0, full_stop=False),)}, "Both are counted"),
    ("NOTE", "not-in-the-figures", {}, "Traffic patterns, landings and holding"),
    (
        "CHECK",
        "typed-too-short",
        {"legs": (LegNotes(1, distance_nm=5.0),)},
        "Leg 1: 5.0 NM is typed, and its ends are 54.0 NM apart",
    ),
    (
        "STOP",
        "below-ground",
        {"legs": (LegNotes(2, highest_ground_ft=1450.0, highest_obstacle_ft=6500.0),)},
        "Leg 2 is flown at 6,500 ft, and its highest obstacle is 6,500 ft",
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
        {"aircraft": SLOW_CLIMB, "legs": (LegNotes(2, highest_ground_ft=6000.0),)},
        "Leg 2 is entered or left at",
    ),
    ("NOTE", "quiet-unused", {"quiet": {"nigth": "a slip"}}, "[quiet] nigth silences nothing"),
    (
        "CHECK",
        "daylight-margin",
        {"departure": EVENING - dt.timedelta(hours=1), "limits": Limits(daylight_margin_min=30)},
        "is after sunset or before sunrise",
    ),
    (
        "CHECK",
        "weather-no-elevation",
        {"route": "KRST 44,-92 KLSE", "weather": (Weather("44,-92", 1003.0, 30.0),)},
        "no pressure or density altitude",
    ),
    (
        "CHECK",
        "winds-aloft-period",
        {"winds_aloft": ALOFT, "winds": (), "departure": TAKE_OFF + dt.timedelta(hours=6)},
        "for use until 21:00Z",
    ),
    (
        "CHECK",
        "winds-aloft-far",
        {"winds_aloft": ALOFT, "winds": (), "route": "KRST KBIL"},
        "Leg 1: the nearest station whose winds are used is up to",
    ),
    (
        "CHECK",
        "winds-aloft-far",
        {"winds_aloft": ALOFT, "winds": (), "route": "KBIL KRST"},
        "Leg 1: the nearest station whose winds are used is up to",
    ),
    (
        "NOTE",
        "rests-on",
        {"winds_aloft": ALOFT, "winds": (), "route": "KBIL KRST"},
        "Assumed: wind of MSP;",
    ),
    (
        "NOTE",
        "course-changes",
        {"route": "KRST KBIL", "legs": (LegNotes(1, variation_deg_east=5.0),)},
        "at its middle",
    ),
]


@pytest.mark.parametrize(("rank", "code", "changes", "words"), CASES)
def test_a_caution_arises(
    real_store: Store, rank: str, code: str, changes: dict[str, Any], words: str
) -> None:
    found = cautions(real_store, **changes)[code]
    assert found.rank == rank
    assert words in found.text


QUIET_FLIGHT = {
    "route": "KRST KONA KLSE",
    "cruise_altitudes_ft": (5500.0,),
    "legs": (
        LegNotes(1, highest_ground_ft=1400.0, highest_obstacle_ft=1890.0),
        LegNotes(2, highest_ground_ft=1500.0, highest_obstacle_ft=1700.0),
    ),
}


def test_a_quiet_flight_has_no_stop_and_no_check(real_store: Store) -> None:
    found = cautions(real_store, **QUIET_FLIGHT)
    assert [one.code for one in found.values() if one.rank != "NOTE"] == []


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


def test_a_level_wind_exactly_at_cruise_is_not_beyond(real_store: Store) -> None:
    found = cautions(real_store, winds=(wind(240.0, 10.0, 6500.0),), departure=TAKE_OFF)
    assert "wind-beyond" not in found


@pytest.mark.parametrize(
    ("code", "changes"),
    [
        ("winds-aloft-period", {"winds_aloft": ALOFT, "winds": ()}),
        ("winds-aloft-far", {"winds_aloft": ALOFT, "winds": ()}),
        ("peaks-below-cruise", {"cruise_altitudes_ft": (5500.0, 8500.0, 6500.0)}),
        ("above-visual-altitudes", {"cruise_altitudes_ft": (17_500.0,)}),
        ("rolls-on", {"stops": (Stop("KEAU", full_stop=False),)}),
        ("rolls-on", {"stops": (Stop("KEAU", 20.0, 5.0),)}),
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
        ("crosswind", {"weather": AT_DULUTH, "limits": Limits(crosswind_kt=10.0)}),
        ("runway", {"weather": AT_DULUTH, "limits": Limits(runway_ft=8000.0)}),
        ("crosswind-not-tested", {"weather": AT_DULUTH}),
        ("compass-card-gap", {}),
        ("compass-card-gap", {"aircraft": aircraft(compass_card=WIDE_WEST), "route": "KRST KLSE"}),
        ("unlikely-figure", {}),
        ("strong-wind", {"winds": (wind(0.0, 55.0),), "aircraft": all_cruise()}),
        (
            "low-groundspeed",
            {"winds": (wind(85.0, 85.0),), "route": "KRST KLSE", "aircraft": all_cruise()},
        ),
        (
            "crosswind-not-tested",
            {
                "weather": (*AT_DULUTH, Weather("krst", wind=GivenWind(0.0, "true", 0.0))),
                "limits": Limits(crosswind_kt=10.0),
            },
        ),
        ("oxygen", {"cruise_altitudes_ft": (12_500.0,)}),
        ("oxygen-later", {"cruise_altitudes_ft": (12_500.0,)}),
        (
            "ground-on-the-way",
            {"aircraft": SLOW_CLIMB, "legs": (LegNotes(2, highest_ground_ft=4500.0),)},
        ),
        ("ground-on-the-way", {"legs": (LegNotes(1, highest_ground_ft=6000.0),)}),
        ("ground-on-the-way", {"legs": (LegNotes(3, highest_ground_ft=6000.0),)}),
        ("daylight-margin", {"departure": EVENING - dt.timedelta(hours=5), **MARGIN}),
        ("daylight-margin", {"departure": EVENING}),
        ("course-changes", {"route": "KRST KBIL"}),
        ("weather-no-elevation", {"weather": (Weather("KRST", 1003.0, 30.0),)}),
        ("quiet-unused", {"quiet": {"terrain-not-checked": "read off the chart"}}),
    ],
)
def test_a_caution_stays_away(real_store: Store, code: str, changes: dict[str, Any]) -> None:
    assert code not in cautions(real_store, **changes)


def test_a_daylight_margin_knows_the_sun_that_does_not_set(real_store: Store) -> None:
    """Longyearbyen: the midnight sun of June keeps every margin, the polar night of December
    none."""
    summer = dt.datetime(2026, 6, 20, 23, tzinfo=dt.UTC)
    winter = dt.datetime(2026, 12, 20, 11, tzinfo=dt.UTC)
    changes = {"route": "ENSB ENAS", "limits": Limits(daylight_margin_min=600.0)}
    assert "daylight-margin" not in cautions(real_store, **changes, departure=summer)
    assert (
        "after sunset or before sunrise"
        in cautions(real_store, **changes, departure=winter)["daylight-margin"].text
    )


def test_a_sunset_after_midnight_by_the_clock_counts_as_the_next(real_store: Store) -> None:
    """Fairbanks, early June: the sun sets after midnight by the clock, so the local day's own
    sunset is that of the evening before."""
    evening = dt.datetime(2026, 6, 10, 22, 0, tzinfo=dt.timezone(dt.timedelta(hours=-8)))
    changes = {"route": "PAFA PAEI", "cruise_altitudes_ft": (2500.0,), "departure": evening}
    own = {"limits": Limits(daylight_margin_min=30.0)}
    assert "daylight-margin" not in cautions(real_store, **changes, **own)
    own = {"limits": Limits(daylight_margin_min=300.0)}
    assert "min before sunset" in cautions(real_store, **changes, **own)["daylight-margin"].text


def test_night_that_falls_on_the_way_names_where(real_store: Store) -> None:
    """The end of civil twilight at Eau Claire is near 21:30 CDT in early July (US Naval
    Observatory's rule: the sun 6° down)."""
    found = cautions(real_store, departure=EVENING)["night"]
    assert found.where == "KDLH"
    assert "take-off" not in found.text
    log = navigation_log(plan(departure=EVENING), real_store)
    dark = [row for row in log.rows if is_night(row.end.position, row.eta)]
    assert f"from {dark[0].end.name}, " in found.text
    assert log.sectors[0].reserve.minutes == 45.0


@pytest.mark.parametrize(
    ("stop", "rank"), [((Stop("US-0531"),), "STOP"), ((), "CHECK")], ids=["landed at", "flown over"]
)
def test_a_closed_airport_on_the_way(real_store: Store, stop: tuple[Stop, ...], rank: str) -> None:
    """Sowieja Airport, Farmington, Minnesota, is closed in the data."""
    found = cautions(real_store, route="KRST US-0531 KLSE", stops=stop)
    assert found["closed"].rank == rank


def test_an_unused_code_of_quiet_can_be_silenced_itself(real_store: Store) -> None:
    quiet = {"night": "kept from last week", "quiet-unused": "I know"}
    log = navigation_log(plan(quiet=quiet), real_store)
    assert "quiet-unused" not in {one.code for one in log.cautions}
    assert [one.caution.code for one in log.silenced] == ["quiet-unused"]


def test_several_unused_codes_are_one_line(real_store: Store) -> None:
    said = cautions(real_store, quiet={"night": "a", "nosuch": "b"})["quiet-unused"].text
    assert "[quiet] night silences nothing" in said
    assert "[quiet] nosuch silences nothing" in said


def test_the_forecast_is_refused_only_where_it_is_not_in_use_at_take_off(
    real_store: Store,
) -> None:
    """1400–2100Z: its ends count, a minute before or after does not."""
    changes = {"winds_aloft": ALOFT, "winds": ()}
    for hours in (14.0, 21.0):
        noon = dt.datetime(2026, 7, 4, tzinfo=dt.UTC) + dt.timedelta(hours=hours)
        navigation_log(plan(**changes, departure=noon), real_store)
        minute = dt.timedelta(minutes=-1 if hours == 14.0 else 1)
        with pytest.raises(InputError) as caught:
            navigation_log(plan(**changes, departure=noon + minute), real_store)
        assert caught.value.code == "winds-aloft-period"


def test_what_the_figures_rest_on_names_a_station_once(real_store: Store) -> None:
    said = cautions(real_store, winds_aloft=ALOFT, winds=(), route="KRST KBIL")["rests-on"].text
    assert said.count("wind of MSP") == 1


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
