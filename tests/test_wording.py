"""Figures as they are printed: no finer than known, with unit and reference."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter import wording
from plotter.earth.position import Position


@pytest.mark.parametrize(
    ("angle", "text"),
    [(0.0, "360°T"), (359.5, "360°T"), (359.4, "359°T"), (0.49, "360°T"), (5.0, "005°T")],
)
def test_north_is_360(angle: float, text: str) -> None:
    assert wording.course(angle, "T") == text


@given(st.floats(0, 360, exclude_max=True))
def test_a_course_has_three_digits_from_001_to_360(angle: float) -> None:
    text = wording.course(angle, "M")
    assert re.fullmatch(r"\d{3}°M", text)
    assert 1 <= int(text[:3]) <= 360


@pytest.mark.parametrize(
    ("east", "text"), [(4.4, "4°E"), (-8.0, "8°W"), (0.4, "0°"), (-0.4, "0°"), (-0.6, "1°W")]
)
def test_variation_has_a_letter_never_a_sign(east: float, text: str) -> None:
    assert wording.variation(east) == text


@given(st.floats(-90, 90), st.floats(-180, 180))
def test_a_printed_position_reads_back_within_its_rounding(
    latitude: float, longitude: float
) -> None:
    text = wording.position(Position(latitude, longitude))
    found = re.fullmatch(r"(\d\d)°(\d\d\.\d\d)′([NS]) (\d\d\d)°(\d\d\.\d\d)′([EW])", text)
    assert found, text
    north = (int(found[1]) + float(found[2]) / 60) * (-1 if found[3] == "S" else 1)
    east = (int(found[4]) + float(found[5]) / 60) * (-1 if found[6] == "W" else 1)
    assert float(found[2]) < 60
    assert float(found[5]) < 60
    assert north == pytest.approx(latitude, abs=0.5 / 6000 + 1e-9)
    assert east == pytest.approx(longitude, abs=0.5 / 6000 + 1e-9)


def test_the_standing_words_say_what_is_not_checked() -> None:
    whole = " ".join(wording.STANDING)
    for word in (
        "planning aid",
        "91.103",
        "NOTAMs",
        "airspace",
        "terrain",
        "obstacles",
        "instructor",
    ):
        assert word in whole


def test_heights_and_distances() -> None:
    assert wording.altitude(5500.0) == "5,500 ft"
    assert wording.distance(9.96) == "10.0 NM"


@given(st.floats(0, 1e5))
def test_time_that_is_left_is_never_more_than_there_is(minutes: float) -> None:
    hours, rest = wording.time_left(minutes).split(":")
    printed = int(hours) * 60 + int(rest)
    assert 0 <= int(rest) < 60
    assert minutes - 1.0 < printed <= minutes + 1e-6
