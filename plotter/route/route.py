"""A route: turning points joined by measured legs."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from plotter.earth.angles import magnetic_from_true
from plotter.earth.geodesic import Line, LineKind
from plotter.earth.magnetism import Variation
from plotter.earth.position import Position
from plotter.places.model import Place


@dataclass(frozen=True, slots=True)
class Waypoint:
    """A point the route turns at; ``text`` is how it was typed, ``name`` how it is shown.

    ``kind`` is ``airport``, ``navaid``, ``position``, ``bearing-distance``, ``own`` (from the
    pilot's own points file) or ``file`` (from a file given as the whole route); ``place`` is what
    the datasets know of it, if anything; ``time`` [UTC] is the one a file or a log
    gives it, ``altitude_ft`` [ft MSL] the one a log plans to pass it at; ``state`` is the ISO 3166
    code that a log finds for a point without a ``place``, empty where it is not known.
    """

    name: str
    text: str
    kind: str
    position: Position
    ident: str | None = None
    elevation_ft: float | None = None
    sources_apart_nm: float | None = None
    note: str = ""
    place: Place | None = None
    time: dt.datetime | None = None
    altitude_ft: float | None = None
    state: str = ""


@dataclass(frozen=True, slots=True)
class Leg:
    """One leg: its measured line and the variation at its middle; numbered from 1."""

    number: int
    start: Waypoint
    end: Waypoint
    line: Line
    variation: Variation

    @property
    def distance_nm(self) -> float:
        """Length [NM]."""
        return self.line.distance_nm

    @property
    def true_course_deg(self) -> float:
        """True course [°T] at mid-leg, where a plotter is laid."""
        return self.line.true_course_deg

    @property
    def magnetic_course_deg(self) -> float:
        """Magnetic course [°M]: true course less east variation, both at mid-leg."""
        return magnetic_from_true(self.true_course_deg, self.variation.degrees_east)

    @property
    def middle(self) -> Position:
        """The position half-way along."""
        return self.line.middle


@dataclass(frozen=True, slots=True)
class Route:
    """Two waypoints or more and the legs between them."""

    waypoints: tuple[Waypoint, ...]
    legs: tuple[Leg, ...]
    line: LineKind

    @property
    def distance_nm(self) -> float:
        """Length of the whole route [NM], summed from unrounded legs."""
        return sum(leg.distance_nm for leg in self.legs)
