"""The frame round the map: one HTML document that asks the network for nothing.

Scripts and styles stand in the page and are let through by their hashes alone
(Content Security Policy level 3, W3C), so nothing that is shown can be run.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from plotter.maps.palette import style_variables

ASSETS = Path(__file__).parent / "assets"
SCRIPTS = (
    *("ink", "boxes", "base", "route", "isogonic", "lettering", "collar", "links"),
    *("tiles", "own", "start"),
)


@cache
def asset(name: str) -> str:
    """The text of a file that ships beside this module, with plain line ends."""
    return (ASSETS / name).read_text(encoding="utf-8-sig")


def leaflet_script() -> str:
    """Leaflet, without the pointer to a source map that a browser might go and look for."""
    return re.sub(r"\n//# sourceMappingURL=\S*\s*$", "\n", asset("leaflet/leaflet.js"))


def style(with_log: bool = False) -> str:
    """The page's one style sheet: palette, Leaflet without its pictures, ours, paper's last."""
    leaflet = re.sub(r"[\w-]+:\s*url\([^)]*\);", "", asset("leaflet/leaflet.css"))
    ours = [asset("map.css"), *[asset("log.css")] * with_log, asset("print.css")]
    return "\n".join(("", style_variables(), leaflet, *ours))


def own_script() -> str:
    """Our drawing, called on the page's map; it leaves no name behind."""
    parts = [plain(asset(f"map/{name}.js")) for name in SCRIPTS]
    return "\n".join(('"use strict";\n(() => {', *parts, "})();\n"))


def plain(script: str) -> str:
    """One of our scripts without its indents and whole-line comments.

    >>> plain("// why\\nif (a) {\\n  b();\\n}\\n")
    'if (a) {\\nb();\\n}'
    """
    lines = (line.strip() for line in script.splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//"))


def json_block(value: object) -> str:
    """JSON that can stand in a script element: ASCII, and nothing HTML could take for a tag.

    >>> json_block(["</script>", "\\u2028"])
    '["\\\\u003c/script\\\\u003e","\\\\u2028"]'
    """
    return sealed(json.dumps(value, separators=(",", ":"), allow_nan=False))


def sealed(text: str) -> str:
    """JSON text with the three letters HTML minds written as escapes."""
    for letter in "<>&":
        text = text.replace(letter, f"\\u{ord(letter):04x}")
    return text


def policy(scripts: list[str], styles: list[str], pictures: str = "") -> str:
    """A Content-Security-Policy that runs and styles exactly these texts and loads nothing.

    ``pictures`` is the one server that pictures may come from, if there is one.
    """
    allowed = " ".join(digest(text) for text in scripts)
    styled = " ".join(digest(text) for text in styles)
    return (
        f"default-src 'none'; script-src {allowed}; style-src {styled}; "
        f"img-src {' '.join(['data:', pictures]).strip()}; "
        "base-uri 'none'; form-action 'none'"
    )


def digest(text: str) -> str:
    """The hash a policy names a script by.

    >>> digest("")
    "'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='"
    """
    found = hashlib.sha256(text.encode("utf-8")).digest()
    return f"'sha256-{base64.b64encode(found).decode('ascii')}'"


def page(parts: Mapping[str, str], pictures: str = "") -> str:
    """The whole document; ``parts`` are HTML and sealed JSON, named as the template names them.

    ``pictures`` is the server of online tiles, if the pilot asked for them.

    The template is filled in one pass: what a part contains is never filled in again.
    """
    script, library = own_script(), leaflet_script()
    sheet = style(with_log=bool(parts["log"]))
    whole = {
        **parts,
        "script": script,
        "leaflet": library,
        "style": sheet,
        "policy": policy([library, script], [sheet], pictures),
        "licence": asset("leaflet/LICENSE").strip(),
    }
    return re.sub(r"\{\{(\w+)\}\}", lambda found: whole[found[1]], asset("page.html"))
