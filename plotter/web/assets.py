"""The files of the page, all in memory before the first request: no name leads to the disk."""

from __future__ import annotations

import hashlib
import html
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from plotter import wording
from plotter.maps.page import ENTRY, asset, leaflet_script, map_modules, plain, style
from plotter.maps.palette import style_variables
from plotter.maps.tiles import Tiles
from plotter.maps.web_map import CREDITS

FOLDER = Path(__file__).parent / "assets"
OWN_MODULES = (
    *(
        "ask",
        "base",
        "before",
        "behind",
        "chart",
        "checks",
        "dom",
        "fields",
        "figures",
        "files",
        "flight",
        "forms",
        "hand",
        "invented",
        "kept",
        "legs",
        "links",
        "log",
        "mends",
        "near",
        "plan",
        "planfile",
    ),
    *("route", "rows", "settings", "start", "tables"),
)
MAP_MODULES = tuple(name for name in map_modules() if name not in ("links", ENTRY))
"""The modules of the map in a file that the page imports too."""
_MODULES_FIRST = "\n".join(
    f'<link rel="modulepreload" href="/page/{name}.js">'
    for name in (*OWN_MODULES, *(f"map/{name}" for name in MAP_MODULES))
)
"""All are asked for at once, not each when the one before has named it."""
SCRIPT, STYLE, PAGE = "text/javascript", "text/css", "text/html"


@dataclass(frozen=True, slots=True)
class Asset:
    """One file as it is answered, and the tag by which a browser asks whether it changed."""

    body: bytes
    kind: str
    tag: str

    @classmethod
    def of(cls, text: str, kind: str) -> Asset:
        """An asset of a text."""
        body = text.encode("utf-8")
        return cls(body, f"{kind}; charset=utf-8", f'"{hashlib.sha256(body).hexdigest()[:24]}"')


def assets() -> Mapping[str, Asset]:
    """Every file of the page by its name, the page itself apart."""
    modules = {f"{name}.js": Asset.of(_own(f"{name}.js"), SCRIPT) for name in OWN_MODULES}
    return {
        **modules,
        "guide.css": Asset.of(
            f"{style_variables()}\n{asset('map.css')}\n{_own('guide.css')}", STYLE
        ),
        "page.css": Asset.of(f"{style()}\n{_own('page.css')}", STYLE),
        "leaflet.js": Asset.of(f"/*\n{_licence()}\n*/\n{leaflet_script()}", SCRIPT),
        **{f"map/{name}.js": Asset.of(_map(name), SCRIPT) for name in MAP_MODULES},
    }


def _map(name: str) -> str:
    return plain(asset(f"map/{name}.js"))


def page(token: str, tiles: Tiles | None = None) -> str:
    """The page's own document, with the token of this start."""
    words = {
        "token": token,
        "tiles": tiles.url if tiles else "",
        "tiles_attribution": tiles.attribution if tiles else "",
        "tiles_caution": tiles.caution.text_at("page") if tiles else "",
        "credits": CREDITS,
    }
    standing = "".join(f"<p>{html.escape(line)}</p>" for line in wording.STANDING)
    filled = {name: html.escape(text) for name, text in words.items()}
    filled |= {"modules": _MODULES_FIRST, "standing": standing}
    return re.sub(r"\{\{(\w+)\}\}", lambda found: filled[found[1]], _own("page.html"))


def _own(name: str) -> str:
    return (FOLDER / name).read_text(encoding="utf-8-sig")


def _licence() -> str:
    return asset("leaflet/LICENSE").strip()
