"""A plotter against the printed ruler: pairs as typed, fit, judgement."""

from __future__ import annotations

import math

import numpy as np
import pytest

from plotter.chart.own_plotter import (
    PAGE_ERROR,
    READING_ERROR_MM,
    Edge,
    Fit,
    OwnPlotter,
    Pair,
    mile_mm,
    read_pairs,
)
from plotter.chart.own_plotter_verdict import disagreement, notes_of, verdict_of
from plotter.chart.scales import SECTIONAL, TERMINAL, WORLD, ChartScale
from plotter.errors import InputError


def plotter_of(text: str, scale: ChartScale = SECTIONAL, edge: Edge = "nm") -> OwnPlotter:
    return OwnPlotter(scale, edge, read_pairs(text, edge))


def fit_of(text: str, scale: ChartScale = SECTIONAL) -> Fit:
    fit = plotter_of(text, scale).fit
    assert fit is not None
    return fit


@pytest.mark.parametrize(
    "text",
    [
        "ruler 50 = plotter 50.6, ruler 100 = plotter 101.3",
        "50=50.6;100=101.3",
        "plotter 50.6 = ruler 50, 100 = plotter 101.3",
        " RULER 50 nm = Plotter 50.6 NM ,, ruler 100. = 101.3 ",
        "plotter 50.6=50\n;ruler100=plotter101.3",
    ],
)
def test_pairs_as_they_may_be_typed(text: str) -> None:
    assert read_pairs(text) == (Pair(50, 50.6, 1), Pair(100, 101.3, 1))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "enter pairs as in 'ruler 50 = plotter 50.6, ruler 100 = plotter 101.3'"),
        (",;", "no pair given"),
        ("soon", "this is not a pair"),
        ("50", "a figure has no partner"),
        ("50 = 50,6", "decimals with a point"),
        ("50 = 50.6 = 3", "this is not a pair"),
        ("ruler 50 = ruler 50.6", "both sides are named ruler; enter one ruler and one plotter"),
        ("rod 50 = plotter 50", "'rod' is neither ruler nor plotter"),
        ("50 sm = 50", "'sm' is not the unit of this edge; pairs are in NM"),
        ("50 km = 50", "'km' is not the unit"),
        ("-50 = 50", "-50 is not a valid ruler reading; enter 0 or more"),
        ("50 = -0.5", "-0.5 is not a valid plotter reading; enter 0 or more"),
        ("50 = nan", "this is not a pair"),
        ("9" * 400 + " = 1", "inf is not a valid ruler reading; enter 0 or more"),
        ("1=1," * 3000, "the text is longer than 10,000 characters"),
    ],
)
def test_what_is_no_pair_is_answered_with_what_to_type(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        read_pairs(text)
    assert caught.value.code in ("pair", "unit")


def test_the_caret_stands_under_the_wrong_pair() -> None:
    with pytest.raises(InputError) as caught:
        read_pairs("10 = 10.1, fifty = 50, 60 = 60")
    where = caught.value.where
    assert where is not None
    assert where.text[where.start : where.end] == "fifty = 50"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("50 = 506", "did you mean 50.6"),
        ("50 = 5.06", "did you mean 50.6"),
        ("50 = 0", "read the pair again"),
        ("0 = 65", "read the pair again"),
        ("200 = 200", "741 mm, longer than a plotter"),
    ],
)
def test_an_absurd_reading_is_refused(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        plotter_of(text)


def test_an_offset_near_zero_is_not_absurd() -> None:
    assert fit_of("2=0, 40=38.0, 65=63.1").offset_mm < 0


@pytest.mark.parametrize("error_mm", [0.0, -1.0, math.nan, 50.0])
def test_a_reading_error_that_is_none(error_mm: float) -> None:
    with pytest.raises(InputError, match=r"mm is out of range; enter 0\.05 to 5"):
        OwnPlotter(SECTIONAL, "nm", (Pair(1, 1),), error_mm)


def test_an_edge_or_a_number_of_pairs_that_is_none() -> None:
    with pytest.raises(InputError, match="nm or sm"):
        OwnPlotter(SECTIONAL, "km", (Pair(1, 1),))  # type: ignore[arg-type]
    with pytest.raises(InputError, match="0 pairs given; enter 1 to 200"):
        OwnPlotter(SECTIONAL, "nm", ())


def test_the_fit_is_that_of_an_independent_implementation() -> None:
    """numpy's polyfit with weights; its unscaled covariance takes the errors as given."""
    mine = plotter_of("10=10.2, 25=25, 40=40.6, 55=55.45, 70=70.9")
    unit = mine.mile_mm
    x, y = (np.array([getattr(p, s) * unit for p in mine.pairs]) for s in ("ruler", "plotter"))
    sd = np.array([math.hypot(READING_ERROR_MM, p.rounding * unit) for p in mine.pairs])
    (slope, offset), covariance = np.polyfit(x, y, 1, w=1 / sd, cov="unscaled")
    fit = mine.fit
    assert fit is not None
    assert fit.factor == pytest.approx(slope, rel=1e-12)
    assert fit.offset_mm == pytest.approx(offset, abs=1e-9)
    assert fit.offset_sd_mm == pytest.approx(math.sqrt(covariance[1, 1]), rel=1e-9)
    assert fit.covariance_mm == pytest.approx(covariance[0, 1], rel=1e-9)
    paper_only = math.sqrt(fit.factor_sd**2 - (PAGE_ERROR * fit.factor) ** 2)
    assert paper_only == pytest.approx(math.sqrt(covariance[0, 0]), rel=1e-9)
    assert fit.chi_squared == pytest.approx(float((((y - offset - slope * x) / sd) ** 2).sum()))
    assert fit.degrees_of_freedom == 3


def test_rounding_is_that_of_the_digits_typed() -> None:
    coarse, fine = (fit_of(f"10=10{d}, 60=60{d}").factor_sd for d in ("", ".0"))
    assert coarse > 1.5 * fine
    assert Pair(1, 1, 0).rounding == pytest.approx(0.288675, abs=1e-6)  # 1 over the root of 12


def test_two_pairs_leave_no_degree_of_freedom_and_nothing_over() -> None:
    fit = fit_of("ruler 50 = plotter 50.6, ruler 100 = plotter 101.3")
    assert fit.degrees_of_freedom == 0
    assert fit.left_over_mm == pytest.approx((0.0, 0.0), abs=1e-9)
    assert disagreement(fit) == 0.0
    assert fit.factor == pytest.approx(50.7 / 50)
    assert fit.offset_mm == pytest.approx(-0.1 * 3.704)


def test_a_statute_edge_is_measured_in_its_own_miles() -> None:
    assert mile_mm(SECTIONAL, "sm") == pytest.approx(3.218688)  # 1,609.344 m over 500,000
    fit = plotter_of("10=9, 60=59", edge="sm").fit
    assert fit is not None
    assert fit.offset_mm == pytest.approx(-3.218688)


GOOD = "10=10.0, 20=20.1, 30=30.0, 40=40.1, 50=49.9, 60=60.1, 70=70.0"


@pytest.mark.parametrize(
    ("text", "code", "words"),
    [
        (GOOD, "trust", "Trust it on this edge"),
        ("50=50.6, 100=101.3", "replace", "1.4%"),
        ("10=10.4, 30=31.4, 50=52.3, 70=73.2", "replace", "shrunken"),
        ("10=9.5, 30=28.6, 50=47.5, 70=66.5", "replace", "rare"),
        ("10=8.6, 30=28.5, 65=63.6", "zero", "the end of the plotter"),
        ("10=11.4, 30=31.5, 65=66.4", "zero", "a mark other than zero"),
        ("10=8.9, 30=29.9, 50=50.9, 70=71.9", "replace", "Every reading is short by"),
        ("0=0, 65=65.1", "again", "do not settle it"),
        ("50=50.6", "again", "cannot part an offset from a factor"),
        ("50=50.6, 50=50.5", "again", "Pairs at one mark"),
        ("50=50.1", "again", "nothing beyond the reading error"),
        ("0=0.4", "again", "say nothing of the scale"),
        ("10=10.1, 30=34, 60=60.1", "again", "do not lie on one line"),
        ("10=11.5, 60=69.1", "again", "statute edge"),
        ("10=8.7, 60=52.1", "again", "nautical edge"),
        ("10=5.0, 60=30.0", "again", "another chart's scale"),
        ("10=20.0, 60=120.0", "again", "another chart's scale"),
    ],
)
def test_what_the_pairs_say(text: str, code: str, words: str) -> None:
    verdict = verdict_of(plotter_of(text))
    assert verdict.code == code
    assert words in verdict.text


@pytest.mark.parametrize(
    ("text", "holds"),
    [(GOOD, True), ("0=0, 65=65.1", True), ("50=50.6", False), ("10=11.5, 60=69.1", False)],
)
def test_a_fit_that_says_nothing_of_the_plotter_does_not_hold(text: str, holds: bool) -> None:
    assert verdict_of(plotter_of(text)).fit_holds is holds


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("10 = 10, 65 = 30", "63.6% (± 1.6%) short"),
        ("10 = 10, 40 = 48, 65 = 79.7", "26.7% (± 1.3%) long"),
    ],
)
def test_more_than_plastic_does_is_not_called_a_plotter(text: str, words: str) -> None:
    # An inch and a half on a foot is the most a plotter is taken to shrink: 12 in read 13.7.
    found = verdict_of(plotter_of(text))
    assert (found.code, found.fit_holds) == ("again", False)
    assert words in found.text
    assert "Read every mark again" in found.text
    assert verdict_of(plotter_of("10 = 11.2, 40 = 44.8, 65 = 72.8")).code == "replace"


def test_one_mark_names_both_things_it_could_be() -> None:
    text = verdict_of(plotter_of("50=50.6")).text
    assert "0.6 NM long at 50" in text
    assert "a zero laid 0.6 NM off" in text
    assert "shrunk by 1.2%" in text


def test_what_to_read_next_depends_on_what_was_read() -> None:
    assert "such as 10 and 65 NM" in verdict_of(plotter_of("50=50.6")).next_measurement
    assert "5 and 32 NM" in verdict_of(plotter_of("20=20.1", TERMINAL)).next_measurement
    assert "seven or so" in verdict_of(plotter_of("0=0, 65=65.1")).next_measurement


def test_no_corrected_figure_is_offered_to_fly() -> None:
    text = verdict_of(plotter_of("10=10.4, 30=31.4, 50=52.3, 70=73.2")).text
    assert "No reading from it should be flown, corrected or not." in text


def test_a_mark_that_no_printed_ruler_has_is_asked_about() -> None:
    (note,) = notes_of(plotter_of("50=50.6, 100=101.3"))
    assert "370 mm" in note
    assert not notes_of(plotter_of("50=50.6, 100=101.3", WORLD))


@pytest.mark.parametrize(
    ("freedom", "chi_squared", "deviation"),
    [
        # Critical values of chi-square, as NIST/SEMATECH e-Handbook 1.3.6.7.4 tabulates them: the
        # upper 1 % (2.326 standard deviations of a normal) and the upper 5 % (1.645).
        (1, 6.635, 2.326),
        (2, 9.210, 2.326),
        (5, 15.086, 2.326),
        (10, 23.209, 2.326),
        (5, 11.070, 1.645),
        (10, 18.307, 1.645),
    ],
)
def test_how_unlikely_the_left_over_is(freedom: int, chi_squared: float, deviation: float) -> None:
    fit = Fit(0.0, 1.0, 1.0, 0.01, 0.0, (0.0,) * (freedom + 2), chi_squared)
    assert disagreement(fit) == pytest.approx(deviation, abs=0.04)
