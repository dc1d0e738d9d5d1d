"""A reading right for a plotter that is off: never called right, and by how much it is off."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from judged import distance_of, judged, leg

from plotter.chart.own_plotter import OwnPlotter, Pair
from plotter.chart.own_plotter_verdict import own_plotter_cautions, verdict_of
from plotter.chart.readings import Desk, desk_of
from plotter.chart.scales import SECTIONAL

MILE_MM = 3.704  # 1,852 m at 1:500,000


def plotter_of(factor: float, offset_mm: float = 0.0) -> OwnPlotter:
    """A plotter read at seven marks without error: it reads ``offset + factor × length``."""
    marks = (5, 15, 25, 35, 45, 55, 65)
    pairs = [Pair(mark, factor * mark + offset_mm / MILE_MM, decimals=2) for mark in marks]
    return OwnPlotter(SECTIONAL, "nm", tuple(pairs))


def desk_with(factor: float, offset_mm: float = 0.0) -> Desk:
    return desk_of(own=plotter_of(factor, offset_mm))


def test_what_a_shrunk_plotter_shows_is_long_and_not_to_be_flown() -> None:
    # 3 % of 54 NM are 1.62 NM.
    first = distance_of(leg(54.0, "55.6"), desk=desk_with(1.03)).explanations[0]
    assert (first.code, first.grade) == ("own_plotter", "fits")
    assert first.text == (
        "55.6 NM is 1.6 NM long for the leg of 54.0 NM, and your plotter is why: as tested it "
        "reads 3.0 % long and shows about 55.6 NM. Do not fly 55.6 NM, corrected or not: measure "
        "the leg again with a plotter that passes its test, which should show about 54.0 NM, and "
        "fly that."
    )


def test_a_stretched_one_is_short() -> None:
    first = distance_of(leg(54.0, "52.4"), desk=desk_with(0.97)).explanations[0]
    assert "52.4 NM is 1.6 NM short" in first.text
    assert "reads 3.0 % short" in first.text


def test_a_zero_laid_wrong_is_said_as_such_and_not_replaced() -> None:
    desk = desk_with(1.0, -5.0)
    first = distance_of(leg(54.0, "52.6"), desk=desk).explanations[0]
    assert first.code == "own_plotter"
    assert "52.6 NM is 1.4 NM short" in first.text
    assert "reads 5.0 mm short from its zero on" in first.text
    (caution,) = own_plotter_cautions(desk)
    assert "zero mark" in caution.text
    assert "Replace" not in caution.text


def test_statute_miles_stay_statute_miles() -> None:
    # 54 NM are 62.14 SM; 3 % long they are 64.0.
    first = distance_of(leg(54.0, "64.0", "sm"), desk=desk_with(1.03)).explanations[0]
    assert "64.0 SM is 1.9 SM long for the leg of 54.0 NM" in first.text


def test_where_it_agrees_with_the_leg_by_chance_that_is_said_too() -> None:
    first = distance_of(leg(10.0, "10.0"), desk=desk_with(1.03)).explanations[0]
    assert first.code == "own_plotter"
    assert "agrees with the leg of 10.0 NM, which your plotter should not" in first.text


def test_of_several_legs_the_one_it_shows_on_most_is_named() -> None:
    legs = (leg(20.0, "20.6", names="A-B"), leg(54.0, "55.6", names="B-C"))
    first = distance_of(*legs, desk=desk_with(1.03)).explanations[0]
    assert first.code == "own_plotter"
    assert re.match(r"B.*C: 55\.6 NM is 1\.6 NM long", first.text)


def test_a_plotter_not_settled_yet_may_still_be_too_far_off_to_be_right() -> None:
    own = OwnPlotter(SECTIONAL, "nm", (Pair(10, 10.0), Pair(65, 65.5)))
    assert verdict_of(own).code == "again"
    assert not own_plotter_cautions(desk_of(own=own))
    # The line through the two pairs is 0.6 NM long, 2.2 mm, at 75 NM.
    first = distance_of(leg(75.0, "75.6"), desk=desk_of(own=own)).explanations[0]
    assert first.code == "own_plotter"
    assert distance_of(leg(10.0, "10.1"), desk=desk_of(own=own)).best == "read_right"


def test_a_good_plotter_changes_nothing() -> None:
    desk = desk_with(1.001)
    assert verdict_of(plotter_of(1.001)).code == "trust"
    assert not own_plotter_cautions(desk)
    first = distance_of(leg(54.0, "54.1"), desk=desk).explanations[0]
    assert (first.code, first.question.key == "read_right.distance") == ("read_right", True)


def test_a_plain_ruler_is_not_the_plotter() -> None:
    found = judged(leg(54.0, "200.0", "mm"), desk=desk_with(1.03)).distance
    assert found is not None
    assert found.best == "read_right"
    assert found.explanations[0].question.key == "read_right.distance"


@pytest.mark.parametrize("reading", ["53.0", "54.8", "57.0"])
def test_unusual_even_for_the_plotter_it_is_not_right_either(reading: str) -> None:
    for each in distance_of(leg(54.0, reading), desk=desk_with(1.03)).explanations:
        assert each.code not in ("read_right", "own_plotter")


@given(
    st.floats(5.0, 75.0),
    st.floats(0.9, 1.13).filter(lambda factor: abs(factor - 1.0) >= 0.015),
)
def test_no_reading_of_a_plotter_to_be_replaced_needs_nothing(length: float, factor: float) -> None:
    own = plotter_of(factor)
    if verdict_of(own).code != "replace":
        return
    answer = distance_of(leg(length, f"{factor * length:.1f}"), desk=desk_of(own=own))
    assert "read_right" not in {each.code for each in answer.explanations}
    assert all("within reading error" not in each.text for each in answer.explanations)
    assert own_plotter_cautions(desk_of(own=own))
