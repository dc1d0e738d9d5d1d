"""Which mistake explains a distance: each mistake at a size anyone can check with a pencil."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from judged import codes, distance_of, judged, leg

from plotter.chart.distance_families import miles_in_a_minute, slip_families
from plotter.chart.distance_sheet import sheet_of, times_laid
from plotter.chart.measurement import Answer
from plotter.chart.own_plotter import OwnPlotter, Pair
from plotter.chart.priors import DISTANCE
from plotter.chart.readings import STUDENT, Desk, MeasuredLeg, desk_of
from plotter.chart.scales import SECTIONAL, TERMINAL, WORLD
from plotter.chart.weighing import COULD_BE, FITS, NAMED_FROM, NOTHING_FITS

# The unit's definition: 1,852 m and 1,609.344 m. Common practice, FAA-H-8083-25: about 1.15.
STATUTE = 1852.0 / 1609.344


def test_every_code_has_a_weight_and_no_other() -> None:
    assert " ".join(DISTANCE) == (
        "read_right nautical_statute kilometres parallel_minutes other_scale physical_end shrunk "
        "stretched tick lays copy_scaled wrong_end cumulative swapped_digits pair none"
    )


@pytest.mark.parametrize(
    ("lengths_nm", "weight"), [((40.0,), 0.012), ((40.0, 60.0), 0.012), ((40.0, 60.0, 25.0), 0.012)]
)
def test_the_wrong_end_and_another_leg_share_one_weight(
    lengths_nm: tuple[float, ...], weight: float
) -> None:
    sheet = sheet_of([leg(each, f"{each:.1f}") for each in lengths_nm], Desk())
    parts = [each.prior for each in slip_families(sheet) if each.code == "wrong_end"]
    assert sum(parts) == pytest.approx(weight)
    assert len(parts) == min(len(lengths_nm), 2)


def test_where_another_leg_is_as_long_its_share_goes_to_nothing_wrong() -> None:
    """Its reading is the right one, so that it is no explanation of a wrong one."""
    sheet = sheet_of([leg(40.0, "40.0"), leg(40.0, "40.0")], Desk())
    (end,) = [each for each in slip_families(sheet) if each.code == "wrong_end"]
    assert end.prior == pytest.approx(0.006)


def test_a_stretched_plotter_is_ten_times_rarer_than_a_shrunk_one() -> None:
    assert DISTANCE["shrunk"] == pytest.approx(10.0 * DISTANCE["stretched"])


@pytest.mark.parametrize(
    ("distance_nm", "reading", "code"),
    [
        (40.0, "40.0", "read_right"),
        (40.0, "40.4", "read_right"),
        (40.0, "46.0", "nautical_statute"),
        (40.0, "74.1", "kilometres"),
        (40.0, "80.0", "other_scale"),
        (40.0, "20.0", "other_scale"),
        (40.0, "55.5", "parallel_minutes"),
        (40.0, "50.0", "tick"),
        (40.0, "30.0", "tick"),
        (62.4, "26.4", "swapped_digits"),
        (40.0, "13.1", "none"),
        (40.0, "300", "none"),
    ],
)
def test_one_reading_of_one_leg(distance_nm: float, reading: str, code: str) -> None:
    answer = distance_of(leg(distance_nm, reading))
    assert answer.best == code
    assert answer.verdict == (NOTHING_FITS if code == "none" else FITS)


def named(name: str, distance_nm: float, reading: str) -> MeasuredLeg:
    return replace(leg(distance_nm, reading), start=name, end="END")


def test_every_leg_that_a_slip_explains_is_named() -> None:
    wrong = [named("A", 54.0, "62.1"), named("B", 60.0, "69.0"), named("C", 122.3, "140.7")]
    text = distance_of(*wrong).explanations[0].text
    assert text.startswith("C to END: Did you read the statute edge?")
    assert text.endswith("The same explains A to END (62.1) and B to END (69.0).")
    spared = distance_of(wrong[0], named("B", 60.0, "60.0"), wrong[2]).explanations[0].text
    assert spared.endswith("The same explains A to END (62.1).")
    alone = distance_of(wrong[0], named("B", 60.0, "60.0")).explanations[0].text
    assert "The same" not in alone


def test_the_example_of_the_two_edges() -> None:
    first = distance_of(leg(40.0, "46.0")).explanations[0]
    assert first.text == (
        "Did you read the statute edge? It shows 46.0 for 40.0 NM. "
        "Measure again with the nautical edge."
    )


def test_factor_two_between_neighbouring_scales() -> None:
    for chart in (SECTIONAL, TERMINAL, WORLD):
        for factor in (0.5, 2.0):
            read = leg(30.0, f"{30.0 * factor:.1f}")
            assert distance_of(read, desk=Desk(chart)).best == "other_scale"


def test_nobody_is_told_to_obtain_a_chart_that_is_no_longer_published() -> None:
    for each in distance_of(leg(40.0, "80.0")).explanations:
        assert "1:1,000,000" not in each.text


@pytest.mark.parametrize(
    ("unit", "reading"),
    [("sm", "46.0"), ("km", "74.1"), ("mm", "148"), ("in", "5.83")],
)
def test_right_in_any_unit(unit: str, reading: str) -> None:
    assert distance_of(leg(40.0, reading, unit)).best == "read_right"  # type: ignore[arg-type]


def test_nautical_for_statute_is_the_same_slip_the_other_way() -> None:
    answer = distance_of(leg(40.0, "40.0", "sm"))
    assert answer.best == "nautical_statute"
    assert "nautical edge" in answer.explanations[0].text


def test_nautical_miles_for_kilometres() -> None:
    assert distance_of(leg(40.0, "40.0", "km")).best == "kilometres"


def test_a_ruler_shows_a_chart_of_another_scale() -> None:
    answer = distance_of(leg(40.0, "296", "mm"))
    assert answer.best == "other_scale"
    assert "chart of another scale" in answer.explanations[0].text
    assert "nautical_statute" not in codes(answer)


def text_of(answer: Answer, code: str) -> str:
    return next(each.text for each in answer.explanations if each.code == code)


def test_the_sign_parts_a_short_reading_from_a_long_one() -> None:
    short, long = distance_of(leg(60.0, "58.2")), distance_of(leg(60.0, "61.8"))
    assert "shrunk" not in codes(short)
    assert "stretched" not in codes(long)
    assert short.best == "physical_end"
    assert long.best == "shrunk"
    assert "zero mark short of the departure" in text_of(long, "physical_end")


def test_a_short_and_a_long_leg_part_a_constant_from_a_share() -> None:
    constant = distance_of(leg(15.0, "13.4"), leg(70.0, "68.4"))
    share = distance_of(leg(15.0, "15.5"), leg(70.0, "72.6"))
    assert constant.best == "physical_end"
    assert share.best == "shrunk"
    assert constant.explanations[0].grade == share.explanations[0].grade == FITS


def test_a_leg_laid_twice_loses_the_constant_twice() -> None:
    # 150 NM at 1:500,000 are 556 mm: two lays of 300 mm.
    assert times_laid(150.0 * 3.704) == 2
    answer = distance_of(leg(20.0, "18.4"), leg(150.0, "146.8"))
    assert answer.best == "lays"
    assert "2 times" in answer.explanations[0].text


def test_no_leg_is_laid_twice_that_a_plotter_spans() -> None:
    assert "lays" not in codes(distance_of(leg(40.0, "38.4")))


def test_a_tick_is_miscounted_on_one_leg_and_not_on_the_others() -> None:
    answer = distance_of(
        leg(40.0, "40.1", names="A-B"),
        leg(55.0, "65.1", names="B-C"),
        leg(30.0, "30.0", names="C-D"),
    )
    assert answer.best == "tick"
    assert answer.explanations[0].text.startswith("B to C: ")


def test_the_sum_for_the_leg() -> None:
    answer = distance_of(
        leg(20.0, "20.1", names="A-B"),
        leg(30.0, "50.2", names="B-C"),
        leg(25.0, "74.8", names="C-D"),
    )
    assert answer.best == "cumulative"


def test_no_sum_where_the_legs_do_not_join() -> None:
    answer = distance_of(leg(20.0, "20.1", names="A-B"), leg(30.0, "50.2", names="X-C"))
    assert "cumulative" not in codes(answer)


def test_the_reading_of_another_leg() -> None:
    answer = distance_of(leg(22.0, "57.3", names="A-B"), leg(57.0, "57.1", names="B-C"))
    assert answer.best == "wrong_end"
    assert "B to C shows" in answer.explanations[0].text


def test_a_wrong_edge_on_one_of_several_legs() -> None:
    answer = distance_of(leg(40.0, "40.1"), leg(55.0, "63.3"), leg(30.0, "30.0"))
    assert answer.best == "nautical_statute"


def test_a_copy_fitted_to_the_page_with_a_short_and_a_long_leg() -> None:
    answer = distance_of(leg(20.0, "18.8"), leg(75.0, "70.5"))
    assert answer.best == "copy_scaled"
    assert "94 %" in answer.explanations[0].text


def test_two_slips_at_once_need_two_readings_to_be_seen() -> None:
    # The statute edge, from the end of the plotter: 1.151 × the leg less 1.151 × 7 mm.
    lost = 7.0 / 3.704 * STATUTE
    answer = distance_of(
        leg(20.0, f"{20 * STATUTE - lost:.1f}"), leg(75.0, f"{75 * STATUTE - lost:.1f}")
    )
    assert answer.best == "pair"
    text = answer.explanations[0].text
    assert "the other edge of miles" in text
    # On the leg where it shows best, 75 NM: 86.3 less some 2.2.
    assert "Both together make 84.2 of 75.0 NM" in text
    assert "First measure with the nautical edge; then measure again" in text


def test_minutes_along_the_parallel_by_an_independent_sum() -> None:
    # WGS 84: a = 6,378,137 m, e² = 0.00669437999; the parallel's radius a cos φ / √(1 − e² sin² φ)
    for latitude in (0.0, 30.0, 60.0):
        sine = math.sin(math.radians(latitude))
        radius = (
            6378137.0 * math.cos(math.radians(latitude)) / math.sqrt(1 - 0.00669437999 * sine**2)
        )
        wanted = radius * math.pi / 10800.0 / 1852.0
        assert miles_in_a_minute(latitude) == pytest.approx(wanted, rel=1e-9)


def test_near_30_degrees_minutes_of_the_parallel_look_like_statute_miles() -> None:
    answer = distance_of(leg(60.0, "69.0", latitude_deg=29.7))
    assert ("nautical_statute", "parallel_minutes") in answer.inseparable


def test_nothing_is_declared_inseparable_without_being_named() -> None:
    for reading in ("38.4", "40.9", "45.0", "52.0"):
        answer = distance_of(leg(40.0, reading))
        named = {each.code for each in answer.explanations}
        assert {code for pair in answer.inseparable for code in pair} <= named - {"none"}


def test_a_small_shrink_on_a_short_leg_does_not_show() -> None:
    assert distance_of(leg(10.0, "10.2")).best == "read_right"


def test_a_student_is_allowed_more() -> None:
    careful, student = (
        distance_of(leg(40.0, "40.8"), desk=Desk(error=e)) for e in (Desk().error, STUDENT)
    )
    chance = [each.explanations for each in (careful, student)]
    right = [
        next((e.probability for e in answer if e.code == "read_right"), 0.0) for answer in chance
    ]
    assert right[1] > right[0] + 0.2


def test_rounding_to_the_mile_is_allowed_for() -> None:
    whole, tenth = distance_of(leg(40.2, "41")), distance_of(leg(40.2, "41.0"))
    right = [
        next((each.probability for each in answer.explanations if each.code == "read_right"), 0.0)
        for answer in (whole, tenth)
    ]
    assert right[0] > right[1]


@pytest.mark.parametrize(("edge", "more"), [("sm", True), ("nm", False)])
def test_the_edge_that_was_named_counts(edge: str, more: bool) -> None:
    plain = distance_of(leg(40.0, "45.4"))
    told = distance_of(leg(40.0, "45.4"), desk=desk_of(edge=edge))
    chance = [
        next((e.probability for e in answer.explanations if e.code == "nautical_statute"), 0.0)
        for answer in (plain, told)
    ]
    assert (chance[1] > chance[0]) is more


def test_a_known_plotter_is_read_as_it_reads() -> None:
    own = OwnPlotter(SECTIONAL, "nm", (Pair(10, 10.2), Pair(80, 81.6)))
    long = leg(70.0, "71.4")
    assert distance_of(long).best != "read_right"
    assert distance_of(long, desk=desk_of(own=own)).best == "own_plotter"
    assert distance_of(leg(70.0, "70.0"), desk=desk_of(own=own)).best == "physical_end"


def test_odds_are_chances_and_none_is_always_there() -> None:
    for reading in ("40.0", "46.0", "13.1", "38.4"):
        answer = distance_of(leg(40.0, reading))
        chances = [each.probability for each in answer.explanations]
        assert chances == sorted(chances, reverse=True)
        assert 0.9 < sum(chances) <= 1.0 + 1e-9
        assert codes(answer).count("none") == 1
        assert all(e.probability >= NAMED_FROM or e.code == "none" for e in answer.explanations)
        assert {e.grade for e in answer.explanations} <= {FITS, COULD_BE, NOTHING_FITS}


def test_a_text_asks_and_says_what_to_do() -> None:
    asked = set()
    for reading in ("46.0", "74.1", "80.0", "55.5", "50.0", "38.4", "41.6", "45.0", "04.0"):
        for each in distance_of(leg(40.0, reading)).explanations:
            if each.code not in ("none", "read_right"):
                asked.add(each.code)
                assert "?" in each.text
                assert each.text.endswith(".")
    assert len(asked) > 8


@pytest.mark.parametrize(
    ("reading", "words"),
    [
        ("400", "point in the right place"),
        ("4.0", "point in the right place"),
        ("148.2", "enter mm as its unit"),
    ],
)
def test_a_reading_that_is_absurd_or_in_another_unit_gets_a_hint(reading: str, words: str) -> None:
    none = next(e for e in distance_of(leg(40.0, reading)).explanations if e.code == "none")
    assert words in none.text


def test_ten_times_fits_nothing() -> None:
    assert distance_of(leg(40.0, "400")).verdict == NOTHING_FITS


def test_a_reading_beyond_the_reading_error_is_never_read_right() -> None:
    for reading in ("38.4", "41.0", "40.8"):
        answer = distance_of(leg(40.0, reading))
        assert answer.outside == 1
        assert "read_right" not in codes(answer)
        assert answer.heading.startswith("does not agree")


def test_a_shrunk_plotter_reads_longer_than_by_what_it_lost() -> None:
    # 88 % of its length left: 1 / 0.88 = 1.136.
    answer = distance_of(leg(20.0, "22.73"), leg(44.0, "50.0"), leg(70.0, "79.55"))
    assert answer.best == "shrunk"
    said = text_of(answer, "shrunk")
    lost, long = (float(each) / 100.0 for each in re.findall(r"([\d.]+) %", said))
    assert long == pytest.approx(lost / (1.0 - lost), abs=0.001)
    assert long == pytest.approx(0.136, abs=0.002)
    short = distance_of(leg(44.0, "42.3"), leg(70.0, "67.3"))
    said = text_of(short, "stretched")
    gained, less = (float(each) / 100.0 for each in re.findall(r"([\d.]+) %", said))
    assert less == pytest.approx(gained / (1.0 + gained), abs=0.001)


def test_a_figure_and_its_leg_belong_together_whatever_the_chart_draws() -> None:
    # 54.0 NM are 62.1 SM; a chart that draws them 53.91 NM long shows 62.0.
    drawn = replace(leg(53.98, "62.1"), drawn_nm=53.91)
    assert "It shows 62.1 for 54.0 NM." in distance_of(drawn).explanations[0].text
    far = replace(leg(300.0, "344.6"), drawn_nm=299.5)
    text = text_of(distance_of(far), "nautical_statute")
    assert "It shows 344.7 for 300.0 NM (299.5 NM as drawn on this chart)." in text


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        (("40.1", "60.1", "25.1"), "agrees"),
        (("46.1", "60.1", "25.1"), "1 of 3 legs does not agree; likely"),
        (("46.1", "69.1", "25.1"), "2 of 3 legs do not agree; likely"),
        (("46.1", "69.1", "28.8"), "none of the 3 legs agrees; likely"),
        (("13.1", "95.1", "77.7"), "none of the 3 legs agrees; nothing fits: measure again"),
    ],
)
def test_the_heading_counts_the_legs_that_do_not_agree(
    readings: tuple[str, ...], words: str
) -> None:
    legs = [leg(nm, text) for nm, text in zip((40.0, 60.0, 25.0), readings, strict=True)]
    assert distance_of(*legs).heading == words


def test_each_leg_may_agree_and_all_of_them_together_not() -> None:
    answer = distance_of(*(leg(nm, f"{nm * 1.01:.1f}") for nm in (40.0, 52.0, 61.0, 70.0)))
    assert answer.heading.startswith("every leg by itself agrees, all of them together do not;")


def test_residuals_are_millimetres_of_paper() -> None:
    found = judged(leg(40.0, "41.0"), leg(20.0, "72", "mm"))
    assert found.residual_mm == pytest.approx((3.704, 72.0 - 74.08))
