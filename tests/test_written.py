"""A route written out as item 15 asks, DCT where it belongs."""

from __future__ import annotations

import pytest
from routes import waypoint

from plotter.earth.position import Position
from plotter.route.route import Waypoint
from plotter.route.written import written_route


def coded(ident: str, kind: str = "airport") -> Waypoint:
    return Waypoint(ident, ident, kind, Position(44.0, -92.0), ident)


BARN = waypoint(Position(46.9996, -78.9996), "BARN")
MILL = waypoint(Position(-0.5, 179.25), "MILL")


@pytest.mark.parametrize(
    ("points", "text"),
    [
        # Doc 4444, item 15 (c): DCT unless both points are given as positions.
        ([coded("KRST"), coded("KDLH")], "KRST DCT KDLH"),
        (
            [coded("KRST"), BARN, MILL, coded("ODI", "navaid")],
            "KRST DCT 4700N07900W 0030S17915E DCT ODI",
        ),
        ([BARN, MILL], "4700N07900W 0030S17915E"),
        ([coded("US-0001"), coded("KDLH")], "4400N09200W DCT KDLH"),
    ],
)
def test_written_routes(points: list[Waypoint], text: str) -> None:
    assert written_route(points) == text


def test_a_point_by_bearing_is_written_as_the_position_it_is() -> None:
    point = Waypoint("DUB180040", "DUB180040", "bearing-distance", Position(52.5, -6.5), "DUB")
    assert written_route([coded("EIDW"), point]) == "EIDW DCT 5230N00630W"
