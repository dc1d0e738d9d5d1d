"""What the open datasets say of one place, as values."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType
from typing import Literal

from plotter.earth.position import Position

FIXED_WING = ("large_airport", "medium_airport", "small_airport")
"""What an aeroplane on wheels can land on; heliports, water and closed fields are asked for."""
EVERY_KIND = (*FIXED_WING, "seaplane_base", "heliport", "balloonport", "closed")


@dataclass(frozen=True, slots=True)
class Runway:
    """One strip: its two ends, size [ft], headings [°T]; ``None`` is "not in the data"."""

    end_1: str
    end_2: str
    length_ft: float | None
    width_ft: float | None
    surface: str
    lighted: bool
    closed: bool
    heading_1_true_deg: float | None
    heading_2_true_deg: float | None


@dataclass(frozen=True, slots=True)
class Frequency:
    """One radio frequency [MHz] of an airport, with the kind the dataset gives it."""

    kind: str
    description: str
    frequency_mhz: float


@dataclass(frozen=True, slots=True)
class Airport:
    """An airport, heliport, seaplane base or balloonport, open or closed.

    ``ident`` is the dataset's own unique key; ``sources_apart_nm`` [NM] is how far a second
    dataset puts the same airport, ``None`` where only one knows it; ``position_rule`` says in
    words why this position is the one used.
    """

    ident: str
    icao: str
    iata: str
    gps: str
    local: str
    kind: str
    name: str
    municipality: str
    country: str
    region: str
    position: Position
    elevation_ft: float | None
    time_zone: str
    sources_apart_nm: float | None
    position_rule: str
    runways: tuple[Runway, ...] = ()
    frequencies: tuple[Frequency, ...] = ()

    def __hash__(self) -> int:
        """By ident alone, which no two share: what is said of an airport is kept at hand by it."""
        return hash(self.ident)

    @property
    def closed(self) -> bool:
        """Whether the dataset marks it as closed for good."""
        return self.kind == "closed"

    @property
    def codes(self) -> tuple[str, ...]:
        """Every code it is known by, the most official first, without repeats.

        A US field whose GPS code is K and its local code goes by the local one, as its sign and
        the chart have it, where the two are no location indicator: those are four letters (ICAO
        Doc 7910).
        """
        is_padded = self.country == "US" and self.gps == f"K{self.local}" != self.icao
        goes_by_local = is_padded and not self.gps.isalpha()
        first = (self.local, self.gps) if goes_by_local else (self.gps, self.local)
        codes = (self.icao, *first, self.iata, self.ident)
        return tuple(dict.fromkeys(code for code in codes if code))

    @property
    def open_runways(self) -> tuple[Runway, ...]:
        """The runways that are not closed; a water lane counts at a seaplane base only."""
        return tuple(open_among(self.kind, self.runways))

    @property
    def longest_runway_ft(self) -> float | None:
        """Length [ft] of the longest open runway."""
        return longest_open_ft(self.kind, self.runways)

    @property
    def time_zone_assumed(self) -> bool:
        """Whether the time zone is that of the airports around it: no source gives its own."""
        return bool(self.time_zone) and self.sources_apart_nm is None


def open_among(kind: str, runways: Iterable[Runway]) -> Iterator[Runway]:
    """The runways that can be used at an airport of a kind."""
    on_water = kind == "seaplane_base"
    for runway in runways:
        if not runway.closed and (on_water or "WAT" not in runway.surface.upper()):
            yield runway


def longest_open_ft(kind: str, runways: Iterable[Runway]) -> float | None:
    """Length [ft] of the longest of them; ``None`` where no length is in the data."""
    return max((r.length_ft for r in open_among(kind, runways) if r.length_ft), default=None)


@dataclass(frozen=True, slots=True)
class Navaid:
    """A radio beacon; ``station_declination_deg_east`` is how a VOR's 360 radial was set [°].

    ``key`` is the dataset's own unique key; ``associated_airport`` is the ident of the airport it
    serves, empty where the data names none.
    """

    key: str
    ident: str
    name: str
    kind: str
    position: Position
    elevation_ft: float | None
    frequency_khz: float | None
    country: str
    station_declination_deg_east: float | None
    associated_airport: str = ""


@dataclass(frozen=True, slots=True)
class Town:
    """A populated place; ``population`` is ``None`` where it is not in the data."""

    name: str
    country: str
    position: Position
    population: int | None


Place = Airport | Navaid
"""What an identifier can mean; a town has none."""

# What changed about a place from one set of tables to the next, as values.


class What(StrEnum):
    """The kinds of change; the value is what is written in a file."""

    MOVED = "moved"
    CLOSED = "closed"
    OPENED = "opened again"
    GONE = "gone"
    NEW = "new"
    RENAMED = "another identifier"
    CODES = "other codes"
    RENUMBERED = "runway renumbered"
    RUNWAY_NEW = "runway new"
    RUNWAY_CLOSED = "runway closed or gone"
    RUNWAY_LENGTH = "runway of another length"
    FREQUENCIES = "frequencies changed"
    FREQUENCY = "frequency of a beacon changed"
    DECLINATION = "declination of a beacon changed"


@dataclass(frozen=True, slots=True)
class Change:
    """One change of one place: ``key`` is its airport ident or navaid key in the newer set.

    ``before`` and ``after`` are what the two sets say, in the tables' own words; ``moved_nm`` [NM]
    is how far its position moved, 0 where it did not.
    """

    key: str
    what: What
    before: str = ""
    after: str = ""
    moved_nm: float = 0.0


@dataclass(frozen=True, slots=True)
class Changes:
    """All changes between the two newest sets of tables, found by the key of a place.

    ``dates`` are those of each table that was renewed, the older first. Where no set was ever
    fetched there are neither dates nor changes.

    >>> dates = {"airports": ("2025-12-02", "2026-08-22")}
    >>> changes = Changes(dates, (Change("KAAA", What.CLOSED),))
    >>> changes.of("KAAA")[0].what.value, changes.of("KBBB")
    ('closed', ())
    """

    dates: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    every: Sequence[Change] = ()

    def of(self, key: str) -> tuple[Change, ...]:
        """The changes of one place: by navaid key, or airport ident (the one before does too)."""
        was = (c.key for c in self.every if c.what is What.RENAMED and c.before == key)
        keys = {key, *was}
        return tuple(change for change in self.every if change.key in keys)

    def counts(self) -> Mapping[What, int]:
        """How many there are of each kind, in the order of the kinds, without the zeros."""
        found = Counter(change.what for change in self.every)
        return {what: found[what] for what in What if found[what]}

    def farthest(self, least_nm: float = 0.0) -> Sequence[Change]:
        """Those that moved by ``least_nm`` [NM] or more, the farthest first."""
        moved = [c for c in self.every if c.what is What.MOVED and c.moved_nm >= least_nm]
        return sorted(moved, key=lambda change: (-change.moved_nm, change.key))


# The pilot's own layers as values: what kinds there are, and the shapes of one.

Family = Literal["point", "line", "area"]
Box = tuple[float, float, float, float]
"""South, west, north, east [°]."""

KINDS: Mapping[str, tuple[Family, ...]] = MappingProxyType(
    {
        "rivers": ("line", "area"),
        "lakes": ("area",),
        "railways": ("line",),
        "roads": ("line",),
        "towers": ("point",),
        "landmarks": ("point",),
        "points": ("point",),
    }
)
"""What a layer may hold, and the families of shape that can be such a thing."""


@dataclass(frozen=True, slots=True)
class OwnLayer:
    """One layer: its name and kind, how many features it has, the file it came from.

    ``file_date`` is the day the file was last written, ``added`` the day it was brought, both as
    ``2026-08-22``; ``notes`` say in words what was repaired, left out or taken for granted.
    """

    name: str
    kind: str
    features: int
    file: str
    file_date: str
    added: str
    notes: tuple[str, ...] = ()

    def age_days(self, today: str) -> int:
        """How old the file is on a day [days]; the layer may be older still.

        >>> OwnLayer("a", "roads", 1, "a.csv", "2026-08-22", "2026-09-01").age_days("2026-08-25")
        3
        """
        from datetime import date

        return (date.fromisoformat(today) - date.fromisoformat(self.file_date)).days


@dataclass(frozen=True, slots=True)
class OwnShape:
    """One feature of a layer: a point, lines, or the rings of areas (filled by the even-odd rule).

    ``parts`` hold latitude, longitude [°] of each point, to 0.00001° (about 1 m); a ring ends
    where it began. ``number`` counts the features of the layer from 1.
    """

    layer: str
    kind: str
    number: int
    name: str
    family: Family
    parts: tuple[tuple[tuple[float, float], ...], ...]

    @property
    def position(self) -> Position:
        """Where a point is; for a line or area, its first point."""
        return Position(*self.parts[0][0])
