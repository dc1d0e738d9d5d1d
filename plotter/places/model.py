"""What the open datasets say of one place, as values."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from plotter.earth.position import Position


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
