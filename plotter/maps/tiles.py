"""Online tiles under the route, where the pilot asks for them: an address and who must be named.

Without them the page of the map asks the network for nothing. With them its policy admits pictures
from this one server, nothing else, and the offline map stays below wherever a tile does not come.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from plotter.errors import InputError
from plotter.messages import Message, message
from plotter.places.model import OwnShape
from plotter.route.values import Caution

LOOPBACK = ("localhost", "127.0.0.1", "[::1]")
LONGEST = 500
_SLOTS = ("{z}", "{x}", "{y}")
_ADDRESS = re.compile(
    r"(?P<origin>(?P<scheme>[a-z]+)://(?P<server>(?P<host>[a-z0-9-]+(?:\.[a-z0-9-]+)*|\[::1\])"
    r"(?::\d{1,5})?))/"
)
EXAMPLE = "https://tiles.example/{z}/{x}/{y}.png"


@dataclass(frozen=True, slots=True)
class Tiles:
    """The address of tiles, with {z}, {x} and {y} for zoom and place, and their attribution.

    Raises InputError, code ``tiles`` or ``tiles-attribution``.

    >>> Tiles("https://tiles.example/{z}/{x}/{y}.png", "Example tiles").origin
    'https://tiles.example'
    """

    url: str
    attribution: str

    def __post_init__(self) -> None:
        _check(self.url)
        if not self.attribution.strip() or len(self.attribution) > LONGEST:
            raise InputError("tiles-attribution")

    def _part(self, name: str) -> str:
        found = _ADDRESS.match(self.url)
        return found[name] if found else ""

    @property
    def origin(self) -> str:
        """Scheme, host and port: what a Content-Security-Policy names the server by."""
        return self._part("origin")

    @property
    def caution(self) -> Caution:
        """The caution about a page that asks the network."""
        said = message("online-tiles", server=self._part("server"))
        return Caution("CHECK", said, where="map")


def _check(url: str) -> None:
    problem = _problem(url)
    if problem:
        raise InputError("tiles", url=url[:80], problem=problem, example=EXAMPLE)


def _problem(url: str) -> Message | None:
    """Return what is wrong with an address, or ``None``."""
    if len(url) > LONGEST:
        return message("tiles.long", most=LONGEST)
    if not url.isascii() or not url.isprintable() or set(url) & set(" \"'<>\\;,`"):
        return message("tiles.characters")
    slots = sorted(re.findall("{[^{}]*}", url))
    if slots != sorted(_SLOTS) or url.count("{") + url.count("}") != 2 * len(_SLOTS):
        return message("tiles.slots")
    found = _ADDRESS.match(url)
    if not found:
        return message("tiles.server")
    if found["scheme"] != "https" and not (found["scheme"] == "http" and found["host"] in LOOPBACK):
        return message("tiles.scheme")
    return None


# The layers of the map: which there are, which the pilot asked for besides, their switches.


@dataclass(frozen=True, slots=True)
class MapLayers:
    """What is drawn on the map besides what always is."""

    isogonic: bool = False
    tiles: Tiles | None = None
    own: tuple[OwnShape, ...] = ()
    damaged: tuple[str, ...] = ()

    @property
    def damaged_caution(self) -> Caution | None:
        """The caution about own layers that are damaged and missing from the map."""
        if not self.damaged:
            return None
        said = message("own-layer-damaged", layers=self.damaged, count=len(self.damaged))
        return Caution("CHECK", said, where="map")


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
