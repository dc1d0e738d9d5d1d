"""Small plots made by hand, for tests that need a route but no dataset.

Every name, airport and frequency here is invented for the demo; the positions are ordinary
places on the earth, so the figures are real.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator, Sequence
from itertools import accumulate, pairwise

from plotter.earth.geodesic import Line, LineKind, along, destination, measure
from plotter.earth.magnetism import Variation
from plotter.earth.position import Position
from plotter.messages import literal
from plotter.places.airports import Beside
from plotter.places.model import Airport, Frequency, Runway
from plotter.route.checkpoints import Checkpoint
from plotter.route.plotting import DataDates, Plot
from plotter.route.values import Caution, Leg, Route, Waypoint

DATE = dt.date(2026, 6, 1)
DATES = DataDates("2025-12-02", "2022-10-01", "WMM2025", "2030-01-01")
CLEAR_OF_TURNS_NM = 1.0


def airport(
    ident: str, name: str, latitude: float, longitude: float, elevation_ft: float | None = 1200.0
) -> Airport:
    """An invented airport with one runway and one frequency."""
    runway = Runway("13", "31", 4200.0, 75.0, "asphalt", True, False, 134.0, 314.0)
    frequency = Frequency("CTAF", "Demo traffic", 122.8)
    return Airport(
        ident=ident,
        icao=ident,
        iata="",
        gps=ident,
        local="",
        kind="small_airport",
        name=name,
        municipality="Demo Town",
        country="ZZ",
        region="ZZ-D",
        position=Position(latitude, longitude),
        elevation_ft=elevation_ft,
        time_zone="Etc/UTC",
        sources_apart_nm=0.02,
        position_rule="the one source that has it",
        runways=(runway,),
        frequencies=(frequency,),
    )


def at_airport(
    ident: str, name: str, latitude: float, longitude: float, elevation_ft: float | None = 1200.0
) -> Waypoint:
    """A turning point at an invented airport."""
    place = airport(ident, name, latitude, longitude, elevation_ft)
    return Waypoint(
        name=ident,
        text=ident,
        kind="airport",
        position=place.position,
        ident=ident,
        elevation_ft=elevation_ft,
        sources_apart_nm=place.sources_apart_nm,
        place=place,
    )


def at_point(name: str, latitude: float, longitude: float, note: str = "") -> Waypoint:
    """A turning point typed as a position, shown under ``name``."""
    return Waypoint(
        name=name,
        text=f"{latitude},{longitude}",
        kind="position",
        position=Position(latitude, longitude),
        note=note,
    )


def variation_of(degrees_east: float) -> Variation:
    """A variation set by hand, so that no golden file hangs on the model's arithmetic."""
    return Variation(degrees_east, "WMM2025", DATE, "", 0.4)


def plot_of(
    waypoints: Sequence[Waypoint],
    *,
    name: str = "demo",
    every_nm: float = 10.0,
    line: LineKind = "geodesic",
    variations: Sequence[float] = (-3.25,),
    near: Sequence[tuple[int, Airport, float, float]] = (),
    cautions: Sequence[Caution] = (),
) -> Plot:
    """A plot through ``waypoints``; ``near`` is (leg, airport, along [NM], off [NM]) by hand."""
    legs = tuple(
        Leg(i + 1, a, b, measure(a.position, b.position, line), _variation(variations, i))
        for i, (a, b) in enumerate(pairwise(waypoints))
    )
    return Plot(
        name=name,
        date=DATE,
        altitude_ft=4500.0,
        every_nm=every_nm,
        route=Route(tuple(waypoints), legs, line),
        checkpoints=tuple(_checkpoints(legs, every_nm)),
        near=tuple(Beside(field, leg, gone, off) for leg, field, gone, off in near),
        cautions=tuple(cautions),
        data=DATES,
    )


def _variation(degrees_east: Sequence[float], leg: int) -> Variation:
    return variation_of(degrees_east[leg % len(degrees_east)])


def _checkpoints(legs: Sequence[Leg], every_nm: float) -> Iterator[Checkpoint]:
    starts = list(accumulate((leg.distance_nm for leg in legs), initial=0.0))
    number = 0
    for leg, start in zip(legs, starts, strict=False):
        for gone in _multiples(every_nm, start, start + leg.distance_nm):
            number += 1
            where = along(leg.line, [gone - start])[0]
            yield Checkpoint(number, f"CP{number}", leg.number, where, gone, starts[-1] - gone)


def _multiples(step: float, low: float, high: float) -> Iterator[float]:
    k = 1
    while k * step < high - CLEAR_OF_TURNS_NM:
        if k * step > low + CLEAR_OF_TURNS_NM:
            yield k * step
        k += 1


def short() -> Plot:
    """Two legs in flat country, with one airport beside the line and one of each caution."""
    points = (
        at_airport("XDMA", "Demo Prairie Field", 43.9, -92.5, 1317.0),
        at_point("Water tower", 44.25, -92.75, note="invented for the demo"),
        at_airport("XDMB", "Demo River Airport", 44.5, -92.2, None),
    )
    beside = airport("XDMC", "Demo Strip", 44.05, -92.55)
    cautions = (
        Caution(
            "CHECK", literal("sources-apart", "Check XDMA on the chart."), "two datasets", "XDMA"
        ),
        Caution("NOTE", literal("demo", "Every name on this route is invented.")),
    )
    return plot_of(
        points,
        name="XDMA-XDMB",
        variations=(-0.75, -1.25),
        near=[(1, beside, 9.9, 1.4)],
        cautions=cautions,
    )


def mountain() -> Plot:
    """Three legs among high ground, east variation, heights to five figures."""
    points = (
        at_airport("XDMD", "Demo Mesa Airport", 39.2, -106.9, 7820.0),
        at_point("Pass & lake", 39.1, -106.55),
        at_point('The "Notch"', 38.8, -106.4),
        at_airport("XDME", "Demo Basin Airport", 38.5, -106.0, 7523.0),
    )
    return plot_of(points, name="XDMD-XDME", every_nm=8.0, variations=(8.1, 7.9, 7.6))


def across_180() -> Plot:
    """Two legs over the antimeridian, the first eastward, the second back."""
    points = (
        at_airport("XDMF", "Demo Atoll West", -16.5, 178.5, 20.0),
        at_point("Turn-back", -16.0, -179.25),
        at_point("XDMG=lagoon", -17.25, 179.5),
    )
    return plot_of(points, name="XDMF-XDMG", every_nm=25.0, variations=(12.5, 12.0))


def far_north() -> Plot:
    """One long east-west leg at 75° N, where the geodesic bows far from a straight line."""
    points = (at_point("North A", 75.0, -40.0), at_point("North B", 75.0, 20.0))
    return plot_of(points, name="north", every_nm=50.0, variations=(-20.0,))


def rhumb() -> Plot:
    """One constant-course leg of about 300 NM."""
    points = (at_point("Rhumb A", 45.0, -100.0), at_point("Rhumb B", 46.0, -93.0))
    return plot_of(points, name="rhumb", line="rhumb", every_nm=50.0, variations=(2.0,))


def named(*names: str) -> Plot:
    """A route through points of the given names (two or more), 12 NM apart, zigzag."""
    return plot_of([at_point(name, *_zigzag(i)) for i, name in enumerate(names)], name="named")


def many(legs: int) -> Plot:
    """A route of that many short legs."""
    return plot_of(
        [at_point(f"P{i}", *_zigzag(i)) for i in range(legs + 1)], name="many", every_nm=25.0
    )


def _zigzag(i: int) -> tuple[float, float]:
    return 30.0 + 0.02 * (i % 900) + 0.15 * (i % 2), -110.0 + 0.03 * (i % 900)


def straight(distance_nm: float, true_course_deg: float = 90.0) -> Line:
    """One measured line of a given length [NM], leaving Nebraska on a course [°T]."""
    start = Position(41.0, -97.0)
    return measure(start, destination(start, true_course_deg, distance_nm))


GOLDEN: dict[str, Callable[[], Plot]] = {
    "short": short,
    "mountain": mountain,
    "across-180": across_180,
}
