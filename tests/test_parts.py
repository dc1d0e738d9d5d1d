"""One pencil line, one course: a leg has the same parts in plot, log, map and document."""

from __future__ import annotations

import datetime as dt

import pytest
from flights import all_cruise, plan, wind

from plotter.earth.angles import half_turn
from plotter.flight.log import navigation_log
from plotter.flight.plan.values import LegNotes
from plotter.formats.document import document
from plotter.maps.drawing import drawn_legs, sheet
from plotter.maps.tables import leg_rows
from plotter.places.store import Store
from plotter.route.parts import SPLIT_AT_DEG, letters
from plotter.route.plotting import Plot, Wishes, plot_route

DAY = dt.date(2026, 7, 4)


@pytest.fixture(scope="module")
def plot(real_store: Store) -> Plot:
    """Denver to Kansas City: 463 NM eastward, 6° of course and 5° of variation."""
    return plot_route("KDEN KMCI KSTL", real_store, Wishes(date=DAY, every_nm=50.0))


def test_no_part_turns_by_two_degrees_and_parts_meet_at_checkpoints(plot: Plot) -> None:
    marks = {mark.name for mark in plot.checkpoints}
    split = [part for part in plot.parts if part.count > 1]
    assert len(split) > 2
    for part in split:
        line = part.line
        assert (
            abs(half_turn(line.final_true_course_deg - line.initial_true_course_deg)) < SPLIT_AT_DEG
        )
        assert part.number == part.count or part.end_name in marks


def test_the_parts_make_the_route(plot: Plot) -> None:
    assert sum(part.distance_nm for part in plot.parts) == pytest.approx(plot.route.distance_nm)
    printed = sum(part.printed_nm for part in plot.parts)
    assert printed == pytest.approx(round(plot.route.distance_nm, 1), abs=1e-9)
    names = [part.name for part in plot.parts]
    assert names[:2] == ["1a", "1b"]
    assert len(set(names)) == len(names)


def test_log_map_and_document_have_the_courses_of_the_plot(real_store: Store, plot: Plot) -> None:
    log = navigation_log(
        plan(
            route="KDEN KMCI KSTL",
            every_nm=50.0,
            departure=dt.datetime(2026, 7, 4, 14, tzinfo=dt.UTC),
            winds=(wind(0.0, 0.0),),
            aircraft=all_cruise(usable_fuel=200.0, fuel_on_board=200.0),
        ),
        real_store,
    )
    flown = dict.fromkeys(
        (row.course.leg.number, row.course.part, round(row.course.true_course_deg, 9))
        for row in log.rows
    )
    plotted = [(p.leg.number, p.number, round(p.true_course_deg, 9)) for p in log.plot.parts]
    assert [*flown] == plotted
    assert [p.true_course_deg for p in plot.parts] == pytest.approx(
        [p.true_course_deg for p in log.plot.parts]
    )
    rows = [row.cells[2] for row in leg_rows(plot, False)]
    labels = [
        label["above"]
        for leg in sheet(plot, drawn_legs(plot.route), sm=False)["legs"]
        for label in leg.get("parts", [leg])
    ]
    assert [label[:5] for label in labels] == rows
    assert [len(leg["parts"]) for leg in document(plot, {})["legs"]] == [
        sum(part.leg.number == number and part.count > 1 for part in plot.parts)
        for number in (1, 2)
    ]


def test_a_leg_with_typed_figures_stays_whole(real_store: Store) -> None:
    log = navigation_log(
        plan(
            route="KDEN KMCI",
            every_nm=50.0,
            legs=(LegNotes(1, true_course_deg=95.0),),
            winds=(wind(0.0, 0.0),),
            aircraft=all_cruise(usable_fuel=200.0, fuel_on_board=200.0),
        ),
        real_store,
    )
    (part,) = log.plot.parts
    assert (part.name, part.true_course_deg) == ("1", 95.0)
    assert "course-changes" in {caution.code for caution in log.plot.cautions}


def test_letters_go_on_after_z() -> None:
    assert [letters(number) for number in (1, 26, 27, 52, 53)] == ["a", "z", "aa", "az", "ba"]


def test_a_leg_to_a_pole_is_one_meridian(real_store: Store) -> None:
    plot = plot_route("89.0,10 90.0,0 89.0,-100", real_store, Wishes(date=DAY))
    assert [part.name for part in plot.parts] == ["1", "2"]
