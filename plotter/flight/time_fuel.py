"""Time, speed, distance, fuel: the sums of dead reckoning.

Source: FAA-H-8083-25, chapter "Navigation", "Basic Calculations" and "Fuel Consumption".
"""

from __future__ import annotations

from plotter.errors import InputError

MINUTES_PER_HOUR = 60.0


def ete_min(distance_nm: float, groundspeed_kt: float) -> float:
    """Time en route [min] = distance / groundspeed × 60.

    Raises InputError, code ``no-groundspeed``, for a groundspeed that is not above zero.

    >>> ete_min(210.0, 140.0)
    90.0
    """
    if not groundspeed_kt > 0.0:
        raise InputError("no-groundspeed.zero", groundspeed_kt=groundspeed_kt)
    return distance_nm / groundspeed_kt * MINUTES_PER_HOUR


def distance_flown_nm(groundspeed_kt: float, minutes: float) -> float:
    """Distance [NM] = groundspeed × time.

    >>> distance_flown_nm(120.0, 105.0)
    210.0
    """
    return groundspeed_kt * minutes / MINUTES_PER_HOUR


def groundspeed_made_kt(distance_nm: float, minutes: float) -> float:
    """Groundspeed [kt] = distance / time.

    Raises InputError, code ``time``, for a time that is not above zero.

    >>> groundspeed_made_kt(270.0, 180.0)
    90.0
    """
    if not minutes > 0.0:
        raise InputError("time", minutes=minutes)
    return distance_nm / minutes * MINUTES_PER_HOUR


def fuel_used(fuel_per_hour: float, minutes: float) -> float:
    """Fuel = flow × time, in the unit of the flow.

    >>> fuel_used(5.0, 240.0)
    20.0
    """
    return fuel_per_hour * minutes / MINUTES_PER_HOUR


def endurance_min(fuel: float, fuel_per_hour: float) -> float:
    """How long [min] an amount of fuel lasts at a flow; nothing where there is none.

    Raises InputError, code ``fuel``, for a flow that is not above zero.

    >>> endurance_min(20.0, 8.0)
    150.0
    """
    if not fuel_per_hour > 0.0:
        raise InputError("fuel.flow", per_hour=fuel_per_hour)
    return max(0.0, fuel) / fuel_per_hour * MINUTES_PER_HOUR
