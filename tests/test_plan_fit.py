"""Whether a plan fits its route: all that does not is told at once, each with its key and line."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from flights import plan

from plotter import api
from plotter.cli.main import run
from plotter.earth.position import Position
from plotter.errors import PlanError, RouteError
from plotter.flight.log import navigation_log
from plotter.flight.plan.values import LegNotes, Stop, Weather
from plotter.places.store import Store
from plotter.route.reading.points import OwnPoint, OwnPoints

PLAN = """format = 1
[flight]
route = "KRST KLSE KDLH"
departure = 2026-07-04T09:00:00-05:00
cruise_altitude_ft = [5500, 3500, 2500]
[[stop]]
point = "KMSP"
[aircraft]
true_airspeed_kt = 110
cruise_fuel_per_hour = 8
fuel_unit = "US gal"
usable_fuel = 53
fuel_on_board = 40
[[leg]]
number = 4
[[leg]]
number = 9
[[weather]]
point = "KABC"
temperature_c = 9
"""
Faults = list[tuple[str, str]]


def keys(store: Store, **changes: Any) -> Faults:
    with pytest.raises(PlanError) as caught:
        navigation_log(plan(**changes), store)
    return [(one.code, one.where.key if one.where else "") for one in caught.value.faults]


def test_every_fault_at_once_with_its_key(real_store: Store) -> None:
    found = keys(
        real_store,
        cruise_altitudes_ft=(5500.0, 4500.0),
        legs=(LegNotes(4), LegNotes(1), LegNotes(9)),
        stops=(Stop("KMSP"), Stop("KLSE"), Stop("KRST")),
        weather=(Weather("KABC"), Weather("KDLH"), Weather("KMSP")),
    )
    assert found == [
        ("cruise_altitude_ft", "flight.cruise_altitude_ft"),
        ("number", "leg.1.number"),
        ("number", "leg.3.number"),
        ("stop", "stop.1.point"),
        ("stop", "stop.3.point"),
        ("weather", "weather.1.point"),
        ("weather", "weather.3.point"),
    ]


def test_an_altitude_below_a_field_is_at_the_key_it_was_taken_from(real_store: Store) -> None:
    low = (LegNotes(3), LegNotes(1, altitude_ft=1000.0))
    found = keys(real_store, cruise_altitudes_ft=(1400.0,), legs=low)
    assert found == [
        ("cruise_altitude_ft", "leg.2.altitude_ft"),
        ("cruise_altitude_ft", "flight.cruise_altitude_ft"),
    ]


def test_one_leg_is_one_leg(real_store: Store) -> None:
    changes = {"cruise_altitudes_ft": (5500.0, 4500.0), "legs": (LegNotes(2),)}
    with pytest.raises(PlanError) as caught:
        navigation_log(plan(route="KRST KDLH", **changes), real_store)
    said = [one.message for one in caught.value.faults]
    assert said[0].startswith("cruise_altitude_ft has 2 altitudes for 1 leg;")
    assert said[1].endswith("the route has one leg, so enter 1")


def test_where_points_are_not_known_the_legs_still_are_counted(real_store: Store) -> None:
    changes: dict[str, Any] = {"route": "KRSTX DCT KDHL KLSE", "legs": (LegNotes(3),)}
    with pytest.raises(RouteError) as caught:
        navigation_log(plan(**changes), real_store)
    codes = [one.code for one in caught.value.faults]
    assert codes == ["unknown-identifier", "unknown-identifier", "number"]
    assert "a leg of the route, 1 to 2" in caught.value.faults[-1].message
    # The name of an own point may hold spaces: then its words are not counted as points.
    own = OwnPoints([OwnPoint("Red Barn", Position(44.0, -92.0))])
    with pytest.raises(RouteError) as caught:
        navigation_log(plan(**changes), real_store, own)
    assert len(caught.value.faults) == 2


Told = Callable[[str], str]


@pytest.fixture
def told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Any) -> Told:
    """What `plotter log` says of a plan."""

    def _told(text: str) -> str:
        monkeypatch.chdir(tmp_path)
        (tmp_path / "bad.toml").write_text(text, encoding="utf-8")
        assert run(["log", "bad.toml"]) == 2
        err: str = capsys.readouterr().err
        return err

    return _told


def lines_of(said: str) -> list[str]:
    return [line.removeprefix("Error: bad.toml, ") for line in said.splitlines() if "Err" in line]


def test_each_is_told_with_its_line(told: Told) -> None:
    said = lines_of(told(PLAN))
    assert [line.partition(":")[0] for line in said] == [
        f"line {number}" for number in (5, 7, 15, 17, 19)
    ]
    assert "cruise_altitude_ft has 3 altitudes for 2 legs" in said[0]


def test_a_bad_point_is_told_with_its_line_and_its_caret(told: Told) -> None:
    said = told(PLAN.replace("KRST KLSE", "KRSTX KLSE"))
    assert "Error: bad.toml, line 3: no place 'KRSTX' in the data" in said
    assert "  KRSTX KLSE KDLH\n  ^^^^^\n" in said
    assert [line.partition(":")[0] for line in lines_of(said)] == [
        f"line {number}" for number in (3, 5, 15, 17)
    ]


def test_a_name_that_is_no_identifier_keeps_its_line(told: Told) -> None:
    said = told(PLAN.replace("KRST KLSE", "KRST Winona"))
    assert "Error: bad.toml, line 3: no " in said


def test_from_python_a_text_has_lines_and_a_plan_has_keys() -> None:
    with pytest.raises(PlanError, match=r"plan, line 5: \[flight\] cruise_altitude_ft has 3"):
        api.log(PLAN)
    with pytest.raises(PlanError) as caught:
        api.log(api.plan(PLAN))
    assert str(caught.value).startswith("cruise_altitude_ft has 3 altitudes")
