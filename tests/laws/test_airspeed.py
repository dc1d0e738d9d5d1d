"""Laws of airspeed: more of one is more of the other, in any air."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.earth.atmosphere import (
    density_ratio,
    mach_number,
    standard_temperature_c,
    true_airspeed_kt,
)

AIRSPEEDS = st.floats(min_value=20.0, max_value=250.0)
ALTITUDES = st.floats(min_value=-1000.0, max_value=20_000.0)
TEMPERATURES = st.floats(min_value=-50.0, max_value=45.0)


@given(AIRSPEEDS, AIRSPEEDS, ALTITUDES, TEMPERATURES)
def test_faster_calibrated_is_faster_true(
    one: float, other: float, altitude: float, temperature: float
) -> None:
    slow, fast = sorted((one, other))
    assert true_airspeed_kt(slow, altitude, temperature) <= true_airspeed_kt(
        fast, altitude, temperature
    )


@given(AIRSPEEDS, ALTITUDES, ALTITUDES, TEMPERATURES)
def test_higher_is_faster_at_one_temperature(
    cas: float, one: float, other: float, temperature: float
) -> None:
    low, high = sorted((one, other))
    assert true_airspeed_kt(cas, low, temperature) <= true_airspeed_kt(cas, high, temperature)


@given(AIRSPEEDS, ALTITUDES, TEMPERATURES, TEMPERATURES)
def test_warmer_is_faster_at_one_altitude(
    cas: float, altitude: float, one: float, other: float
) -> None:
    cold, warm = sorted((one, other))
    assert true_airspeed_kt(cas, altitude, cold) <= true_airspeed_kt(cas, altitude, warm)


@given(AIRSPEEDS, ALTITUDES, TEMPERATURES)
def test_slow_flight_is_the_square_root_of_density(
    cas: float, altitude: float, temperature: float
) -> None:
    """The incompressible limit; the correction to it goes with the square of the Mach number."""
    simple = cas / density_ratio(altitude, temperature) ** 0.5
    mach = mach_number(cas, altitude)
    ours = true_airspeed_kt(cas, altitude, temperature)
    assert ours == pytest.approx(simple, rel=0.13 * mach**2 + 1e-9)


@given(AIRSPEEDS, st.floats(min_value=0.0, max_value=20_000.0))
def test_true_is_never_less_than_calibrated_in_standard_air(cas: float, altitude: float) -> None:
    assert true_airspeed_kt(cas, altitude, standard_temperature_c(altitude)) >= cas - 1e-9
