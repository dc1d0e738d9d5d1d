"""What is drawn is where the figures say it is."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import base_cells
import plots
import pytest

from plotter.earth.geodesic import destination, distance_nm
from plotter.earth.position import Position
from plotter.maps import labels
from plotter.route.plotting import Plot

pytestmark = pytest.mark.browser

ALL = [plots.short(), plots.mountain(), plots.across_180(), plots.far_north(), plots.rhumb()]
WHERE = """([latitude, longitude]) => {
  const { x, y } = theMap.latLngToContainerPoint([latitude, longitude]);
  const frame = theMap.getContainer().getBoundingClientRect();
  const { clientLeft, clientTop } = theMap.getContainer();
  return [x + frame.left + clientLeft, y + frame.top + clientTop];
}"""


def middle(box: dict[str, Any]) -> tuple[float, float]:
    return (box["left"] + box["right"]) / 2, (box["top"] + box["bottom"]) / 2


def unrolled(position: Position, near: float) -> list[float]:
    turned = position.longitude_deg + 360 * round((near - position.longitude_deg) / 360)
    return [position.latitude_deg, turned]


@pytest.fixture(scope="module", params=ALL, ids=lambda plot: plot.name)
def seen(request: pytest.FixtureRequest, open_once: Any) -> tuple[Plot, Any]:
    """A plot and its opened map, only looked at."""
    return request.param, open_once(request.param, width=1440, source=base_cells.atoll())


def test_the_whole_route_is_in_the_window_and_in_one_piece(seen: tuple[Plot, Any]) -> None:
    plot, opened = seen
    frame = opened.boxes("#map_route")[0]
    turns = opened.boxes("#map_route circle.turn")
    assert len(turns) == len(plot.route.waypoints)
    for spot in [*turns, *opened.boxes("#map_route .ink.ink-0")]:
        assert frame["left"] <= spot["left"]
        assert spot["right"] <= frame["right"]
        assert frame["top"] <= spot["top"]
        assert spot["bottom"] <= frame["bottom"]


def test_turning_points_and_ticks_stand_where_their_positions_are(seen: tuple[Plot, Any]) -> None:
    plot, opened = seen
    east = opened.ask("theMap.getCenter().lng")
    turns = [middle(box) for box in opened.boxes("#map_route circle.turn")]
    for point, spot in zip(plot.route.waypoints, turns, strict=True):
        assert opened.ask(WHERE, unrolled(point.position, east)) == pytest.approx(spot, abs=0.7)
    ticks = [middle(box) for box in opened.boxes("#map_route path.tick")]
    assert ticks
    expected = [opened.ask(WHERE, unrolled(mark.position, east)) for mark in plot.checkpoints]
    for tick in ticks:
        assert min(math.dist(tick, spot) for spot in expected) < 0.8


def test_leg_labels_are_parallel_upright_and_on_their_side(seen: tuple[Plot, Any]) -> None:
    plot, opened = seen
    east = opened.ask("theMap.getCenter().lng")
    found = opened.ask(
        """() => [...document.querySelectorAll("#map_route .w-course, #map_route .w-distance")].map(
          (node) => {
            const { a, b } = node.getCTM();
            const { left, top, right, bottom } = node.getBoundingClientRect();
            const box = { x: (left + right) / 2, y: (top + bottom) / 2 };
            return { leg: +node.dataset.leg, angle: Math.atan2(b, a) * 180 / Math.PI, ...box,
                     course: node.classList.contains("w-course"), text: node.textContent };
          })"""
    )
    assert found
    for word in found:
        leg = plot.route.legs[word["leg"]]
        assert -90.0 <= word["angle"] <= 90.0
        ends = [
            opened.ask(WHERE, unrolled(destination(leg.middle, leg.true_course_deg, by), east))
            for by in (-leg.distance_nm / 50, leg.distance_nm / 50)
        ]
        line = math.degrees(math.atan2(ends[1][1] - ends[0][1], ends[1][0] - ends[0][0]))
        # Great circles bend on this projection; a label a little off mid-leg turns with its line.
        assert abs((word["angle"] - line + 90.0) % 180.0 - 90.0) < 6.0
        turn = math.radians(word["angle"])
        here = opened.ask(WHERE, unrolled(leg.middle, east))
        # Height over the line: along the label's own "up".
        up = (word["x"] - here[0]) * math.sin(turn) - (word["y"] - here[1]) * math.cos(turn)
        assert (up > 6) if word["course"] else (up < -6)
        part = plot.parts[leg.number - 1]
        said = labels.courses(part) if word["course"] else labels.distances(leg.printed_nm)
        assert word["text"] == said


@pytest.mark.parametrize("latitude", [0.0, 44.0, 75.0])
def test_the_scale_bar_is_true_at_the_middle_of_the_map(latitude: float, open_map: Any) -> None:
    start = Position(latitude, -92.0)
    ends = [destination(start, 270.0, 20.0), destination(start, 90.0, 20.0)]
    plot = plots.plot_of(
        [plots.at_point("A", *_pair(ends[0])), plots.at_point("B", *_pair(ends[1]))]
    )
    opened = open_map(plot)
    bar = opened.ask("({...document.querySelector('.scale-bar svg').dataset})")
    pixels = float(bar["pixels"])
    places = opened.ask(
        """(pixels) => {
          const size = theMap.getSize();
          return [-0.5, 0.5].map((half) => {
            const { lat, lng } = theMap.containerPointToLatLng(
              [size.x / 2 + half * pixels, size.y / 2]);
            return [lat, lng];
          });
        }""",
        pixels,
    )
    measured = distance_nm(Position(*places[0]), Position(*places[1]))
    assert measured == pytest.approx(float(bar["miles"]), rel=0.002)
    drawn = opened.ask(
        """() => {
          const parts = [...document.querySelectorAll(".scale-bar rect")]
            .map((part) => part.getBoundingClientRect());
          return parts[parts.length - 1].right - parts[0].left;
        }"""
    )
    assert drawn == pytest.approx(pixels, abs=1.2)  # the strokes at either end
    assert opened.boxes(".scale-bar text")[2]["text"] == f"{float(bar['miles']):g} NM"


def _pair(position: Position) -> tuple[float, float]:
    return position.latitude_deg, position.longitude_deg


def test_a_great_circle_far_north_bows_towards_the_pole(open_map: Any) -> None:
    plot = plots.far_north()
    opened = open_map(plot)
    ends = opened.boxes("#map_route circle.turn")
    line = opened.boxes("#map_route .ink.ink-0")[0]
    assert min(middle(end)[1] for end in ends) - line["top"] > 60


def test_the_base_is_drawn_where_its_cells_say(open_map: Any) -> None:
    opened = open_map(plots.short())
    lakes = opened.boxes("#map_route .base.lake")
    corners = [opened.ask(WHERE, place) for place in ([44.2, -92.4], [44.1, -92.2])]
    sizes = [
        (box["left"], box["top"], box["right"], box["bottom"]) for box in lakes if box["right"] > 0
    ]
    assert any(size == pytest.approx((*corners[0], *corners[1]), abs=1.5) for size in sizes), (
        sizes,
        corners,
    )


def test_the_edges_of_cells_are_no_coast(open_map: Any) -> None:
    opened = open_map(plots.short())
    # The prairie is land from edge to edge: no coast but that of the world far away.
    frame = opened.boxes("#map_route")[0]
    for coast in opened.boxes("#map_route .base.coast"):
        crosses = coast["left"] < frame["right"] and coast["right"] > frame["left"]
        assert not (crosses and coast["right"] > coast["left"])


def test_beyond_180_the_base_goes_on_where_the_route_does(open_once: Any) -> None:
    opened = open_once(plots.across_180(), source=base_cells.atoll())
    (west, north), (east, south) = (
        opened.ask(WHERE, place) for place in ([-16.3, 180.6], [-16.6, 181.0])
    )
    # The cell east of 180° holds this island and the half of one that lies across it.
    lands = [box for box in opened.boxes("#map_route .base.land") if box["right"] > west]
    assert any(
        box["right"] == pytest.approx(east, abs=1.5)
        and box["bottom"] == pytest.approx(south, abs=1.5)
        for box in lands
    )
    assert north < south


def test_a_lake_cut_by_the_edge_of_a_cell_has_no_shore_along_the_cut(open_once: Any) -> None:
    source = base_cells.atoll()
    for name, west, east in (("-20+175", 179.9, 180.002), ("-20-180", -180.002, -179.9)):
        lake = base_cells.square(-16.6, west, -16.4, east, base_cells.UNITS["fine"])
        source.base["fine", name] = base_cells.cell(name, lake=[lake])
    opened = open_once(plots.across_180(), source=source)
    cut = opened.ask("theMap.latLngToLayerPoint([-16.5, 180]).x")
    paths = opened.ask(
        "[...document.querySelectorAll('#map_route .base.shore')].map((p) => p.getAttribute('d'))"
    )
    strokes = [
        [tuple(map(float, pair.split())) for pair in run.replace("L", " L").split(" L")]
        for path in paths
        for run in path.replace(",", " ").split("M")[1:]
    ]
    assert strokes
    for stroke in strokes:
        for one, other in pairwise(stroke):
            assert not (abs(one[0] - cut) < 1.5 and abs(other[0] - cut) < 1.5)


def test_graticule_lines_carry_their_degrees(open_map: Any) -> None:
    opened = open_map(plots.across_180(), source=base_cells.atoll())
    words = [box["text"] for box in opened.boxes(".collar .w-degrees")]
    assert "180°" in words
    assert any(word.endswith("°E") or word.endswith("′E") for word in words)
    assert any(word.endswith("°W") or word.endswith("′W") for word in words)
    assert any("S" in word for word in words)
    (meridian,) = [box for box in opened.boxes(".collar .w-degrees") if box["text"] == "180°"]
    assert middle(meridian)[0] == pytest.approx(opened.ask(WHERE, [-16.0, 180.0])[0], abs=1.0)
