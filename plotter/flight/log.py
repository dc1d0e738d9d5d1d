"""From a plan to its navigation log: the second main job, in one function.

The route is plotted, its legs become courses, each sector is flown on paper
(:mod:`plotter.flight.track`) and cut at its marks into rows (:mod:`plotter.flight.rows`). Nothing
is rounded here.
"""

from __future__ import annotations

import datetime as dt
import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from plotter.earth.sun import daylight
from plotter.errors import CheckpointError, RouteError
from plotter.flight.air.sky import Sky, bulletin_for, station_positions
from plotter.flight.cautions.of_log import log_cautions, silence
from plotter.flight.courses import Course, courses, parts_flown
from plotter.flight.fields import field_elevation_ft, field_reports, reports_of
from plotter.flight.invented import warning
from plotter.flight.log_values import FuelPlan, LogRow, Mark, NavigationLog, Sector
from plotter.flight.plan.values import Plan
from plotter.flight.reserve import ICAO_SOURCES, US_SOURCES, reserve_at
from plotter.flight.rows import in_order, log_rows, part_marks, turn_marks, with_tops
from plotter.flight.sectors import Ground, check_fit, grounds, with_counted
from plotter.flight.sun_clock import local_date, zone_of
from plotter.flight.track import Flown, SectorFlight, fly
from plotter.flight.whose_rules import law_over, with_states
from plotter.messages import message
from plotter.places.store import Store
from plotter.route.checkpoints import (
    DEFAULT_CLEAR_OF_TURNS_NM,
    MOST_CHECKPOINTS,
    Checkpoint,
)
from plotter.route.measuring import FlightMagnetism
from plotter.route.parts import leg_parts
from plotter.route.plotting import Plot, Wishes, plot_route, with_parts
from plotter.route.reading.points import OwnPoints
from plotter.route.reading.whole import GivenRoute
from plotter.route.values import Caution, Route, ranked

# Checkpoints every so many minutes of flying, placed once the speed of each stretch is known.


def timed_checkpoints(
    route: Route, sectors: Sequence[Sequence[Flown]], every_min: float, restart: bool = False
) -> tuple[Checkpoint, ...]:
    """The checkpoints of a route, every ``every_min`` [min] of flying from each take-off.

    With ``restart`` they count afresh from each turning point. None stands within 1 NM of a
    turning point. Distances are those of the plotted route, as for checkpoints by distance.
    Raises CheckpointError for an interval that would give more than 5,000.
    """
    total_min = math.fsum(one.minutes for flown in sectors for one in flown)
    if total_min / every_min > MOST_CHECKPOINTS:
        raise CheckpointError(
            "checkpoints.too-many-min",
            every_min=every_min,
            most=MOST_CHECKPOINTS,
            least_min=math.ceil(10 * total_min / MOST_CHECKPOINTS) / 10,
        )
    starts = dict(zip(range(1, len(route.legs) + 1), plotted_starts(route), strict=True))
    made: list[Checkpoint] = []
    for flown in sectors:
        bounds = _leg_bounds(flown)
        for one, at_nm in _places(flown, bounds, every_min, restart):
            leg = one.course.leg
            first_nm, last_nm = bounds[leg.number]
            gone_nm = starts[leg.number] + leg.distance_nm * (at_nm - first_nm) / (
                last_nm - first_nm
            )
            made.append(_checkpoint(len(made) + 1, one, at_nm, gone_nm, route.distance_nm))
    return tuple(made)


def _checkpoint(
    number: int, one: Flown, at_nm: float, gone_nm: float, length_nm: float
) -> Checkpoint:
    return Checkpoint(
        number=number,
        name=f"CP{number}",
        leg_number=one.course.leg.number,
        position=one.course.position(at_nm),
        distance_from_start_nm=gone_nm,
        distance_to_go_nm=length_nm - gone_nm,
    )


def plotted_starts(route: Route) -> list[float]:
    """How far from the start of the route [NM] each leg begins."""
    return list(itertools.accumulate((leg.distance_nm for leg in route.legs[:-1]), initial=0.0))


def _places(
    flown: Sequence[Flown],
    legs: Mapping[int, tuple[float, float]],
    every_min: float,
    restart: bool,
) -> Iterator[tuple[Flown, float]]:
    """Where each interval ends, as the stretch and the distance from the start of the flight."""
    elapsed_min, leg_number = 0.0, flown[0].course.leg.number
    for one in flown:
        if restart and one.course.leg.number != leg_number:
            elapsed_min, leg_number = 0.0, one.course.leg.number
        first_nm, last_nm = legs[one.course.leg.number]
        count = math.floor(elapsed_min / every_min) + 1
        while count * every_min <= elapsed_min + one.minutes:
            share = (count * every_min - elapsed_min) / one.minutes
            at_nm = one.start_nm + share * one.distance_nm
            clear_nm = min(at_nm - first_nm, last_nm - at_nm)
            if clear_nm >= DEFAULT_CLEAR_OF_TURNS_NM:
                yield one, at_nm
            count += 1
        elapsed_min += one.minutes


def _leg_bounds(flown: Sequence[Flown]) -> dict[int, tuple[float, float]]:
    """Start and end [NM] of each leg."""
    bounds: dict[int, tuple[float, float]] = {}
    for one in flown:
        number = one.course.leg.number
        first_nm = bounds[number][0] if number in bounds else one.start_nm
        bounds[number] = (first_nm, one.end_nm)
    return bounds


class _FlownSector(NamedTuple):
    """A sector before its rows: where it runs, what it flies, where take-off and fuel stand."""

    ground: Ground
    flight: SectorFlight
    flown: tuple[Flown, ...]


def navigation_log(
    plan: Plan,
    store: Store,
    own_points: OwnPoints | None = None,
    allow_old_model: bool = False,
    route: str | GivenRoute | None = None,
) -> NavigationLog:
    """Every figure of a planned flight; ``route`` is the plan's where that came from a file.

    Raises RouteError with all faults of the route, PlanError with all where the plan does not fit
    it (a stop that is not on it, an altitude below the field), InputError for winds aloft not in
    use, and, codes ``crosswind-exceeds-airspeed`` and ``no-groundspeed``, where a leg cannot be
    flown.
    """
    wishes = wishes_of(plan, own_points, allow_old_model)
    plot = _plotted(plan, store, wishes, plan.route if route is None else route)
    check_fit(plan, plot.route)
    plot = replace(plot, route=with_states(plot.route, store))
    magnetism = FlightMagnetism(wishes.date, wishes.altitude_ft, allow_old_model)
    sky = _sky(plan, plot, store)
    flown_on = courses(plot.route, plan, magnetism, plot.checkpoints)
    flown = _fly_all(plan, plot, flown_on, sky)
    checkpoints = _checkpoints(plan, plot, flown)
    if plan.every_min is not None and any(course.parts > 1 for course in flown_on):
        # Because parts end at checkpoints, and these stand where the first flight was by then.
        flown_on = courses(plot.route, plan, magnetism, checkpoints)
        flown = _fly_all(plan, plot, flown_on, sky)
        plot = with_parts(plot, leg_parts(plot.route, magnetism, checkpoints, plan.unsplit))
    plot = replace(plot, parts=parts_flown(flown_on, plot.parts))
    plot = replace(
        plot,
        checkpoints=checkpoints,
        local_date=local_date(plan.departure, zone_of(plot.route.waypoints[0], plan.departure)),
        warning=warning(plan.invented),
    )
    sectors = _sectors(plan, plot, flown)
    fields = field_reports(plan, plot.route, magnetism)
    log = NavigationLog(plan, plot, sectors, fields, (), (), sky)
    cautions, silenced = silence(log_cautions(log), plan.quiet)
    return replace(log, cautions=cautions, silenced=silenced)


def wishes_of(
    plan: Plan, own_points: OwnPoints | None = None, allow_old_model: bool = False
) -> Wishes:
    """How the route of a plan is plotted: on the day of take-off in UTC, at its highest cruise."""
    noted = (notes.altitude_ft for notes in plan.legs)
    altitudes = [*plan.cruise_altitudes_ft, *(each for each in noted if each is not None)]
    return Wishes(
        date=plan.departure.astimezone(dt.UTC).date(),
        altitude_ft=max(altitudes),
        every_nm=plan.every_nm,
        restart=plan.restart,
        line=plan.line,
        allow_old_model=allow_old_model,
        own_points=own_points or OwnPoints(),
        name=plan.name,
        place_checkpoints=plan.every_min is None,
        unsplit=plan.unsplit,
    )


def _plotted(plan: Plan, store: Store, wishes: Wishes, route: str | GivenRoute) -> Plot:
    try:
        return plot_route(route, store, wishes)
    except RouteError as fault:
        if isinstance(route, GivenRoute):
            raise
        raise with_counted(fault, plan, wishes.own_points) from None


def _sky(plan: Plan, plot: Plot, store: Store) -> Sky:
    bulletin = bulletin_for(plan)
    stations = plan.winds_aloft.stations if plan.winds_aloft else ()
    along = [leg.middle for leg in plot.route.legs]
    along += [point.position for point in plot.route.waypoints]
    where = station_positions(store, stations, along)
    return Sky(plan.winds, bulletin, where, reports_of(plan, plot.route))


def _fly_all(plan: Plan, plot: Plot, flown_on: Sequence[Course], sky: Sky) -> list[_FlownSector]:
    flown = []
    for ground in grounds(plan, plot.route):
        own = tuple(course for course in flown_on if course.leg.number in ground.leg_numbers)
        altitudes = tuple(plan.cruise_altitude_ft(course.leg.number) for course in own)
        flight = SectorFlight(own, altitudes, plan.aircraft, sky)
        from_ft = field_elevation_ft(ground.start) or 0.0
        to_ft = (field_elevation_ft(ground.end) or 0.0) + plan.aircraft.pattern_height_ft
        flown.append(_FlownSector(ground, flight, fly(flight, from_ft, to_ft)))
    return flown


def _checkpoints(plan: Plan, plot: Plot, flown: Sequence[_FlownSector]) -> tuple[Checkpoint, ...]:
    if plan.every_min is None:
        return plot.checkpoints
    stretches = [one.flown for one in flown]
    return timed_checkpoints(plot.route, stretches, plan.every_min, plan.restart)


def _sectors(plan: Plan, plot: Plot, flown: Sequence[_FlownSector]) -> tuple[Sector, ...]:
    sectors: list[Sector] = []
    for one in flown:
        stop = one.ground.stop_before
        take_off = plan.departure.astimezone(dt.UTC)
        if stop is not None:
            take_off = sectors[-1].landing + dt.timedelta(minutes=stop.ground_min)
        remaining = sectors[-1].fuel.remaining if sectors else 0.0
        sectors.append(
            _sector(
                plan,
                plot,
                one,
                number=len(sectors) + 1,
                first_row=1 + sum(len(sector.rows) for sector in sectors),
                take_off=take_off,
                at_start=one.ground.fuel_at_start(plan.aircraft, remaining),
            )
        )
    return tuple(sectors)


def _sector(
    plan: Plan,
    plot: Plot,
    one: _FlownSector,
    *,
    number: int,
    first_row: int,
    take_off: dt.datetime,
    at_start: float,
) -> Sector:
    ground, aircraft = one.ground, plan.aircraft
    taxi = ground.taxi_fuel(aircraft)
    marks, tops = with_tops(_marks(plot, one), turn_marks(one.flown))
    rows = log_rows(
        one.flown,
        marks,
        aircraft.compass_card,
        sector=number,
        first_number=first_row,
        take_off=take_off,
        fuel_at_take_off=at_start - taxi,
        tops=tops,
    )
    landing = rows[-1].eta
    legs = [course.leg for course in one.flight.courses]
    law = law_over([point for leg in legs for point in (leg.start, leg.end)], plan, plot.route)
    category = plan.aircraft_category
    return Sector(
        number=number,
        start=ground.start,
        end=ground.end,
        take_off=take_off,
        landing=landing,
        rows=rows,
        fuel=_fuel(plan, one, rows, at_start, taxi),
        reserve=reserve_at(
            ground.end.position,
            landing,
            category,
            plan.limits.reserve_min,
            law.source(US_SOURCES[category], ICAO_SOURCES[category]),
        ),
        start_zone=zone_of(ground.start, plan.departure),
        end_zone=zone_of(ground.end, plan.departure),
        start_sun=daylight(ground.start.position, take_off),
        end_sun=daylight(ground.end.position, landing),
        law=law,
    )


def _marks(plot: Plot, one: _FlownSector) -> list[Mark]:
    """Every mark of a sector, from its start to its end."""
    flown_on = one.flight.courses
    first, last = flown_on[0], flown_on[-1]
    ends = [Mark(first.start_nm, one.ground.start.name, "waypoint", one.ground.start.position)]
    for course in flown_on:
        if course.part == course.parts:
            end = course.leg.end
            ends.append(Mark(course.end_nm, end.name, "waypoint", end.position))
    marks = [
        *ends,
        *_checkpoint_marks(plot, flown_on),
        *turn_marks(one.flown),
        *part_marks(flown_on),
    ]
    return in_order(mark for mark in marks if first.start_nm <= mark.at_nm <= last.end_nm)


def _checkpoint_marks(plot: Plot, flown_on: Sequence[Course]) -> list[Mark]:
    """Checkpoints, counted along the legs as they are flown: a typed distance stretches a leg."""
    starts = {course.leg.number: course.start_nm for course in reversed(flown_on)}
    ends = {course.leg.number: course.end_nm for course in flown_on}
    before_nm = dict(
        zip((leg.number for leg in plot.route.legs), plotted_starts(plot.route), strict=True)
    )
    marks = []
    for point in plot.checkpoints:
        number = point.leg_number
        if number in starts:
            on_leg_nm = point.distance_from_start_nm - before_nm[number]
            share = on_leg_nm / plot.route.legs[number - 1].distance_nm
            at_nm = starts[number] + share * (ends[number] - starts[number])
            marks.append(Mark(at_nm, point.name, "checkpoint", point.position))
    return marks


def _fuel(
    plan: Plan, one: _FlownSector, rows: Sequence[LogRow], at_start: float, taxi: float
) -> FuelPlan:
    by_phase = {
        phase: sum(each.fuel for row in rows for each in row.flown if each.phase == phase)
        for phase in ("climb", "cruise", "descent")
    }
    cruised = [flown.fuel_per_hour for flown in one.flown if flown.phase == "cruise"]
    per_hour = cruised[-1] if cruised else one.flight.cruise_fuel_per_hour()
    return FuelPlan(plan.aircraft.fuel_unit, at_start, taxi, **by_phase, per_hour_cruise=per_hour)


# The route of a plan plotted, without flying it.


def plot_plan(
    plan: Plan,
    store: Store,
    own_points: OwnPoints,
    typed: Mapping[str, Any] | None = None,
    route: str | GivenRoute | None = None,
) -> Plot:
    """Plot the route of a plan as the plan wishes it, and where it differs as it is ``typed``.

    ``typed`` holds fields of :class:`~plotter.route.plotting.Wishes`; one that is there wins over
    the plan; ``route`` is the plan's where that came from a file. Raises as
    :func:`~plotter.route.plotting.plot_route` does.
    """
    asked = dict(typed or {})
    if "every_nm" in asked:
        asked["place_checkpoints"] = True
    wishes = replace(wishes_of(plan, own_points), **asked)
    plot = plot_route(plan.route if route is None else route, store, wishes)
    if wishes.place_checkpoints:
        return plot
    return replace(plot, cautions=ranked([*plot.cautions, _by_time(plan)]))


def _by_time(plan: Plan) -> Caution:
    return Caution(
        "NOTE",
        message("checkpoints-by-time", every_min=plan.every_min),
    )
