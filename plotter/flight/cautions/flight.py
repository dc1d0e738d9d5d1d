"""Cautions about how the flight is flown: checkpoints, altitudes reached, what is left out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from plotter.earth.atmosphere import hpa_from_inhg
from plotter.flight.aircraft import Aircraft, Cruise, VerticalRate
from plotter.flight.compass import CERTIFIED_DEG, WIDEST_GAP_DEG
from plotter.flight.fields import field_elevation_ft
from plotter.flight.log_values import NavigationLog, Sector
from plotter.flight.plan.values import Plan
from plotter.flight.rules import CEILINGS_FT
from plotter.flight.time_fuel import endurance_min
from plotter.flight.track import Phase
from plotter.flight.whose_rules import rules_of_flight
from plotter.messages import literal
from plotter.route.values import Caution
from plotter.wording import altitude, time_left

# Cautions about figures of a plan that can be, and yet are rather a slip of the hand.

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
            literal(
                "unlikely-figure",
                f"Unlikely, and used as given: {said}. Look for a slip or another unit.",
            ),
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


LONGEST_BETWEEN_MIN = 15.0
"""A pilot who flies by eye wants to know where he is at least this often (common practice)."""
NOT_REACHED_BY_FT = 1.0
"""Altitudes are typed in whole feet."""


def flight_cautions(log: NavigationLog) -> Iterator[Caution]:
    """Where checkpoints are far apart, what cannot be flown as planned, what is left out."""
    yield from _far_apart(log)
    for sector in log.sectors:
        yield from _peak(sector, log.plan)
        yield from _arrival(sector, log.plan.aircraft)
    yield from _ceiling(log)
    yield from _rolls_on(log)
    yield from _left_out(log.plan.aircraft)
    yield from _compass(log.plan.aircraft)
    yield from _card_gap(log)


def _far_apart(log: NavigationLog) -> Iterator[Caution]:
    for sector in log.sectors:
        since_min = 0.0
        before = sector.start.name
        for row in sector.rows:
            since_min += row.ete_min
            if row.end.kind not in ("waypoint", "checkpoint"):
                continue
            if since_min > LONGEST_BETWEEN_MIN:
                stretch = f"{before} to {row.end.name}"
                yield Caution(
                    "CHECK",
                    literal(
                        "far-apart",
                        f"{since_min:.0f} min pass without a checkpoint, {stretch}: put one between.",
                    ),
                    where=stretch,
                )
            since_min, before = 0.0, row.end.name


def _peak(sector: Sector, plan: Plan) -> Iterator[Caution]:
    """A sector that never reaches the highest altitude planned for it."""
    planned_ft = max(plan.cruise_altitude_ft(row.course.leg.number) for row in sector.rows)
    peak_ft = max(max(row.start_altitude_ft, row.altitude_ft) for row in sector.rows)
    if peak_ft < planned_ft - NOT_REACHED_BY_FT:
        yield Caution(
            "CHECK",
            literal(
                "peaks-below-cruise",
                f"{sector.start.name} to {sector.end.name} never reaches {altitude(planned_ft)}: it "
                f"peaks at {altitude(round(peak_ft, -1))}. Plan a lower altitude.",
            ),
            where=sector.end.name,
        )


def _arrival(sector: Sector, aircraft: Aircraft) -> Iterator[Caution]:
    """A sector that ends above, or below, the pattern it should descend to."""
    last = sector.rows[-1]
    if aircraft.descent is None or last.phase == "descent":
        return
    pattern_ft = (field_elevation_ft(sector.end) or 0.0) + aircraft.pattern_height_ft
    why = (
        "the rate of descent given does not bring it down in time"
        if last.altitude_ft > pattern_ft
        else "it never is above the pattern"
    )
    yield Caution(
        "CHECK",
        literal(
            "no-descent",
            f"The flight arrives over {sector.end.name} at {altitude(round(last.altitude_ft, -1))} "
            f"without a descent to the pattern at {altitude(round(pattern_ft, -1))}: {why}.",
        ),
        where=sector.end.name,
    )


def _ceiling(log: NavigationLog) -> Iterator[Caution]:
    rules = log.plan.visual_rules or rules_of_flight(log.plan, log.plot.route)
    ceiling_ft = CEILINGS_FT[rules]
    highest_ft = max(row.altitude_ft for row in log.rows)
    if highest_ft >= ceiling_ft:
        yield Caution(
            "CHECK",
            literal(
                "above-visual-altitudes",
                f"The flight reaches {altitude(highest_ft)}, and the visual cruising altitudes of the "
                f"rule end below {altitude(ceiling_ft)}: ask whether visual flight is allowed there.",
            ),
            {"US": "14 CFR 91.159, 91.135", "ICAO": "ICAO Annex 2, chapter 4"}[rules],
        )


def _rolls_on(log: NavigationLog) -> Iterator[Caution]:
    for stop in log.plan.stops:
        if not stop.full_stop and (stop.fuel_added or stop.ground_min):
            yield Caution(
                "CHECK",
                literal(
                    "rolls-on",
                    f"The landing at {stop.point} is not to a full stop, but time on the ground or "
                    "fuel is given for it: both are counted, taxi fuel is not. Correct one of them.",
                ),
                where=stop.point,
            )


def _left_out(aircraft: Aircraft) -> Iterator[Caution]:
    missing = [
        word
        for word, value in (("climb", aircraft.climb), ("descent", aircraft.descent))
        if value is None
    ]
    if missing:
        yield Caution(
            "NOTE",
            literal(
                "all-cruise",
                f"No {' and no '.join(missing)} is given: there the flight is all cruise.",
            ),
        )
    yield Caution(
        "NOTE",
        literal(
            "not-in-the-figures",
            "Time and fuel run from take-off, on course, to over the field of landing: traffic "
            "patterns, landings and waiting are not in them.",
        ),
    )


def _compass(aircraft: Aircraft) -> Iterator[Caution]:
    card = aircraft.compass_card
    if card is None:
        yield Caution(
            "NOTE",
            literal(
                "no-compass-card",
                "No compass card is given: compass heading is taken as magnetic heading.",
            ),
        )
    elif card.largest_correction_deg > CERTIFIED_DEG:
        yield Caution(
            "CHECK",
            literal(
                "compass-card",
                f"The compass card corrects by up to {card.largest_correction_deg:g}°, more than the "
                f"{CERTIFIED_DEG:.0f}° a compass was certified with: have it swung.",
            ),
            "14 CFR 23.1327 as it stood until 2017",
        )


def _card_gap(log: NavigationLog) -> Iterator[Caution]:
    """Headings of the flight between two pairs of the card that are far apart."""
    card = log.plan.aircraft.compass_card
    if card is None:
        return
    wide: dict[tuple[float, float], list[float]] = {}
    for row in log.rows:
        before, after, gap_deg = card.gap(row.magnetic_heading_deg)
        if gap_deg > WIDEST_GAP_DEG:
            ends = before.for_magnetic_deg, after.for_magnetic_deg
            wide.setdefault(ends, []).append(row.magnetic_heading_deg)
    if wide:
        said = "; ".join(
            f"none between {_three(low)} and {_three(high)}, and {_three(headings[0])} is flown"
            for (low, high), headings in wide.items()
        )
        yield Caution(
            "CHECK",
            literal(
                "compass-card-gap",
                f"The compass card has too few pairs: {said}. What lies between is taken in "
                "proportion, and may be degrees off. Type every pair: a card has one each 30°.",
            ),
            "common practice; 14 CFR 23.1547 as it stood until 2017",
        )


def _three(heading_deg: float) -> str:
    return f"{round(heading_deg) % 360 or 360:03d}"
