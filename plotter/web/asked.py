"""What the page may ask, checked and bounded before anything is computed."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.formats.choices import Choices, GpxAs, NameProfile
from plotter.opening import open_date
from plotter.route.checkpoints import DEFAULT_CLEAR_OF_TURNS_NM, DEFAULT_EVERY_NM
from plotter.route.editing import point_count
from plotter.route.own_points import OwnPoint, OwnPoints
from plotter.route.plotting import Wishes

MOST_LETTERS = 20_000
MOST_POINTS = 500
"""Points of a route, and own points: above what a pilot plans by eye, below what makes a page
wait."""

Latitude = Annotated[float, Field(ge=-90, le=90)]
Longitude = Annotated[float, Field(ge=-180, le=180)]
Index = Annotated[int, Field(ge=0, le=MOST_POINTS)]
Spot = Annotated[Index | None, Field(description="Counted from 0; null for behind the last.")]
Name = Annotated[str, Field(max_length=200)]
Tables = Annotated[
    dict[str, Any] | None,
    Field(
        description="The tables of a plan file, where the log is wanted; its route is above. A "
        "row of leg may say between = [start, end] in place of its number."
    ),
]
Invented = Annotated[
    list[Name],
    Field(
        max_length=60,
        description="The parts of the plan to start from that were neither replaced nor "
        "confirmed, by the beginning of their keys; unknown ones are passed over.",
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

    route: Annotated[str, Field(max_length=MOST_LETTERS, examples=["KRST KLSE KEAU KDLH"])]
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
    invented: Invented = []

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
    invented: Invented = []
    notes: Annotated[
        list[dict[str, Any]],
        Field(max_length=MOST_POINTS, description="Rows of leg, to be told where they stand."),
    ] = []


def check_size(route: str) -> None:
    """Raise InputError for a route of more points than the page takes."""
    points = point_count(route)
    if points > MOST_POINTS:
        raise InputError(
            f"the route has {points:,} points; the page takes {MOST_POINTS} at the most, and "
            "'plotter plot' takes more",
            code="too-many-points",
        )
