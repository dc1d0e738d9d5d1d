"""Online tiles under the route, where the pilot asks for them: an address and who must be named.

Without them the page of the map asks the network for nothing. With them its policy admits pictures
from this one server, nothing else, and the offline map stays below wherever a tile does not come.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from plotter.errors import InputError
from plotter.messages import literal
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
            raise InputError(
                "say whose the tiles are, as their licence asks: --tiles-attribution "
                '"© the people who made them"',
                code="tiles-attribution",
            )

    def _part(self, name: str) -> str:
        found = _ADDRESS.match(self.url)
        return found[name] if found else ""

    @property
    def origin(self) -> str:
        """Scheme, host and port: what a Content-Security-Policy names the server by."""
        return self._part("origin")

    @property
    def caution(self) -> Caution:
        """What the pilot is told of a page that asks the network."""
        return Caution(
            "CHECK",
            literal(
                "online-tiles",
                f"The map's page asks {self._part('server')} for pictures of the area shown; what "
                "they show is not checked here, and without a network only the offline map is drawn.",
            ),
            where="map",
        )


def _check(url: str) -> None:
    problem = _problem(url)
    if problem:
        raise InputError(
            f"--tiles {url[:80]!r}: {problem}; write it as in --tiles '{EXAMPLE}'", code="tiles"
        )


def _problem(url: str) -> str:
    """What is wrong with an address, empty where nothing is."""
    if len(url) > LONGEST or not url.isascii() or not url.isprintable():
        return "is too long or has letters that no address has"
    if any(letter in url for letter in " \"'<>\\;,`"):
        return "has letters that no address has"
    slots = sorted(re.findall("{[^{}]*}", url))
    if slots != sorted(_SLOTS) or url.count("{") + url.count("}") != 2 * len(_SLOTS):
        return "needs {z}, {x} and {y}, each once, and no other braces"
    found = _ADDRESS.match(url)
    if not found:
        return "has no plain server name"
    if found["scheme"] != "https" and not (found["scheme"] == "http" and found["host"] in LOOPBACK):
        return "must start with https:// (or http:// for this machine itself)"
    return ""


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
        """What the pilot is told of own layers that are damaged and missing from the map."""
        if not self.damaged:
            return None
        several = len(self.damaged) > 1
        return Caution(
            "CHECK",
            literal(
                "own-layer-damaged",
                f"Your own layer{'s' if several else ''} {', '.join(self.damaged)} "
                f"{'are' if several else 'is'} damaged and not drawn. Add the file again "
                "('plotter data add') or remove the layer ('plotter data drop').",
            ),
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
