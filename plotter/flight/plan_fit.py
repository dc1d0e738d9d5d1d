"""Whether a plan fits its route: every fault that only the route shows, all at once.

The legs it counts altitudes and notes for, the points its weather and stops are at, the fields its
altitudes are above.
"""

from __future__ import annotations

from collections.abc import Iterator

from plotter.errors import InputError, PlanError, PlotterError, RouteError
from plotter.flight.fields import weather_faults
from plotter.flight.plan import Plan
from plotter.flight.sectors import grounds, stop_faults
from plotter.route.editing import point_count
from plotter.route.own_points import OwnPoints
from plotter.route.route import Route


def check_fit(plan: Plan, route: Route) -> None:
    """Raise PlanError with every fault of a plan on its route, each with the path of its key."""
    faults = [*plan.leg_faults(len(route.legs)), *stop_faults(plan, route)]
    low = [] if faults else list(_low_cruise(plan, route))
    faults += [*weather_faults(plan, route), *low]
    if faults:
        raise PlanError(faults)


def with_counted(fault: RouteError, plan: Plan, own_points: OwnPoints) -> RouteError:
    """The faults of a route, and those of the plan that are sure though its points are not known.

    The points are counted as they are typed; where names of own points may hold spaces they are
    not.
    """
    if len(own_points):
        return fault
    legs = point_count(plan.route) - 1
    counted: list[PlotterError] = list(plan.leg_faults(legs)) if legs > 0 else []
    return RouteError([*fault.faults, *counted]) if counted else fault


def _low_cruise(plan: Plan, route: Route) -> Iterator[InputError]:
    for ground in grounds(plan, route):
        yield from ground.low_cruise(plan)
