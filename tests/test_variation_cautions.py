"""Where one variation a leg hides how much it changes along it."""

from __future__ import annotations

import datetime as dt

import pytest
from routes import route_through

from plotter.earth.position import Position
from plotter.route.checks import variation_cautions
from plotter.route.measuring import FlightMagnetism

MODEL = FlightMagnetism(dt.date(2026, 7, 4), 0.0, False)


@pytest.mark.parametrize(
    ("start", "end", "told"),
    [
        (Position(42.36, -71.0), Position(47.45, -122.3), 1),
        (Position(44.0, -93.0), Position(44.0, -92.0), 0),
        (Position(44.0, -93.0), Position(47.0, -93.0), 0),
    ],
    ids=["across-a-continent", "short", "along-an-isogonic-line"],
)
def test_a_long_leg_across_isogonic_lines_is_noted(
    start: Position, end: Position, told: int
) -> None:
    found = variation_cautions(route_through([start, end]), MODEL)
    assert [caution.code for caution in found] == ["variation-changes"] * told
    assert all("W to " in caution.text for caution in found)


class AcrossTheTurn(FlightMagnetism):
    """Variation 179.5°E at the west end of a leg and 179.5°W at its east end."""

    def degrees_east(self, where: Position) -> float:
        return 179.5 if where.longitude_deg < 0.0 else -179.5


def test_a_variation_that_passes_180_changes_by_the_short_way_round() -> None:
    """Near the magnetic poles 179.5°E and 179.5°W are one degree apart."""
    model = AcrossTheTurn(dt.date(2026, 7, 4), 0.0, True)
    leg = route_through([Position(84.0, -10.0), Position(84.0, 10.0)])
    assert variation_cautions(leg, model) == []
