"""One group of the winds and temperatures aloft, against published examples."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import published

from plotter.errors import InputError
from plotter.flight.air.forecast_text import FASTEST_KT, SIGNLESS_ABOVE_FT, read_group
from plotter.flight.wind import CALM, Wind

ROWS = published("winds_aloft")
GROUPS = [row for row in ROWS.values() if "group" in row["inputs"]]


@pytest.mark.parametrize("row", GROUPS, ids=lambda row: row["id"])
def test_published_group(row: dict[str, Any]) -> None:
    given, expected = row["inputs"], row["expected"]
    group = read_group(given["group"], given["level_ft"])
    assert group.light_and_variable == expected.get("light_and_variable", False)
    assert group.or_more == expected.get("at_least", False)
    assert group.temperature_c == expected.get("temp")
    if not group.light_and_variable:
        assert group.wind == Wind(expected["dir"], expected["kt"])


def test_published_rules() -> None:
    rules = ROWS["fb-rules"]["expected"]
    assert rules["speed_gt_99"] == "direction + 50 (tens), speed - 100"
    assert read_group("8601", 9000).wind == Wind(360.0, 101.0)
    assert rules["sign"] == "minus omitted above 24,000 ft, all negative"
    assert read_group("241250", 30000).temperature_c == -50.0
    assert rules["code_99"].startswith("199 kt or more")
    assert read_group("5199", 9000).or_more


def test_every_published_row_is_tried() -> None:
    assert set(ROWS) == {row["id"] for row in GROUPS} | {"fb-rules"}


@given(
    st.integers(min_value=1, max_value=36),
    st.integers(min_value=0, max_value=199),
    st.integers(min_value=-60, max_value=40),
)
def test_what_is_coded_by_the_rule_is_read_back(tens: int, speed: int, temperature: int) -> None:
    fast = speed > 99
    wind = f"{tens + 50 * fast:02d}{speed - 100 * fast:02d}"
    low = read_group(f"{wind}{temperature:+03d}", 12_000)
    assert low.wind == Wind(tens * 10.0, float(speed))
    assert low.temperature_c == temperature
    high = read_group(f"{wind}{abs(temperature):02d}", 30_000)
    assert high.wind == low.wind
    assert high.temperature_c == -abs(temperature)
    assert low.or_more == (speed == FASTEST_KT)


def test_no_zero_is_negative() -> None:
    for text, altitude in (("2410-00", 9000), ("241000", 30_000)):
        assert str(read_group(text, altitude).temperature_c) == "0.0"


def test_light_and_variable_is_calm() -> None:
    group = read_group("990012", 30_000)
    assert (group.wind, group.temperature_c, group.light_and_variable) == (CALM, -12.0, True)


def test_a_sign_above_24000_is_read_as_it_stands() -> None:
    assert read_group("2746-50", 30_000).temperature_c == -50.0


@pytest.mark.parametrize(
    "text", ["", "243", "2435+", "2435+0", "24350", "2435+071", "24X5+07", "٢٤٣٥"]
)
def test_a_group_cut_off_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="is not a whole group") as caught:
        read_group(text, 9000)
    assert caught.value.code == "winds-aloft"


@pytest.mark.parametrize("direction", ["00", "37", "50", "87", "98", "99"])
def test_a_direction_the_code_does_not_know_is_refused(direction: str) -> None:
    with pytest.raises(InputError, match=f"has the direction {direction}; it runs from 01 to 36"):
        read_group(f"{direction}10+05", 9000)


def test_a_bare_temperature_low_down_is_refused() -> None:
    with pytest.raises(InputError, match="without a sign at 24,000 ft"):
        read_group("274650", SIGNLESS_ABOVE_FT)
