"""The live map: layers by name, latitude and longitude the right way round, names inert."""

from __future__ import annotations

import json
from typing import Any

import base_cells
import folium
import plots
import pytest

from plotter.maps.base import basemap_for
from plotter.maps.folium_map import folium_map
from plotter.maps.isogonic import isogonics
from plotter.maps.web_map import view_of
from plotter.route.plotting import Plot

HOSTILE = "${alert(1)}`</script><img src=x onerror=alert(2)>"


def layers(made: folium.Map) -> dict[str, Any]:
    """The GeoJSON of each layer by the name it has in the control."""
    children = made._children.values()
    return {each.layer_name: each.data for each in children if isinstance(each, folium.GeoJson)}


def live(plot: Plot, **more: Any) -> folium.Map:
    return folium_map(plot, basemap_for(base_cells.prairie(), plot.route), **more)


def test_every_layer_has_a_name_in_the_control() -> None:
    plot = plots.short()
    found = layers(live(plot, isogonic=isogonics(plot, view_of(plot))))
    assert {"land", "airports", "legs", "checkpoints", "turning points"} <= found.keys()
    assert len(found["legs"]["features"]) == len(plot.route.legs)
    assert len(found["checkpoints"]["features"]) == len(plot.checkpoints)
    assert len(found["turning points"]["features"]) == len(plot.route.waypoints)
    assert any(isinstance(each, folium.LayerControl) for each in live(plot)._children.values())


def test_longitude_comes_first_and_the_map_shows_the_route() -> None:
    plot = plots.short()
    made = live(plot)
    first = layers(made)["turning points"]["features"][0]["geometry"]["coordinates"]
    start = plot.route.waypoints[0].position
    assert first == pytest.approx([start.longitude_deg, start.latitude_deg], abs=1e-5)
    (south, west), (north, east) = made.get_bounds()
    for point in plot.route.waypoints:
        assert south - 0.1 <= point.position.latitude_deg <= north + 0.1
        assert west - 0.1 <= point.position.longitude_deg <= east + 0.1


def test_across_180_the_route_goes_on_instead_of_round_the_world() -> None:
    plot = plots.across_180()
    for leg in layers(live(plot))["legs"]["features"]:
        longitudes = [east for east, _ in leg["geometry"]["coordinates"]]
        assert max(longitudes) - min(longitudes) < 180


def test_a_hostile_name_stays_text() -> None:
    made = live(plots.named(HOSTILE, "XDMB"))
    names = [each["properties"]["name"] for each in layers(made)["turning points"]["features"]]
    assert any("alert" in name for name in names)
    assert all("<" not in name for name in names)
    page = made.get_root().render()
    assert "<img src=x" not in page
    assert "`${alert" not in page


def test_people_add_layers_of_their_own() -> None:
    made = live(plots.short())
    folium.CircleMarker([44.0, -92.5], tooltip="mine").add_to(made)
    assert "mine" in made.get_root().render()


def test_no_tiles_are_asked_for_unless_wanted() -> None:
    assert "tile_layer" not in live(plots.short()).get_root().render()
    assert "tile_layer" in live(plots.short(), tiles="OpenStreetMap").get_root().render()


def test_the_layers_are_plain_json() -> None:
    for data in layers(live(plots.short())).values():
        json.dumps(data, allow_nan=False)
