"""The values of a plan: each refuses what cannot be, and answers for its legs."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable
from typing import Any

import pytest

from plotter.errors import InputError
from plotter.flight.aircraft import Aircraft, Airspeed, Cruise
from plotter.flight.log import wishes_of
from plotter.flight.plan.values import GivenWind, LegNotes, Limits, Plan, PlannedWind, Stop, Weather

AIRCRAFT = Aircraft("Blue Wren, invented", "US gal", 53.0, 40.0, Cruise(Airspeed(110.0), 8.5))
CALM = GivenWind(0.0, "true", 0.0)
NOON = dt.datetime(2026, 7, 4, 17, 0, tzinfo=dt.UTC)


def plan(**changes: Any) -> Plan:
    given: dict[str, Any] = {
        "route": "KRST KLSE",
        "departure": NOON,
        "cruise_altitudes_ft": (5500.0,),
        "aircraft": AIRCRAFT,
    }
    return Plan(**{**given, **changes})


def test_one_altitude_serves_every_leg_and_a_note_comes_first() -> None:
    made = plan(legs=(LegNotes(2, altitude_ft=7500.0),))
    assert [made.cruise_altitude_ft(leg) for leg in (1, 2, 3)] == [5500.0, 7500.0, 5500.0]


def test_one_altitude_a_leg() -> None:
    made = plan(cruise_altitudes_ft=(3500.0, 4500.0))
    made.check_legs(2)
    assert made.cruise_altitude_ft(2) == 4500.0
    with pytest.raises(InputError, match="2 altitudes for 3 legs"):
        made.check_legs(3)


def test_a_note_for_a_leg_that_is_not() -> None:
    with pytest.raises(InputError, match="a leg of the route, 1 to 2") as caught:
        plan(legs=(LegNotes(3),)).check_legs(2)
    assert caught.value.code == "number"


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"departure": dt.datetime(2026, 7, 4, 17, 0)}, "departure"),
        (
            {"departure": dt.datetime(1, 1, 1, tzinfo=dt.timezone(dt.timedelta(hours=14)))},
            "departure",
        ),
        ({"departure": dt.datetime(9999, 12, 31, 23, tzinfo=dt.UTC)}, "departure"),
        ({"cruise_altitudes_ft": ()}, "cruise_altitude_ft"),
        ({"cruise_altitudes_ft": (float("nan"),)}, "cruise_altitude_ft"),
        ({"every_min": 0.0}, "checkpoints_every_min"),
    ],
)
def test_a_plan_refuses_what_cannot_be(changes: dict[str, Any], code: str) -> None:
    with pytest.raises(InputError) as caught:
        plan(**changes)
    assert caught.value.code == code


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("true_course_deg", 361.0),
        ("measured_course_deg", -1.0),
        ("variation_deg_east", 181.0),
        ("true_airspeed_kt", 0.0),
        ("distance_nm", -4.0),
        ("measured_nm", 0.0),
        ("altitude_ft", math.nan),
        ("altitude_ft", 65_001.0),
        ("highest_ground_ft", math.inf),
        ("highest_ground_ft", -2_000.0),
        ("highest_obstacle_ft", math.inf),
        ("highest_obstacle_ft", 200_000.0),
    ],
)
def test_notes_of_a_leg_refuse_what_cannot_be(key: str, value: float) -> None:
    with pytest.raises(InputError) as caught:
        LegNotes(1, **{key: value})
    assert caught.value.code == key


@pytest.mark.parametrize(
    ("made", "code"),
    [
        (lambda: PlannedWind(math.nan, CALM), "altitude_ft"),
        (lambda: PlannedWind(-1_501.0, CALM), "altitude_ft"),
        (lambda: PlannedWind(3_000.0, CALM, math.nan), "temperature_c"),
        (lambda: Weather("KRST", temperature_c=77.0), "temperature_c"),
    ],
)
def test_a_wind_and_a_weather_refuse_what_cannot_be(made: Callable[[], object], code: str) -> None:
    with pytest.raises(InputError) as caught:
        made()
    assert caught.value.code == code


def test_a_leg_at_sea_level_is_among_the_altitudes_of_the_flight() -> None:
    """Nought is an altitude that was typed; below it lie airfields that are used."""
    made = plan(cruise_altitudes_ft=(-500.0,), legs=(LegNotes(2, altitude_ft=0.0),))
    assert wishes_of(made).altitude_ft == 0.0


def test_notes_say_which_figures_they_replace() -> None:
    assert LegNotes(1, true_course_deg=90.0, measured_nm=12.0).replaced == ("true_course_deg",)


def test_a_wind_says_its_reference() -> None:
    assert GivenWind(350.0, "magnetic", 10.0).true_wind(-15.0).from_true_deg == 335.0
    assert GivenWind(350.0, "true", 10.0).true_wind(-15.0).from_true_deg == 350.0
    with pytest.raises(InputError, match="true or magnetic"):
        GivenWind(350.0, "grid", 10.0)  # type: ignore[arg-type]
    with pytest.raises(InputError, match="0 to 300 kt"):
        GivenWind(350.0, "true", 400.0)


def test_limits_stops_and_weather_refuse_what_cannot_be() -> None:
    with pytest.raises(InputError, match="crosswind_kt is -1"):
        Limits(crosswind_kt=-1.0)
    with pytest.raises(InputError, match="ground_min is -5"):
        Stop("KLSE", ground_min=-5.0)
    with pytest.raises(InputError):
        Weather("KLSE", altimeter_hpa=30.05)


@pytest.mark.parametrize("typed_nm", [0.05, 1e-6])
def test_a_typed_leg_needs_length(typed_nm: float) -> None:
    """A leg of nothing would take its turning point out of the log."""
    with pytest.raises(InputError, match=r"enter 0\.1 or more") as caught:
        LegNotes(1, distance_nm=typed_nm)
    assert caught.value.code == "distance_nm"
    assert LegNotes(1, distance_nm=0.1).distance_nm == 0.1
