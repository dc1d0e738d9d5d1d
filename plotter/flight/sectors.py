"""Where a flight is cut into sectors: from one take-off to the next landing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from plotter.errors import InputError, PlanError, PlotterError, RouteError, Where
from plotter.flight.aircraft import Aircraft
from plotter.flight.fields import field_elevation_ft, is_called, weather_faults
from plotter.flight.plan.values import Plan, Stop
from plotter.route.editing import point_count
from plotter.route.reading.points import OwnPoints
from plotter.route.values import Route, Waypoint
from plotter.wording import fuel_left


class Ground(NamedTuple):
    """The two fields of a sector and the legs between; ``stop_before`` is the stop it leaves."""

    start: Waypoint
    end: Waypoint
    leg_numbers: range
    stop_before: Stop | None

    def low_cruise(self, plan: Plan) -> Iterator[InputError]:
        """A fault, code ``cruise_altitude_ft``, for each cruise below a field it serves."""
        first, last = self.leg_numbers[0], self.leg_numbers[-1]
        for field, leg in ((self.start, first), (self.end, last)):
            elevation_ft, cruised_ft = field_elevation_ft(field), plan.cruise_altitude_ft(leg)
            if elevation_ft is not None and cruised_ft <= elevation_ft:
                yield InputError(
                    "cruise_altitude_ft.field",
                    where=Where(key=plan.altitude_key(leg)),
                    altitude_ft=cruised_ft,
                    field=field.name,
                    elevation_ft=elevation_ft,
                )

    def taxi_fuel(self, aircraft: Aircraft) -> float:
        """What is taxied away before take-off; nothing after a landing that rolls on."""
        rolls_on = self.stop_before is not None and not self.stop_before.full_stop
        return 0.0 if rolls_on else aircraft.taxi_fuel

    def fuel_at_start(self, aircraft: Aircraft, remaining: float) -> float:
        """What is in the tanks at the start, with what remained on landing before.

        Where the sector before ran dry that is nothing, never less: a STOP tells what is missing.
        Raises InputError, code ``fuel_added``, for more than the tanks hold.
        """
        if self.stop_before is None:
            return aircraft.fuel_on_board
        full = max(0.0, remaining) + self.stop_before.fuel_added
        if full > aircraft.usable_fuel:
            room = fuel_left(max(0.0, aircraft.usable_fuel - remaining))
            raise InputError(
                "fuel_added",
                amount=self.stop_before.fuel_added,
                point=self.start.name,
                room=room,
                unit=aircraft.fuel_unit,
            )
        return full


def grounds(plan: Plan, route: Route) -> list[Ground]:
    """The sectors of a route, cut at the plan's stops in their order.

    Raises InputError, code ``stop``, for a stop that is not a turning point of the route after
    the one before it.
    """
    points = route.waypoints
    cuts: list[tuple[int, Stop | None]] = [(0, None)]
    for number, stop in enumerate(plan.stops, start=1):
        cuts.append((_stop_at(stop, number, points, cuts[-1][0]), stop))
    ends = [*(index for index, _ in cuts[1:]), len(points) - 1]
    return [
        Ground(points[start], points[end], range(start + 1, end + 1), stop)
        for (start, stop), end in zip(cuts, ends, strict=True)
    ]


def stop_faults(plan: Plan, route: Route) -> Iterator[InputError]:
    """The stops that are no turning point of the route after the one before them."""
    after = 0
    for number, stop in enumerate(plan.stops, start=1):
        try:
            after = _stop_at(stop, number, route.waypoints, after)
        except InputError as fault:
            yield fault


def _stop_at(stop: Stop, number: int, points: Sequence[Waypoint], after: int) -> int:
    for index in range(after + 1, len(points) - 1):
        if is_called(points[index], stop.point):
            return index
    between = ", ".join(point.name for point in points[after + 1 : -1])
    raise InputError(
        "stop" if between else "stop.none-left",
        where=Where(key=f"stop.{number}.point"),
        candidates=[point.name for point in points[after + 1 : -1]],
        name="[[stop]] point",
        point=stop.point,
        between=between,
    )


# Whether a plan fits its route: every fault that only the route shows, all at once.
#
# The legs it counts altitudes and notes for, the points its weather and stops are at, the fields
# its altitudes are above.


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
