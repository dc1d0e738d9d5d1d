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
from plotter.messages import Message, literal, text
from plotter.places.model import Place
from plotter.wording import tenths

# Cautions: what the pilot must, should or may want to know before trusting a figure.

Rank = Literal["STOP", "CHECK", "NOTE"]
RANKS: tuple[Rank, ...] = ("STOP", "CHECK", "NOTE")


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: a rank, a code that stays the same, words that say what to do, a source."""

    rank: Rank
    said: Message
    source: str = ""
    where: str = ""

    @property
    def code(self) -> str:
        """The public code, which stays the same however the sentence is worded."""
        return self.said.code

    @property
    def text(self) -> str:
        """The sentence as Python says it; an edge renders ``said`` its own way."""
        return text(self.said)


def ranked(cautions: list[Caution]) -> tuple[Caution, ...]:
    """The cautions, worst rank first, each said once, otherwise in the order they arose."""
    return tuple(sorted(dict.fromkeys(cautions), key=lambda caution: RANKS.index(caution.rank)))


def one_a_class(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """Cautions as they are printed: those of one rank and code joined into the first.

    The other places are named, and a STOP or CHECK that says more of its place than the first
    says of its own, as another figure, stands whole.

    >>> first = Caution("CHECK", literal("night", "KAAA: night."), where="KAAA")
    >>> alike = replace(first, where="KBBB", said=literal("night", "KBBB: night."))
    >>> other = replace(first, where="KCCC", said=literal("night", "KCCC: dusk."))
    >>> one_a_class([first, alike, other])[0].text
    'KAAA: night. Likewise: KBBB. KCCC: dusk.'
    """
    classes: dict[tuple[str, str], list[Caution]] = {}
    for caution in cautions:
        classes.setdefault((caution.rank, caution.code), []).append(caution)
    return tuple(_joined(*alike) for alike in classes.values())


def _joined(first: Caution, *others: Caution) -> Caution:
    if not others:
        return first
    alike = [one for one in others if one.where and _says_the_same(first, one)]
    places = [place for place in dict.fromkeys(one.where for one in alike) if place != first.where]
    parts = [first.text, f"Likewise: {', '.join(places)}." if places else ""]
    parts += [one.text for one in others if one not in alike]
    where = dict.fromkeys(one.where for one in (first, *others) if one.where)
    return replace(
        first, said=literal(first.code, " ".join(filter(None, parts))), where=", ".join(where)
    )


def _says_the_same(first: Caution, other: Caution) -> bool:
    """Whether only the place differs; of notes the place is enough."""
    return first.rank == "NOTE" or _of_any_place(first) == _of_any_place(other)


def _of_any_place(caution: Caution) -> str:
    """The words with the place taken out, at their beginning with a capital too."""
    where = caution.where
    if not where:
        return caution.text
    return caution.text.replace(where, "@").replace(where[0].upper() + where[1:], "@")


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
