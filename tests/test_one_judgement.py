"""One judgement of what was measured by hand, through whichever door it is asked for."""

from __future__ import annotations

from typing import cast

import pytest
from flights import plan

from plotter.chart.readings import Desk
from plotter.flight.by_hand import by_hand_cautions, measure_plan
from plotter.flight.log import navigation_log, wishes_of
from plotter.flight.plan.values import LegNotes
from plotter.messages import Message
from plotter.places.store import Store
from plotter.route.values import Route


@pytest.fixture(scope="module")
def route(real_store: Store) -> Route:
    return navigation_log(plan(), real_store).plot.route


def doors(store: Store, route: Route, *notes: LegNotes) -> tuple[list[bool], set[str]]:
    """Whether ``measure`` says that distances and courses agree, and the codes of the log."""
    asked = plan(legs=notes)
    judgement = measure_plan(asked, store, wishes_of(asked), Desk()).judgement
    found = by_hand_cautions(asked, route)
    codes = {each.code for of_leg in found.of_leg.values() for each in of_leg}
    codes |= {each.code for each in found.together}
    return [each.agrees for each in (judgement.distance, judgement.course) if each], codes


@pytest.mark.parametrize("off_nm", [-3.0, -1.4, -1.1, -0.8, -0.5, 0.0, 0.4, 0.7, 1.0, 1.3, 8.0])
def test_a_distance_agrees_at_both_doors_or_at_neither(
    real_store: Store, route: Route, off_nm: float
) -> None:
    read_nm = round(route.legs[0].distance_nm + off_nm, 1)
    (agrees,), codes = doors(real_store, route, LegNotes(1, measured_nm=read_nm))
    assert agrees is (codes == {"measured-agrees"})


@pytest.mark.parametrize("off_deg", [-90.0, -6.0, -3.4, -2.5, -1.5, 0.0, 1.0, 2.0, 3.0, 180.0])
def test_a_course_agrees_at_both_doors_or_at_neither(
    real_store: Store, route: Route, off_deg: float
) -> None:
    read_deg = round(route.legs[0].true_course_deg + off_deg) % 360.0
    (agrees,), codes = doors(real_store, route, LegNotes(1, measured_course_deg=read_deg))
    assert agrees is (codes == {"measured-agrees"})


@pytest.mark.parametrize(("off_nm", "off_deg"), [(-1.4, 0.0), (1.3, 0.0), (0.0, 3.4), (0.0, -3.4)])
def test_nobody_is_told_that_a_figure_well_off_agrees(
    real_store: Store, route: Route, off_nm: float, off_deg: float
) -> None:
    """1.4 NM are 5 mm of paper; at 3.4° off, 100 NM lead 6 NM beside the field."""
    leg = route.legs[0]
    notes = LegNotes(
        1,
        measured_nm=round(leg.distance_nm + off_nm, 1),
        measured_course_deg=round(leg.true_course_deg + off_deg, 1),
    )
    agree, codes = doors(real_store, route, notes)
    assert agree == [not off_nm, not off_deg]
    assert codes == {"measured-differs"}


def test_the_log_says_how_far_off_a_reading_may_be(route: Route) -> None:
    found = by_hand_cautions(plan(legs=(LegNotes(1, measured_nm=52.6),)), route)
    (said,) = found.of_leg[1]
    assert said.rank == "CHECK"
    assert "52.6 NM, computed 54.0 NM" in said.text
    (allowed,) = cast(tuple[Message, ...], said.said["allowed"])
    assert (allowed.key, round(cast(float, allowed["allowed_mm"]), 1)) == (
        "measured.allowed-mm",
        2.2,
    )


def test_legs_that_agree_one_by_one_and_not_together_are_told(
    real_store: Store, route: Route
) -> None:
    notes = [
        LegNotes(leg.number, measured_nm=round(leg.distance_nm - 0.6, 1)) for leg in route.legs
    ]
    (agrees,), codes = doors(real_store, route, *notes)
    assert not agrees
    assert codes == {"measured-agrees", "measured-together"}


def test_a_leg_that_no_chart_shows_stops_no_log(real_store: Store) -> None:
    far = plan(route="KRST PHNL", legs=(LegNotes(1, measured_nm=3000.0),))
    far_route = navigation_log(plan(), real_store).plot.route
    assert by_hand_cautions(far, far_route).of_leg  # another route: the leg is judged as it is
    short = by_hand_cautions(plan(legs=(LegNotes(1, measured_nm=20_001.0),)), far_route)
    (said,) = short.together
    assert said.code == "measured-not-judged"
    assert cast(Message, said.said["reason"]).key == "reading.too-large"
