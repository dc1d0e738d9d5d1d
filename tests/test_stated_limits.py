"""Limits that are stated: just inside nothing is said, just outside it is.

The figures are typed here once more, so that a limit that moves is noticed. A speed of 110 kt in
calm air, one leg from Rochester to Duluth; what a test needs besides is invented.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import math
from collections.abc import Iterable
from pathlib import Path

import numpy as np
import pytest
from flights import aircraft, all_cruise, plan, wind
from limits import ALONE, LIMITS, MOST_ALONE, constants
from routes import route_through

from plotter.chart.weighing import Family, Sharing, Weighed, graded, log_weights
from plotter.earth.geodesic import destination
from plotter.earth.position import Position
from plotter.earth.sun import next_crossing
from plotter.flight.cautions.air import air_cautions
from plotter.flight.cautions.fields import field_cautions
from plotter.flight.cautions.flight import flight_cautions
from plotter.flight.cautions.legs import leg_cautions
from plotter.flight.cautions.light import sun_cautions
from plotter.flight.compass import compass_card
from plotter.flight.fields import runways_to_use
from plotter.flight.log import navigation_log
from plotter.flight.log_values import FieldReport, NavigationLog
from plotter.flight.plan.values import LegNotes, Limits, Plan
from plotter.places.store import Store
from plotter.route.checks import route_cautions, variation_cautions
from plotter.route.measuring import FlightMagnetism
from plotter.route.reading.text import read_route
from plotter.route.values import Caution, Leg


def one_leg(**changes: object) -> Plan:
    calm = {"route": "KRST KDLH", "winds": (wind(0.0, 0.0),), "aircraft": all_cruise()}
    return plan(**{**calm, **changes})


@pytest.fixture(scope="module")
def log(real_store: Store) -> NavigationLog:
    return navigation_log(one_leg(), real_store)


@pytest.fixture(scope="module")
def leg(log: NavigationLog) -> Leg:
    return log.plot.route.legs[0]


def codes(cautions: Iterable[Caution]) -> set[str]:
    return {one.code for one in cautions}


def of_leg(store: Store, **notes: float) -> set[str]:
    """The cautions of legs where the one leg has these notes."""
    return codes(leg_cautions(navigation_log(one_leg(legs=(LegNotes(1, **notes),)), store)))


# One reading may be 2.17 standard deviations off: of a course of 126 NM read to a tenth 1.02°, of
# its length, two lays of a plotter, 1.4 mm and rounding.
@pytest.mark.parametrize(
    ("off_deg", "differs"), [(2.1, False), (-2.1, False), (2.5, True), (-2.5, True)]
)
def test_a_course_by_hand_agrees_within_the_reading_error(
    real_store: Store, leg: Leg, off_deg: float, differs: bool
) -> None:
    found = of_leg(real_store, measured_course_deg=leg.true_course_deg + off_deg)
    assert ("measured-differs" in found, "measured-agrees" in found) == (differs, not differs)


@pytest.mark.parametrize(
    ("off_nm", "differs"), [(0.7, False), (-0.7, False), (1.4, True), (-1.4, True)]
)
def test_a_distance_by_hand_agrees_within_the_reading_error(
    real_store: Store, leg: Leg, off_nm: float, differs: bool
) -> None:
    found = of_leg(real_store, measured_nm=leg.distance_nm + off_nm)
    assert ("measured-differs" in found, "measured-agrees" in found) == (differs, not differs)


@pytest.mark.parametrize(("short_nm", "told"), [(-30.0, False), (0.9, False), (1.1, True)])
def test_a_typed_distance_is_too_short_by_more_than_a_mile(
    real_store: Store, leg: Leg, short_nm: float, told: bool
) -> None:
    found = of_leg(real_store, distance_nm=leg.distance_nm - short_nm)
    assert ("typed-too-short" in found) is told


@pytest.mark.parametrize(("every_nm", "told"), [(27.4, False), (27.6, True)])
def test_checkpoints_are_far_apart_from_a_quarter_of_an_hour(
    real_store: Store, every_nm: float, told: bool
) -> None:
    """At 110 kt 27.5 NM take 15 minutes."""
    found = codes(flight_cautions(navigation_log(one_leg(every_nm=every_nm), real_store)))
    assert ("far-apart" in found) is told


@pytest.mark.parametrize(("away_nm", "told"), [(199.0, False), (201.0, True)])
def test_a_station_is_far_from_200_miles(
    log: NavigationLog, leg: Leg, away_nm: float, told: bool
) -> None:
    stations = {"ZZZ": destination(leg.middle, 265.0, away_nm)}
    sky = dataclasses.replace(log.sky, stations=stations)
    assert ("winds-aloft-far" in codes(air_cautions(dataclasses.replace(log, sky=sky)))) is told


@pytest.mark.parametrize(("above_ft", "told"), [(990.0, False), (999.0, False), (1001.0, True)])
def test_density_altitude_is_told_from_1000_feet_above_the_field(
    log: NavigationLog, above_ft: float, told: bool
) -> None:
    report = FieldReport("KRST", 1317.0, 1300.0, 1317.0 + above_ft)
    found = codes(field_cautions(dataclasses.replace(log, fields=(report,))))
    assert ("density-altitude" in found) is told


@pytest.mark.parametrize(
    ("steer", "told"), [(189.0, False), (190.0, False), (190.5, True), (169.5, True)]
)
def test_a_compass_is_to_be_swung_above_ten_degrees(
    log: NavigationLog, steer: float, told: bool
) -> None:
    craft = aircraft(compass_card=compass_card([(0, 2), (180, steer)]))
    swung = dataclasses.replace(log, plan=dataclasses.replace(log.plan, aircraft=craft))
    said = [one.text for one in flight_cautions(swung) if one.code == "compass-card"]
    assert len(said) == told
    assert all("by up to 10.5°, more than the 10° a compass" in text for text in said)


@pytest.mark.parametrize(("limit_ft", "told"), [(9032.0, False), (9033.0, False), (9034.0, True)])
def test_a_runway_as_long_as_the_limit_is_long_enough(
    log: NavigationLog, limit_ft: float, told: bool
) -> None:
    """Runway 13/31 at Rochester is 9,033 ft long in the data, 02/20 7,300 ft."""
    limits = dataclasses.replace(log.plan, limits=Limits(runway_ft=limit_ft))
    found = field_cautions(dataclasses.replace(log, plan=limits))
    assert ("KRST" in {one.where for one in found if one.code == "runway"}) is told


@pytest.mark.parametrize(("limit_ft", "kept"), [(7300.0, 2), (7301.0, 1), (9033.0, 1), (9034.0, 2)])
def test_runways_as_long_as_the_limit_are_used(
    log: NavigationLog, limit_ft: float, kept: int
) -> None:
    """Where none is long enough all are looked at."""
    assert len(runways_to_use(log.plot.route.waypoints[0], limit_ft)) == kept


@pytest.mark.parametrize(
    ("crosswind_kt", "printed"),
    [(14.9, None), (15.0, None), (15.04, "15.1"), (15.4, "15.4"), (15.5, "16"), (21.6, "22")],
)
def test_a_crosswind_above_the_limit_is_printed_above_it(
    log: NavigationLog, crosswind_kt: float, printed: str | None
) -> None:
    limits = dataclasses.replace(log.plan, limits=Limits(crosswind_kt=15.0))
    report = FieldReport("KRST", 1317.0, None, None, "13", 3.0, crosswind_kt, "left")
    found = field_cautions(dataclasses.replace(log, plan=limits, fields=(report,)))
    said = [one.text for one in found if one.code == "crosswind"]
    assert len(said) == (printed is not None)
    assert all(f"KRST is {printed} kt from the left on runway 13" in text for text in said)


@pytest.mark.parametrize(
    ("short_s", "printed"), [(-20, None), (20, "59 min before"), (80, "58 min before")]
)
def test_daylight_that_is_too_short_is_printed_shorter_than_the_limit(
    log: NavigationLog, short_s: int, printed: str | None
) -> None:
    """The landing is put so that sunset comes an hour after it, less so many seconds."""
    (sector,) = log.sectors
    night = dt.datetime(2026, 7, 5, 0, 0, tzinfo=dt.UTC)
    sunset = next_crossing(sector.end.position, night, -0.833, rising=False)
    assert sunset is not None
    landing = sunset - dt.timedelta(minutes=60, seconds=-short_s)
    made = dataclasses.replace(
        log,
        sectors=(sector._replace(landing=landing),),
        plan=dataclasses.replace(log.plan, limits=Limits(daylight_margin_min=60.0)),
    )
    said = [one.text for one in sun_cautions(made) if one.code == "daylight-margin"]
    assert len(said) == (printed is not None)
    assert all(f"is {printed} sunset, less than your limit of 60 min" in text for text in said)


@pytest.mark.parametrize(
    ("off_deg", "told"), [(2.9, False), (-2.9, False), (3.1, True), (-3.1, True)]
)
def test_a_declination_is_old_from_three_degrees(
    real_store: Store, off_deg: float, told: bool
) -> None:
    """Nodine stands in the data with 1.006° E."""
    route = "navaid:ODI navaid:ODI090020"
    found = codes(read_route(route, real_store, None, lambda _: 1.006 + off_deg).cautions)
    assert ("station-declination" in found) is told


@pytest.mark.parametrize(("turn_deg", "told"), [(1.95, False), (2.05, True)])
def test_a_course_that_changes_by_two_degrees_is_told(turn_deg: float, told: bool) -> None:
    """Along a parallel the course turns by the change of longitude × the sine of the latitude
    (convergence of meridians, Bowditch)."""
    half_deg = turn_deg / math.sin(math.radians(45.0)) / 2.0
    ends = [Position(45.0, -95.0 - half_deg), Position(45.0, -95.0 + half_deg)]
    assert ("course-changes" in codes(route_cautions(route_through(ends)))) is told


class Sloping(FlightMagnetism):
    """A made-up variation: so many degrees west for every degree of longitude from 95° W."""

    def __init__(self, by_deg: float) -> None:
        super().__init__(dt.date(2026, 7, 4), 0.0, False)
        self._by_deg = by_deg

    def degrees_east(self, where: Position) -> float:
        return -self._by_deg * (where.longitude_deg + 95.0)


@pytest.mark.parametrize(
    ("change_deg", "told"), [(1.9, False), (-1.9, False), (2.1, True), (-2.1, True)]
)
def test_a_variation_that_changes_by_two_degrees_is_told(change_deg: float, told: bool) -> None:
    route = route_through([Position(45.0, -95.0), Position(45.0, -93.0)])
    assert bool(variation_cautions(route, Sloping(change_deg / 2.0))) is told


@pytest.mark.parametrize(("length_nm", "told"), [(59.9, False), (60.1, True)])
def test_legs_are_asked_how_variation_changes_from_60_miles(length_nm: float, told: bool) -> None:
    start = Position(45.0, -95.0)
    route = route_through([start, destination(start, 90.0, length_nm)])
    assert bool(variation_cautions(route, Sloping(5.0))) is told


@pytest.mark.parametrize(
    ("probability", "grade"), [(0.74, "could also be"), (0.75, "fits"), (0.76, "fits")]
)
def test_an_explanation_fits_from_three_to_one(probability: float, grade: str) -> None:
    none = np.zeros((1, 1))
    family = Family("tick", 1.0, Sharing.ALIKE, none, none, log_weights(np.ones(1)))
    (found,) = graded([Weighed("tick", probability, 0.0, family, 0, 0)])
    assert found.grade == grade


@pytest.mark.parametrize(("probability", "named"), [(0.019, 0), (0.021, 1)])
def test_an_explanation_is_named_from_two_in_a_hundred(probability: float, named: int) -> None:
    none = np.zeros((1, 1))
    family = Family("tick", 1.0, Sharing.ALIKE, none, none, log_weights(np.ones(1)))
    assert len(graded([Weighed("tick", probability, 0.0, family, 0, 0)])) == named


def test_every_limit_has_its_row() -> None:
    """A new or changed threshold is typed in ``limits.py`` too, with what tests it."""
    found = dict(constants())
    typed = {name: value for name, (value, _) in LIMITS.items()}
    wrong = sorted(name for name in found | typed if found.get(name) != typed.get(name))
    rows = [f'    "{name}": ({found[name]!r}, ALONE),' for name in wrong if name in found]
    gone = [name for name in wrong if name not in found]
    assert not wrong, "\n".join(["", "rows to write in limits.py:", *rows, "rows to drop:", *gone])


def test_what_holds_a_limit_is_there() -> None:
    tests = Path(__file__).parent
    held = {where for _, where in LIMITS.values() if not where.startswith("-")}
    assert [each for each in sorted(held) if not (tests / f"{each}.py").is_file()] == []


def test_limits_held_by_their_value_alone_get_fewer() -> None:
    assert sum(where == ALONE for _, where in LIMITS.values()) <= MOST_ALONE
