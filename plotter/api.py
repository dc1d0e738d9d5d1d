"""The public face of the library; everything else is private until 1.0.

>>> from plotter import api
>>> flight = api.plot("KRST KONA KLSE", date="2026-07-04")
>>> [f"{leg.distance_nm:.1f} NM {leg.true_course_deg:.0f}°T" for leg in flight.legs]
['35.8 NM 74°T', '22.9 NM 121°T']
>>> len(flight.checkpoints)
5
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Sequence
from pathlib import Path
from typing import Any

from plotter.chart.asking import ReadingRow, measure_rows, row_of
from plotter.chart.distance_sheet import Fitted
from plotter.chart.measurement import Answer, Explanation, Judgement, judge
from plotter.chart.own_plotter import READING_ERROR_MM, Edge, OwnPlotter, Pair, read_pairs
from plotter.chart.own_plotter_verdict import Verdict, verdict_of
from plotter.chart.readings import CourseReading, Desk, MeasuredLeg, Reading, Unit, desk_of
from plotter.chart.scales import scale_named
from plotter.datastore.opening import open_store
from plotter.datastore.own_plotter import keep_own_plotter, load_own_plotter
from plotter.earth.atmosphere import density_altitude_ft, pressure_altitude_ft
from plotter.earth.geodesic import LineKind, leg_arrays
from plotter.earth.position import Position
from plotter.errors import (
    AmbiguousIdentifier,
    CannotDo,
    InputError,
    PlanError,
    PlotterError,
    RouteError,
    UnknownIdentifier,
)
from plotter.exports import save_rule
from plotter.flight.log import navigation_log, plot_plan
from plotter.flight.log_values import LogRow, NavigationLog, Sector
from plotter.flight.plan.values import Plan
from plotter.flight.sum_table import Solved, solve
from plotter.flight.sums import (
    CourseCorrection,
    Descent,
    TrackMade,
    fuel_flow_per_hour,
    off_course_correction,
    outside_temperature_c,
    top_of_descent,
    track_made,
    wind_found,
)
from plotter.flight.time_fuel import endurance_min
from plotter.flight.wind import Wind
from plotter.flight.working.values import Working
from plotter.inputs import (
    faults_on_lines,
    is_plan_file,
    open_date,
    open_flight,
    open_plan,
    open_points,
    open_route,
)
from plotter.maps.tiles import Tiles
from plotter.paper.style import paper_named
from plotter.places import nearness
from plotter.places import search as searching
from plotter.places.lookup import resolve
from plotter.places.model import FIXED_WING, Airport, Navaid, Town
from plotter.places.nearness import Near, Nearby
from plotter.places.search import Hit
from plotter.places.store import Store
from plotter.results import LoggedFlight, MeasuredReadings, PlottedRoute
from plotter.route.checkpoints import Checkpoint
from plotter.route.measuring import FlightMagnetism
from plotter.route.plotting import Plot, Wishes, plot_route
from plotter.route.reading.points import OwnPoint, OwnPoints
from plotter.route.reading.text import read_point
from plotter.route.suggesting import Suggestion, suggest
from plotter.route.values import Caution, Leg, Route, Waypoint

__all__ = [
    "Airport",
    "AmbiguousIdentifier",
    "Answer",
    "CannotDo",
    "Caution",
    "Checkpoint",
    "CourseCorrection",
    "CourseReading",
    "Descent",
    "Desk",
    "Explanation",
    "Fitted",
    "Hit",
    "InputError",
    "Judgement",
    "Leg",
    "LineKind",
    "LogRow",
    "LoggedFlight",
    "MeasuredLeg",
    "MeasuredReadings",
    "Navaid",
    "NavigationLog",
    "Near",
    "Nearby",
    "OwnPlotter",
    "OwnPoint",
    "OwnPoints",
    "Pair",
    "Plan",
    "PlanError",
    "Plot",
    "PlottedRoute",
    "PlotterError",
    "Position",
    "Reading",
    "ReadingRow",
    "Route",
    "RouteError",
    "Sector",
    "Solved",
    "Suggestion",
    "Tiles",
    "Town",
    "TrackMade",
    "UnknownIdentifier",
    "Verdict",
    "Waypoint",
    "Wind",
    "Working",
    "density_altitude_ft",
    "desk_of",
    "endurance_min",
    "find",
    "fit_plotter",
    "fuel_flow_per_hour",
    "judge",
    "keep_own_plotter",
    "leg_arrays",
    "load_own_plotter",
    "log",
    "measure",
    "near",
    "off_course_correction",
    "open_store",
    "outside_temperature_c",
    "plan",
    "plot",
    "pressure_altitude_ft",
    "rule",
    "search",
    "solve",
    "suggest",
    "top_of_descent",
    "track_made",
    "verdict_of",
    "wind_found",
]


def plot(
    route: str | Sequence[str] | Plan,
    *,
    date: dt.date | str | None = None,
    altitude_ft: float | None = None,
    every_nm: float | None = None,
    restart: bool | None = None,
    clear_of_turns_nm: float | None = None,
    line: LineKind | None = None,
    points: OwnPoints | str | Path | Sequence[Path] | None = None,
    allow_old_model: bool = False,
    name: str | None = None,
    part: str | None = None,
    track_tolerance_nm: float | None = None,
    store: Store | None = None,
) -> PlottedRoute:
    """Plot a route typed as one text or as a sequence of points, or of the file so named.

    A file is a route in a known format or a plan (TOML); ``part`` chooses among a file's routes,
    tracks and waypoints; ``track_tolerance_nm`` [NM] is how far a track may be off the legs that
    stand for it. ``date`` [ISO 8601] of the flight, ``altitude_ft`` [ft] where variation is taken,
    ``every_nm`` [NM] between checkpoints and all else are the plan's where they are left out.
    Without a plan they are today, 0 ft, 10 NM, a geodesic ``line`` and checkpoints counted from
    the departure. Raises InputError (all faults of a route in a RouteError, of a plan file in a
    PlanError).

    >>> plot("KRST KDHL", date="2026-07-04")
    Traceback (most recent call last):
    plotter.errors.RouteError: no place 'KDHL' in the data; did you mean KDLH, KHDL or EDHL?
    """
    figures = {
        "altitude_ft": altitude_ft,
        "every_nm": every_nm,
        "restart": restart,
        "clear_of_turns_nm": clear_of_turns_nm,
        "line": line,
        "name": name,
    }
    typed: dict[str, Any] = {key: value for key, value in figures.items() if value is not None}
    typed["allow_old_model"] = allow_old_model
    opened = store or open_store()
    if isinstance(route, str) and is_plan_file(route):
        route = open_plan(route)
    if not isinstance(route, Plan):
        wishes = Wishes(date=open_date(date), own_points=open_points(points), **typed)
        given = open_route(route, part=part, tolerance_nm=track_tolerance_nm)
        return PlottedRoute(plot_route(given, opened, wishes), opened)
    if date is not None:
        typed["date"] = open_date(date)
    flight = open_flight(route, points)
    return PlottedRoute(
        plot_plan(flight.plan, opened, flight.own_points, typed, flight.route), opened
    )


def plan(file: str | Path) -> Plan:
    """The plan of a plan file (TOML), or of the text of one.

    Its own points are found from the file's folder. Raises PlanError with every fault of the
    file, each with its line, and InputError for a file that cannot be read.

    >>> plan("format = 1\\n[flight]\\n")
    Traceback (most recent call last):
    plotter.errors.PlanError: plan, line 2: [aircraft] is missing; write the table [aircraft] with \
its speeds and its fuel
    """
    return open_plan(file)


def log(
    flight: Plan | str | Path,
    *,
    points: OwnPoints | str | Path | Sequence[Path] | None = None,
    allow_old_model: bool = False,
    store: Store | None = None,
) -> LoggedFlight:
    """The navigation log of a plan, of a plan file, or of the text of one.

    Raises PlanError with every fault of the file, RouteError with every fault of the route, and
    InputError where the flight cannot be flown as planned.

    >>> log("format = 1\\nflight = 2\\n")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    plotter.errors.PlanError: plan, line 2: ...
    """
    opened = store or open_store()
    made, own, route = open_flight(flight, points)
    with faults_on_lines(flight, route):
        return LoggedFlight(navigation_log(made, opened, own, allow_old_model, route), opened)


def find(
    text: str, *, near: Position | None = None, store: Store | None = None
) -> Airport | Navaid:
    """The airport or navaid that an identifier means; ``near`` settles repeated navaids.

    :func:`search` finds places by their names.

    >>> find("KRST").name
    'Rochester International Airport'
    """
    return resolve(store or open_store(), text, near).place


def rule(
    into: str | Path = "exports",
    *,
    name: str | None = None,
    paper: str = "a4",
    replace: bool = False,
) -> Path:
    """Write the scale to test a plotter against as a PDF, on ``a4`` or ``letter``; gives its path.

    Raises InputError for a paper or name that is none, CannotDo where a different file is there
    or the disk refuses. The trap: prove the print with a steel rule or a bank card before use.
    """
    return save_rule(Path(into), name, paper_named(paper), replace=replace)


def fit_plotter(
    pairs: str | Sequence[Pair],
    *,
    chart: str = "sectional",
    edge: Edge = "nm",
    reading_error_mm: float = READING_ERROR_MM,
) -> OwnPlotter:
    """Fit offset and factor of a plotter to what it read on the printed ruler.

    ``fit`` of the result is ``None`` where all pairs are at one mark; :func:`verdict_of` judges
    it. Raises InputError for pairs that cannot be.

    >>> mine = fit_plotter("ruler 50 = plotter 50.6, ruler 100 = plotter 101.3")
    >>> round(mine.fit.factor, 3), verdict_of(mine).code
    (1.014, 'replace')
    """
    read = read_pairs(pairs, edge) if isinstance(pairs, str) else tuple(pairs)
    return OwnPlotter(scale_named(chart), edge, read, reading_error_mm)


def near(
    point: Position | str,
    *,
    within_nm: float = 25.0,
    kinds: Collection[str] = FIXED_WING,
    runway_ft: float | None = None,
    date: dt.date | str | None = None,
    points: OwnPoints | str | Path | Sequence[Path] | None = None,
    store: Store | None = None,
) -> Nearby:
    """What lies within a distance [NM] of a point, nearest first.

    ``point`` is a position or whatever a route takes; ``date`` is for a magnetic bearing in it.
    ``kinds`` are those of airports, ``navaid`` and ``town``; ``runway_ft`` [ft] keeps airports with
    an open runway of that length, and those of which the data has no length are counted in
    ``length_unknown``. Raises InputError.

    >>> [each.place.ident for each in near("KRST", within_nm=5).found]
    ['KRST', '5MN0']
    """
    opened = store or open_store()
    if isinstance(point, str):
        magnetism = FlightMagnetism(open_date(date), 0.0, False)
        read = read_point(point, opened, open_points(points), magnetism.degrees_east)
        point = read.waypoint.position
    return nearness.near(opened, point, within_nm, kinds, runway_ft)


def search(
    text: str,
    *,
    most: int = 10,
    countries: Collection[str] = (),
    kinds: Collection[str] = nearness.KINDS,
    store: Store | None = None,
) -> tuple[Hit, ...]:
    """Places whose name, town or identifier is, begins or is spelt like a text, likeliest first.

    The order is stated in :mod:`plotter.places.search`. The first call ever builds an index,
    which takes some seconds. Raises InputError. :func:`suggest` is for a text being typed.

    >>> [hit.place.ident for hit in search("rochestr minnesota mn", kinds=["medium_airport"])]
    []
    >>> search("rochestr", countries=["US"])[0].place.name
    'Rochester International Airport'
    """
    return searching.search(store or open_store(), text, most, countries, kinds)


def measure(
    points: str | Sequence[str] = (),
    *,
    reading: str | float | None = None,
    unit: Unit = "nm",
    course: str | None = None,
    readings: str | Path | Sequence[ReadingRow] = (),
    chart: str = "sectional",
    edge: Edge | None = None,
    student: bool = False,
    own: OwnPlotter | None = None,
    date: dt.date | str | None = None,
    own_points: OwnPoints | str | Path | Sequence[Path] | None = None,
    store: Store | None = None,
) -> MeasuredReadings:
    """Which mistake explains what was read off a plotter between two points, or in many readings.

    ``reading`` is best given as text: its digits say how finely it was read. ``readings`` is a CSV
    file or rows, all measured with one plotter; ``own`` that plotter, where it was tested. For
    plain values without a store use :func:`judge`. Raises InputError.

    >>> found = measure("KRST KLSE", reading="62.1", course="272M", date="2026-07-04")
    >>> found.distance.verdict, found.distance.best, found.course.best
    ('fits', 'nautical_statute', 'reciprocal')
    """
    from plotter.formats.readings_file import read_readings_file

    desk = desk_of(chart, edge, own, student=student)
    rows = (
        read_readings_file(Path(readings), unit)
        if isinstance(readings, str | Path)
        else list(readings)
    )
    if points or reading is not None or course is not None or not rows:
        words = (points,) if isinstance(points, str) else points
        figure = f"{reading:.10g}" if isinstance(reading, int | float) else reading
        rows.append(row_of([each for each in words if each], figure, unit, course))
    wishes = Wishes(date=open_date(date), own_points=open_points(own_points))
    return MeasuredReadings(measure_rows(rows, store or open_store(), wishes, desk))
