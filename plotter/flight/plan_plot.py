"""The route of a plan plotted, without flying it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from plotter.flight.log import wishes_of
from plotter.flight.plan import Plan
from plotter.places.store import Store
from plotter.route.cautions import Caution, ranked
from plotter.route.given import GivenRoute
from plotter.route.own_points import OwnPoints
from plotter.route.plot import Plot
from plotter.route.plotting import plot_route


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
        "checkpoints-by-time",
        f"The plan asks for a checkpoint every {plan.every_min:g} min of flying. They are placed "
        "in its navigation log, by groundspeed; none is on this plot.",
    )
