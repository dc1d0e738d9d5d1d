"""What to measure next: a leg that does tell two explanations apart, and nothing without need."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from judged import course_of, distance_of, heading_for, leg

from plotter.chart.readings import desk_of
from plotter.chart.weighing import FITS


def test_a_right_reading_needs_nothing_more() -> None:
    answer = distance_of(leg(40.0, "40.1"))
    assert answer.next_measurement is None
    assert course_of(heading_for(247.0, -8.0, "247T")).next_measurement is None


def test_one_explanation_that_stands_alone_needs_nothing_more() -> None:
    answer = distance_of(leg(40.0, "46.1"))
    assert not answer.inseparable
    assert answer.next_measurement is None


def test_a_constant_and_a_share_are_parted_by_a_leg_of_another_length() -> None:
    answer = distance_of(leg(30.0, "28.5"))
    assert {"physical_end", "copy_scaled"} <= {e.code for e in answer.explanations}
    assert "leg too" in (answer.next_measurement or "")


def test_the_leg_it_names_does_part_them() -> None:
    first = leg(30.0, "28.5")
    said = distance_of(first).next_measurement or ""
    length_nm = float(re.findall(r"about (\d+) NM", said)[0])
    # As it would be read had the end been taken for the zero, and had the copy been reduced.
    constant = distance_of(first, leg(length_nm, f"{length_nm - 1.5:.1f}"))
    share = distance_of(first, leg(length_nm, f"{length_nm * 0.95:.1f}"))
    assert constant.best == "physical_end"
    assert share.best == "copy_scaled"


@given(
    st.lists(st.tuples(st.floats(8.0, 75.0), st.floats(0.85, 1.15)), min_size=1, max_size=2),
    st.sampled_from(["sectional", "terminal", "world"]),
)
def test_a_shorter_leg_is_shorter_and_a_longer_one_longer(
    read: list[tuple[float, float]], chart: str
) -> None:
    legs = [leg(nm, f"{nm * share:.1f}") for nm, share in read]
    said = distance_of(*legs, desk=desk_of(chart)).next_measurement or ""
    found = re.search(r"a (shorter|longer) leg too, of about (\d+) NM", said)
    if found is None:
        return
    longest_nm, length_nm = max(nm for nm, _ in read), float(found[2])
    assert (length_nm < longest_nm) is (found[1] == "shorter")
    for nm, _ in read:
        assert max(nm / length_nm, length_nm / nm) >= 1.2, "as good as measured already"


def test_a_leg_of_54_miles_is_not_followed_by_a_shorter_one_of_80() -> None:
    said = distance_of(leg(53.9, "50.2")).next_measurement or ""
    assert "shorter leg too, of about 30 NM" in said


def test_a_stretched_plotter_and_a_reduced_chart_are_parted_by_a_steel_rule() -> None:
    answer = distance_of(leg(20.0, "19.3"), leg(65.0, "62.9"))
    assert {"copy_scaled", "stretched"} <= {e.code for e in answer.explanations}
    assert "steel rule" in (answer.next_measurement or "")


def test_laying_once_parts_a_constant_from_a_constant_at_every_lay() -> None:
    answer = distance_of(leg(150.0, "147.0"))
    assert {"lays", "physical_end"} <= {e.code for e in answer.explanations}
    # 260 mm of the shortest plotter at 3.704 mm to the mile.
    assert "less than 70 NM" in (answer.next_measurement or "")


def test_a_slip_and_a_fault_are_parted_by_the_same_leg_again() -> None:
    answer = distance_of(leg(62.4, "64.2"))
    assert {"swapped_digits", "shrunk"} <= {e.code for e in answer.explanations}
    assert "once more" in (answer.next_measurement or "")


def test_another_latitude_parts_minutes_from_miles() -> None:
    answer = distance_of(leg(60.0, "69.0", latitude_deg=29.7))
    if answer.verdict != FITS or answer.inseparable:
        assert answer.next_measurement


def test_where_nothing_fits_the_leg_is_measured_again() -> None:
    assert "once more" in (distance_of(leg(40.0, "13.1")).next_measurement or "")


@pytest.mark.parametrize(
    ("course", "variation", "words"),
    [
        ("255T", -8.0, "before any variation"),
        ("235T", 0.0, "from its other end"),
        ("249T", 0.0, ""),
        ("100T", 0.0, "Draw the line again"),
    ],
)
def test_for_a_course(course: str, variation: float, words: str) -> None:
    true = 245.0 if course == "235T" else 247.0
    answer = course_of(heading_for(true, variation, course))
    if words:
        assert words in (answer.next_measurement or "")
    else:
        assert answer.best == "read_right"
