"""The layers of the map: which there are, which the pilot asked for besides, their switches."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from plotter.maps.tiles import Tiles
from plotter.places.own_layers import OwnShape
from plotter.route.cautions import Caution


@dataclass(frozen=True, slots=True)
class MapLayers:
    """What is drawn on the map besides what always is."""

    isogonic: bool = False
    tiles: Tiles | None = None
    own: tuple[OwnShape, ...] = ()
    damaged: tuple[str, ...] = ()

    @property
    def damaged_caution(self) -> Caution | None:
        """What the pilot is told of own layers that are damaged and missing from the map."""
        if not self.damaged:
            return None
        several = len(self.damaged) > 1
        return Caution(
            "CHECK",
            "own-layer-damaged",
            f"Your own layer{'s' if several else ''} {', '.join(self.damaged)} "
            f"{'are' if several else 'is'} damaged and not drawn. Add the file again "
            "('plotter data add') or remove the layer ('plotter data drop').",
            where="map",
        )


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
