"""Laws of typed coordinates: what is written is read again, and nothing else escapes."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from plotter.earth.coordinates import (
    decimal_text,
    doc4444,
    looks_like_coordinate,
    parse_coordinate,
)
from plotter.earth.position import Position
from plotter.errors import PositionError

POSITIONS = st.builds(
    Position,
    st.floats(min_value=-90.0, max_value=90.0),
    st.floats(min_value=-180.0, max_value=180.0),
)
ROUNDING = 1e-12


def same(text: str, position: Position, resolution_deg: float) -> None:
    """Read again it is the position, as finely as the notation can say it."""
    ours = parse_coordinate(text).position
    within = resolution_deg / 2 + ROUNDING
    assert abs(ours.latitude_deg - position.latitude_deg) <= within, text
    assert abs(ours.longitude_deg - position.longitude_deg) <= within, text
    assert looks_like_coordinate(text)


def figures(angle: float, units: tuple[int, ...], places: int) -> list[tuple[int, int, str]]:
    """An angle cut into degrees, minutes, seconds with carry, and decimals of the last."""
    scale = math.prod(units) * 10**places
    rest = round(abs(angle) * scale)
    whole, fraction = divmod(rest, 10**places)
    parts: list[int] = []
    for unit in reversed(units):
        whole, part = divmod(whole, unit)
        parts.insert(0, part)
    parts.insert(0, whole)
    decimals = f".{fraction:0{places}d}" if places else ""
    return [(part, i, decimals if i == len(parts) - 1 else "") for i, part in enumerate(parts)]


def packed(angle: float, width: int, units: tuple[int, ...], places: int) -> str:
    return "".join(
        f"{part:0{width if i == 0 else 2}d}{decimals}"
        for part, i, decimals in figures(angle, units, places)
    )


@given(POSITIONS)
@example(Position(46.9996, -78.9996))
@example(Position(-90.0, 180.0))
def test_doc_4444(position: Position) -> None:
    same(doc4444(position), position, 1 / 60)


@given(POSITIONS, st.integers(min_value=0, max_value=12))
def test_decimal_degrees(position: Position, places: int) -> None:
    same(decimal_text(position, places), position, 10.0**-places)


@given(POSITIONS, st.sampled_from([(), (60,), (60, 60)]), st.integers(min_value=0, max_value=6))
def test_iso_6709(position: Position, units: tuple[int, ...], places: int) -> None:
    text = (
        f"{'-' if position.latitude_deg < 0 else '+'}"
        f"{packed(position.latitude_deg, 2, units, places)}"
        f"{'-' if position.longitude_deg < 0 else '+'}"
        f"{packed(position.longitude_deg, 3, units, places)}"
    )
    resolution = 1 / math.prod(units) / 10**places
    for tail in ("", "/", "+12.5CRSWGS_84/"):
        same(text + tail, position, resolution)


@given(POSITIONS)
def test_seconds_without_a_space(position: Position) -> None:
    north = packed(position.latitude_deg, 2, (60, 60), 0)
    east = packed(position.longitude_deg, 3, (60, 60), 0)
    same(
        f"{north}{'NS'[position.latitude_deg < 0]}{east}{'EW'[position.longitude_deg < 0]}",
        position,
        1 / 3600,
    )


STYLES = st.tuples(
    st.sampled_from(["°'\"", "°′″", "   ", "---", ":::", "º’”"]),
    st.booleans(),
    st.sampled_from([" ", ", ", ","]),
)


@given(
    POSITIONS,
    st.sampled_from([(60,), (60, 60)]),
    st.integers(min_value=0, max_value=5),
    STYLES,
)
def test_degrees_minutes_seconds_with_letters(
    position: Position, units: tuple[int, ...], places: int, style: tuple[str, bool, str]
) -> None:
    marks, letter_first, between = style
    halves = []
    for angle, letters in ((position.latitude_deg, "NS"), (position.longitude_deg, "EW")):
        text = "".join(
            f"{part}{decimals}{marks[i]}" for part, i, decimals in figures(angle, units, places)
        )
        text = text if marks[0] in "°º" else text[:-1]
        letter = letters[angle < 0]
        halves.append(letter + text if letter_first else text + letter)
    same(between.join(halves), position, 1 / math.prod(units) / 10**places)


@given(
    st.one_of(
        st.text(max_size=30),
        st.text(alphabet="0123456789.,+-NSEWnsew°'\"′″ :/CRS−e", max_size=30),
    )
)
@example("9" * 5000 + ",1")
@example("\x00,\ud800")
@example("+" + "1" * 5000 + "-075/")
@example(" 47.5,-93")
def test_any_text_is_a_position_or_a_position_error(text: str) -> None:
    try:
        ours = parse_coordinate(text)
    except PositionError as error:
        assert error.message
        assert error.code.startswith("coordinate")
        assert error.where is not None
        assert 0 <= error.where.start <= error.where.end <= len(text)
        assert error.where.text == text
    else:
        assert looks_like_coordinate(text)
        assert abs(ours.position.latitude_deg) <= 90.0


@given(
    st.lists(st.from_regex(r"[0-9]{0,3}", fullmatch=True), min_size=3, max_size=5),
    st.sampled_from(["", " 8.5", ",8.5", "N 8.5E", "-8.5"]),
)
@example(["47", "5", "8"], "")
@example(["48", "3367", "60"], "")
def test_numbers_of_a_position_need_a_separator(parts: list[str], behind: str) -> None:
    """Two points among figures: which of them is the decimal point cannot be known."""
    with pytest.raises(PositionError) as caught:
        parse_coordinate(".".join(parts) + behind)
    assert caught.value.where is not None
