"""Which mistake explains a course: each at a size anyone can check with a pencil."""

from __future__ import annotations

from dataclasses import replace

import pytest
from judged import codes, course_of, heading_for

from plotter.chart.priors import COURSE
from plotter.chart.readings import STUDENT, Desk
from plotter.chart.weighing import FITS, NOTHING_FITS


def test_every_code_has_a_weight_and_no_other() -> None:
    assert " ".join(COURSE) == (
        "read_right reciprocal wrong_way ten hundred swapped_digits other_scale_90 meridian "
        "true_magnetic variation_sign variation_twice heading end_meridian none"
    )


# True course 247, variation 8° W: magnetic course 255 (FAA-H-8083-25: west is added).
@pytest.mark.parametrize(
    ("course", "code"),
    [
        ("247T", "read_right"),
        ("255M", "read_right"),
        ("248T", "read_right"),
        ("067T", "reciprocal"),
        ("075M", "reciprocal"),
        ("239M", "variation_sign"),
        ("047T", "hundred"),
        ("274T", "swapped_digits"),
        ("157T", "other_scale_90"),
        ("337T", "other_scale_90"),
        ("255T", "true_magnetic"),
        ("247M", "true_magnetic"),
        ("263M", "variation_twice"),
        ("100T", "none"),
    ],
)
def test_one_course_of_one_leg(course: str, code: str) -> None:
    assert course_of(heading_for(247.0, -8.0, course)).best == code


@pytest.mark.parametrize(
    ("true", "course", "code"), [(244.0, "236T", "wrong_way"), (212.0, "222T", "ten")]
)
def test_slips_at_a_mark(true: float, course: str, code: str) -> None:
    assert course_of(heading_for(true, 0.0, course)).best == code


def test_north_is_no_edge() -> None:
    for true, course in ((359.6, "360T"), (0.4, "360T"), (359.0, "001T"), (1.0, "359T")):
        assert course_of(heading_for(true, 0.0, course)).best == "read_right"


def test_at_five_from_a_ten_a_slip_of_ten_is_like_counting_the_wrong_way() -> None:
    answer = course_of(heading_for(245.0, 0.0, "235T"))
    assert {"ten", "wrong_way"} in [set(pair) for pair in answer.inseparable]


def test_where_there_is_hardly_any_variation_the_norths_are_not_told_apart() -> None:
    answer = course_of(heading_for(92.0, -1.0, "092T"))
    assert answer.best == "read_right"
    assert ("read_right", "true_magnetic") in answer.inseparable
    assert "true_magnetic" not in codes(course_of(heading_for(92.0, -0.2, "092T")))


def test_several_legs_tell_a_habit_from_a_slip() -> None:
    alone = course_of(heading_for(247.0, 10.0, "237T"))
    three = course_of(
        heading_for(247.0, 10.0, "237T"),
        heading_for(102.0, 10.0, "092T"),
        heading_for(318.0, 10.0, "308T"),
    )
    assert alone.explanations[0].probability < three.explanations[0].probability
    assert (three.best, three.verdict) == ("true_magnetic", FITS)


def test_an_end_meridian_counts_from_two_degrees_on() -> None:
    leg = heading_for(90.0, 0.0, "087T")
    wide = replace(leg, start_true_course_deg=87.0, end_true_course_deg=93.0)
    narrow = replace(leg, start_true_course_deg=88.5, end_true_course_deg=91.5)
    assert "end_meridian" in codes(course_of(wide))
    assert "end_meridian" not in codes(course_of(narrow))


def test_the_text_names_the_end_whose_meridian_it_was() -> None:
    leg = replace(
        heading_for(90.0, 0.0, "093T"),
        start="KRST",
        end="KLSE",
        start_true_course_deg=87.0,
        end_true_course_deg=93.0,
    )
    text = next(e.text for e in course_of(leg).explanations if e.code == "end_meridian")
    assert "KLSE" in text


def test_a_known_wind_correction_makes_the_heading_plain() -> None:
    leg = heading_for(247.0, 0.0, "262T")
    unknown, known = course_of(leg), course_of(replace(leg, wind_correction_angle_deg=15.0))
    assert known.best == "heading"
    assert known.explanations[0].probability > 0.5
    assert unknown.best != "heading" or unknown.explanations[0].probability < 0.9


def test_a_short_leg_is_read_less_surely() -> None:
    short = replace(heading_for(247.0, 0.0, "251T"), distance_nm=4.0)
    long = heading_for(247.0, 0.0, "251T")
    assert course_of(short).explanations[0].probability > 0.85
    assert course_of(long).explanations[0].probability < 0.75


def test_a_student_is_allowed_more() -> None:
    leg = heading_for(247.0, 0.0, "250T")
    right = [
        next(
            e.probability for e in course_of(leg, desk=desk).explanations if e.code == "read_right"
        )
        for desk in (Desk(), Desk(error=STUDENT))
    ]
    assert right[1] > right[0]


def test_nothing_fits_is_said_with_what_to_do() -> None:
    answer = course_of(heading_for(247.0, -8.0, "100T"))
    assert answer.verdict == NOTHING_FITS
    assert "Measure again" in answer.explanations[0].text
    assert answer.next_measurement


def test_an_unusual_course_is_never_said_to_need_nothing() -> None:
    for course in ("250T", "244T"):
        for each in course_of(heading_for(247.0, 0.0, course)).explanations:
            assert "Nothing to do" not in each.text


@pytest.mark.parametrize("course", ["067T", "255T", "239M", "263M", "253T", "257T", "274T", "157T"])
def test_no_text_gives_a_corrected_course_to_fly(course: str) -> None:
    answer = course_of(heading_for(247.0, -8.0, course))
    for each in answer.explanations:
        assert "247°T" not in each.text
        assert "255°M" not in each.text


def test_every_course_that_a_slip_explains_is_named() -> None:
    legs = [
        replace(heading_for(course, 0.0, read), start=name, end="END")
        for name, course, read in (("A", 40.0, "220T"), ("B", 100.0, "280T"), ("C", 150.0, "150T"))
    ]
    text = course_of(*legs).explanations[0].text
    names = {"A to END", "B to END"}
    first, _, rest = text.partition(": ")
    (other,) = names - {first}
    read = {"A to END": "220°T", "B to END": "280°T"}[other]
    assert rest.endswith(f"The same explains {other} ({read}).")
    assert "C to END" not in text
