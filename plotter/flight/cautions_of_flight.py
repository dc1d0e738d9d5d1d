"""Cautions about how the flight is flown, and about what its figures rest on."""

from __future__ import annotations

from collections.abc import Iterator

from plotter.flight.aircraft import Aircraft, Cruise, VerticalRate
from plotter.flight.compass import CERTIFIED_DEG
from plotter.flight.log_values import LogRow, NavigationLog, Sector
from plotter.route.cautions import Caution
from plotter.wording import altitude

LONGEST_BETWEEN_MIN = 15.0
"""A pilot who flies by eye wants to know where he is at least this often (common practice)."""


def flight_cautions(log: NavigationLog) -> Iterator[Caution]:
    """What is left out of the flight, where checkpoints are far apart, what figures rest on."""
    yield from _far_apart(log)
    yield from _assumptions(log)
    for sector in log.sectors:
        yield from _shape(sector, log.plan.aircraft)
    yield from _left_out(log.plan.aircraft)
    yield from _compass(log.plan.aircraft)


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
                    "far-apart",
                    f"{since_min:.0f} min pass without a checkpoint, {stretch}: put one between.",
                    where=stretch,
                )
            since_min, before = 0.0, row.end.name


def _assumptions(log: NavigationLog) -> Iterator[Caution]:
    """What matters for heading and time is a check, the rest a note."""
    said = tuple(dict.fromkeys(note for row in log.rows for note in row.rests_on))
    if any("no wind is given" in note for note in said):
        yield Caution(
            "CHECK", "no-wind", "No wind is given: headings and times are those of calm air."
        )
    if log.plan.winds and log.plan.winds_aloft:
        yield Caution(
            "CHECK",
            "two-winds",
            "The plan gives both [[wind]] and [winds_aloft]: the forecast is used. Take one out.",
        )
    beyond = [row for row in log.rows if row.phase == "cruise" and _wind_beyond(row)]
    if beyond:
        yield Caution(
            "CHECK",
            "wind-beyond",
            f"Cruise at {altitude(beyond[0].altitude_ft)} is {_wind_beyond(beyond[0])} every "
            "altitude a wind is given for: the nearest one is used as it is.",
        )
    if not _uses_density(log.plan.aircraft):
        said = tuple(note for note in said if not note.startswith("no "))
    said = tuple(note for note in said if not note.startswith("no wind"))
    if said:
        yield Caution("NOTE", "rests-on", f"The figures rest on: {'; '.join(said)}.")


def _wind_beyond(row: LogRow) -> str:
    return next((one.air.wind_beyond for one in row.flown if one.air.wind_beyond), "")


def _uses_density(aircraft: Aircraft) -> bool:
    """Whether pressure or temperature enters a figure: calibrated airspeeds, tables."""
    rates = (aircraft.climb, aircraft.descent)
    speeds = [rate.airspeed for rate in rates if isinstance(rate, VerticalRate)]
    if isinstance(aircraft.cruise, Cruise):
        speeds.append(aircraft.cruise.airspeed)
    by_table = len(speeds) < 1 + sum(rate is not None for rate in rates)
    return by_table or any(speed.kind == "calibrated" for speed in speeds)


def _shape(sector: Sector, aircraft: Aircraft) -> Iterator[Caution]:
    """A flight too short for its cruise, or for its descent."""
    phases = [row.phase for row in sector.rows]
    where = sector.end.name
    if "cruise" not in phases:
        peak_ft = max(row.altitude_ft for row in sector.rows)
        yield Caution(
            "NOTE",
            "peaks-below-cruise",
            f"{sector.start.name} to {where} is too short to reach its cruise: it peaks at "
            f"{altitude(round(peak_ft, -1))}.",
            where=where,
        )
    if aircraft.descent is not None and phases[-1] != "descent":
        yield Caution(
            "CHECK",
            "no-descent",
            f"The flight arrives over {where} at {altitude(sector.rows[-1].altitude_ft)} without "
            "a descent to the pattern: the rate given does not bring it down in time, or it never "
            "is above the pattern.",
            where=where,
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
            "all-cruise",
            f"No {' and no '.join(missing)} is given: there the flight is all cruise.",
        )


def _compass(aircraft: Aircraft) -> Iterator[Caution]:
    card = aircraft.compass_card
    if card is None:
        yield Caution(
            "NOTE",
            "no-compass-card",
            "No compass card is given: compass heading is taken as magnetic heading.",
        )
    elif card.largest_correction_deg > CERTIFIED_DEG:
        yield Caution(
            "CHECK",
            "compass-card",
            f"The compass card corrects by up to {card.largest_correction_deg:.0f}°, more than the "
            f"{CERTIFIED_DEG:.0f}° a compass was certified with: have it swung.",
            "14 CFR 23.1327 as it stood until 2017",
        )
