"""A plan file: every key arrives, every fault is told at once with its line and what to write."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.errors import PlanError
from plotter.flight.aircraft import Airspeed, Cruise, VerticalRate
from plotter.flight.compass import compass_card
from plotter.flight.performance import ClimbRow, ClimbTable, CruiseRow, CruiseTable
from plotter.flight.plan.read import read_plan
from plotter.flight.plan.values import GivenWind, LegNotes, Limits, Plan, PlannedWind, Stop, Weather
from plotter.flight.wind import Wind

PLANS = Path(__file__).parent / "plans"
WHOLE = (PLANS / "format-1.toml").read_text(encoding="utf-8")
SHORTEST = (PLANS / "format-1-shortest.toml").read_text(encoding="utf-8")
LINE = re.compile(r"ours\.toml, line (\d+): ")


def faults(text: str) -> list[tuple[int, str]]:
    """The faults of a text as (line, words after the line)."""
    with pytest.raises(PlanError) as caught:
        read_plan(text, "ours.toml")
    told = []
    for fault in caught.value.faults:
        match = LINE.match(fault.message)
        assert match, fault.message
        assert fault.where is not None
        assert (fault.where.file, fault.where.line) == ("ours.toml", int(match[1]))
        told.append((int(match[1]), fault.message[match.end() :]))
    return told


def changed(old: str, new: str, text: str = WHOLE) -> str:
    """A plan with one line changed."""
    assert text.count(old) == 1, old
    return text.replace(old, new)


@pytest.mark.parametrize("path", sorted(PLANS.glob("format-1*.toml")), ids=lambda path: path.name)
def test_every_plan_of_format_1_opens(path: Path) -> None:
    assert read_plan(path.read_text(encoding="utf-8"), path.name).route


def test_every_key_arrives() -> None:
    plan = read_plan(WHOLE, "ours.toml")
    aloft, plan_aloft = plan.winds_aloft, plan.winds_aloft and plan.winds_aloft.stations
    assert aloft is not None
    assert aloft.text.startswith("DATA BASED ON")
    assert plan_aloft == ("OMA", "GRI")
    aircraft = plan.aircraft
    assert (aircraft.name, aircraft.fuel_unit, aircraft.usable_fuel) == ("Blue Wren", "US gal", 53)
    assert (aircraft.fuel_on_board, aircraft.taxi_fuel) == (40, 1.1)
    assert aircraft.cruise == Cruise(Airspeed(100, "calibrated"), 8.5)
    assert aircraft.climb == ClimbTable((ClimbRow(2000, 3, 0.7, 4), ClimbRow(8000, 15, 3.1, 19)))
    assert aircraft.descent == VerticalRate(500, Airspeed(105, "calibrated"), 6)
    assert aircraft.pattern_height_ft == 800
    assert aircraft.compass_card == compass_card([(360, 2), (180, 178)])
    assert plan == Plan(
        route="KRST KLSE KEAU KDLH",
        departure=dt.datetime(2026, 7, 4, 14, 0, tzinfo=dt.UTC),
        cruise_altitudes_ft=(3500, 4500, 4500),
        aircraft=aircraft,
        name="River towns",
        winds=(
            PlannedWind(3000, GivenWind(240, "magnetic", 15)),
            PlannedWind(6000, GivenWind(270, "true", 25), 8),
        ),
        winds_aloft=aloft,
        weather=(
            Weather("KRST", 30.12 * 33.86389, 21, GivenWind(230, "true", 11)),
            Weather("KDLH", 1014),
        ),
        stops=(Stop("KEAU", 30, 10.5, full_stop=False),),
        legs=(LegNotes(2, 5500, Wind(250, 18), 108, 1450, 351, 60, -1.5, 352, "magnetic", 61),),
        limits=Limits(60, 12, 3000, 60, 1500),
        quiet={"night": "flown with an instructor"},
        every_min=8,
        restart=True,
        line="rhumb",
        points_file="points.csv",
        visual_rules="ICAO",
        aircraft_category="rotorcraft",
        lands_on_water=True,
        chart_middle=-93.0,
    )
    assert plan.departure.utcoffset() == dt.timedelta(hours=-5)


def test_the_country_of_registration_is_two_letters() -> None:
    with_country = SHORTEST.replace("[aircraft]\n", '[aircraft]\nregistered_in = "NZ"\n')
    assert read_plan(with_country, "ours.toml").aircraft.registered_in == "NZ"
    line = with_country[: with_country.index("registered_in")].count("\n") + 1
    for wrong in ("USA", "N", "N123AB", "Ü1"):
        assert faults(with_country.replace('"NZ"', f'"{wrong}"')) == [
            (
                line,
                f"[aircraft] registered_in is '{wrong}'; enter the two letters of the country "
                "(ISO 3166), US for a registration that begins with N",
            )
        ]


def test_what_is_left_out_has_the_defaults_of_the_values() -> None:
    plan = read_plan(SHORTEST, "ours.toml")
    assert plan == Plan(
        route="KRST KLSE",
        departure=dt.datetime(2026, 7, 4, 14, 0, tzinfo=dt.UTC),
        cruise_altitudes_ft=(3500,),
        aircraft=plan.aircraft,
    )
    assert plan.aircraft.cruise == CruiseTable((CruiseRow(2000, 95, 20),))
    assert plan.aircraft.climb is plan.aircraft.descent is plan.aircraft.compass_card is None


@pytest.mark.parametrize(
    "before", ["\ufeff", "\n\n", "# ours\n", f"#{'.' * 600}\n", " " * 9_000 + "\n"]
)
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_as_editors_save_it(before: str, newline: str) -> None:
    text = before + SHORTEST.replace("\n", newline)
    assert read_plan(text, "ours.toml") == read_plan(SHORTEST, "ours.toml")
    wrong = changed("usable_fuel = 100", "usable_fuel = -1", SHORTEST).replace("\n", newline)
    assert faults(before + wrong) == [
        (8 + before.count("\n"), "[aircraft] usable_fuel is -1; write a number above 0")
    ]


MANY = """\
colour = "red"
[flight]
rute = "KRST KLSE"
departure = 2026-07-04T09:00:00
cruise_altitude_ft = [3500, "high"]
checkpoints_every_nm = 0
checkpoints_every_min = 8
[aircraft]
true_airspeed_kt = 0
fuel_unit = "gallons"
usable_fuel = 53
fuel_on_board = 60
taxi_fuel = -1
climb_rate_fpm = 500
[[aircraft.compass_card]]
for_magnetic_deg = 90
steer_deg = 91
[[aircraft.compass_card]]
for_magnetic_deg = 90
steer_deg = 92
[[wind]]
altitude_ft = 3000
from_deg = 240
speed_kt = 400
[[stop]]
ground_min = true
[[leg]]
number = 1
[[leg]]
number = 1
wind_speed_kt = 10
[quiet]
night = " "
"""


def test_every_fault_at_once_in_the_order_of_the_lines() -> None:
    told = faults(MANY)
    assert [(line, words.partition(";")[0]) for line, words in told] == [
        (1, "format is missing"),
        (1, "colour is not a known key"),
        (2, "[flight] route is missing"),
        (3, "[flight] rute is not a known key"),
        (4, "[flight] departure is 2026-07-04T09:00:00, without its offset from UTC"),
        (5, '[flight] cruise_altitude_ft is "high", not a number'),
        (6, "[flight] checkpoints_every_nm is 0"),
        (7, "[flight] checkpoints_every_min and checkpoints_every_nm exclude each other"),
        (8, "[aircraft] cruise_fuel_per_hour is missing"),
        (9, "[aircraft] true_airspeed_kt is 0"),
        (10, '[aircraft] fuel_unit is "gallons"'),
        (12, "[aircraft] fuel_on_board is 60, more than usable_fuel, 53"),
        (13, "[aircraft] taxi_fuel is -1"),
        (
            14,
            "[aircraft] climb_rate_fpm needs climb_true_airspeed_kt or "
            "climb_calibrated_airspeed_kt and climb_fuel_per_hour with it",
        ),
        (15, "[aircraft] compass_card: the card has the heading 090 twice"),
        (23, "[[wind]] 1, from_deg needs reference with it"),
        (24, "[[wind]] 1, speed_kt is 400"),
        (25, "[[stop]] 1, point is missing"),
        (26, "[[stop]] 1, ground_min is true, not a number"),
        (30, "[[leg]] 2, number is 1, which [[leg]] 1 has already"),
        (31, "[[leg]] 2, wind_speed_kt needs wind_from_true_deg with it"),
        (33, "[quiet] night is blank"),
    ]
    assert all(
        "write" in words
        or "keep" in words
        or "did you" in words
        or "correct" in words
        or "add" in words
        or "the keys here are" in words
        for _, words in told
    )


def test_one_error_speaks_as_its_first_fault() -> None:
    with pytest.raises(PlanError) as caught:
        read_plan(MANY, "ours.toml")
    error = caught.value
    assert (error.message, error.code, error.where) == (
        error.faults[0].message,
        error.faults[0].code,
        error.faults[0].where,
    )
    keys = [fault.where.key for fault in error.faults if fault.where]
    assert keys[:4] == ["format", "colour", "flight.route", "flight.rute"]
    assert "leg.2.number" in keys
    unknown = error.faults[3]
    assert unknown.candidates == ("route",)
    assert unknown.where is not None
    assert unknown.where.caret() == 'rute = "KRST KLSE"\n^^^^'


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (
            "speed_kt = 25",
            "speed_kt = 25\nspeed = 3",
            "speed is not a known key; did you mean speed_kt?",
        ),
        ("speed_kt = 25", "speed_kt = 25\ntaxi_fuel = 3", "move it to [aircraft]"),
        ("full_stop = false", "full_stop = 0", "is 0, neither true nor false; write one of them"),
        ("ground_min = 30", 'ground_min = "30"', 'is "30", not a number; write digits only'),
        ("number = 2", "number = 2.0", "is 2.0, not a whole number"),
        ("number = 2", "number = 0", "number is 0; write 1 or more"),
        ('route = "KRST KLSE KEAU KDLH"', 'route = ["KRST"]', "not text; write it in quotes"),
        ('route = "KRST KLSE KEAU KDLH"', 'route = ""', "route is blank"),
        ('line = "rhumb"', 'line = "straight"', "write 'geodesic' or 'rhumb'"),
        ('"ICAO"', '"icao"', "write 'US' or 'ICAO'"),
        (
            "departure = 2026-07-04T09:00:00-05:00",
            "departure = 2026-07-04",
            "not a date with a time",
        ),
        (
            "departure = 2026-07-04T09:00:00-05:00",
            'departure = "at nine"',
            "not a date with a time",
        ),
        (
            "departure = 2026-07-04T09:00:00-05:00",
            'departure = "2026-W27-6T09:00:00-05:00"',
            "not a date with a time",
        ),
        ("pattern_height_ft = 800", "pattern_height_ft = inf", "not a number to compute with"),
        ("taxi_fuel = 1.1", "taxi_fuel = 41", "taxi_fuel is 41, more than fuel_on_board, 40"),
        ("steer_deg = 178", "steer_deg = 78", "2: for 180 steer 078 differ by more than 30°"),
        ("steer_deg = 178", "", "steer_deg is missing"),
        ("180\nsteer_deg = 178", "0\nsteer_deg = 1", "has the heading 360 twice"),
        ("minutes = 15", "minutes = 2", "climb_table: the climb table has minutes 2 after 3"),
        ("altitude_ft = 6000", "altitude_ft = 3000.0", "is 3000, which [[wind]] 1 has already"),
        ("altitude_ft = 6000", "altitude_ft = 70000", "is 70000; write 65000 or less"),
        ('point = "KDLH"', 'point = "krst"', "is krst, which [[weather]] 1 has already"),
        ("altimeter_hpa = 1014", "altimeter_hpa = 29.92", "If you mean 29.92 inHg"),
        ("altimeter_inhg = 30.12", "altimeter_inhg = 1013", "is 1013; write 32 or less"),
        (
            'stations = ["OMA", "GRI"]',
            'station = "MSP"',
            "MSP is not in the winds aloft (in it",
        ),
        ('stations = ["OMA", "GRI"]', "stations = []", "stations is an empty list"),
        ('stations = ["OMA", "GRI"]', 'stations = "OMA"', 'write it in brackets, as in ["MSP"'),
        ("[limits]", "[[limits]]", "[limits] is a table that stands once"),
        ("[[leg]]", "[leg]", "[leg] can stand several times; write [[leg]], with two brackets"),
        ("reserve_min = 60", "reserve_min = 1e999", "not a number to compute with"),
        ("format = 1", "format = 0", "format is 0; write 1 or more"),
        ("format = 1", 'format = "1"', 'format is "1", not a whole number'),
    ],
)
def test_one_fault(old: str, new: str, words: str) -> None:
    text = changed(old, new)
    told = faults(text)
    assert len(told) == 1, told
    assert words in told[0][1]


def test_a_row_that_is_no_table() -> None:
    told = faults("stop = [1]\n" + SHORTEST)
    assert told == [(1, "[[stop]] 1 is not a table; write [[stop]] and its keys below it")]


def test_a_fault_in_pasted_winds_is_told_on_its_own_line() -> None:
    text = changed("GRI      2511+07", "GRI      9911+07")
    line = text[: text.index("GRI      99")].count("\n") + 1
    ((told, words),) = faults(text)
    assert told == line
    assert "9911+07" in words
    beside = text.replace('text = """\n', 'text = """')
    assert faults(beside)[0][0] == line - 1


def test_a_newer_format_is_named_and_nothing_else_is_judged() -> None:
    text = changed("format = 1", "format = 2\ncolour = 1")
    assert faults(text) == [
        (2, "format is 2, and this program reads formats up to 1; use a newer version of it")
    ]


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("a b", 1, "each line is KEY = VALUE"),
        ("format = 1\n[flight]\nroute = KRST\n", 3, "write text in quotes"),
        ("[flight]\ndeparture = 2026-07-04T09:00-05:00", 2, "write the seconds too"),
        ("[flight]\n[aircraft]\n[flight]\n", 3, "it is there twice; keep one"),
        ("[flight]\nname = 'a'\nname = 'b'\n", 3, "it is there twice; keep one"),
        ('[flight]\nname = "a\n', 2, "not TOML"),
        ('[flight]\nname = """a\n', 3, "not TOML"),
    ],
)
def test_not_toml(text: str, line: int, words: str) -> None:
    ((told, said),) = faults(text)
    assert told == line
    assert said.startswith("not TOML: ")
    assert words in said


@pytest.mark.parametrize("text", ["", "  \n\t\n", "\ufeff"])
def test_an_empty_file_says_how_to_start(text: str) -> None:
    with pytest.raises(PlanError, match=r"ours\.toml is empty; 'plotter new NAME'"):
        read_plan(text, "ours.toml")


@pytest.mark.parametrize(
    "text",
    [
        "x = " + "[" * 5000,
        "x = " + "[" * 300 + "]" * 300,
        "x = " + "{a=" * 5000,
        "a" + ".a" * 300 + " = 1",
        "a" + ".a" * 100_000 + " = 1",
        "[" + "a." * 900 + "a]\nb = 1",
        "x = " + "9" * 6000,
        "x = 9e9999\n" * 2,
    ],
)
def test_hostile_texts_are_refused_in_words(text: str) -> None:
    with pytest.raises(PlanError, match=r"ours\.toml"):
        read_plan(text, "ours.toml")


@given(st.data())
def test_a_plan_with_any_line_spoilt_is_read_or_refused_in_words(data: st.DataObject) -> None:
    lines = WHOLE.split("\n")
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(lines) - 1))
        key, equals, value = lines[at].partition(" = ")
        spoilt = st.sampled_from(
            ["", key, f"{key} = ", f"{key} = -1", f"{key} = 'x'", f"{key} = []", f"{key} = {{}}",
             f"{key} = true", f"{key} = nan", f"{key} = 1e400", f"{key} = 07:32:00", f"{key}x = 1",
             f"[{key}]", f"{key} = [{value}]", f"{key} = [{{}}]", "\x00"]
        )  # fmt: skip
        lines[at] = data.draw(spoilt if equals else st.sampled_from(["", "[x]", "[[x.y]]", "[["]))
    try:
        read_plan("\n".join(lines), "ours.toml")
    except PlanError as error:
        assert all(fault.message.startswith("ours.toml") for fault in error.faults)


def test_a_typed_distance_too_short_is_told_with_its_line() -> None:
    text = SHORTEST + "\n[[leg]]\nnumber = 1\ndistance_nm = 0.05\n"
    with pytest.raises(PlanError) as caught:
        read_plan(text, "ours.toml")
    (fault,) = caught.value.faults
    assert fault.where is not None
    assert fault.where.key == "leg.1.distance_nm"
    assert f"line {text.count(chr(10))}: [[leg]] 1, distance_nm is 0.05" in fault.message
