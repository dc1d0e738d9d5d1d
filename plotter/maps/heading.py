"""What stands at the head of a map or a sheet: the figures that a plot or a log was made with."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from plotter import wording
from plotter.maps import labels
from plotter.route.plot import Plot

if TYPE_CHECKING:
    from plotter.flight.aircraft import Aircraft
    from plotter.flight.log_values import NavigationLog
    from plotter.flight.plan import GivenWind, Plan

Pair = tuple[str, str]


def figures(plot: Plot, log: NavigationLog | None, *, sm: bool) -> list[Pair]:
    """Each term with what is said, text of outside origin made visible."""
    kind = "great circle" if plot.route.line == "geodesic" else "constant course (rhumb line)"
    altitudes = log.plan.cruise_altitudes_ft if log else (plot.altitude_ft,)
    return [
        ("Distance", labels.distances(plot.route.distance_nm, sm=sm)),
        ("Legs", f"{len(plot.route.legs)}, {kind}"),
        ("Checkpoints", _spacing(plot)),
        ("Date", plot.date_said),
        ("Altitude", _altitudes(altitudes)),
        *(_flown_with(log.plan) if log else ()),
    ]


def _spacing(plot: Plot) -> str:
    if not math.isfinite(plot.every_nm):
        return "none asked for"
    return f"{len(plot.checkpoints)}, every {plot.every_nm:g} NM"


def _altitudes(altitudes_ft: Sequence[float]) -> str:
    """One altitude, or one a leg."""
    return ", then ".join(wording.altitude(each) for each in altitudes_ft)


def _flown_with(plan: Plan) -> Iterator[Pair]:
    yield "Aircraft", _aircraft(plan.aircraft)
    yield "Wind", "; ".join(_winds(plan)) or "none given: calm"


def _aircraft(aircraft: Aircraft) -> str:
    from plotter.flight.aircraft import Cruise

    said = [labels.visible(aircraft.name)] if aircraft.name else []
    if isinstance(aircraft.cruise, Cruise):
        speed = aircraft.cruise.airspeed
        said.append(f"{speed.knots:g} kt {speed.kind}")
        said.append(f"{aircraft.cruise.fuel_per_hour:g} {aircraft.fuel_unit} an hour")
    else:
        said.append("cruise by its table")
    return ", ".join(said)


def _winds(plan: Plan) -> Iterator[str]:
    if plan.winds_aloft is not None:
        stations = ", ".join(labels.visible(each) for each in plan.winds_aloft.stations)
        yield f"forecast for {stations}"
    for each in plan.winds:
        yield f"{wording.altitude(each.altitude_ft)} {_wind(each.wind)}"


def _wind(wind: GivenWind) -> str:
    if not wind.speed_kt:
        return "calm"
    north = "" if wind.reference == "true" else " magnetic"
    return f"{wind.from_deg or 360.0:03.0f}/{wind.speed_kt:g}{north}"
