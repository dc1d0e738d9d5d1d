"""Lengths and speeds against their published definitions."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plotter.earth import units

ROWS = json.loads((Path(__file__).parent / "published" / "units.json").read_text(encoding="utf-8"))
OURS = {
    "nm_m": units.metres_from_nm(1.0),
    "statute_mile_m": units.METRES_PER_SM,
    "foot_m": units.metres_from_feet(1.0),
    "knot_m_s": units.metres_from_nm(1.0) / 3600.0,
    "nm_ft": units.feet_from_metres(units.metres_from_nm(1.0)),
    "nm_per_sm": units.sm_from_nm(1.0),
}
LENGTHS = st.floats(min_value=-1e9, max_value=1e9)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_published_definition(row: dict[str, object]) -> None:
    assert OURS[str(row["inputs"])] == pytest.approx(row["expected"], rel=1e-15)


def test_every_definition_is_tried() -> None:
    assert {row["inputs"] for row in ROWS} == set(OURS)


def test_statute_miles_of_a_hundred_nautical_miles() -> None:
    assert units.sm_from_nm(100.0) == pytest.approx(115.07794480235, rel=1e-12)


@given(LENGTHS)
def test_there_and_back(length: float) -> None:
    close = pytest.approx(length, rel=1e-14, abs=1e-300)
    assert units.nm_from_metres(units.metres_from_nm(length)) == close
    assert units.feet_from_metres(units.metres_from_feet(length)) == close
