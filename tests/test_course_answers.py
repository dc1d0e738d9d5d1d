"""Which mistake explains a course: each at a size anyone can check with a pencil."""

from __future__ import annotations

from dataclasses import replace

import pytest
from judged import codes, course_of, heading_for

from plotter.chart.measurement import Answer, Explanation
from plotter.chart.priors import COURSE
from plotter.chart.readings import STUDENT, Desk, MeasuredLeg
from plotter.chart.weighing import FITS, NOTHING_FITS
from plotter.errors import InputError


def test_every_code_has_a_weight_and_no_other() -> None:
    assert " ".join(COURSE) == (
        "read_right reciprocal wrong_way ten hundred swapped_digits other_scale_90 border "
        "meridian true_magnetic variation_sign variation_twice heading end_meridian none"
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
            (e.probability for e in course_of(leg, desk=d).explanations if e.code == "read_right"),
            0.0,
        )
        for d in (Desk(), Desk(error=STUDENT))
    ]
    assert right[0] == 0.0
    assert right[1] > 0.5


def test_nothing_fits_is_said_with_what_to_do() -> None:
    answer = course_of(heading_for(247.0, -8.0, "100T"))
    assert answer.verdict == NOTHING_FITS
    assert "Measure again" in answer.explanations[0].text
    assert answer.next_measurement


def test_a_course_beyond_the_reading_error_is_never_read_right() -> None:
    for course in ("250T", "244T"):
        answer = course_of(heading_for(247.0, 0.0, course))
        assert answer.outside == 1
        assert "read_right" not in codes(answer)
        assert answer.heading.startswith("does not agree")


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


CONE = 0.588  # between 32 and 40° N, near the sine of 36°


def at_longitude(leg: MeasuredLeg, longitude_deg: float) -> MeasuredLeg:
    return replace(leg, longitude_deg=longitude_deg, cone_constant=CONE)


def explained(answer: Answer, code: str) -> Explanation:
    return next(each for each in answer.explanations if each.code == code)


def test_the_border_for_the_meridian_with_the_figure_of_a_named_chart() -> None:
    """4° east of the middle the meridian leans 2.35° west: the border reads 2.35° less."""
    legs = [
        at_longitude(heading_for(247.0, 0.0, "244.5T"), -89.0),
        at_longitude(heading_for(102.0, 0.0, "099.5T"), -89.0),
        at_longitude(heading_for(318.0, 0.0, "316.5T"), -90.5),
    ]
    answer = course_of(*legs, desk=Desk(chart_middle_deg=-93.0))
    assert answer.best == "border"
    text = answer.explanations[0].text
    assert "On a chart whose middle is 93°W that makes" in text
    assert "245°T of this leg" in text or "100°T of this leg" in text
    # On the other side of the middle it reads more: those readings fit no such border.
    other = [replace(each, longitude_deg=-97.0) for each in legs[:2]]
    assert course_of(*other, desk=Desk(chart_middle_deg=-93.0)).best != "border"


def test_without_the_chart_the_border_is_asked_about_with_its_range() -> None:
    legs = [
        at_longitude(heading_for(true, 0.0, f"{true - 2.5:.1f}T"), -89.0)
        for true in (247.0, 102.0, 318.0)
    ]
    answer = course_of(*legs)
    text = explained(answer, "border").text
    assert "this leg then reads up to 2.4° off" in text
    assert "a chart whose middle is near 92." in text or "near 93" in text


def test_in_the_middle_of_the_sheet_the_border_is_the_meridian() -> None:
    leg = at_longitude(heading_for(247.0, 0.0, "244T"), -93.0)
    assert "border" not in codes(course_of(leg, desk=Desk(chart_middle_deg=-93.0)))


def test_a_sheet_turns_the_other_way_south_of_the_equator() -> None:
    legs = [
        replace(
            heading_for(true, 0.0, f"{true + 2.4:.1f}T"), longitude_deg=24.0, cone_constant=-CONE
        )
        for true in (247.0, 102.0, 318.0)
    ]
    assert course_of(*legs, desk=Desk(chart_middle_deg=20.0)).best == "border"


def test_legs_on_both_sides_of_180_lie_on_one_sheet() -> None:
    legs = [
        at_longitude(heading_for(247.0, 0.0, "244.6T"), -178.0),
        at_longitude(heading_for(102.0, 0.0, "099.6T"), -178.0),
        at_longitude(heading_for(318.0, 0.0, "315.6T"), -178.0),
    ]
    assert course_of(*legs, desk=Desk(chart_middle_deg=178.0)).best == "border"


def test_the_middle_of_a_chart_is_a_longitude() -> None:
    with pytest.raises(InputError, match="from -180 to 180"):
        Desk(chart_middle_deg=200.0)
