"""What the page may ask, checked and bounded before anything is computed."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Mapping
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from plotter.chart.asking import ReadingRow, row_of
from plotter.chart.readings import Desk, Unit, desk_of
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.flight.log import navigation_log
from plotter.flight.log_values import NavigationLog
from plotter.flight.plan.leg_ends import Numbered, by_number
from plotter.flight.plan.read import plan_of_tables, read_plan
from plotter.flight.plan.values import Plan
from plotter.formats.unit_limits import Choices, GpxAs, NameProfile
from plotter.inputs import open_date
from plotter.places.model import EVERY_KIND, FIXED_WING
from plotter.places.naming import NAVAID, TOWN
from plotter.places.store import Store
from plotter.route.checkpoints import DEFAULT_CLEAR_OF_TURNS_NM, DEFAULT_EVERY_NM
from plotter.route.editing import point_count, points_of
from plotter.route.measuring import FlightMagnetism
from plotter.route.plotting import Wishes
from plotter.route.reading.points import OwnPoint, OwnPoints

MOST_LETTERS = 80_000
MOST_POINTS = 2_000
"""Points of a route, and own points: above what a pilot plans by eye, below what makes a page
wait."""

Latitude = Annotated[float, Field(ge=-90, le=90)]
Longitude = Annotated[float, Field(ge=-180, le=180)]
Index = Annotated[int, Field(ge=0, le=MOST_POINTS)]
Spot = Annotated[Index | None, Field(description="Counted from 0; null for behind the last.")]
Name = Annotated[str, Field(max_length=200)]
Route = Annotated[str, Field(max_length=MOST_LETTERS, examples=["KRST KLSE KEAU KDLH"])]
Tables = Annotated[
    dict[str, Any] | None,
    Field(
        description="The tables of a plan file, where the log is wanted; its route is above. A "
        "row of leg may say between = [start, end] in place of its number."
    ),
]


class Asked(BaseModel):
    """A body of which every key is known and every number is finite."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False, frozen=True)


class AskedPoint(Asked):
    """One of the pilot's own points."""

    name: Annotated[str, Field(min_length=1, max_length=200)]
    latitude_deg: Latitude
    longitude_deg: Longitude
    elevation_ft: float | None = None
    note: Name = ""


def own_points_of(points: Iterable[AskedPoint]) -> OwnPoints:
    """The pilot's own points, as the library has them."""
    return OwnPoints(
        OwnPoint(
            point.name,
            Position(point.latitude_deg, point.longitude_deg),
            point.elevation_ft,
            point.note,
        )
        for point in points
    )


class AskedPlot(Asked):
    """A route and how it is to be plotted; the keys of ``plotter plot``'s options."""

    route: Route
    date: Annotated[dt.date | None, Field(examples=["2026-07-04"])] = None
    altitude_ft: float = 0.0
    every_nm: float = DEFAULT_EVERY_NM
    restart: bool = False
    clear_of_turns_nm: float = DEFAULT_CLEAR_OF_TURNS_NM
    line: Literal["geodesic", "rhumb"] = "geodesic"
    allow_old_model: bool = False
    name: Name = ""
    points: Annotated[list[AskedPoint], Field(max_length=MOST_POINTS)] = []

    def wishes(self) -> Wishes:
        """The wishes of this body; raises InputError where the route has too many points."""
        check_size(self.route)
        return Wishes(
            date=open_date(self.date),
            altitude_ft=self.altitude_ft,
            every_nm=self.every_nm,
            restart=self.restart,
            clear_of_turns_nm=self.clear_of_turns_nm,
            line=self.line,
            allow_old_model=self.allow_old_model,
            own_points=self.own_points(),
            name=self.name,
        )

    def own_points(self) -> OwnPoints:
        """The pilot's own points."""
        return own_points_of(self.points)


class AskedExport(AskedPlot):
    """A plot and the choices of the file it is written to."""

    sm: bool = False
    gpx_checkpoints: bool = False
    gpx_as: GpxAs = "route"
    names: NameProfile = "full"
    plan: Tables = None

    @property
    def choices(self) -> Choices:
        """The choices for a GPS unit."""
        return Choices(self.gpx_checkpoints, self.gpx_as, self.names)


class Put(Asked):
    """A point moved to a place or put in there; on a place of the data that is near enough."""

    kind: Literal["move", "insert"]
    index: Spot
    latitude_deg: Latitude
    longitude_deg: Longitude
    snap_nm: Annotated[float, Field(ge=0, le=60)] = 0.0


class Write(Asked):
    """A point typed in place of one, or put in."""

    kind: Literal["write", "write-in"]
    index: Spot
    text: Annotated[str, Field(min_length=1, max_length=200)]


class Call(Asked):
    """A point called by a name of the pilot's, or by its own again."""

    kind: Literal["name"]
    index: Index
    name: Annotated[str, Field(max_length=60)]


class Remove(Asked):
    """A point taken out."""

    kind: Literal["remove"]
    index: Index


class Order(Asked):
    """The points in another order."""

    kind: Literal["order"]
    order: Annotated[list[Index], Field(max_length=MOST_POINTS)]


class Reverse(Asked):
    """The route the other way round."""

    kind: Literal["reverse"]


Edit = Annotated[Put | Write | Call | Remove | Order | Reverse, Field(discriminator="kind")]


class AskedSheet(AskedPlot):
    """A plot to be shown, after one change to its route."""

    sm: bool = False
    edit: Edit | None = None
    among: Annotated[
        list[Annotated[str, Field(max_length=MOST_LETTERS)]],
        Field(
            max_length=MOST_POINTS,
            description="The first points of the route that the change was made on, as they are "
            "typed; where the route begins with others, the change is not made.",
        ),
    ] = []
    plan: Tables = None
    notes: Annotated[
        list[dict[str, Any]],
        Field(max_length=MOST_POINTS, description="Rows of leg, to be told where they stand."),
    ] = []


def check_size(route: str) -> None:
    """Raise InputError for a route of more points than the page takes."""
    points = point_count(route)
    if points > MOST_POINTS:
        raise InputError("too-many-points.page", count=points, most=MOST_POINTS)


# What the page may ask about readings taken off a paper chart.

MOST_READINGS = 100
Typed = Annotated[str, Field(min_length=1, max_length=200)]


class AskedReading(Asked):
    """One leg and what was read for it, as it was typed: its digits say how finely."""

    start: Typed
    end: Typed
    reading: Annotated[str | None, Field(max_length=40, examples=["62.1"])] = None
    unit: Unit = "nm"
    course: Annotated[str | None, Field(max_length=40, examples=["093M"])] = None


class AskedMeasure(Asked):
    """Readings taken with one plotter on one chart."""

    readings: Annotated[list[AskedReading], Field(min_length=1, max_length=MOST_READINGS)]
    chart: Literal["sectional", "terminal", "world"] = "sectional"
    edge: Literal["nm", "sm"] | None = None
    student: bool = False
    chart_middle: Annotated[float | None, Field(ge=-180.0, le=180.0, examples=[-93.0])] = None
    date: Annotated[dt.date | None, Field(examples=["2026-07-04"])] = None
    points: Annotated[tuple[AskedPoint, ...], Field(max_length=500)] = ()

    def rows(self) -> list[ReadingRow]:
        """The readings as rows; raises InputError for one that is none."""
        return [
            row_of([each.start, each.end], each.reading, each.unit, each.course)
            for each in self.readings
        ]

    def desk(self) -> Desk:
        """The chart, the edge, the hand."""
        return desk_of(
            self.chart, self.edge, student=self.student, chart_middle_deg=self.chart_middle
        )

    def wishes(self) -> Wishes:
        """The day of the variation and the pilot's own points."""
        return Wishes(date=open_date(self.date), own_points=own_points_of(self.points))


# What the page may ask about what lies near a place on its map.

FARTHEST_ASKED_NM = 200.0
"""Beyond this a list is no help to a page, and takes a moment to make."""
LANDMARKS = (*(kind for kind in EVERY_KIND if kind != "closed"), NAVAID, TOWN)
MOST_LISTED = 12

Sort = Literal["all", "airport", "navaid", "town"]
SORTS: dict[Sort, tuple[str, ...]] = {
    "all": LANDMARKS,
    "airport": FIXED_WING,
    "navaid": (NAVAID,),
    "town": (TOWN,),
}


class AskedNear(Asked):
    """A place on the map, what is looked for, how far, and the day of the magnetic bearing."""

    latitude_deg: Latitude
    longitude_deg: Longitude
    kind: Sort = "all"
    within_nm: Annotated[float, Field(gt=0, le=FARTHEST_ASKED_NM)] = 25.0
    runway_ft: Annotated[float | None, Field(ge=0, le=30_000)] = None
    most: Annotated[int, Field(ge=1, le=100)] = MOST_LISTED
    date: Annotated[dt.date | None, Field(examples=["2026-07-04"])] = None
    altitude_ft: float = 0.0

    @property
    def where(self) -> Position:
        """The place."""
        return Position(self.latitude_deg, self.longitude_deg)

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds of places that are looked for; airports are those for wheels."""
        return SORTS[self.kind]

    def magnetism(self, today: dt.date) -> FlightMagnetism:
        """The model of variation for the day of the flight."""
        return FlightMagnetism(self.date or today, self.altitude_ft, False)


# A plan as the page asks about it: the text of a plan file, or its tables as JSON.

MOST_PLAN_LETTERS = 200_000
DEEPEST = 8
"""Tables inside one another: a plan needs four."""
CALLED = "plan"

PlanText = Annotated[str, Field(max_length=MOST_PLAN_LETTERS)]
PlanTables = dict[str, Any]


class AskedLog(Asked):
    """A plan whose log is asked for, with the working of all figures, of a row, or of one."""

    plan: Annotated[
        PlanText | PlanTables,
        Field(description="The text of a plan file (TOML), or the same tables as JSON."),
    ]
    points: list[AskedPoint] = Field(default_factory=list, max_length=MOST_POINTS)
    allow_old_model: bool = False
    working: bool = False
    row: Annotated[int | None, Field(ge=1, le=100_000)] = None
    column: Annotated[str | None, Field(max_length=60)] = None


class AskedWorking(Asked):
    """One figure of a log whose working is asked for, in words."""

    plan: PlanText | PlanTables
    points: list[AskedPoint] = Field(default_factory=list, max_length=MOST_POINTS)
    row: Annotated[int, Field(ge=1, le=100_000)]
    column: Annotated[str, Field(max_length=60)]


class AskedRead(Asked):
    """The text of a plan file that is opened."""

    text: PlanText
    name: Annotated[str, Field(max_length=200)] = CALLED


class AskedWrite(Asked):
    """Tables that are to be saved over the text they came from; empty for a plan that is new."""

    text: PlanText = ""
    plan: PlanTables


def plan_given(given: str | PlanTables) -> Plan:
    """The plan of a body; raises PlanError with every fault, InputError for too many points."""
    if isinstance(given, str):
        plan = read_plan(given, CALLED)
    else:
        plan = plan_of_tables(with_numbers(bare(given))[0])
    check_size(plan.route)
    return plan


def log_given(
    given: str | PlanTables, points: list[AskedPoint], store: Store, allow_old_model: bool = False
) -> NavigationLog:
    """The log of a plan; files it names are never opened: no path of the page's leads to a disk."""
    return navigation_log(plan_given(given), store, own_points_of(points), allow_old_model)


def log_of_route(plan: PlanTables, asked: AskedSheet | AskedExport, store: Store) -> NavigationLog:
    """The log of a plan with the route that is asked about in place of its own."""
    flight = plan.get("flight")
    now = {**(flight if isinstance(flight, dict) else {}), "route": asked.route}
    return log_given({**plan, "flight": now}, asked.points, store, asked.allow_old_model)


def with_numbers(tables: PlanTables) -> tuple[PlanTables, Numbered]:
    """Tables whose rows of legs say their number, where they said the ends of their leg."""
    flight, rows = tables.get("flight"), tables.get("leg")
    route = flight.get("route") if isinstance(flight, dict) else None
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        return tables, Numbered([], [])
    legs = by_number(rows, points_of(route) if isinstance(route, str) else [])
    rest = {key: value for key, value in tables.items() if key != "leg"}
    return ({**rest, "leg": legs.rows} if legs.rows else rest), legs


def bare(tables: Mapping[str, Any]) -> dict[str, Any]:
    """Tables without the keys that are null.

    Raises InputError where they are too deep, or hold what no file can carry.

    >>> bare({"flight": {"route": "KRST KLSE", "line": None}})
    {'flight': {'route': 'KRST KLSE'}}
    """
    found: dict[str, Any] = _bare(tables, DEEPEST)
    return found


def _bare(value: object, deeper: int) -> Any:  # noqa: ANN401 - a value of JSON
    if isinstance(value, float) and not math.isfinite(value):
        raise InputError("not-a-number")
    if isinstance(value, str):
        return _whole(value)
    if not isinstance(value, dict | list):
        return value
    if not deeper:
        raise InputError("plan-depth")
    if isinstance(value, list):
        return [_bare(each, deeper - 1) for each in value if each is not None]
    held = {key: each for key, each in value.items() if each is not None}
    return {_whole(key): _bare(each, deeper - 1) for key, each in held.items()}


def _whole(text: str) -> str:
    """The text, of which no character is half of a surrogate pair: no file could carry that."""
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        shown = text.encode("utf-8", "replace").decode()[:40]
        raise InputError("half-a-character", text=shown) from None
    return text
