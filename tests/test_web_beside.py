"""What stands beside the route on the page: settings at fault, the clock of the departure."""

from __future__ import annotations

from typing import Any

import pytest
from served import ROUTE, Served


@pytest.mark.parametrize(
    ("keys", "field", "words"),
    [
        ({"every_nm": 0}, "every", "a checkpoint interval of 0 NM is out of range"),
        ({"every_nm": 0.001}, "every", "enter 0.1 NM or more"),
        ({"date": "2031-01-01"}, "date", "choose a date from 2025-01-01"),
        (
            {"altitude_ft": 9999999},
            "altitude",
            "altitude 9,999,999 ft is out of range; enter -1,500 to",
        ),
    ],
)
def test_a_fault_of_a_setting_names_its_field(
    page: Served, keys: dict[str, Any], field: str, words: str
) -> None:
    answer = page.post("/api/sheet", {**ROUTE, **keys}).json()
    (fault,) = answer["settings"]
    assert fault["field"] == field
    assert words in fault["words"]
    assert answer["sheet"] is None


def test_a_fault_of_the_route_is_none_of_a_setting(page: Served) -> None:
    answer = page.post("/api/sheet", {**ROUTE, "route": "KRST QQQQ", "every_nm": 0}).json()
    assert answer["settings"] == []
    assert "QQQQ" in answer["error"]["message"]


@pytest.mark.parametrize(
    ("route", "date", "offset", "zone"),
    [
        # The dates of the change of clocks: 15 U.S.C. 260a, from the second Sunday in March to the
        # first in November; Directive 2000/84/EC, the last Sundays in March and October.
        ("KRST KLSE", "2026-07-04", "-05:00", "America/Chicago"),
        ("KRST KLSE", "2026-11-20", "-06:00", "America/Chicago"),
        ("EDDF EDDM", "2026-07-04", "+02:00", "Europe/Berlin"),
        ("EDDF EDDM", "2026-10-26", "+01:00", "Europe/Berlin"),
        ("EGBB EGKK", "2026-12-01", "Z", "Europe/London"),
    ],
)
def test_the_clock_of_the_departure(
    page: Served, route: str, date: str, offset: str, zone: str
) -> None:
    clock = page.post("/api/sheet", {"route": route, "date": date}).json()["clock"]
    assert clock["offset"] == offset
    assert clock["words"] == f"the clock of {route[:4]} ({zone})"


def test_the_clock_is_that_of_the_time_of_day(page: Served) -> None:
    asked = {"route": "KRST KLSE", "date": "2026-11-01"}
    offsets = []
    for departure in ("2026-11-01T00:30:00-05:00", "2026-11-01T03:30:00-05:00", "soon"):
        plan = {"flight": {"departure": departure}}
        offsets.append(page.post("/api/sheet", {**asked, "plan": plan}).json()["clock"]["offset"])
    assert offsets == ["-05:00", "-06:00", "-06:00"]


def test_a_point_without_a_clock_says_so(page: Served) -> None:
    asked = {"route": "FARM=4354N09230W KLSE", "date": "2026-07-04"}
    clock = page.post("/api/sheet", asked).json()["clock"]
    assert clock == {"offset": "", "words": "no clock of FARM is in the data: type the offset"}


FORECAST = """DATA BASED ON 041200Z
VALID 041800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000

FT  3000    6000    9000
MSP 2415 2522+12 2630+07
GRB 2410 2520+12 2628+07
"""


@pytest.mark.parametrize(
    ("table", "stations"),
    [
        ({"text": FORECAST}, ["MSP", "GRB"]),
        ({"text": FORECAST, "station": "MSP"}, ["MSP", "GRB"]),
        ({"text": "FT 3000"}, []),
        ({"text": 3}, []),
        ({}, []),
        (None, []),
        ("MSP", []),
    ],
)
def test_the_stations_of_the_forecast_are_offered(
    page: Served, table: object, stations: list[str]
) -> None:
    plan = page.get("/api/plan/new").json()["plan"] | {"winds_aloft": table}
    assert page.post("/api/sheet", {**ROUTE, "plan": plan}).json()["stations"] == stations


def test_a_field_is_not_offered_in_place_of_itself(page: Served) -> None:
    plan = page.get("/api/plan/new").json()["plan"]
    plan["wind"] = [{"altitude_ft": 3000, "speed_kt": 15}]
    (fault,) = page.post("/api/sheet", {**ROUTE, "plan": plan}).json()["log_faults"]
    assert fault["title"] == "Wind 1, From"
    assert fault["words"] == "is missing; enter degrees, as in 240"
