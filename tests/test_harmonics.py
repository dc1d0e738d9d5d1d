"""The array evaluation against the report's ten-decimal example and a dipole done by hand."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pytest

from plotter.earth import magnetism

TABLE_3B = next(
    row
    for row in json.loads(
        (Path(__file__).parent / "published" / "magnetism.json").read_text(encoding="utf-8")
    )
    if row["id"] == "wmm2025-table3b"
)


def test_report_table_3b() -> None:
    given = TABLE_3B["inputs"]
    epoch, rows = magnetism._coefficients()
    terms = magnetism.field_terms(rows, given["year"] - epoch)
    ours = magnetism.horizontal_field(
        terms, np.array([float(given["lat"])]), np.array([float(given["lon"])]), given["alt_km"]
    )
    expected = TABLE_3B["expected"]
    assert math.radians(ours.degrees_east[0]) == pytest.approx(expected["D_rad"], abs=5e-10)
    assert ours.horizontal_nt[0] == pytest.approx(expected["H"], abs=1e-5)


@pytest.mark.parametrize(("lon", "declination"), [(0.0, 0.0), (90.0, -45.0), (-90.0, 45.0)])
def test_a_tilted_dipole_on_the_equator(lon: float, declination: float) -> None:
    """g10 = g11 = -1: the north pole of the dipole lies on 0° E at 45° N."""
    terms = magnetism.field_terms([(1, 0, -1.0, 0.0, 0.0, 0.0), (1, 1, -1.0, 0.0, 0.0, 0.0)], 0.0)
    ours = magnetism.horizontal_field(terms, np.array([0.0]), np.array([lon]), 0.0)
    assert ours.degrees_east[0] == pytest.approx(declination, abs=1e-9)


def test_coefficients_move_with_time() -> None:
    (term,) = magnetism.field_terms([(1, 1, 10.0, -4.0, 0.5, 2.0)], 3.0)
    assert (term.g, term.h) == (11.5, 2.0)


def test_terms_come_by_order_then_degree() -> None:
    rows = [(n, m, 1.0, 1.0, 0.0, 0.0) for n in range(1, 4) for m in range(n + 1)]
    order = [(term.m, term.n) for term in magnetism.field_terms(rows, 0.0)]
    assert order == sorted(order)
