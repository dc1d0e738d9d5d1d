"""The layers of the map: which there are, which the pilot asked for besides, their switches."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from plotter.maps.tiles import Tiles
from plotter.places.own_layers import OwnShape


@dataclass(frozen=True, slots=True)
class MapLayers:
    """What is drawn on the map besides what always is."""

    isogonic: bool = False
    tiles: Tiles | None = None
    own: tuple[OwnShape, ...] = ()


BARE = MapLayers()
ALWAYS = (
    ("airports", "airports"),
    ("towns", "towns"),
    ("water", "lakes and rivers"),
    ("borders", "borders"),
    ("graticule", "graticule"),
)
"""The switches every map has: the script's name of a layer, and ours for people."""
ISOGONIC = ("isogonic", "isogonic lines")
TILES = ("tiles", "online tiles")
OWN = ("own", "your own layers")


def switches(layers: MapLayers) -> str:
    """The switches of all layers a map has, as HTML."""
    return "\n".join(
        f'<label><input type="checkbox" value="{name}" checked> {words}</label>'
        for name, words in _offered(layers)
    )


def _offered(layers: MapLayers) -> Iterator[tuple[str, str]]:
    yield from ALWAYS
    if layers.isogonic:
        yield ISOGONIC
    if layers.tiles:
        yield TILES
    if layers.own:
        yield OWN
