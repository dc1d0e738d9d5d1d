"""The air of a flight: which source each figure is from, and that it is said."""

from __future__ import annotations

import pytest

from plotter.earth.atmosphere import standard_temperature_c
from plotter.earth.position import Position
from plotter.flight.air.sky import Reported, Sky
from plotter.flight.plan.values import GivenWind, PlannedWind, Weather
from plotter.flight.wind import Wind

HERE, THERE = Position(44.0, -92.0), Position(46.0, -92.0)
LEVELS = (
    PlannedWind(3000.0, GivenWind(350.0, "magnetic", 20.0), 10.0),
    PlannedWind(6000.0, GivenWind(10.0, "true", 20.0), 4.0),
)


def test_a_magnetic_wind_is_turned_by_the_variation_where_it_blows() -> None:
    assert Sky(LEVELS).at(HERE, 3000.0, 5.0).wind.from_true_deg == 355.0
    assert Sky(LEVELS).at(HERE, 6000.0, 5.0).wind.from_true_deg == 10.0


def test_between_altitudes_wind_goes_by_components_and_temperature_in_proportion() -> None:
    here = Sky(LEVELS).at(HERE, 4500.0, 0.0)
    assert here.wind.from_true_deg % 360.0 == pytest.approx(0.0, abs=1e-9)
    assert here.temperature_c == 7.0
    assert here.wind_beyond == ""


def test_beyond_the_levels_it_is_said() -> None:
    above = Sky(LEVELS).at(HERE, 8000.0, 0.0)
    assert (above.wind.from_true_deg, above.wind_beyond) == (10.0, "above")
    assert any("above 6,000 ft" in note for note in above.rests_on)


def test_a_wind_typed_for_the_leg_goes_before_all_others() -> None:
    here = Sky(LEVELS).at(HERE, 8000.0, 0.0, Wind(100.0, 7.0))
    assert here.wind == Wind(100.0, 7.0)
    assert here.wind_beyond == ""


def test_without_reports_the_standard_atmosphere_is_used_and_said() -> None:
    here = Sky().at(HERE, 5500.0, 0.0)
    assert here.pressure_altitude_ft == 5500.0
    assert here.temperature_c == standard_temperature_c(5500.0)
    said = " ".join(here.rests_on)
    assert "calm" in said
    assert "29.92" in said
    assert "standard atmosphere" in said


def test_the_nearest_report_counts() -> None:
    near = Reported(Weather("KAAA", altimeter_hpa=1003.25, temperature_c=25.0), HERE, 1000.0)
    far = Reported(Weather("KBBB", altimeter_hpa=1023.25), THERE, 0.0)
    sky = Sky(reports=(far, near))
    here = sky.at(HERE, 5500.0, 0.0)
    # 10 hPa below standard is about 276 ft more near sea level (ICAO Doc 7488: 27.3 ft a hPa).
    assert here.pressure_altitude_ft == pytest.approx(5500.0 + 276.0, abs=3.0)
    warmer = 25.0 - standard_temperature_c(1000.0)
    standard_c = standard_temperature_c(here.pressure_altitude_ft)
    assert here.temperature_c == pytest.approx(standard_c + warmer)
    assert sky.at(THERE, 5500.0, 0.0).pressure_altitude_ft < 5500.0
