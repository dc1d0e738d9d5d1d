"""From typed points, rows and plans to legs that are judged."""

from __future__ import annotations

import datetime as dt

import pytest
from flights import ROUTE

from plotter.chart.asking import ReadingRow, measure_rows, measured_leg, row_of
from plotter.chart.measurement import MOST_LEGS, judge
from plotter.chart.own_plotter import OwnPlotter, Pair
from plotter.chart.readings import CourseReading, Desk, MeasuredLeg, Reading, ReadingError, desk_of
from plotter.chart.scales import SECTIONAL, WORLD
from plotter.errors import InputError, RouteError
from plotter.flight.by_hand import measured_in_plan
from plotter.flight.plan.values import LegNotes
from plotter.places.store import Store
from plotter.route.measuring import FlightMagnetism, measure_route
from plotter.route.plotting import Wishes
from plotter.route.reading.text import read_route
from plotter.route.values import Route

DAY = dt.date(2026, 7, 4)
WISHES = Wishes(DAY)


@pytest.fixture(scope="module")
def route(real_store: Store) -> Route:
    magnetism = FlightMagnetism(DAY, 0.0, False)
    read = read_route(ROUTE, real_store, None, magnetism.degrees_east)
    return measure_route(read.waypoints, "geodesic", magnetism)


def asked(store: Store, *rows: ReadingRow) -> list[str]:
    """The codes that rank first, distance then course."""
    judgement = measure_rows(rows, store, WISHES, Desk()).judgement
    return [each.best for each in (judgement.distance, judgement.course) if each]


def test_a_leg_is_laid_on_its_chart(route: Route) -> None:
    laid = measured_leg(route.legs[0], Reading("54.0"))
    assert (laid.start, laid.end) == ("KRST", "KLSE")
    assert laid.distance_nm == route.legs[0].distance_nm
    # 44° N lies between the standard parallels 41°20' and 46°40': the paper is too small.
    assert -0.0012 < laid.chart_nm / laid.distance_nm - 1.0 < -0.0005
    assert laid.chart_course_deg == pytest.approx(route.legs[0].true_course_deg, abs=0.01)


def test_rows_are_looked_up_and_judged(real_store: Store) -> None:
    rows = (
        ReadingRow(("KRST", "KLSE"), Reading("62.1"), CourseReading.typed("272T")),
        ReadingRow(("KLSE", "KEAU"), Reading("69.1")),
    )
    assert asked(real_store, *rows) == ["nautical_statute", "reciprocal"]


def test_the_faults_of_all_rows_come_at_once_with_their_lines(real_store: Store) -> None:
    rows = (
        ReadingRow(("KRST", "KDHL"), Reading("54"), None, 2),
        ReadingRow(("KRST", "KLSE"), Reading("54"), None, 3),
        ReadingRow(("KRST", "KRST"), Reading("54"), None, 4),
        ReadingRow(("KRST", "PHNL"), Reading("54"), None, 5),
    )
    with pytest.raises(RouteError) as caught:
        measure_rows(rows, real_store, WISHES, Desk())
    said = [fault.message for fault in caught.value.faults]
    assert [each.partition(":")[0] for each in said] == ["line 2", "line 4", "line 5"]
    assert "KDLH" in said[0]


def test_a_reading_belongs_to_one_leg(real_store: Store) -> None:
    with pytest.raises(InputError, match="two points for each reading"):
        asked(real_store, ReadingRow(("KRST", "KLSE", "KEAU"), Reading("54")))


def test_a_route_across_180(real_store: Store) -> None:
    row = ReadingRow(("52.0,179.0", "52.5,-179.5"), Reading("62.6"))
    assert asked(real_store, row) == ["read_right"]


def test_at_75_north_it_is_answered_and_cautioned(real_store: Store) -> None:
    row = ReadingRow(("75.0,10.0", "75.0,15.0"), Reading("78.0"), CourseReading.typed("088T"))
    measured = measure_rows((row,), real_store, WISHES, Desk())
    assert "off-the-sheets" in [each.code for each in measured.cautions]
    answer = measured.judgement.course
    assert answer is not None
    # The meridians of the two ends are 4.8° apart: the course at the start is 087.6.
    assert "end_meridian" in [each.code for each in answer.explanations]


def test_beyond_80_north_it_is_refused(real_store: Store) -> None:
    with pytest.raises(RouteError, match="80°"):
        asked(real_store, ReadingRow(("82.0,10.0", "82.0,15.0"), Reading("41")))


def test_a_leg_shorter_than_the_reading_error_is_refused(real_store: Store) -> None:
    row = ReadingRow(("44.0,-92.0", "44.002,-92.0"), Reading("0.1"))
    with pytest.raises(InputError, match=r"measure a longer leg") as caught:
        asked(real_store, row)
    assert caught.value.code == "short-leg"
    assert "0.44 mm" in caught.value.message


def test_a_plan_gives_what_was_measured_by_hand(route: Route) -> None:
    notes = (
        LegNotes(
            1, measured_nm=62.1, measured_course_deg=93.0, measured_course_reference="magnetic"
        ),
        LegNotes(2, altitude_ft=4500.0),
        LegNotes(3, measured_course_deg=166.0),
    )
    legs = measured_in_plan(notes, route)
    assert [leg.name for leg in legs] == ["KRST to KLSE", "KEAU to KDLH"]
    assert legs[0].reading == Reading("62.1")
    assert legs[0].course == CourseReading("093", "M")
    assert legs[1].course == CourseReading("166", "T")
    found = judge(legs)
    assert found.distance is not None
    assert found.course is not None
    assert found.distance.best == "nautical_statute"
    assert found.course.best == "reciprocal"


@pytest.mark.parametrize(
    ("points", "reading", "course", "words"),
    [((), "54", None, "two points"), (("KRST", "KLSE"), None, None, "such as 26.4")],
)
def test_what_is_missing_is_said(
    points: tuple[str, ...], reading: str | None, course: str | None, words: str
) -> None:
    with pytest.raises(InputError, match=words):
        row_of(points, reading, "nm", course)


def test_a_desk_from_plain_words() -> None:
    desk = desk_of("world", "sm", student=True)
    assert (desk.chart, desk.edge, desk.error) == (WORLD, "sm", ReadingError(1.5, 1.5))
    for wrong in ({"chart": "globe"}, {"edge": "km"}):
        with pytest.raises(InputError):
            desk_of(**wrong)  # type: ignore[arg-type]


def test_a_plotter_read_at_one_mark_only_is_not_known() -> None:
    with pytest.raises(InputError, match="test it again at a near and a far mark"):
        desk_of(own=OwnPlotter(SECTIONAL, "nm", (Pair(50, 50.6),)))


@pytest.mark.parametrize(("mm", "degrees"), [(0.0, 1.0), (1.0, 0.0), (50.0, 1.0), (1.0, 50.0)])
def test_no_hand_is_that_sure_or_that_unsure(mm: float, degrees: float) -> None:
    with pytest.raises(InputError, match=r"° is out of range; enter 0\.1 to 10 for each"):
        ReadingError(mm, degrees)


@pytest.mark.parametrize("count", [0, MOST_LEGS + 1])
def test_no_leg_and_too_many(count: int) -> None:
    with pytest.raises(InputError, match="legs given; enter 1 to 200 measured with one plotter"):
        judge([MeasuredLeg(40.0, 90.0, 0.0, Reading("40"))] * count)
