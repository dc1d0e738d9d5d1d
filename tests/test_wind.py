"""The wind triangle and the wind on a runway, against published examples."""

from __future__ import annotations

import math
import re

import pytest
from published_rows import published

from plotter.errors import InputError
from plotter.flight.wind import (
    CALM,
    STRONGEST_KT,
    RunwayWind,
    Wind,
    components_kt,
    crosswind_kt,
    groundspeed_kt,
    headwind_kt,
    runway_wind,
    wind_correction_angle_deg,
    wind_from_components,
    wind_from_magnetic,
    wind_triangle,
)

ROWS = published("wind")
COMPONENT_ROWS = [row for row in ROWS.values() if row["topic"] == "wind_component_gs"]


def test_published_triangle() -> None:
    """FAA-H-8083-25: course 090, 120 kt, wind 045/40: heading 076, groundspeed 88 kt."""
    drawn, heading = ROWS["wind-phak-EP"], ROWS["wind-phak-EP-heading"]
    given = drawn["inputs"]
    solved = wind_triangle(
        given["true_course_deg"], given["tas_kt"], Wind(given["wind_from_deg"], given["wind_kt"])
    )
    close = drawn["tolerance"]["groundspeed_kt"]
    assert solved.groundspeed_kt == pytest.approx(drawn["expected"]["groundspeed_kt"], abs=close)
    expected, tolerance = heading["expected"], heading["tolerance"]
    assert solved.true_heading_deg == pytest.approx(
        expected["true_heading_deg"], abs=tolerance["true_heading_deg"]
    )
    assert solved.wind_correction_angle_deg == pytest.approx(
        expected["wca_deg"], abs=tolerance["wca_deg"]
    )


@pytest.mark.parametrize("row", COMPONENT_ROWS, ids=lambda row: row["id"])
def test_published_components_along_a_course(row: dict[str, dict[str, float]]) -> None:
    """The Navy's workbook adds the component along the course and leaves the crab out."""
    given, expected = row["inputs"], row["expected"]
    against = headwind_kt(given["course_deg"], Wind(given["wind_from_deg"], given["wind_kt"]))
    close = row["tolerance"]["gs_kt"]
    assert given["tas_kt"] - against == pytest.approx(expected["gs_kt"], abs=close)
    if "tailwind_kt" in expected:
        assert -against == pytest.approx(expected["tailwind_kt"], abs=close)


def test_the_full_triangle_is_not_the_component() -> None:
    """The note on that row: the whole triangle gives 162.5 kt where the component gives 165."""
    row = ROWS["navy-p305-ex"]
    assert "162.5" in row["note"]
    given = row["inputs"]
    solved = wind_triangle(
        given["course_deg"], given["tas_kt"], Wind(given["wind_from_deg"], given["wind_kt"])
    )
    assert solved.groundspeed_kt == pytest.approx(162.5, abs=0.05)


def test_published_runway_components() -> None:
    row = ROWS["avform-crosswind"]
    given, expected, close = row["inputs"], row["expected"], row["tolerance"]["abs"]
    on_it = runway_wind(given["runway_deg"], Wind(given["wind_from_deg"], given["wind_kt"]))
    assert on_it.headwind_kt == pytest.approx(expected["headwind_kt"], abs=close)
    assert on_it.crosswind_kt == pytest.approx(expected["crosswind_kt"], abs=close)
    assert on_it.crosswind_from == expected["crosswind_from"]


def test_published_rule_of_sides() -> None:
    """Course 236, correction 8°, wind from the right: heading 244."""
    row = ROWS["si-wca-ex15"]
    given = row["inputs"]
    across = 100.0 * math.sin(math.radians(given["wca_deg"]))
    solved = wind_triangle(given["course_deg"], 100.0, Wind(given["course_deg"] + 90.0, across))
    assert given["wind_side"] == "right"
    assert solved.wind_correction_angle_deg == pytest.approx(given["wca_deg"])
    assert solved.true_heading_deg == pytest.approx(row["expected"]["heading_deg"])


@pytest.mark.parametrize("course", [0.0, 73.0, 200.0, 359.5])
def test_published_formulas(course: float) -> None:
    """Aviation Formulary, as printed, put beside ours."""
    expected = ROWS["avform-wind-formulas"]["expected"]
    assert expected["heading"] == "HD = CRS + asin((WS/TAS) sin(WD-CRS))"
    assert expected["gs"] == "GS = TAS sqrt(1-SWC^2) - WS cos(WD-CRS)"
    tas, speed, direction = 105.0, 31.0, 255.0
    angle = math.radians(direction - course)
    swc = speed / tas * math.sin(angle)
    solved = wind_triangle(course, tas, Wind(direction, speed))
    heading = (course + math.degrees(math.asin(swc))) % 360.0
    assert solved.true_heading_deg == pytest.approx(heading)
    gs = tas * math.sqrt(1.0 - swc**2) - speed * math.cos(angle)
    assert solved.groundspeed_kt == pytest.approx(gs)


def test_every_published_row_is_tried() -> None:
    assert set(ROWS) == {row["id"] for row in COMPONENT_ROWS} | {
        *("wind-phak-EP", "wind-phak-EP-heading", "avform-crosswind", "si-wca-ex15"),
        "avform-wind-formulas",
    }


def test_a_crosswind_stronger_than_the_airspeed_is_refused() -> None:
    with pytest.raises(
        InputError, match=r"crosswind of 61 kt is more than the true airspeed of 60"
    ):
        wind_triangle(360.0, 60.0, Wind(90.0, 61.0))
    with pytest.raises(InputError) as caught:
        wind_correction_angle_deg(60.0, -61.0)
    assert caught.value.code == "crosswind-exceeds-airspeed"


@pytest.mark.parametrize("headwind", [60.0, 75.0])
def test_no_groundspeed_left_is_refused(headwind: float) -> None:
    with pytest.raises(InputError, match=f"headwind of {headwind:.0f} kt leaves no") as caught:
        wind_triangle(10.0, 60.0, Wind(10.0, headwind))
    assert caught.value.code == "no-groundspeed"


@pytest.mark.parametrize(
    ("along", "across", "words"),
    [
        # Holding the course against the crosswind costs 90 - sqrt(90² - 90²) = 90 kt of airspeed.
        (0.0, 90.0, "a crosswind of 90 kt leaves no groundspeed at a true airspeed of 90 kt"),
        # sqrt(90² - 89.94²) = 3.29
        (
            0.0,
            89.94,
            "a crosswind of 90 kt leaves 3.2 kt of groundspeed",
        ),
        (
            85.5,
            0.0,
            "a headwind of 86 kt leaves 4.5 kt of groundspeed",
        ),
        # sqrt(90² - 60²) = 67.08: the crosswind costs 22.9 kt, the headwind 65.
        (
            65.0,
            60.0,
            "a headwind of 65 kt and a crosswind of 60 kt leave 2.0 kt of groundspeed",
        ),
        # sqrt(90² - 80²) = 41.2: the crosswind costs 48.8 kt, the headwind 40.
        (
            40.0,
            -80.0,
            "a crosswind of 80 kt and a headwind of 40 kt leave 1.2 kt of groundspeed",
        ),
        # A tailwind of 3 kt takes nothing away.
        (
            -3.05,
            90.0,
            "a crosswind of 90 kt leaves 3.0 kt of groundspeed",
        ),
        # A figure just short of the limit is not printed as the limit.
        (
            85.001,
            0.0,
            "a headwind of 85 kt leaves 4.9 kt of groundspeed",
        ),
    ],
)
def test_too_little_groundspeed_names_the_component(
    along: float, across: float, words: str
) -> None:
    with pytest.raises(InputError, match=re.escape(words)) as caught:
        wind_triangle(0.0, 90.0, wind_from_components(along, across))
    assert caught.value.code == "no-groundspeed"
    assert "at least 5 kt" in caught.value.message


def test_an_airspeed_below_the_least_groundspeed_is_not_blamed_on_a_wind() -> None:
    with pytest.raises(
        InputError,
        match=r"calm air leaves 4\.0 kt of groundspeed",
    ):
        wind_triangle(0.0, 4.0, CALM)


def test_five_knots_of_groundspeed_are_enough() -> None:
    assert wind_triangle(0.0, 90.0, Wind(0.0, 85.0)).groundspeed_kt == pytest.approx(5.0)


def test_a_crosswind_of_just_the_airspeed_needs_a_tailwind() -> None:
    with pytest.raises(InputError, match="a crosswind of 60 kt leaves no groundspeed"):
        wind_triangle(0.0, 60.0, Wind(90.0, 60.0))
    assert groundspeed_kt(60.0, 90.0, -20.0) == pytest.approx(20.0)


@pytest.mark.parametrize("airspeed", [0.0, -90.0, math.nan, math.inf])
def test_an_airspeed_that_cannot_fly_is_refused(airspeed: float) -> None:
    with pytest.raises(InputError, match="kt is out of range; enter one above 0 kt") as caught:
        wind_triangle(10.0, airspeed, CALM)
    assert caught.value.code == "true_airspeed_kt"


@pytest.mark.parametrize(
    ("direction", "speed", "words"),
    [
        (361.0, 10.0, "° is out of range; enter 0 to 360"),
        (-1.0, 10.0, "° is out of range; enter 0 to 360"),
        (math.nan, 10.0, "° is out of range; enter 0 to 360"),
        (270.0, 400.0, "kt is out of range; enter 0 to 300 kt"),
        (270.0, -5.0, "kt is out of range; enter 0 to 300 kt"),
        (270.0, math.nan, "kt is out of range; enter 0 to 300 kt"),
    ],
)
def test_a_wind_that_cannot_be_is_refused(direction: float, speed: float, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        Wind(direction, speed)
    assert caught.value.code == "wind"


def test_a_magnetic_wind_is_turned_to_true() -> None:
    assert wind_from_magnetic(355.0, 12.0, 8.0) == Wind(7.0, 8.0)
    assert wind_from_magnetic(5.0, -12.0, 8.0) == Wind(353.0, 8.0)
    with pytest.raises(InputError, match="wind direction 400° is out of range; enter 0 to 360"):
        wind_from_magnetic(400.0, 5.0, 8.0)


def test_north_is_north_whichever_way_it_is_written() -> None:
    one = wind_triangle(45.0, 100.0, Wind(0.0, 20.0))
    other = wind_triangle(45.0, 100.0, Wind(360.0, 20.0))
    assert one.true_heading_deg == other.true_heading_deg
    assert one.groundspeed_kt == other.groundspeed_kt


def test_components() -> None:
    assert components_kt(Wind(90.0, 10.0)) == (0.0, 10.0)
    assert components_kt(Wind(180.0, 10.0)) == (-10.0, 0.0)
    assert wind_from_components(-10.0, 0.0) == Wind(180.0, 10.0)
    assert wind_from_components(0.0, 0.0) == CALM


def test_the_strongest_wind_survives_rounding() -> None:
    for direction in range(361):
        again = wind_from_components(*components_kt(Wind(float(direction), STRONGEST_KT)))
        assert again.speed_kt == pytest.approx(STRONGEST_KT)


@pytest.mark.parametrize(
    ("wind", "expected"),
    [
        (Wind(100.0, 12.0), RunwayWind(12.0, 0.0, "")),
        (Wind(280.0, 12.0), RunwayWind(-12.0, 0.0, "")),
        (Wind(10.0, 12.0), RunwayWind(0.0, 12.0, "left")),
        (Wind(190.0, 12.0), RunwayWind(0.0, 12.0, "right")),
        (CALM, RunwayWind(0.0, 0.0, "")),
    ],
)
def test_winds_on_runway_10(wind: Wind, expected: RunwayWind) -> None:
    assert runway_wind(100.0, wind) == expected


def test_the_two_ends_of_a_runway_see_the_same_wind_from_either_side() -> None:
    wind = Wind(130.0, 18.0)
    one, other = runway_wind(100.0, wind), runway_wind(280.0, wind)
    assert one.headwind_kt == pytest.approx(-other.headwind_kt)
    assert one.crosswind_kt == pytest.approx(other.crosswind_kt)
    assert (one.crosswind_from, other.crosswind_from) == ("right", "left")


def test_crosswind_sign() -> None:
    assert crosswind_kt(0.0, Wind(90.0, 5.0)) == 5.0
    assert crosswind_kt(0.0, Wind(270.0, 5.0)) == -5.0
