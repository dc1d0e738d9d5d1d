"""Isogonic lines in the browser: drawn where the model says, told apart, switched off and on."""

from __future__ import annotations

import re
from itertools import product
from typing import Any

import plots
import pytest

from plotter.earth.magnetism import variation
from plotter.earth.position import Position
from plotter.maps.tiles import MapLayers
from plotter.route.plotting import Plot

pytestmark = pytest.mark.browser

ASKED = MapLayers(isogonic=True)
ROUTES = {
    "short": plots.short(),
    "across-180": plots.plot_of(
        [plots.at_point("A", -20.0, 170.0), plots.at_point("B", 10.0, -170.0)], every_nm=200.0
    ),
    "75-north": plots.far_north(),
    "thousand-legs": plots.many(1000),
}
# Where the middle of each label stands: latitude and longitude.
LABELS = """() => {
  const frame = theMap.getContainer().getBoundingClientRect();
  const { clientLeft, clientTop } = theMap.getContainer();
  return [...document.querySelectorAll("#map_route .w-isogonic")].map((node) => {
    const { left, right, top, bottom } = node.getBoundingClientRect();
    const { lat, lng } = theMap.containerPointToLatLng([
      (left + right) / 2 - frame.left - clientLeft, (top + bottom) / 2 - frame.top - clientTop]);
    return [node.textContent, lat, lng];
  });
}"""


@pytest.fixture(params=ROUTES)
def seen(request: pytest.FixtureRequest, open_map: Any) -> tuple[Plot, Any]:
    plot = ROUTES[request.param]
    return plot, open_map(plot, layers=ASKED, width=1440)


def test_each_label_stands_where_variation_is_what_it_says(seen: tuple[Plot, Any]) -> None:
    plot, opened = seen
    labels = opened.ask(LABELS)
    assert labels
    for text, latitude, longitude in labels:
        degrees, letter = re.fullmatch(r"(\d+)°([EW]?)", text).groups()
        said = int(degrees) * (-1 if letter == "W" else 1)
        place = Position(latitude, (longitude + 180.0) % 360.0 - 180.0)
        found = variation(place, plot.date, plot.altitude_ft).degrees_east
        # Two pixels of the screen: the box of a turned word is no finer.
        a, b = (opened.ask("(x) => theMap.containerPointToLatLng([x, 200]).lng", x) for x in (0, 2))
        along = Position(latitude, (longitude + (b - a) + 180.0) % 360.0 - 180.0)
        north, south = (opened.ask("(y) => theMap.containerPointToLatLng([200, y]).lat", y)
                        for y in (300, 302))  # fmt: skip
        up = Position(latitude + north - south, place.longitude_deg)
        slack = sum(
            abs(variation(at, plot.date, plot.altitude_ft).degrees_east - found)
            for at in (along, up)
        )
        assert found == pytest.approx(said, abs=0.05 + slack)


def test_nothing_complains_and_nothing_is_asked_for(seen: tuple[Plot, Any]) -> None:
    opened = seen[1]
    opened.ask("void theMap.panBy([200, 100], { animate: false })")
    opened.ask("void theMap.setZoom(theMap.getZoom() - 2, { animate: false })")
    assert opened.complaints == []
    assert len(opened.requests) == 1


def test_the_layer_is_switched_off_and_on(open_map: Any) -> None:
    opened = open_map(plots.short(), layers=ASKED)
    drawn = opened.page.locator("#map_route path.isogonic, #map_route .w-isogonic")
    before = drawn.count()
    assert before > 1
    opened.page.locator("#layers input[value=isogonic]").click()
    assert drawn.count() == 0
    opened.page.locator("#layers input[value=isogonic]").click()
    assert drawn.count() == before


def test_without_the_option_there_is_neither_line_nor_switch_nor_key(open_map: Any) -> None:
    opened = open_map(plots.short())
    assert opened.page.locator("#map_route path.isogonic").count() == 0
    assert opened.page.locator("#layers input[value=isogonic]").count() == 0
    assert "isogonic" not in opened.page.locator(".key").inner_text()


def test_the_key_names_model_date_and_height(open_map: Any) -> None:
    opened = open_map(plots.short(), layers=ASKED)
    said = opened.page.locator(".key").inner_text()
    assert "isogonic line: variation every degree, WMM2025 of 2026-06-01 at 4,500 ft" in said


def test_it_is_told_from_course_and_graticule_by_more_than_colour(open_map: Any) -> None:
    opened = open_map(plots.mountain(), layers=ASKED)
    look = opened.ask(
        """() => [".isogonic", ".ink-0", ".ink-1", ".ink-2", ".graticule"].map((name) => {
          const drawn = getComputedStyle(document.querySelector("#map_route path" + name));
          return [parseFloat(drawn.strokeWidth), drawn.strokeDasharray];
        })"""
    )
    line, *courses, graticule = look
    for width, dashes in courses:
        assert line[0] <= 0.6 * width
        assert line[1] != dashes
    assert graticule[1] == "none"
    assert line[1] != "none"


def test_no_label_lies_on_another_word(open_map: Any) -> None:
    opened = open_map(plots.far_north(), layers=ASKED, width=768)
    degrees = opened.boxes("#map_route .w-isogonic")
    others = opened.boxes("#map_route .w-point, #map_route .w-checkpoint, #map_route .w-course")
    assert degrees
    for one, other in product(degrees, others):
        apart = (
            one["right"] - 2 <= other["left"]
            or other["right"] - 2 <= one["left"]
            or one["bottom"] - 4 <= other["top"]
            or other["bottom"] - 4 <= one["top"]
        )
        assert apart, (one, other)
