"""Visual cruising altitudes against the rules as they are written."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import published

from plotter.earth.angles import magnetic_from_true
from plotter.flight.rules import CEILINGS_FT, VisualRules, cruising_rule, rule_applies

ROWS = published("cruising_altitudes")
COURSES = [
    row
    for row in ROWS.values()
    if "magnetic_course_deg" in row["inputs"] and "altitudes_ft_msl_such_as" in row["expected"]
]
BOTH: list[VisualRules] = ["US", "ICAO"]


@pytest.mark.parametrize("row", COURSES, ids=lambda row: row["id"])
def test_published_altitudes(row: dict[str, Any]) -> None:
    rule = cruising_rule("US", float(row["inputs"]["magnetic_course_deg"]))
    for altitude in row["expected"]["altitudes_ft_msl_such_as"]:
        assert rule.fits(altitude)
        assert not rule.fits(altitude + 1000.0)
        assert not rule.fits(altitude + 500.0)
    assert rule.source == row["source"].removesuffix("(a)")


def test_published_wording() -> None:
    text = ROWS["cfr-91.159"]["expected"]
    assert "odd thousand foot MSL altitude +500 feet" in text["a1"]
    assert cruising_rule("US", 90.0).words.startswith("odd thousands plus 500 ft")
    assert "even thousand foot MSL altitude +500 feet" in text["a2"]
    assert cruising_rule("US", 270.0).words.startswith("even thousands plus 500 ft")
    assert "more than 3,000 feet above the surface" in text["text_intro"]
    assert cruising_rule("US", 270.0).words.endswith("if more than 3,000 ft above the surface")
    assert "below 18,000 feet MSL" in text["a_intro"]
    assert CEILINGS_FT["US"] == 18_000.0


def test_published_course_not_heading_magnetic_not_true() -> None:
    row = ROWS["vfr-alt-magnetic-not-true"]
    given, expected = row["inputs"], row["expected"]
    course = magnetic_from_true(given["true_course_deg"], given["variation_deg"])
    assert course == expected["magnetic_course_deg"]
    rule = cruising_rule("US", course)
    assert all(rule.fits(altitude) for altitude in expected["altitudes_ft"])
    assert not rule.fits(expected["not_altitude"])


def test_published_only_above_3000_ft() -> None:
    row = ROWS["vfr-alt-below-3000agl"]
    height, applies = row["inputs"]["height_agl_ft"], row["expected"]["rule_applies"]
    assert rule_applies("US", 900.0 + height, 900.0) == applies


@pytest.mark.parametrize(
    ("band", "course"),
    [("t000_179", 0.0), ("t000_179", 179.0), ("t180_359", 180.0), ("t180_359", 359.0)],
)
def test_published_annex_2(band: str, course: float) -> None:
    table = ROWS["icao-annex2-app3"]["expected"]
    assert table["basis"] == "magnetic track"
    rule = cruising_rule("ICAO", course)
    assert all(rule.fits(level * 100.0) for level in table[band]["vfr"])
    assert not any(rule.fits(level * 100.0) for level in table[band]["ifr"])
    other = "t180_359" if band == "t000_179" else "t000_179"
    assert not any(rule.fits(level * 100.0) for level in table[other]["vfr"])
    assert rule.nearest_ft(0.0) == (table[band]["vfr"][0] * 100.0,)


def test_every_published_row_is_tried() -> None:
    assert set(ROWS) == {row["id"] for row in COURSES} | {
        *("cfr-91.159", "vfr-alt-magnetic-not-true", "vfr-alt-below-3000agl", "icao-annex2-app3")
    }


@pytest.mark.parametrize(
    ("course", "whole", "odd"),
    # The gaps of the rule: it is read for the course rounded to a whole degree, as it is printed.
    [
        (179.0, 179, True),
        (179.4, 179, True),
        (179.6, 180, False),
        (180.0, 180, False),
        (180.4, 180, False),
        (359.0, 359, False),
        (359.4, 359, False),
        (359.6, 360, True),
        (360.0, 360, True),
        (0.0, 360, True),
        (0.4, 360, True),
        (-0.4, 360, True),
    ],
)
def test_the_gaps(course: float, whole: int, odd: bool) -> None:
    rule = cruising_rule("US", course)
    assert (rule.whole_course_deg, rule.odd) == (whole, odd)


@pytest.mark.parametrize(
    ("rules", "course", "altitude", "nearest"),
    [
        ("US", 90.0, 6500.0, (5500.0, 7500.0)),
        ("US", 90.0, 5500.0, (5500.0,)),
        ("US", 90.0, 5499.6, (5500.0,)),
        ("US", 270.0, 5500.0, (4500.0, 6500.0)),
        ("US", 270.0, 3000.0, (4500.0,)),
        ("US", 90.0, 17_900.0, (17_500.0,)),
        ("US", 270.0, 30_000.0, (16_500.0,)),
        ("ICAO", 90.0, 18_000.0, (17_500.0, 19_500.0)),
        ("ICAO", 270.0, 19_500.0, (18_500.0,)),
    ],
)
def test_nearest(
    rules: VisualRules, course: float, altitude: float, nearest: tuple[float, ...]
) -> None:
    assert cruising_rule(rules, course).nearest_ft(altitude) == nearest


@pytest.mark.parametrize("rules", BOTH)
def test_where_it_applies(rules: VisualRules) -> None:
    assert rule_applies(rules, 5000.0, 2000.0) is False
    assert rule_applies(rules, 5001.0, 2000.0) is True
    assert rule_applies(rules, 5001.0, None) is None
    assert rule_applies(rules, CEILINGS_FT[rules], 0.0) is False
    assert rule_applies(rules, CEILINGS_FT[rules], None) is False


@given(
    st.sampled_from(BOTH),
    st.floats(min_value=0.0, max_value=360.0),
    st.floats(min_value=0.0, max_value=25_000.0),
)
def test_what_is_suggested_fits_and_is_near(
    rules: VisualRules, course: float, altitude: float
) -> None:
    rule = cruising_rule(rules, course)
    nearest = rule.nearest_ft(altitude)
    assert nearest
    for suggestion in nearest:
        assert rule.fits(suggestion)
        assert 3500.0 <= suggestion < CEILINGS_FT[rules]
    if 4500.0 <= altitude < 16_000.0:
        assert min(abs(suggestion - altitude) for suggestion in nearest) <= 1000.0
