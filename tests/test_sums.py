"""Single sums: published figures, sums by hand, and every formula of the table worked again."""

from __future__ import annotations

import json
import math
import re
import shlex
from collections.abc import Mapping

import pytest
from click.testing import CliRunner
from hypothesis import assume, given
from hypothesis import strategies as st
from published_rows import published

from plotter import api
from plotter.cli.main import plotter, run
from plotter.cli.solve import solve_command
from plotter.earth.atmosphere import (
    hpa_from_inhg,
    mach_number,
    standard_temperature_c,
    true_airspeed_kt,
)
from plotter.errors import InputError
from plotter.flight import sums
from plotter.flight.sum_table import SUMS, Solved, solve
from plotter.flight.sums import QUANTITIES
from plotter.flight.wind import Wind, wind_triangle

WIND, TIME_FUEL, ATMOSPHERE = published("wind"), published("time_fuel"), published("atmosphere")


def angle_between(one: float, other: float) -> float:
    return abs((one - other + 180.0) % 360.0 - 180.0)


def test_the_handbooks_triangle_worked_back() -> None:
    """FAA-H-8083-25, "Navigation": the triangle is drawn, to 1° and 1 kt; the heading is from
    memory. A degree of heading or a knot of groundspeed moves this wind by some 2° and 1 kt."""
    drawn, heading = WIND["wind-phak-EP"], WIND["wind-phak-EP-heading"]["expected"]
    put, groundspeed_kt = drawn["inputs"], drawn["expected"]["groundspeed_kt"]
    found = sums.wind_found(
        heading["true_heading_deg"], put["true_course_deg"], put["tas_kt"], groundspeed_kt
    )
    assert angle_between(found.from_true_deg, put["wind_from_deg"]) < 2.0
    assert found.speed_kt == pytest.approx(put["wind_kt"], abs=1.0)
    made = sums.track_made(
        heading["true_heading_deg"], put["tas_kt"], Wind(put["wind_from_deg"], put["wind_kt"])
    )
    assert angle_between(made.true_track_deg, put["true_course_deg"]) < 0.5
    assert made.groundspeed_kt == pytest.approx(groundspeed_kt, abs=0.5)
    assert made.drift_deg == pytest.approx(-heading["wca_deg"], abs=0.5)


@given(
    st.floats(0.0, 359.9),
    st.floats(60.0, 250.0),
    st.floats(0.0, 359.9),
    st.floats(0.1, 50.0),
)
def test_the_triangle_there_and_back(
    course: float, tas: float, direction: float, kt: float
) -> None:
    wind = Wind(direction, kt)
    there = wind_triangle(course, tas, wind)
    made = sums.track_made(there.true_heading_deg, tas, wind)
    assert angle_between(made.true_track_deg, course) < 1e-9
    assert made.groundspeed_kt == pytest.approx(there.groundspeed_kt)
    assert angle_between(made.true_track_deg, there.true_heading_deg + made.drift_deg) < 1e-9
    assume(there.groundspeed_kt >= QUANTITIES["groundspeed_kt"].least)
    found = sums.wind_found(there.true_heading_deg, course, tas, there.groundspeed_kt)
    assert angle_between(found.from_true_deg, direction) < 1e-6
    assert found.speed_kt == pytest.approx(kt, abs=1e-9)


def test_no_drift_and_no_difference_is_calm() -> None:
    assert sums.wind_found(90.0, 90.0, 100.0, 100.0) == Wind(0.0, 0.0)


def test_fuel_flow_and_endurance_as_published() -> None:
    """FAA-H-8083-25, "Fuel Consumption" (from memory), and a 1940s instruction booklet."""
    row = TIME_FUEL["phak-fuel-1"]
    hours, gallons = row["expected"]["hours"], row["expected"]["gallons"]
    assert sums.fuel_flow_per_hour(gallons, hours * 60.0) == row["inputs"]["gph"]
    solved = solve("endurance", {"fuel": gallons, "fuel_per_hour": row["inputs"]["gph"]})
    assert solved.results == {"minutes": hours * 60.0}
    assert solved.lines[0].result == "4:00"
    row = TIME_FUEL["si-fuel-ex6"]
    flow = sums.fuel_flow_per_hour(row["expected"]["gallons"], row["inputs"]["hours"] * 60.0)
    slide_rule = row["tolerance"]["abs"] / row["inputs"]["hours"]
    assert flow == pytest.approx(row["inputs"]["gph"], abs=slide_rule)


@pytest.mark.parametrize("height_ft", range(0, 20_001, 1_000))
def test_the_standard_atmosphere_as_published(height_ft: int) -> None:
    """US Standard Atmosphere 1976: in standard air all three altitudes are one."""
    row = ATMOSPHERE[f"isa-{height_ft}"]
    celsius = (row["expected"]["T_F"] - 32.0) / 1.8
    put = {"altitude_ft": float(height_ft), "altimeter_hpa": 1013.25, "temperature_c": celsius}
    results = solve("density-altitude", put).results
    assert results["pressure_altitude_ft"] == pytest.approx(height_ft, abs=0.01)
    # 0.1 °F, to which the table is printed, is 7 ft of density altitude.
    assert results["density_altitude_ft"] == pytest.approx(height_ft, abs=10.0)
    pressure_inhg = row["expected"]["p_inHg"]
    if hpa_from_inhg(pressure_inhg) < QUANTITIES["altimeter_hpa"].least:
        return
    put = {"altitude_ft": 0.0, "altimeter_hpa": hpa_from_inhg(pressure_inhg)}
    # 0.011 inHg, to which the table is printed, is 12 ft.
    altitude_ft = solve("pressure-altitude", put).results["pressure_altitude_ft"]
    assert altitude_ft == pytest.approx(height_ft, abs=15.0)


@pytest.mark.parametrize("calibrated_kt", [60.0, 120.0, 200.0])
def test_outside_temperature_by_the_mach_number(calibrated_kt: float) -> None:
    """The same rise by another way: total temperature = T × (1 + 0.2 M²), T in kelvin."""
    outside_c, altitude_ft = standard_temperature_c(8_000.0), 8_000.0
    mach = mach_number(calibrated_kt, altitude_ft)
    tas = true_airspeed_kt(calibrated_kt, altitude_ft, outside_c)
    for factor in (0.7, 0.95, 1.0):
        indicated_c = outside_c + factor * 0.2 * mach**2 * (outside_c + 273.15)
        found_c = sums.outside_temperature_c(indicated_c, tas, factor)
        assert found_c == pytest.approx(outside_c, abs=0.01)


def test_off_course_by_hand() -> None:
    """3 NM in 30 are 6° by the rule, 3 in 45 are 4°: turn 10°; by the triangle 5.71° + 3.81°."""
    fix = sums.off_course_correction(-3.0, 30.0, 45.0)
    assert fix.turn_one_in_60_deg == pytest.approx(10.0)
    assert fix.parallel_deg == pytest.approx(5.71, abs=0.005)
    assert fix.intercept_deg == pytest.approx(3.81, abs=0.005)
    assert fix.turn_deg == fix.parallel_deg + fix.intercept_deg
    put = {"off_course_nm": 3.0, "gone_nm": 30.0, "to_go_nm": 45.0}
    assert [line.result for line in solve("off-course", put).lines][2:] == [
        "9.5° left",
        "10.0° left",
    ]
    assert solve("off-course", put | {"off_course_nm": 0.0}).lines[2].result == "no turn"


def test_top_of_descent_by_hand() -> None:
    """5,000 ft at 500 ft/min take 10 minutes: at 120 kt, 2 NM a minute, 20 NM."""
    assert sums.top_of_descent(7_500.0, 2_500.0, 500.0, 120.0) == (10.0, 20.0)
    with pytest.raises(InputError, match="enter the higher altitude first"):
        sums.top_of_descent(2_500.0, 7_500.0, 500.0, 120.0)


def test_a_wind_that_takes_the_groundspeed_is_refused() -> None:
    with pytest.raises(InputError, match=r"leaves 2\.0 kt of groundspeed") as caught:
        sums.track_made(360.0, 42.0, Wind(0.0, 40.0))
    assert caught.value.code == "no-groundspeed"


def example(name: str) -> dict[str, float]:
    return {key: QUANTITIES[key].example for key in SUMS[name].put_in}


def value_of(text: str, symbols: Mapping[str, float] | None = None) -> float:
    """A formula of the table, worked with the numbers in it or with those of its symbols."""
    for sign, word in (("×", "*"), ("−", "-"), ("²", "**2"), ("^", "**")):
        text = text.replace(sign, word)
    text = re.sub(r"(?<=\d),(?=\d{3})", "", text)
    functions = {
        "sin": lambda angle: math.sin(math.radians(angle)),
        "cos": lambda angle: math.cos(math.radians(angle)),
        "atan": lambda share: math.degrees(math.atan(share)),
        "atan2": lambda across, along: math.degrees(math.atan2(across, along)),
        "sqrt": math.sqrt,
    }
    return float(eval(text, {"__builtins__": {}}, functions | dict(symbols or {})))


@pytest.mark.parametrize("name", SUMS)
def test_every_formula_gives_what_is_printed(name: str) -> None:
    """With unrounded figures to 1 in 100,000; with the numbers shown, to what they are rounded."""
    solved = solve(name, example(name))
    symbols = {QUANTITIES[key].symbol: value for key, value in solved.put_in.items()}
    for line in solved.lines:
        exact, shown = value_of(line.step.formula, symbols), value_of(line.arithmetic)
        if line.step.unit.startswith("°"):
            assert angle_between(exact, line.value) < 1e-4, line
            assert angle_between(shown, line.value) < 0.3, line
        else:
            assert exact == pytest.approx(
                line.value, rel=1e-5, abs=0.5 if "ft" in line.step.unit else 1e-9
            ), line
            assert shown == pytest.approx(line.value, rel=0.01), line
        symbols[line.step.symbol] = line.value


@pytest.mark.parametrize("name", SUMS)
def test_figures_out_of_range_are_refused_with_what_to_enter(name: str) -> None:
    for key in SUMS[name].put_in:
        what = QUANTITIES[key]
        for wrong in (what.least - 0.1, what.most + 0.1, math.nan, math.inf):
            with pytest.raises(InputError, match=r"is out of range; enter .* to ") as caught:
                solve(name, example(name) | {key: wrong})
            assert caught.value.code == key
        for edge in (what.least, what.most):
            assert what.least <= what.example <= what.most
            sums.check_figures(**{key: edge})


def test_a_sum_or_figure_that_is_not_there_is_refused() -> None:
    with pytest.raises(InputError, match="no sum 'tide'; available: wind, track"):
        solve("tide", {})
    with pytest.raises(InputError, match="fuel-flow needs fuel, minutes"):
        solve("fuel-flow", {"fuel": 20.0})


def test_the_sums_are_public() -> None:
    assert api.solve("fuel-flow", {"fuel": 20.0, "minutes": 240.0}).results == {
        "fuel_per_hour": 5.0
    }
    assert isinstance(api.solve("wind", example("wind")), Solved)
    assert api.wind_found(90.0, 90.0, 100.0, 80.0) == api.Wind(90.0, 20.0)
    assert api.endurance_min(20.0, 5.0) == 240.0
    assert round(api.density_altitude_ft(api.pressure_altitude_ft(5000.0, 1013.25), 30.0)) == 7801


@pytest.mark.parametrize("name", SUMS)
def test_the_example_of_each_command_runs(name: str) -> None:
    words = shlex.split((solve_command.commands[name].epilog or "").rpartition("plotter ")[2])
    printed = CliRunner().invoke(plotter, words)
    assert printed.exit_code == 0, printed.output
    assert SUMS[name].source in printed.stdout
    assert "planning aid" in printed.stdout
    solved = solve(name, example(name))
    assert all(line.arithmetic in printed.stdout for line in solved.lines)
    document = json.loads(CliRunner().invoke(plotter, [*words, "--json"]).stdout)
    assert document["schema"] == "solve-1"
    assert document["put_in"] == example(name)
    assert document["results"] == pytest.approx(solved.results)
    assert [each["arithmetic"] for each in document["working"]] == [
        line.arithmetic for line in solved.lines
    ]


def test_an_altimeter_setting_in_inches(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("solve", "pressure-altitude", "--altitude", "1317")
    assert run((*words, "--altimeter-inhg", "29.42")) == 0
    out = capsys.readouterr().out
    assert "Pressure altitude: 1,784 ft" in out
    assert "from 29.42 inHg × 33.86389" in out
    for wrong in ((), ("--altimeter-inhg", "29.42", "--altimeter-hpa", "996")):
        assert run((*words, *wrong)) == 2
        assert "enter one altimeter setting" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("endurance --fuel 38 --fuel-flow 0", "fuel flow 0 an hour is out of range; enter 0.01 to"),
        ("endurance --fuel 38", "--fuel-flow"),
        ("endurance --fuel lots --fuel-flow 8", "'lots' is not a number"),
        ("pressure-altitude --altitude 0 --altimeter-hpa 29.92", "enter 870 to 1,085 hPa"),
        ("tide", "tide"),
    ],
)
def test_nonsense_is_refused_in_words(
    words: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(("solve", *words.split())) == 2
    assert said in capsys.readouterr().err
