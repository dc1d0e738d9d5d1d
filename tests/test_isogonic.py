"""Isogonic lines: where they are by the magnetic model asked point by point, and where they end.

The lines come from the array evaluation (numpy) and contourpy; the checks ask pygeomag, one
position at a time, and look for crossings by bisection along parallels and meridians.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterator
from itertools import pairwise

import plots
import pytest

from plotter.earth.magnetism import BLACKOUT_BELOW_NT, decimal_year, field_at
from plotter.earth.position import Position
from plotter.earth.units import metres_from_feet
from plotter.maps import isogonic
from plotter.maps.drawing import drawn_legs, route_bounds
from plotter.maps.isogonic import (
    FAR_TOLERANCE_DEG,
    TOLERANCE_DEG,
    IsogonicLine,
    Isogonics,
    isogonics,
    label,
)
from plotter.maps.packing import decoded
from plotter.maps.view import View, mercator, unmercator, view_round
from plotter.route.plotting import Plot


def over(a: tuple[float, float], b: tuple[float, float]) -> Plot:
    return plots.plot_of([plots.at_point("A", *a), plots.at_point("B", *b)], every_nm=500.0)


ROUTES = {
    "short": plots.short(),
    "mountain": plots.mountain(),
    "across-180": plots.across_180(),
    "75-north": plots.far_north(),
    "arctic-islands": over((76.0, -110.0), (79.0, -80.0)),
    "magnetic-south-pole": over((-60.0, 130.0), (-68.0, 140.0)),
    "up-to-85": over((84.0, 10.0), (88.0, 100.0)),
    "beyond-85": over((87.0, 10.0), (88.0, 60.0)),
    "half-the-world": over((51.0, 0.0), (-33.0, 151.0)),
}


def view_of(plot: Plot) -> View:
    return view_round(route_bounds(drawn_legs(plot.route)))


MADE = {name: isogonics(plot, view_of(plot)) for name, plot in ROUTES.items()}
many = pytest.mark.parametrize("name", ROUTES)


def field(plot: Plot, latitude: float, longitude: float) -> tuple[float, float]:
    place = Position(latitude, (longitude + 180.0) % 360.0 - 180.0)
    height_km = metres_from_feet(plot.altitude_ft) / 1000.0
    return field_at(place, height_km, decimal_year(plot.date))


def off(degrees: float, level: float) -> float:
    return abs((degrees - level + 180.0) % 360.0 - 180.0)


def along(line: IsogonicLine, most: int = 20) -> Iterator[tuple[float, float]]:
    """Points of a line as it is drawn: straight on the map between its own points."""
    step = max(1, len(line.points) // most)
    for (south, west), (north, east) in list(pairwise(line.points))[::step]:
        for share in (0.0, 0.4):
            low, high = mercator(south), mercator(north)
            yield unmercator(low + share * (high - low)), west + share * (east - west)


@many
def test_along_a_line_variation_is_what_the_line_says(name: str) -> None:
    made, plot = MADE[name], ROUTES[name]
    assert made.near
    for lines, allowed in ((made.near, TOLERANCE_DEG), (made.far, FAR_TOLERANCE_DEG)):
        for line in lines:
            worst = max(off(field(plot, *at)[0], line.degrees_east) for at in along(line))
            assert worst <= allowed, (line.degrees_east, worst)


@many
def test_no_line_is_drawn_where_a_compass_is_useless(name: str) -> None:
    for line in MADE[name].near:
        weakest = min(field(ROUTES[name], *at)[1] for at in along(line, 8))
        assert weakest >= 0.95 * BLACKOUT_BELOW_NT


def crossings(made: Isogonics, latitude: float) -> list[tuple[int, float]]:
    """Degrees and longitude wherever a line of the view crosses a parallel."""
    found, height = [], mercator(latitude)
    for line in made.near:
        for (south, west), (north, east) in pairwise(line.points):
            low, high = mercator(south), mercator(north)
            if (low - height) * (high - height) < 0:
                share = (height - low) / (high - low)
                found.append((line.degrees_east, west + share * (east - west)))
    return sorted(found, key=lambda crossing: crossing[1])


def by_bisection(plot: Plot, latitude: float, west: float, east: float) -> Iterator[float]:
    """Longitudes where variation passes a whole degree, found without grid or contours."""
    steps = 240
    places = [west + (east - west) * k / steps for k in range(steps + 1)]
    values = [field(plot, latitude, place)[0] for place in places]
    for (low, a), (high, b) in pairwise(zip(places, values, strict=True)):
        if math.floor(a) != math.floor(b) and abs(a - b) < 2.0:
            level = max(math.floor(a), math.floor(b))
            x, y = low, high
            for _ in range(20):
                middle = (x + y) / 2
                if (field(plot, latitude, middle)[0] - level) * (a - level) > 0:
                    x = middle
                else:
                    y = middle
            yield x


@pytest.mark.parametrize("name", ["short", "mountain", "across-180", "75-north"])
def test_every_degree_along_a_parallel_has_its_line_and_no_other(name: str) -> None:
    made, plot = MADE[name], ROUTES[name]
    assert made.step_deg == 1
    box, found = made.box, 0
    for share in (0.02, 0.2, 0.35, 0.5, 0.65, 0.8, 0.97):
        latitude = box.south + share * (box.north - box.south)
        drawn = [place for _, place in crossings(made, latitude)]
        expected = list(by_bisection(plot, latitude, box.west, box.east))
        found += len(expected)
        # A thousandth of the map's width: about a pixel.
        assert drawn == pytest.approx(expected, abs=(box.east - box.west) / 1000)
    assert found


@many
def test_the_lines_of_the_view_fill_it_and_stay_in_it(name: str) -> None:
    made = MADE[name]
    for line in made.near:
        for latitude, longitude in line.points:
            assert made.box.south - 1e-9 <= latitude <= made.box.north + 1e-9
            assert made.box.west - 1e-9 <= longitude <= made.box.east + 1e-9
    view = view_of(ROUTES[name])
    assert made.box.east - made.box.west >= min(360.0, view.east - view.west) - 1e-9


@many
def test_lines_from_afar_end_where_those_of_the_view_begin(name: str) -> None:
    made = MADE[name]
    for line in made.far:
        assert line.degrees_east % isogonic.FAR_STEP_DEG == 0
        for latitude, longitude in line.points:
            assert not (
                made.box.south + 1e-6 < latitude < made.box.north - 1e-6
                and made.box.west + 1e-6 < longitude < made.box.east - 1e-6
            )


def test_at_180_a_line_goes_on_without_a_break() -> None:
    made = MADE["across-180"]
    crossing = [
        line
        for line in made.near
        if min(p[1] for p in line.points) < 180.0 < max(p[1] for p in line.points)
    ]
    assert crossing
    for line in crossing:
        assert max(abs(a[1] - b[1]) for a, b in pairwise(line.points)) < 5.0


def test_every_degree_is_drawn_unless_there_are_too_many() -> None:
    assert {name: made.step_deg for name, made in MADE.items() if made.step_deg > 1}.keys() <= {
        *("magnetic-south-pole", "up-to-85", "beyond-85", "half-the-world")
    }
    for made in MADE.values():
        levels = {line.degrees_east for line in made.near}
        assert len(levels) <= isogonic.MOST_LINES
        assert all(level % made.step_deg == 0 for level in levels)


def test_no_bundle_of_false_lines_where_variation_jumps_from_180_to_minus_180() -> None:
    made = MADE["magnetic-south-pole"]
    ends = [line for line in made.near if line.degrees_east in (0, 90, -90)]
    # Three single lines; a bundle along the jump would add a second copy of each.
    assert sorted(line.degrees_east for line in ends) == [-90, 0, 90]
    assert 180 in {line.degrees_east for line in made.near}
    assert -180 not in {line.degrees_east for line in made.near}


def test_degrees_and_letter() -> None:
    assert [label(d) for d in (-12, -1, 0, 1, 180, -179)] == [
        *("12°W", "1°W", "0°", "1°E", "180°", "179°W")
    ]


def test_it_is_named_with_model_date_and_height() -> None:
    assert MADE["short"].named == "variation every degree, WMM2025 of 2026-06-01 at 4,500 ft"
    assert MADE["half-the-world"].named.startswith("variation every 5°")


def test_what_the_page_gets_reads_back() -> None:
    made = MADE["mountain"]
    packed = made.as_json()
    for line, (words, text) in zip(made.near, packed["near"], strict=True):
        assert words == label(line.degrees_east)
        flat = decoded(text)
        x = y = 0
        for (latitude, longitude), (dx, dy) in zip(
            line.points, zip(flat[::2], flat[1::2], strict=True), strict=True
        ):
            x, y = x + dx, y + dy
            assert (y * packed["unit"], x * packed["unit"]) == pytest.approx(
                (latitude, longitude), abs=0.51 * packed["unit"]
            )


def test_the_same_plot_gives_the_same_lines() -> None:
    def digest(made: Isogonics) -> str:
        return hashlib.sha256(repr(made.as_json()).encode()).hexdigest()

    again = isogonics(ROUTES["short"], view_of(ROUTES["short"]))
    assert digest(again) == digest(MADE["short"])
