"""The ``log-1`` document and the CSV: every key of the contract, the same figures in both."""

from __future__ import annotations

import csv
import datetime as dt
import io
import json

import pytest
from flights import plan, printed_rows

from plotter.flight.columns import COLUMNS
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.values import GivenWind, LegNotes, Stop, Weather
from plotter.flight.sun_clock import iso_instant
from plotter.formats.document import to_json
from plotter.formats.log_document import log_document, terrain
from plotter.formats.log_table import FIELDS, log_table
from plotter.places.store import Store
from plotter.wording import NOT_CHECKED

ROW_KEYS = [
    "sector",
    "from",
    "to",
    "phase",
    "altitude_ft",
    "distance_nm",
    "distance_to_go_nm",
    "true_course_deg",
    "wind_from_true_deg",
    "wind_speed_kt",
    "true_airspeed_kt",
    "wind_correction_angle_deg",
    "true_heading_deg",
    "variation_deg_east",
    "magnetic_heading_deg",
    "compass_card_correction_deg",
    "compass_heading_deg",
    "groundspeed_kt",
    "ete_min",
    "eta",
    "fuel_used",
    "fuel_remaining",
]
TOTALS = [
    "distance_nm",
    "ete_min",
    "fuel_used",
    "fuel_remaining",
    "reserve_min",
    "margin_min",
    "margin_fuel",
]


@pytest.fixture(scope="module")
def log(real_store: Store) -> NavigationLog:
    weather = Weather("KEAU", 1013.25, 30.0, GivenWind(240.0, "true", 12.0))
    quiet = {"cruising-altitude": "low ground, invented reason"}
    made = plan(name="=demo\u202e", stops=(Stop("KEAU", 20.0),), weather=(weather,), quiet=quiet)
    return navigation_log(made, real_store)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"highest_ground_ft": 1450.0}, "highest ground 1,450 ft, as typed"),
        ({"highest_obstacle_ft": 1890.0}, "highest obstacle 1,890 ft, as typed"),
        (
            {"highest_ground_ft": 1450.0, "highest_obstacle_ft": 1890.0},
            "highest ground 1,450 ft, highest obstacle 1,890 ft, as typed",
        ),
    ],
)
def test_a_row_says_what_is_typed_of_ground_and_obstacle(
    real_store: Store, typed: dict[str, float], said: str
) -> None:
    made = navigation_log(plan(route="KRST KLSE", legs=(LegNotes(1, **typed),)), real_store)
    assert {terrain(row) for row in made.rows} == {said}


def test_the_document_has_the_keys_it_promises(log: NavigationLog) -> None:
    made = json.loads(to_json(log_document(log, {})))
    assert made["schema"] == "log-1"
    assert made["flight"]["fuel_unit"] == "US gal"
    for row in made["rows"]:
        assert set(ROW_KEYS) <= set(row)
        assert "working" not in row
        assert row["phase"] in ("climb", "cruise", "descent")
        assert row["terrain"] == "terrain not checked"
    assert list(made["totals"]) == TOTALS
    assert {"rank", "code", "text", "source", "where"} == set(made["cautions"][0])
    assert NOT_CHECKED in {one["text"] for one in made["cautions"]}
    assert made["silenced"][0]["reason"] == "low ground, invented reason"
    assert [(one["sector"], one["of"], one["point"]) for one in made["sun"]] == [
        (1, "take-off", "KRST"),
        (1, "landing", "KEAU"),
        (2, "take-off", "KEAU"),
        (2, "landing", "KDLH"),
    ]


def test_the_sun_of_a_day_is_in_order_and_each_sector_has_its_own(real_store: Store) -> None:
    """Fort Yukon in June: the sunset follows the sunrise, though by the clock its date begins with
    the sunset of the evening before.
    """
    zone = dt.timezone(dt.timedelta(hours=-8))
    made = plan(route="PAFA PFYU", departure=dt.datetime(2026, 6, 1, 22, 30, tzinfo=zone))
    node = json.loads(to_json(log_document(navigation_log(made, real_store), {})))
    sun = node["sun"][1]
    assert sun["point"] == "PFYU"
    assert sun["local_date"] == "2026-06-01"
    assert sun["sunrise"] < sun["sunset"]
    assert sun["civil_twilight_end"] is None
    assert sun["twilight"] == "above all day"
    landing = node["sectors"][0]["sun_at_landing"]
    assert landing["light"] == "day"
    assert [one["event"] for one in landing["events"]] == ["sunset", "sunrise"]
    assert landing["events"][0]["at"] == sun["sunset"]
    assert node["sectors"][0]["sun_at_take_off"]["light"] == "day"


def test_a_field_that_is_left_and_landed_at_has_the_sun_of_both(real_store: Store) -> None:
    """Out in the afternoon, back the next morning: two days of each field."""
    zone = dt.timezone(dt.timedelta(hours=-5))
    afternoon = dt.datetime(2026, 7, 4, 16, 0, tzinfo=zone)
    stops = (Stop("KLSE", 16 * 60.0),)
    made = plan(route="KRST KLSE KRST", departure=afternoon, stops=stops)
    sun = log_document(navigation_log(made, real_store), {})["sun"]
    assert [one["point"] for one in sun] == ["KRST", "KLSE", "KLSE", "KRST"]
    assert [one["local_date"][-2:] for one in sun] == ["04", "04", "05", "05"]
    assert sun[0]["sunset"] != sun[3]["sunset"]


def test_totals_are_those_of_the_rows(log: NavigationLog) -> None:
    made = log_document(log, {})
    rows, totals = made["rows"], made["totals"]
    taxi = sum(sector["fuel"]["taxi"] for sector in made["sectors"])
    assert sum(row["ete_min"] for row in rows) == pytest.approx(totals["ete_min"])
    assert sum(row["fuel_used"] for row in rows) + taxi == pytest.approx(totals["fuel_used"])
    last = made["sectors"][-1]
    assert totals["fuel_remaining"] - last["reserve"]["fuel"] == pytest.approx(
        totals["margin_fuel"]
    )


def test_working_stands_only_where_it_is_asked_for(log: NavigationLog) -> None:
    made = json.loads(to_json(log_document(log, {}, {2: ("groundspeed_kt",)})))
    assert ["working" in row for row in made["rows"]].count(True) == 1
    worked = made["rows"][1]["working"]["groundspeed_kt"]
    assert worked["result"] == made["rows"][1]["groundspeed_kt"]
    assert [put["symbol"] for put in worked["put_in"]] == ["TAS", "WCA", "TC", "wind", "W"]


def test_the_same_plan_gives_the_same_bytes(log: NavigationLog, real_store: Store) -> None:
    again = navigation_log(log.plan, real_store)
    assert to_json(log_document(again, {})) == to_json(log_document(log, {}))
    assert log_table(again) == log_table(log)


def test_the_table_has_the_figures_that_are_printed(log: NavigationLog) -> None:
    read = list(csv.DictReader(io.StringIO(log_table(log).decode("utf-8"), newline="")))
    assert tuple(read[0]) == FIELDS
    rows = [row for row in read if row["row"] == "log"]
    document = log_document(log, {})["rows"]
    for row, made, own in zip(rows, document, printed_rows(log), strict=True):
        for key in ROW_KEYS:
            if key in COLUMNS and key != "eta":
                plain = COLUMNS[key].plain(own)
                assert row[key] == ("" if plain is None else str(plain)), key
            elif isinstance(made[key], float):
                assert float(row[key]) == pytest.approx(made[key], abs=0.0051), key
            elif key != "eta":
                assert row[key] == ("" if made[key] is None else str(made[key]))
        assert row["eta"] == iso_instant(own.eta)


def test_no_cell_of_the_table_runs_in_a_spreadsheet(log: NavigationLog) -> None:
    read = csv.reader(io.StringIO(log_table(log).decode("utf-8"), newline=""))
    for line in list(read)[1:]:
        assert not any(cell[:1] in "=+@" for cell in line if cell)
    assert any("Not checked" in cell for cell in log_table(log).decode("utf-8").splitlines())
