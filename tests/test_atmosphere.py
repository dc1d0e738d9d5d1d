"""The standard atmosphere against its published table, and what it will not be asked."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import published

from plotter.earth import atmosphere
from plotter.earth.atmosphere import (
    HIGHEST_FT,
    LOWEST_FT,
    TROPOPAUSE_M,
    altimeter_correction_ft,
    calibrated_airspeed_kt,
    density_altitude_ft,
    density_ratio,
    hpa_from_inhg,
    mach_number,
    pressure_altitude_ft,
    pressure_ratio,
    speed_of_sound_kt,
    standard_temperature_c,
    true_airspeed_kt,
)
from plotter.earth.units import feet_from_metres, metres_from_feet
from plotter.errors import InputError

ROWS = published("atmosphere")
TABLE = [row for row in ROWS.values() if "pressure_altitude_ft" in row["inputs"]]
SEA_LEVEL_SLUG_FT3 = 0.0023769
"""Density of the 1976 standard at sea level, as that table prints it."""
HALF_A_KNOT = 0.5
TROPOPAUSE_FT = feet_from_metres(TROPOPAUSE_M)

ALTITUDES = st.floats(min_value=-2000.0, max_value=60_000.0)
LOW = st.floats(min_value=-2000.0, max_value=20_000.0)
TEMPERATURES = st.floats(min_value=-60.0, max_value=45.0)
AIRSPEEDS = st.floats(min_value=0.0, max_value=300.0)
SETTINGS = st.floats(min_value=900.0, max_value=1080.0)


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row["id"])
def test_published_table(row: dict[str, dict[str, float]]) -> None:
    altitude = row["inputs"]["pressure_altitude_ft"]
    expected, tolerance = row["expected"], row["tolerance"]
    celsius = standard_temperature_c(altitude)
    inches = 1013.25 * pressure_ratio(altitude) / atmosphere.HPA_PER_INHG
    assert inches == pytest.approx(expected["p_inHg"], abs=tolerance["p_inHg"])
    assert celsius * 1.8 + 32.0 == pytest.approx(expected["T_F"], abs=tolerance["T_F"])
    slugs = density_ratio(altitude, celsius) * SEA_LEVEL_SLUG_FT3
    assert slugs == pytest.approx(expected["rho_slug_ft3"], abs=tolerance["rho"])


def test_published_sea_level() -> None:
    expected = ROWS["isa-sealevel"]["expected"]
    assert standard_temperature_c(0.0) == pytest.approx(expected["T_C"], abs=1e-12)
    assert 1013.25 * pressure_ratio(0.0) == expected["p_hPa"]
    assert 1013.25 * pressure_ratio(0.0) / atmosphere.HPA_PER_INHG == pytest.approx(
        expected["p_inHg"], abs=1e-5
    )
    assert speed_of_sound_kt(15.0) == pytest.approx(expected["a_kt"], abs=0.001)
    lapse = standard_temperature_c(0.0) - standard_temperature_c(1.0)
    assert lapse == pytest.approx(expected["lapse_C_per_ft"], abs=1e-9)
    assert lapse / metres_from_feet(1.0) == pytest.approx(expected["lapse_C_per_m"])


def test_published_tropopause() -> None:
    row = ROWS["isa-tropopause"]
    altitude, expected = row["inputs"]["h_ft"], row["expected"]
    close_pa = row["tolerance"]["p"]
    assert pytest.approx(altitude, abs=0.005) == TROPOPAUSE_FT
    assert standard_temperature_c(altitude) + 273.15 == pytest.approx(expected["T_K"], abs=1e-4)
    assert 1013.25 * pressure_ratio(altitude) * 100.0 == pytest.approx(
        expected["p_Pa"], abs=close_pa
    )
    assert pressure_ratio(TROPOPAUSE_FT) == pytest.approx(
        expected["pressure_ratio"], abs=close_pa / 1e5
    )
    density = density_ratio(TROPOPAUSE_FT, standard_temperature_c(TROPOPAUSE_FT))
    assert density == pytest.approx(expected["rho_ratio"], abs=close_pa / 1e5)


@given(st.floats(min_value=28.0, max_value=31.5))
def test_published_altimeter_formula(inches: float) -> None:
    """Aviation Formulary: 145442.2*(1-(A/29.92126)^0.190261), row pressure-altitude."""
    assert ROWS["pressure-altitude"]["expected"]["exact"].startswith("145442.2*(1-(A/29.92126)")
    formula = 145442.2 * (1.0 - (inches / 29.92126) ** 0.190261)
    ours = altimeter_correction_ft(hpa_from_inhg(inches))
    assert ours == pytest.approx(formula, abs=0.1)
    rough = (29.92 - inches) * 1000.0
    assert ours == pytest.approx(rough, abs=0.1 * abs(rough) + 2.0)


@given(st.floats(min_value=60.0, max_value=130.0), st.floats(min_value=0.0, max_value=12_000.0))
def test_published_low_speed_formula(cas: float, density_altitude: float) -> None:
    """Aviation Formulary: TAS = CAS/(1-6.8755856e-6*DA)^2.127940, good below M 0.3.

    It leaves out compressibility, which grows as the cube of CAS: 0.42 kt at 130 kt and 12,000 ft,
    over half a knot from 139 kt on.
    """
    assert "6.8755856e-6*DA)^2.127940" in ROWS["tas-low-speed"]["expected"]["formula"]
    low_speed = cas / (1.0 - 6.8755856e-6 * density_altitude) ** 2.127940
    standard = standard_temperature_c(density_altitude)
    ours = true_airspeed_kt(cas, density_altitude, standard)
    assert mach_number(cas, density_altitude) < 0.3
    assert ours == pytest.approx(low_speed, abs=HALF_A_KNOT)
    assert ours <= low_speed + 1e-4


def test_every_published_row_is_tried() -> None:
    tried = {row["id"] for row in TABLE} | {
        *("isa-sealevel", "isa-tropopause", "pressure-altitude", "tas-low-speed")
    }
    assert set(ROWS) == tried


@pytest.mark.parametrize(
    ("cas", "altitude", "mach"),
    # At standard sea level calibrated is true, and M 0.4 is 0.4 × 661.48 kt.
    [(264.5914, 0.0, 0.4), (0.0, 30_000.0, 0.0)],
)
def test_mach(cas: float, altitude: float, mach: float) -> None:
    assert mach_number(cas, altitude) == pytest.approx(mach, abs=1e-6)


@given(ALTITUDES)
def test_density_altitude_in_standard_air_is_the_altitude(altitude: float) -> None:
    standard = standard_temperature_c(altitude)
    assert density_altitude_ft(altitude, standard) == pytest.approx(altitude, abs=1e-4)


@given(ALTITUDES)
def test_pressure_altitude_by_the_standard_setting_is_the_altitude(altitude: float) -> None:
    assert pressure_altitude_ft(altitude, 1013.25) == pytest.approx(altitude, abs=1e-9)


@given(SETTINGS)
def test_the_altimeter_reads_field_elevation_at_the_field(setting: float) -> None:
    """At sea level the setting is the pressure itself, so its pressure altitude has it."""
    assert 1013.25 * pressure_ratio(pressure_altitude_ft(0.0, setting)) == pytest.approx(
        setting, rel=1e-12
    )


@given(ALTITUDES, ALTITUDES)
def test_pressure_falls_with_altitude(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert pressure_ratio(low) >= pressure_ratio(high)


def test_nothing_jumps_at_the_tropopause() -> None:
    hair = 0.001
    below, above = TROPOPAUSE_FT - hair, TROPOPAUSE_FT + hair
    assert pressure_ratio(below) == pytest.approx(pressure_ratio(above), rel=1e-6)
    assert standard_temperature_c(below) == pytest.approx(standard_temperature_c(above), abs=1e-5)
    cold = standard_temperature_c(above)
    assert density_altitude_ft(below, cold) == pytest.approx(
        density_altitude_ft(above, cold), abs=0.01
    )


@given(LOW, TEMPERATURES, TEMPERATURES)
def test_warmer_air_is_thinner(altitude: float, one: float, other: float) -> None:
    cold, warm = sorted((one, other))
    assert density_altitude_ft(altitude, warm) >= density_altitude_ft(altitude, cold)


@given(AIRSPEEDS, LOW, TEMPERATURES)
def test_airspeed_there_and_back(cas: float, altitude: float, temperature: float) -> None:
    true = true_airspeed_kt(cas, altitude, temperature)
    assert calibrated_airspeed_kt(true, altitude, temperature) == pytest.approx(cas, abs=1e-5)


def test_calibrated_is_true_at_standard_sea_level() -> None:
    assert true_airspeed_kt(120.0, 0.0, 15.0) == pytest.approx(120.0, abs=1e-9)


@pytest.mark.parametrize("altitude", [LOWEST_FT - 1.0, HIGHEST_FT + 1.0, math.nan, math.inf])
def test_an_altitude_outside_the_model_is_refused(altitude: float) -> None:
    with pytest.raises(
        InputError, match="ft is outside the standard atmosphere known here"
    ) as caught:
        pressure_ratio(altitude)
    assert caught.value.code == "altitude"


@pytest.mark.parametrize("temperature", [-101.0, 61.0, 288.15, math.nan])
def test_a_temperature_that_cannot_be_is_refused(temperature: float) -> None:
    with pytest.raises(InputError, match="degrees Celsius") as caught:
        density_ratio(0.0, temperature)
    assert caught.value.code == "temperature"


@pytest.mark.parametrize("setting", [29.92, 2992.0])
def test_inches_given_for_hectopascals_are_told(setting: float) -> None:
    with pytest.raises(InputError, match=r"If you mean 29\.92 inHg, enter it in inches"):
        altimeter_correction_ft(setting)


@pytest.mark.parametrize("setting", [0.0, -5.0, 500.0, 1200.0, math.nan, math.inf])
def test_a_setting_no_weather_gives_is_refused(setting: float) -> None:
    with pytest.raises(InputError, match="hPa is out of range; enter 870 to 1085 hPa") as caught:
        altimeter_correction_ft(setting)
    assert caught.value.code == "altimeter"


@pytest.mark.parametrize("cas", [-1.0, math.nan, math.inf])
def test_an_airspeed_that_cannot_be_is_refused(cas: float) -> None:
    for way in (true_airspeed_kt, calibrated_airspeed_kt):
        with pytest.raises(InputError, match="kt is out of range"):
            way(cas, 0.0, 15.0)


def test_faster_than_sound_is_refused() -> None:
    with pytest.raises(InputError, match="faster than sound"):
        true_airspeed_kt(500.0, 40_000.0, -56.5)
