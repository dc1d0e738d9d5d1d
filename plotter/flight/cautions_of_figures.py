"""Cautions about figures of a plan that can be, and yet are rather a slip of the hand."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from plotter.earth.atmosphere import hpa_from_inhg
from plotter.flight.aircraft import Aircraft, Cruise, VerticalRate
from plotter.flight.log_values import NavigationLog
from plotter.flight.time_fuel import endurance_min
from plotter.flight.track import Phase
from plotter.route.cautions import Caution
from plotter.wording import time_left

SLOW_KT, FAST_KT = 40.0, 250.0
"""Few aeroplanes cruise slower; faster than 250 kt indicated none may fly below 10,000 ft
(14 CFR 91.117(a))."""
STEEP_FPM = 3000.0
"""More than a light aircraft climbs, or is brought down at (common practice)."""
SHORT_MIN, LONG_MIN = 60.0, 1440.0
"""Full tanks of less than an hour hardly hold a flight and its reserve; of more than a day the
unit of the fuel or of the flow is rather another (our choice)."""
LOW_INHG, HIGH_INHG = 28.00, 31.00
"""Beyond these an altimeter may not take the setting, and the AIM asks for care (7-2, from
memory; 14 CFR 91.144 above 31.00)."""


class Unlikely(NamedTuple):
    """A figure as it was given, and what is usual."""

    said: str
    usual: str


def figure_cautions(log: NavigationLog) -> Iterator[Caution]:
    """One CHECK that names every unlikely figure."""
    found = list(dict.fromkeys([*_speeds(log), *_rates(log), *_tanks(log), *_settings(log)]))
    if found:
        said = "; ".join(f"{one.said} ({one.usual})" for one in found)
        yield Caution(
            "CHECK",
            "unlikely-figure",
            f"Unlikely, and used as given: {said}. Look for a slip or another unit.",
        )


def _speeds(log: NavigationLog) -> Iterator[Unlikely]:
    """True airspeeds as they are flown, whatever they were given as."""
    flown: dict[Phase, list[float]] = {}
    for row in log.rows:
        flown.setdefault(row.phase, []).append(row.triangle.true_airspeed_kt)
    for phase, speeds in flown.items():
        for speed_kt in (min(speeds), max(speeds)):
            if not SLOW_KT <= speed_kt <= FAST_KT:
                usual = f"usual are {SLOW_KT:.0f} to {FAST_KT:.0f} kt"
                yield Unlikely(f"a true airspeed of {speed_kt:.0f} kt in {phase}", usual)


def _rates(log: NavigationLog) -> Iterator[Unlikely]:
    aircraft = log.plan.aircraft
    for phase, rate in (("climb", aircraft.climb), ("descent", aircraft.descent)):
        if isinstance(rate, VerticalRate) and rate.rate_fpm > STEEP_FPM:
            said = f"a rate of {phase} of {rate.rate_fpm:,.0f} ft a minute"
            yield Unlikely(said, f"usual are {STEEP_FPM:,.0f} at most")


def _tanks(log: NavigationLog) -> Iterator[Unlikely]:
    aircraft = log.plan.aircraft
    for flow in _cruise_flows(aircraft):
        minutes = endurance_min(aircraft.usable_fuel, flow)
        if not SHORT_MIN <= minutes <= LONG_MIN:
            said = f"{flow:g} {aircraft.fuel_unit} an hour from tanks of {aircraft.usable_fuel:g}"
            yield Unlikely(said, f"full, they last {time_left(minutes)}")


def _cruise_flows(aircraft: Aircraft) -> tuple[float, ...]:
    cruise = aircraft.cruise
    if isinstance(cruise, Cruise):
        return (cruise.fuel_per_hour,)
    return tuple(row.fuel_per_hour for row in cruise.rows)


def _settings(log: NavigationLog) -> Iterator[Unlikely]:
    for weather in log.plan.weather:
        setting = weather.altimeter_hpa
        if setting is None or hpa_from_inhg(LOW_INHG) <= setting <= hpa_from_inhg(HIGH_INHG):
            continue
        inches = setting / hpa_from_inhg(1.0)
        said = f"an altimeter setting of {inches:.2f} inHg ({setting:.0f} hPa) at {weather.point}"
        yield Unlikely(said, f"usual are {LOW_INHG:.2f} to {HIGH_INHG:.2f} inHg")
