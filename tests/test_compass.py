"""The compass correction card: exact where it is printed, in proportion between, round north."""

from __future__ import annotations

import math

import pytest

from plotter.earth.angles import half_turn
from plotter.errors import InputError
from plotter.flight.compass import (
    CardPair,
    CompassCard,
    compass_card,
)

PRINTED = [
    *((0, 359), (30, 30), (60, 60), (90, 88), (120, 120), (150, 152)),
    *((180, 183), (210, 212), (240, 240), (270, 271), (300, 300), (330, 331)),
]
"""Invented. Its form is that of a card of every 30°, as 14 CFR 23.1547 asked for until 2017."""
CARD = compass_card(PRINTED)


@pytest.mark.parametrize(("wanted", "steer"), PRINTED)
def test_exact_at_the_printed_headings(wanted: float, steer: float) -> None:
    off = half_turn(steer - wanted)
    assert CARD.correction_deg(float(wanted)) == off
    assert CARD.correction_deg(wanted + 360.0) == off


@pytest.mark.parametrize(
    ("heading", "correction"),
    # By hand, in proportion: 105 is half-way from −2 at 090 to 0 at 120; 345 from +1 to −1.
    [(105.0, -1.0), (345.0, 0.0), (195.0, 2.5), (10.0, -2.0 / 3.0), (357.5, -5.0 / 6.0)],
)
def test_in_proportion_between(heading: float, correction: float) -> None:
    assert CARD.correction_deg(heading) == pytest.approx(correction)


def test_for_240_steer_243() -> None:
    card = compass_card([(240, 243), (60, 57)])
    assert card.correction_deg(240.0) == 3.0
    assert card.correction_deg(261.0) == pytest.approx(3.0 - 6.0 * 21.0 / 180.0)


def test_a_correction_across_north() -> None:
    pair = CardPair(358.0, 2.0)
    assert pair.correction_deg == 4.0
    assert CardPair(2.0, 358.0).correction_deg == -4.0
    assert compass_card([(358, 2), (180, 180)]).correction_deg(358.0) == 4.0


def test_360_is_north() -> None:
    assert CardPair(360.0, 360.0).correction_deg == 0.0
    card = compass_card([(360, 4), (180, 180)])
    assert card.correction_deg(0.0) == card.correction_deg(360.0) == 4.0
    assert card.correction_deg(90.0) == card.correction_deg(270.0) == pytest.approx(2.0)


def test_the_card_is_kept_in_order() -> None:
    assert compass_card(PRINTED[::-1]) == CARD
    assert CARD.pairs[0].for_magnetic_deg == 0.0


def test_the_largest_correction() -> None:
    assert CARD.largest_correction_deg == 3.0


@pytest.mark.parametrize("pairs", [[], [(90, 92)]])
def test_fewer_than_two_headings_are_refused(pairs: list[tuple[float, float]]) -> None:
    with pytest.raises(InputError, match="needs two headings or more") as caught:
        compass_card(pairs)
    assert caught.value.code == "compass-card"


@pytest.mark.parametrize(
    ("pairs", "again"),
    [
        ([(90, 92), (90, 91)], "090"),
        ([(0, 2), (360, 1), (180, 180)], "360"),
        ([(90, 92), (180, 180), (90, 92)], "090"),
    ],
)
def test_a_repeated_heading_is_refused(pairs: list[tuple[float, float]], again: str) -> None:
    with pytest.raises(InputError, match=f"has the heading {again} twice"):
        compass_card(pairs)


@pytest.mark.parametrize(("wanted", "steer"), [(30.0, 61.0), (90.0, 270.0), (350.0, 21.0)])
def test_a_pair_too_far_apart_is_refused(wanted: float, steer: float) -> None:
    with pytest.raises(InputError, match=f"for {wanted:03.0f} steer {steer:03.0f} differ by more"):
        CardPair(wanted, steer)


@pytest.mark.parametrize("heading", [-1.0, 361.0, math.nan, math.inf])
def test_a_heading_outside_the_circle_is_refused(heading: float) -> None:
    for pair in ((heading, 90.0), (90.0, heading)):
        with pytest.raises(InputError, match="outside 0 to 360"):
            CardPair(*pair)


def test_a_card_made_of_pairs_is_checked_too() -> None:
    with pytest.raises(InputError):
        CompassCard((CardPair(90.0, 91.0),))


def test_how_far_apart_the_pairs_round_a_heading_are() -> None:
    card = compass_card([(0, 0), (30, 31)])
    for heading, expected in ((185.0, (30.0, 0.0, 330.0)), (29.0, (0.0, 30.0, 30.0))):
        before, after, gap_deg = card.gap(heading)
        assert (before.for_magnetic_deg, after.for_magnetic_deg, gap_deg) == expected
    assert card.gap(360.0)[2] == card.gap(30.0)[2] == 0.0
