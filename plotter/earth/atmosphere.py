"""The standard atmosphere: pressure altitude, density altitude, true airspeed.

Sources: US Standard Atmosphere 1976 (the same as ICAO Doc 7488 up to 20 km) for temperature and
pressure by geopotential height; Ed Williams, Aviation Formulary V1.47, for the altimeter and
airspeed formulas, there in inches and feet, here from the constants they were made of.

The trap: an altitude, a pressure altitude and a density altitude are all feet. The name of every
argument says which it is.
"""

from __future__ import annotations

import math

from plotter.earth.units import METRES_PER_FOOT, METRES_PER_NM
from plotter.errors import InputError

SEA_LEVEL_HPA = 1013.25
SEA_LEVEL_K = 288.15
ZERO_CELSIUS_K = 273.15
LAPSE_K_PER_M = 0.0065
TROPOPAUSE_M = 11_000.0
TROPOPAUSE_K = SEA_LEVEL_K - LAPSE_K_PER_M * TROPOPAUSE_M
HIGHEST_M = 20_000.0
"""Top of the isothermal layer, where this model ends."""
GRAVITY_M_S2 = 9.80665
GAS_CONSTANT_J_KG_K = 8314.32 / 28.9644
HEAT_RATIO = 1.4
HPA_PER_INHG = 33.86389
"""Conventional inch of mercury at 0 °C (NIST SP 811, appendix B.9)."""

LOWEST_FT, HIGHEST_FT = -10_000.0, HIGHEST_M / METRES_PER_FOOT
COLDEST_C, HOTTEST_C = -100.0, 60.0
"""Wider than any air temperature measured within this model."""
LOWEST_ALTIMETER_HPA, HIGHEST_ALTIMETER_HPA = 870.0, 1085.0
"""The lowest and highest sea-level pressures measured, from memory."""

_EXPONENT = GRAVITY_M_S2 / (GAS_CONSTANT_J_KG_K * LAPSE_K_PER_M)
_SCALE_M = GAS_CONSTANT_J_KG_K * TROPOPAUSE_K / GRAVITY_M_S2
_TROPOPAUSE_RATIO = math.pow(TROPOPAUSE_K / SEA_LEVEL_K, _EXPONENT)
_TROPOPAUSE_DENSITY_RATIO = math.pow(TROPOPAUSE_K / SEA_LEVEL_K, _EXPONENT - 1.0)


def hpa_from_inhg(pressure_inhg: float) -> float:
    """A pressure in hectopascals [hPa] from inches of mercury [inHg].

    >>> round(hpa_from_inhg(29.92), 2)
    1013.21
    """
    return pressure_inhg * HPA_PER_INHG


def standard_temperature_c(pressure_altitude_ft: float) -> float:
    """Standard temperature [°C]: 15 at sea level, 1.98 less each 1,000 ft, −56.5 from 36,089 ft.

    Raises InputError, code ``altitude``, outside the model.

    >>> round(standard_temperature_c(5000.0), 1)
    5.1
    """
    height_m = min(_height_m(pressure_altitude_ft), TROPOPAUSE_M)
    return SEA_LEVEL_K - LAPSE_K_PER_M * height_m - ZERO_CELSIUS_K


def pressure_ratio(pressure_altitude_ft: float) -> float:
    """Pressure over that of standard sea level, δ.

    Source: US Standard Atmosphere 1976, eq. 33a and 33b.

    >>> round(pressure_ratio(18000.0), 3)
    0.499
    """
    height_m = _height_m(pressure_altitude_ft)
    if height_m <= TROPOPAUSE_M:
        return math.pow(1.0 - LAPSE_K_PER_M * height_m / SEA_LEVEL_K, _EXPONENT)
    return _TROPOPAUSE_RATIO * math.exp((TROPOPAUSE_M - height_m) / _SCALE_M)


def altimeter_correction_ft(altimeter_hpa: float) -> float:
    """What to add to an altitude to get pressure altitude [ft]; nothing at 1013.25 hPa.

    Source: Aviation Formulary, 145442.2 × (1 − (A / 29.92126)^0.190261), the exact form of "a
    thousand feet an inch". Raises InputError, code ``altimeter``, for a setting that no weather
    gives, with a hint where inches were given for hectopascals.

    >>> round(altimeter_correction_ft(hpa_from_inhg(29.42)))
    467
    """
    _check_altimeter(altimeter_hpa)
    ratio = altimeter_hpa / SEA_LEVEL_HPA
    height_m = SEA_LEVEL_K / LAPSE_K_PER_M * (1.0 - math.pow(ratio, 1.0 / _EXPONENT))
    return height_m / METRES_PER_FOOT


def pressure_altitude_ft(altitude_ft: float, altimeter_hpa: float) -> float:
    """Pressure altitude [ft] of an altitude above mean sea level [ft] by altimeter setting [hPa].

    >>> round(pressure_altitude_ft(5500.0, hpa_from_inhg(30.12)))
    5317
    """
    return altitude_ft + altimeter_correction_ft(altimeter_hpa)


def density_ratio(pressure_altitude_ft: float, temperature_c: float) -> float:
    """Density over that of standard sea level, σ = δ / θ.

    >>> round(density_ratio(5000.0, 5.1), 3)
    0.862
    """
    return pressure_ratio(pressure_altitude_ft) / _temperature_ratio(temperature_c)


def density_altitude_ft(pressure_altitude_ft: float, temperature_c: float) -> float:
    """Density altitude [ft]: where the standard atmosphere is as thin. The air is taken as dry.

    Source: Aviation Formulary, "Standard Atmosphere": σ = (1 − h / 145442.2)^4.255876, turned.

    >>> round(density_altitude_ft(5000.0, 30.0))
    7801
    """
    ratio = density_ratio(pressure_altitude_ft, temperature_c)
    if ratio >= _TROPOPAUSE_DENSITY_RATIO:
        share = 1.0 - math.pow(ratio, 1.0 / (_EXPONENT - 1.0))
        return share * SEA_LEVEL_K / LAPSE_K_PER_M / METRES_PER_FOOT
    height_m = TROPOPAUSE_M - _SCALE_M * math.log(ratio / _TROPOPAUSE_DENSITY_RATIO)
    return height_m / METRES_PER_FOOT


def speed_of_sound_kt(temperature_c: float) -> float:
    """Speed of sound [kt] in air of a temperature [°C]; 661.48 at 15 °C.

    >>> round(speed_of_sound_kt(15.0), 2)
    661.48
    """
    kelvin = SEA_LEVEL_K * _temperature_ratio(temperature_c)
    return math.sqrt(HEAT_RATIO * GAS_CONSTANT_J_KG_K * kelvin) * 3600.0 / METRES_PER_NM


def mach_number(calibrated_airspeed_kt: float, pressure_altitude_ft: float) -> float:
    """Mach number of a calibrated airspeed [kt] at a pressure altitude [ft], below the sound.

    Source: Aviation Formulary, "Mach numbers, true vs calibrated airspeeds": the impact pressure
    that the airspeed indicator feels is the same at sea level and up there. Raises InputError,
    code ``airspeed``, for a negative speed or one at or above that of sound.

    >>> round(mach_number(120.0, 8500.0), 3)
    0.212
    """
    _check_airspeed(calibrated_airspeed_kt)
    at_sea_level = calibrated_airspeed_kt / speed_of_sound_kt(SEA_LEVEL_K - ZERO_CELSIUS_K)
    impact = (1.0 + at_sea_level**2 / 5.0) ** 3.5 - 1.0
    root = (impact / pressure_ratio(pressure_altitude_ft) + 1.0) ** (2.0 / 7.0) - 1.0
    mach = math.sqrt(5.0 * max(0.0, root))
    if mach >= 1.0:
        raise InputError("airspeed.supersonic", airspeed_kt=calibrated_airspeed_kt)
    return mach


def true_airspeed_kt(
    calibrated_airspeed_kt: float, pressure_altitude_ft: float, temperature_c: float
) -> float:
    """True airspeed [kt] from calibrated [kt], pressure altitude [ft] and temperature [°C].

    Compressible, so right at any speed below that of sound; at 120 kt it is
    within half a knot of CAS / √σ. The trap: the temperature is that of the air standing still.
    A probe in the slipstream reads warmer, by 2 °C at 120 kt.

    >>> round(true_airspeed_kt(110.0, 6500.0, 2.0), 1)
    121.1
    """
    mach = mach_number(calibrated_airspeed_kt, pressure_altitude_ft)
    return mach * speed_of_sound_kt(temperature_c)


def calibrated_airspeed_kt(
    true_airspeed_kt: float, pressure_altitude_ft: float, temperature_c: float
) -> float:
    """Calibrated airspeed [kt] from true [kt]: the way back of :func:`true_airspeed_kt`.

    >>> round(calibrated_airspeed_kt(121.1, 6500.0, 2.0), 1)
    110.0
    """
    _check_airspeed(true_airspeed_kt)
    mach = true_airspeed_kt / speed_of_sound_kt(temperature_c)
    impact = pressure_ratio(pressure_altitude_ft) * ((1.0 + mach**2 / 5.0) ** 3.5 - 1.0)
    root = (impact + 1.0) ** (2.0 / 7.0) - 1.0
    return math.sqrt(5.0 * max(0.0, root)) * speed_of_sound_kt(SEA_LEVEL_K - ZERO_CELSIUS_K)


def _height_m(pressure_altitude_ft: float) -> float:
    if not LOWEST_FT <= pressure_altitude_ft <= HIGHEST_FT:
        raise InputError(
            "altitude.atmosphere",
            altitude_ft=pressure_altitude_ft,
            lowest_ft=LOWEST_FT,
            highest_ft=HIGHEST_FT,
        )
    return pressure_altitude_ft * METRES_PER_FOOT


def _temperature_ratio(temperature_c: float) -> float:
    if not COLDEST_C <= temperature_c <= HOTTEST_C:
        raise InputError(
            "temperature", temperature_c=temperature_c, low_c=COLDEST_C, high_c=HOTTEST_C
        )
    return (temperature_c + ZERO_CELSIUS_K) / SEA_LEVEL_K


def _check_airspeed(airspeed_kt: float) -> None:
    if not (math.isfinite(airspeed_kt) and airspeed_kt >= 0.0):
        raise InputError("airspeed", airspeed_kt=airspeed_kt)


def _check_altimeter(altimeter_hpa: float) -> None:
    low, high = LOWEST_ALTIMETER_HPA, HIGHEST_ALTIMETER_HPA
    if low <= altimeter_hpa <= high:
        return
    inches = altimeter_hpa / 100.0 if altimeter_hpa > high else altimeter_hpa
    meant = low <= hpa_from_inhg(inches) <= high
    raise InputError(
        "altimeter.inches" if meant else "altimeter",
        altimeter_hpa=altimeter_hpa,
        low_hpa=low,
        high_hpa=high,
        inches=inches,
    )
