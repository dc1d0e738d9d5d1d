"""Speed and level groups against the examples of ICAO Doc 4444, appendix 2, item 15."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.route.reading.item15 import CruiseGroup, read_cruise_group

# (group, knots, mach, kind of level, level): item 15 (a), (b), (c) of the document's text.
PUBLISHED = [
    ("N0284A045", 284.0, None, "altitude_ft", 4500.0),
    ("N0305F330", 305.0, None, "flight_level", 330.0),
    ("M082F330", None, 0.82, "flight_level", 330.0),
    ("N0350M0840", 350.0, None, "altitude_m", 8400.0),
    ("N0485S1130", 485.0, None, "metric_level_m", 11300.0),
    ("N0120A100", 120.0, None, "altitude_ft", 10000.0),
    ("N0120F085", 120.0, None, "flight_level", 85.0),
    ("N0120VFR", 120.0, None, "vfr", None),
]


@pytest.mark.parametrize(("text", "knots", "mach", "kind", "level"), PUBLISHED)
def test_published_groups(
    text: str, knots: float | None, mach: float | None, kind: str, level: float | None
) -> None:
    group = read_cruise_group(text)
    assert group is not None
    assert (group.true_airspeed_kt, group.mach) == (knots, mach)
    assert (group.level_kind, group.level) == (kind, level)


def test_kilometres_an_hour_become_knots() -> None:
    group = read_cruise_group("K0830F085")
    assert group is not None
    assert group.true_airspeed_kt == pytest.approx(830 / 1.852)


@pytest.mark.parametrize("rules", ["VFR", "IFR", "vfr"])
def test_a_change_of_flight_rules_is_read(rules: str) -> None:
    assert read_cruise_group(rules) == CruiseGroup(
        rules.upper(), None, None, "vfr" if rules.upper() == "VFR" else "ifr", None
    )


@pytest.mark.parametrize(
    "text", ["", "KRST", "N0105", "A055", "N105A055", "N0105A55", "M82F330", "N0105A0555", "DCT"]
)
def test_what_is_no_group_is_left_alone(text: str) -> None:
    assert read_cruise_group(text) is None


@given(st.text(max_size=12))
def test_any_text_is_a_group_or_none(text: str) -> None:
    group = read_cruise_group(text)
    assert group is None or group.text == text.upper()
