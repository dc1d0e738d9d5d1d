"""How a wind between two altitudes is worked: by its parts from north and east."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from plotter.flight.log_values import LogRow, NavigationLog
from plotter.flight.plan import PlannedWind
from plotter.flight.wind import Wind, components_kt
from plotter.flight.working_values import figure


def wind_lines(log: NavigationLog, row: LogRow) -> Iterator[str]:
    """The lines between the winds that are given and the wind of a row with one stretch.

    Empty for a wind typed for the leg, read from a forecast's stations, or outside the altitudes
    that are given, where the nearest is used as it is.
    """
    course = row.course
    if len(row.flown) > 1 or course.notes.wind or log.plan.winds_aloft:
        return
    altitude_ft = row.flown[0].air.altitude_ft
    given = sorted(log.plan.winds, key=lambda one: one.altitude_ft)
    for lower, upper in itertools.pairwise(given):
        if lower.altitude_ft < altitude_ft < upper.altitude_ft:
            yield from _between(lower, upper, altitude_ft, course.variation_deg_east)


def _between(
    lower: PlannedWind, upper: PlannedWind, altitude_ft: float, variation_deg_east: float
) -> Iterator[str]:
    low = lower.wind.true_wind(variation_deg_east)
    high = upper.wind.true_wind(variation_deg_east)
    share = (altitude_ft - lower.altitude_ft) / (upper.altitude_ft - lower.altitude_ft)
    yield _level(lower.altitude_ft, low)
    yield _level(upper.altitude_ft, high)
    yield (
        f"({figure(altitude_ft, 0)} − {figure(lower.altitude_ft, 0)}) / "
        f"({figure(upper.altitude_ft, 0)} − {figure(lower.altitude_ft, 0)}) = {figure(share, 3)} "
        "of the way up"
    )
    for name, below, above in zip(
        ("north", "east"), components_kt(low), components_kt(high), strict=True
    ):
        part = below + (above - below) * share
        yield (
            f"from {name}: {figure(below)} + {figure(share, 3)} × ({figure(above)} − "
            f"({figure(below)})) = {figure(part)} kt"
        )


def _level(altitude_ft: float, wind: Wind) -> str:
    north, east = components_kt(wind)
    return (
        f"{figure(altitude_ft, 0)} ft: {figure(wind.from_true_deg, 0)}°T "
        f"{figure(wind.speed_kt)} kt is {figure(north)} from north, {figure(east)} from east"
    )
