"""Cautions about how the flight is flown: checkpoints, altitudes reached, what is left out."""

from __future__ import annotations

from collections.abc import Iterator

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
from plotter.messages import Message, message
from plotter.route.values import Caution

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


def figure_cautions(log: NavigationLog) -> Iterator[Caution]:
    """One CHECK that names every unlikely figure."""
    figures = tuple(dict.fromkeys([*_speeds(log), *_rates(log), *_tanks(log), *_settings(log)]))
    if figures:
        yield Caution("CHECK", message("unlikely-figure", figures=figures))


def _speeds(log: NavigationLog) -> Iterator[Message]:
    """True airspeeds as they are flown, whatever they were given as."""
    flown: dict[Phase, list[float]] = {}
    for row in log.rows:
        flown.setdefault(row.phase, []).append(row.triangle.true_airspeed_kt)
    for phase, speeds in flown.items():
        for speed_kt in (min(speeds), max(speeds)):
            if not SLOW_KT <= speed_kt <= FAST_KT:
                yield message(
                    "unlikely-figure.airspeed",
                    airspeed_kt=speed_kt,
                    phase=phase,
                    slow_kt=SLOW_KT,
                    fast_kt=FAST_KT,
                )


def _rates(log: NavigationLog) -> Iterator[Message]:
    aircraft = log.plan.aircraft
    for phase, rate in (("climb", aircraft.climb), ("descent", aircraft.descent)):
        if isinstance(rate, VerticalRate) and rate.rate_fpm > STEEP_FPM:
            yield message(
                "unlikely-figure.rate", phase=phase, rate_fpm=rate.rate_fpm, steep_fpm=STEEP_FPM
            )


def _tanks(log: NavigationLog) -> Iterator[Message]:
    aircraft = log.plan.aircraft
    for flow in _cruise_flows(aircraft):
        minutes = endurance_min(aircraft.usable_fuel, flow)
        if not SHORT_MIN <= minutes <= LONG_MIN:
            yield message(
                "unlikely-figure.tanks",
                flow=flow,
                unit=aircraft.fuel_unit,
                usable=aircraft.usable_fuel,
                endurance_min=minutes,
            )


def _cruise_flows(aircraft: Aircraft) -> tuple[float, ...]:
    cruise = aircraft.cruise
    if isinstance(cruise, Cruise):
        return (cruise.fuel_per_hour,)
    return tuple(row.fuel_per_hour for row in cruise.rows)


def _settings(log: NavigationLog) -> Iterator[Message]:
    for weather in log.plan.weather:
        setting = weather.altimeter_hpa
        if setting is None or hpa_from_inhg(LOW_INHG) <= setting <= hpa_from_inhg(HIGH_INHG):
            continue
        yield message(
            "unlikely-figure.altimeter",
            setting_inhg=setting / hpa_from_inhg(1.0),
            setting_hpa=setting,
            point=weather.point,
            low_inhg=LOW_INHG,
            high_inhg=HIGH_INHG,
        )


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
                said = message("far-apart", minutes=since_min, stretch=stretch)
                yield Caution("CHECK", said, where=stretch)
            since_min, before = 0.0, row.end.name


def _peak(sector: Sector, plan: Plan) -> Iterator[Caution]:
    """A sector that never reaches the highest altitude planned for it."""
    planned_ft = max(plan.cruise_altitude_ft(row.course.leg.number) for row in sector.rows)
    peak_ft = max(max(row.start_altitude_ft, row.altitude_ft) for row in sector.rows)
    if peak_ft < planned_ft - NOT_REACHED_BY_FT:
        said = message(
            "peaks-below-cruise",
            start=sector.start.name,
            end=sector.end.name,
            planned_ft=planned_ft,
            peak_ft=round(peak_ft, -1),
        )
        yield Caution("CHECK", said, where=sector.end.name)


def _arrival(sector: Sector, aircraft: Aircraft) -> Iterator[Caution]:
    """A sector that ends above, or below, the pattern it should descend to."""
    last = sector.rows[-1]
    if aircraft.descent is None or last.flown[-1].phase == "descent":
        return
    pattern_ft = (field_elevation_ft(sector.end) or 0.0) + aircraft.pattern_height_ft
    said = message(
        "no-descent" if last.altitude_ft > pattern_ft else "no-descent.below",
        end=sector.end.name,
        arrival_ft=round(last.altitude_ft, -1),
        pattern_ft=round(pattern_ft, -1),
    )
    yield Caution("CHECK", said, where=sector.end.name)


def _ceiling(log: NavigationLog) -> Iterator[Caution]:
    rules = log.plan.visual_rules or rules_of_flight(log.plan, log.plot.route)
    ceiling_ft = CEILINGS_FT[rules]
    highest_ft = max(row.altitude_ft for row in log.rows)
    if highest_ft >= ceiling_ft:
        said = message("above-visual-altitudes", highest_ft=highest_ft, ceiling_ft=ceiling_ft)
        yield Caution(
            "CHECK",
            said,
            {"US": "14 CFR 91.159, 91.135", "ICAO": "ICAO Annex 2, chapter 4"}[rules],
        )


def _rolls_on(log: NavigationLog) -> Iterator[Caution]:
    for stop in log.plan.stops:
        if not stop.full_stop and (stop.fuel_added or stop.ground_min):
            yield Caution("CHECK", message("rolls-on", point=stop.point), where=stop.point)


def _left_out(aircraft: Aircraft) -> Iterator[Caution]:
    missing = tuple(
        phase
        for phase, rate in (("climb", aircraft.climb), ("descent", aircraft.descent))
        if rate is None
    )
    if missing:
        yield Caution("NOTE", message("all-cruise", phases=missing))
    yield Caution("NOTE", message("not-in-the-figures"))


def _compass(aircraft: Aircraft) -> Iterator[Caution]:
    card = aircraft.compass_card
    if card is None:
        yield Caution("NOTE", message("no-compass-card"))
    elif card.largest_correction_deg > CERTIFIED_DEG:
        said = message(
            "compass-card", largest_deg=card.largest_correction_deg, certified_deg=CERTIFIED_DEG
        )
        yield Caution("CHECK", said, "14 CFR 23.1327 as it stood until 2017")


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
        gaps = tuple(
            message(
                "compass-card-gap.between",
                low=_three(low),
                high=_three(high),
                heading=_three(headings[0]),
            )
            for (low, high), headings in wide.items()
        )
        source = "common practice; 14 CFR 23.1547 as it stood until 2017"
        yield Caution("CHECK", message("compass-card-gap", gaps=gaps), source)


def _three(heading_deg: float) -> str:
    return f"{round(heading_deg) % 360 or 360:03d}"
