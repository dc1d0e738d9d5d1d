"""Checks of single figures of an aircraft, in the words a pilot is asked again with."""

from __future__ import annotations

import math

from plotter.earth.atmosphere import COLDEST_C, HOTTEST_C
from plotter.errors import InputError
from plotter.route.plotting import LOWEST_ALTITUDE_FT

LEAST, MOST = 1e-6, 1e6
"""No speed, rate, time, distance or amount of fuel of a flight is smaller or larger, in any unit
of a plan file; far beyond these, figures made of it would be no numbers any more."""
SLOWEST_KT, FASTEST_KT = 20.0, 660.0
"""An ultralight must not need more than 24 kt to stay up (14 CFR 103.1(e)(4)), and few fly slower;
sound goes at 661 kt at sea level, and no civil aircraft may fly faster (14 CFR 91.817)."""
HIGHEST_ALTITUDE_FT = 65_000.0
"""Within the model of the atmosphere (:data:`plotter.earth.atmosphere.HIGHEST_FT`)."""


def check_above_zero(key: str, value: float) -> None:
    """Raise InputError, its code the key, unless the value is a number above zero.

    >>> check_above_zero("climb_rate_fpm", 0.0)
    Traceback (most recent call last):
    plotter.errors.InputError: climb_rate_fpm is 0; enter a number above 0
    """
    if not (math.isfinite(value) and value > 0.0):
        raise InputError("figure.above-zero", code=key, name=key, value=value)
    if value < LEAST:
        raise InputError("figure.least", code=key, name=key, value=value, least=LEAST)
    _check_most(key, value)


def check_not_negative(key: str, value: float) -> None:
    """Raise InputError, its code the key, unless the value is a number of zero or more.

    >>> check_not_negative("taxi_fuel", -1.0)
    Traceback (most recent call last):
    plotter.errors.InputError: taxi_fuel is -1; enter 0 or more
    """
    if not (math.isfinite(value) and value >= 0.0):
        raise InputError("figure.not-negative", code=key, name=key, value=value)
    _check_most(key, value)


def check_airspeed(key: str, value_kt: float) -> None:
    """Raise InputError, its code the key, unless the value is an airspeed [kt] of an aircraft.

    >>> check_airspeed("true_airspeed_kt", 5000.0)
    Traceback (most recent call last):
    plotter.errors.InputError: true_airspeed_kt is 5000; enter knots from 20 to 660
    """
    check_above_zero(key, value_kt)
    _check_between(key, value_kt, SLOWEST_KT, FASTEST_KT, "knots")


def check_altitude(key: str, value_ft: float) -> None:
    """Raise InputError, its code the key, unless the value is an altitude [ft] of a flight.

    >>> check_altitude("altitude_ft", float("nan"))
    Traceback (most recent call last):
    plotter.errors.InputError: altitude_ft is nan; enter feet from -1,500 to 65,000
    """
    _check_between(key, value_ft, LOWEST_ALTITUDE_FT, HIGHEST_ALTITUDE_FT, "feet")


def check_temperature(key: str, value_c: float) -> None:
    """Raise InputError, its code the key, unless the value is a temperature [°C] of the air.

    >>> check_temperature("temperature_c", 77.0)
    Traceback (most recent call last):
    plotter.errors.InputError: temperature_c is 77; enter degrees Celsius from -100 to 60
    """
    _check_between(key, value_c, COLDEST_C, HOTTEST_C, "degrees Celsius")


def _check_between(key: str, value: float, low: float, high: float, what: str) -> None:
    if not low <= value <= high:
        raise InputError(
            "figure.range", code=key, name=key, value=value, what=what, low=low, high=high
        )


def _check_most(key: str, value: float) -> None:
    if value > MOST:
        raise InputError("figure.most", code=key, name=key, value=value, most=MOST)


def check_not_above(key: str, value: float, limit_key: str, limit: float) -> None:
    """Raise InputError, its code the key, if the value is above another of the same unit.

    >>> check_not_above("fuel_on_board", 60.0, "usable_fuel", 53.0)
    Traceback (most recent call last):
    plotter.errors.InputError: fuel_on_board is 60, more than usable_fuel, 53; correct one of them
    """
    if value > limit:
        raise InputError(
            "figure.above-other", code=key, name=key, value=value, other=limit_key, limit=limit
        )
