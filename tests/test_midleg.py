"""The closed form for the middle of a geodesic against the independent Python implementation."""

from __future__ import annotations

import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from line_tables import apart_deg, rows

from plotter.earth.lines import mid_courses


@pytest.mark.parametrize("category", ["short", "leg", "long", "antimeridian", "east-west"])
def test_against_the_table(category: str) -> None:
    chosen = [row for row in rows("geodesics") if row.category == category]
    ours = mid_courses(
        np.array([row.start.latitude_deg for row in chosen]),
        np.array([row.courses_deg[0] for row in chosen]),
        np.array([row.end.latitude_deg for row in chosen]),
        np.array([row.courses_deg[2] for row in chosen]),
    )
    for row, course in zip(chosen, ours, strict=True):
        assert 0.0 <= course < 360.0
        assert apart_deg(float(course), row.courses_deg[1]) < 1e-10


@pytest.mark.parametrize(("length_m", "course"), [(1e6, 33.0), (1.2e7, 211.0), (1.99e7, 61.0)])
def test_against_a_direct_solution(length_m: float, course: float) -> None:
    half, whole = (
        Geodesic.WGS84.Direct(-35.0, 20.0, course, length_m * part) for part in (0.5, 1.0)
    )
    ours = mid_courses(*(np.array([x]) for x in (-35.0, course, whole["lat2"], whole["azi2"])))
    assert math.remainder(ours[0] - half["azi2"], 360.0) == pytest.approx(0.0, abs=1e-11)


def test_on_the_equator_it_does_not_divide_by_nothing() -> None:
    ours = mid_courses(*(np.array([x, x]) for x in (0.0,)), *([np.array([90.0, -90.0])]),
                       np.zeros(2), np.array([90.0, -90.0]))  # fmt: skip
    assert ours.tolist() == [90.0, 270.0]
