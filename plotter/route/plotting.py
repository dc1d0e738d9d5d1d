"""From what was typed to a :class:`~plotter.route.plotting.Plot`: the main job, in one function."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from plotter.earth.geodesic import LineKind
from plotter.earth.magnetism import MODEL_NAME, VALID_TO
from plotter.errors import InputError
from plotter.messages import message
from plotter.places.airports import Beside, airports_beside
from plotter.places.model import Airport
from plotter.places.store import Store
from plotter.places.twins import twins_of
from plotter.route.checkpoints import (
    DEFAULT_CLEAR_OF_TURNS_NM,
    DEFAULT_EVERY_NM,
    Checkpoint,
    checkpoints,
)
from plotter.route.checks import (
    age_cautions,
    changes_cautions,
    model_caution,
    route_cautions,
    table_dates,
    variation_cautions,
)
from plotter.route.measuring import FlightMagnetism, measure_route
from plotter.route.parts import (
    ANSWERED_BY_A_SPLIT,
    SPLIT,
    LegPart,
    leg_parts,
    split_cautions,
    whole_legs,
)
from plotter.route.reading.item15 import CruiseChange
from plotter.route.reading.points import OwnPoints
from plotter.route.reading.text import TypedRoute, read_route
from plotter.route.reading.whole import GivenRoute, settled
from plotter.route.values import Caution, Route, ranked

# A plotted route with all that hangs on it: the value every output is written from.


@dataclass(frozen=True, slots=True)
class DataDates:
    """The dates a figure rests on: the tables of the data, the magnetic model."""

    airports: str
    navaids: str
    magnetic_model: str
    magnetic_model_valid_to: str
    runways: str = ""
    frequencies: str = ""


@dataclass(frozen=True, slots=True)
class Plot:
    """One route, its checkpoints, the airports beside it, the cautions and the data's dates."""

    name: str
    date: dt.date
    altitude_ft: float
    every_nm: float
    route: Route
    checkpoints: tuple[Checkpoint, ...]
    near: tuple[Beside, ...]
    cautions: tuple[Caution, ...]
    data: DataDates
    cruise: tuple[CruiseChange, ...] = ()
    local_date: dt.date | None = None
    """The date of take-off by the field's clock, where a flight is planned; ``date`` is UTC's."""

    warning: str = ""
    """What every page and file of it says first; empty where nothing is so grave."""

    parts: tuple[LegPart, ...] = ()
    """The legs, or their parts where one course is too coarse; those of the route if left out."""

    def __post_init__(self) -> None:
        if not self.parts:
            object.__setattr__(self, "parts", whole_legs(self.route))

    @property
    def date_said(self) -> str:
        """The date for people: that of the field's clock, and that of UTC where it is another."""
        if self.local_date in (None, self.date):
            return self.date.isoformat()
        return f"{self.local_date} ({self.date} in UTC)"


BESIDE_NM = 15.0
_TABLES = "OurAirports tables"
LOWEST_ALTITUDE_FT, HIGHEST_ALTITUDE_FT = -1_500.0, 100_000.0


@dataclass(frozen=True, slots=True)
class Wishes:
    """How a route is to be plotted; every field has the default of ``plotter plot``.

    Without ``place_checkpoints`` there are none: a log places them by time once it knows the speed.
    """

    date: dt.date
    altitude_ft: float = 0.0
    every_nm: float = DEFAULT_EVERY_NM
    restart: bool = False
    clear_of_turns_nm: float = DEFAULT_CLEAR_OF_TURNS_NM
    line: LineKind = "geodesic"
    allow_old_model: bool = False
    own_points: OwnPoints = field(default_factory=OwnPoints)
    name: str = ""
    place_checkpoints: bool = True
    unsplit: frozenset[int] = frozenset()
    """The numbers of legs whose course or variation the pilot typed: they stay in one part."""

    def __post_init__(self) -> None:
        if self.line not in ("geodesic", "rhumb"):
            raise InputError("line-kind", code="input", kind=self.line)
        if not LOWEST_ALTITUDE_FT <= self.altitude_ft <= HIGHEST_ALTITUDE_FT:
            raise InputError(
                "altitude.plot",
                altitude_ft=self.altitude_ft,
                lowest_ft=LOWEST_ALTITUDE_FT,
                highest_ft=HIGHEST_ALTITUDE_FT,
            )


def plot_route(typed: str | Sequence[str] | GivenRoute, store: Store, wishes: Wishes) -> Plot:
    """Read, measure and mark a route that was typed or came whole from a file.

    Raises :class:`~plotter.errors.RouteError` with all faults of the route,
    :class:`~plotter.errors.ModelDateError` and :class:`~plotter.errors.CheckpointError`.
    """
    magnetism = FlightMagnetism(wishes.date, wishes.altitude_ft, wishes.allow_old_model)
    read = read_or_given(typed, store, wishes, magnetism)
    route = measure_route(read.waypoints, wishes.line, magnetism)
    marks = _checkpoints(route, wishes)
    parts = leg_parts(route, magnetism, marks, wishes.unsplit)
    near = airports_beside(store, [leg.line for leg in route.legs], BESIDE_NM)
    return Plot(
        name=wishes.name or read.name or f"{route.waypoints[0].name} to {route.waypoints[-1].name}",
        date=wishes.date,
        altitude_ft=wishes.altitude_ft,
        every_nm=wishes.every_nm,
        route=route,
        checkpoints=marks,
        near=near,
        cautions=ranked(
            [
                *_without_split(
                    [*route_cautions(route), *variation_cautions(route, magnetism)], parts
                ),
                *split_cautions(parts),
                *model_caution(route),
                *_interval_caution(marks, wishes),
                *read.cautions,
                *_cruise_note(read.cruise),
                *changes_cautions(route, store),
                *age_cautions(table_dates(store), _tables_shown(route, near), wishes.date),
                *_twin_notes(store, route),
            ]
        ),
        data=data_dates(store),
        cruise=read.cruise,
        parts=parts,
    )


def with_parts(plot: Plot, parts: tuple[LegPart, ...]) -> Plot:
    """Return a plot whose legs are cut elsewhere, with what is said of it."""
    others = [caution for caution in plot.cautions if caution.code != SPLIT]
    return replace(plot, parts=parts, cautions=ranked([*others, *split_cautions(parts)]))


def _without_split(cautions: list[Caution], parts: Iterable[LegPart]) -> list[Caution]:
    """The cautions of legs without those that a split answers."""
    split = {f"leg {part.leg.number}" for part in parts if part.count > 1}
    return [
        caution
        for caution in cautions
        if caution.code not in ANSWERED_BY_A_SPLIT or caution.where not in split
    ]


def read_or_given(
    typed: str | Sequence[str] | GivenRoute,
    store: Store,
    wishes: Wishes,
    magnetism: FlightMagnetism,
) -> TypedRoute:
    """The waypoints of a route that was typed, or of one that came whole from a file.

    Raises RouteError with every fault of a typed one.
    """
    if isinstance(typed, GivenRoute):
        given = settled(typed, store)
        return TypedRoute(given.waypoints, (), given.cautions, given.name)
    return read_route(typed, store, wishes.own_points, magnetism.degrees_east)


def data_dates(store: Store) -> DataDates:
    """The dates of the tables behind a store and of the magnetic model."""
    return DataDates(
        airports=store.register["airports"]["date"],
        navaids=store.register["navaids"]["date"],
        magnetic_model=MODEL_NAME,
        magnetic_model_valid_to=VALID_TO.isoformat(),
        runways=store.register["runways"]["date"],
        frequencies=store.register["frequencies"]["date"],
    )


def _checkpoints(route: Route, wishes: Wishes) -> tuple[Checkpoint, ...]:
    if not wishes.place_checkpoints:
        return ()
    return checkpoints(route, wishes.every_nm, wishes.restart, wishes.clear_of_turns_nm)


def _interval_caution(marks: tuple[Checkpoint, ...], wishes: Wishes) -> list[Caution]:
    if marks or not wishes.place_checkpoints:
        return []
    return [Caution("CHECK", message("no-checkpoints", every_nm=wishes.every_nm))]


def _cruise_note(cruise: tuple[CruiseChange, ...]) -> list[Caution]:
    if not cruise:
        return []
    groups = tuple(change.group.text for change in cruise)
    source = "ICAO Doc 4444, appendix 2, item 15"
    return [Caution("NOTE", message("speed-and-level", groups=groups), source)]


def _tables_shown(route: Route, near: Sequence[Beside]) -> list[str]:
    """The tables whose figures are shown with a route, on its map or in its files."""
    kinds = {waypoint.kind for waypoint in route.waypoints}
    places = [waypoint.place for waypoint in route.waypoints]
    fields = [*(each.airport for each in near), *(p for p in places if isinstance(p, Airport))]
    shown = {
        "airports": bool(fields),
        "runways": any(field.runways for field in fields),
        "frequencies": any(field.frequencies for field in fields),
        "navaids": not kinds.isdisjoint(("navaid", "bearing-distance")),
    }
    return [name for name, is_shown in shown.items() if is_shown]


def _twin_notes(store: Store, route: Route) -> list[Caution]:
    """A note for each airport of the route that may stand twice in the data."""
    places = [waypoint.place for waypoint in route.waypoints if waypoint.kind == "airport"]
    pairs = (
        pair for place in places if isinstance(place, Airport) for pair in twins_of(store, place)
    )
    return [
        Caution("NOTE", pair.said, _TABLES, pair.first.codes[0]) for pair in dict.fromkeys(pairs)
    ]
