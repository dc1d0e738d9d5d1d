"""The stretches of a climb or descent row, written out line by line."""

from __future__ import annotations

from plotter.flight.log_values import LogRow
from plotter.flight.track import Flown


def steps_of(row: LogRow) -> tuple[str, ...]:
    """One line a stretch of a row that has several; none for a row of one.

    Each stretch was flown with one wind and one airspeed, taken at the middle of its 500 ft.
    """
    if len(row.flown) == 1:
        return ()
    return tuple(_line(one) for one in row.flown)


def _line(one: Flown) -> str:
    triangle = one.triangle
    wind = triangle.wind
    return (
        f"{one.from_ft:,.0f} to {one.to_ft:,.0f} ft: wind {round(wind.from_true_deg) or 360:03d}°T "
        f"{wind.speed_kt:.1f} kt, TAS {triangle.true_airspeed_kt:.1f}, "
        f"GS {triangle.groundspeed_kt:.1f}; {one.minutes:.2f} min, {one.distance_nm:.2f} NM, "
        f"fuel {one.fuel:.2f}"
    )
