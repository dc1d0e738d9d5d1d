"""A route: turning points joined by measured legs."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from plotter.earth.angles import magnetic_from_true
from plotter.earth.geodesic import Line, LineKind
from plotter.earth.magnetism import Variation
from plotter.earth.position import Position
from plotter.messages import Edge, Message, message, text
from plotter.places.model import Place
from plotter.wording import tenths

# Cautions: what the pilot must, should or may want to know before trusting a figure.

Rank = Literal["STOP", "CHECK", "NOTE"]
LEG = "leg "
"""What ``where`` of a caution about a leg begins with; its number follows."""
RANKS: tuple[Rank, ...] = ("STOP", "CHECK", "NOTE")


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: a rank, a message that says what to do, its source, what it is about.

    ``more`` is what is printed after the message where several cautions are joined.
    """

    rank: Rank
    said: Message
    source: str = ""
    where: str = ""
    more: tuple[Message, ...] = ()

    @property
    def code(self) -> str:
        """The public code, which stays the same however the sentence is worded."""
        return self.said.code

    @property
    def text(self) -> str:
        """The sentence as Python says it."""
        return self.text_at("python")

    def text_at(self, edge: Edge) -> str:
        """Return the sentence as an edge says it."""
        return " ".join(text(said, edge) for said in (self.said, *self.more))


def ranked(cautions: list[Caution]) -> tuple[Caution, ...]:
    """The cautions, worst rank first, each said once, otherwise in the order they arose."""
    return tuple(sorted(dict.fromkeys(cautions), key=lambda caution: RANKS.index(caution.rank)))


def one_a_class(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """Return cautions as they are printed: those of one rank and code joined into the first.

    The other places are named. A STOP or CHECK that differs from the first in more than its place,
    such as a figure, is printed in full.

    >>> first = Caution("CHECK", message("night.on-the-way", point="KAAA", at="1:00"), where="KAAA")
    >>> alike = replace(first, where="KBBB", said=message("night.on-the-way", point="KBBB", at="1:00"))
    >>> later = replace(first, where="KCCC", said=message("night.on-the-way", point="KCCC", at="2:00"))
    >>> one_a_class([first, alike, later])[0].text
    'KAAA, 1:00 Same for KBBB. KCCC, 2:00'
    """
    classes: dict[tuple[str, str], list[Caution]] = {}
    for caution in cautions:
        classes.setdefault((caution.rank, caution.code), []).append(caution)
    return tuple(_joined(*alike) for alike in classes.values())


def _joined(first: Caution, *others: Caution) -> Caution:
    if not others:
        return first
    alike = [other for other in others if other.where and _says_the_same(first, other)]
    places = [each.where for each in alike if each.where != first.where]
    different = [other.said for other in others if other not in alike]
    return replace(
        first,
        more=(*_same_for(tuple(dict.fromkeys(places))), *different),
        where=", ".join(dict.fromkeys(each.where for each in (first, *others) if each.where)),
    )


def _same_for(places: tuple[str, ...]) -> tuple[Message, ...]:
    if not places:
        return ()
    numbers = [place.removeprefix(LEG) for place in places]
    if all(number.isdecimal() for number in numbers):
        return (message("same-for.legs", legs=tuple(map(int, numbers))),)
    return (message("same-for", places=places),)


def _says_the_same(first: Caution, other: Caution) -> bool:
    """Whether only the place differs; of notes the place is enough."""
    return first.rank == "NOTE" or _of_any_place(first) == _of_any_place(other)


def _of_any_place(caution: Caution) -> tuple[object, ...]:
    """Return the key and the values without those that name the place."""
    places = (caution.where, caution.where.removeprefix(LEG))

    def without(value: object) -> object:
        if isinstance(value, Message):
            return value.key, tuple((name, without(each)) for name, each in value.values)
        if isinstance(value, tuple):
            return tuple(map(without, value))
        return None if str(value) in places else value

    return (without(caution.said),)


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
    """One leg: its measured line and the variation at its middle; numbered from 1.

    ``start_nm`` [NM] counts from the start of the route.
    """

    number: int
    start: Waypoint
    end: Waypoint
    line: Line
    variation: Variation
    start_nm: float = 0.0

    @property
    def distance_nm(self) -> float:
        """Length [NM]."""
        return self.line.distance_nm

    @property
    def printed_nm(self) -> float:
        """Length [NM] to a tenth, as the difference of rounded running totals: legs add up."""
        return (tenths(self.start_nm + self.distance_nm) - tenths(self.start_nm)) / 10.0

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
