"""The frame round the map: one HTML document that asks the network for nothing.

Scripts and styles stand in the page and are let through by their hashes alone
(Content Security Policy level 3, W3C), so nothing that is shown can be run.
"""

from __future__ import annotations

import base64
import hashlib
import html
import json
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from plotter import wording
from plotter.maps import labels
from plotter.maps.drawing import shown_airports, sign
from plotter.maps.isogonic import Isogonics
from plotter.maps.palette import style_variables
from plotter.route.plotting import Plot

if TYPE_CHECKING:
    from plotter.flight.aircraft import Aircraft
    from plotter.flight.log_values import NavigationLog
    from plotter.flight.plan.values import GivenWind, Plan

# What stands at the head of a map or a sheet: the figures that a plot or a log was made with.

Pair = tuple[str, str]


def figures(plot: Plot, log: NavigationLog | None, *, sm: bool) -> list[Pair]:
    """Each term with what is said, text of outside origin made visible."""
    kind = "great circle" if plot.route.line == "geodesic" else "constant course (rhumb line)"
    altitudes = log.plan.cruise_altitudes_ft if log else (plot.altitude_ft,)
    return [
        ("Distance", labels.distances(plot.route.distance_nm, sm=sm)),
        ("Legs", f"{len(plot.route.legs)}, {kind}"),
        ("Checkpoints", _spacing(plot)),
        ("Date", plot.date_said),
        ("Altitude", _altitudes(altitudes)),
        *(_flown_with(log.plan) if log else ()),
    ]


def _spacing(plot: Plot) -> str:
    if not math.isfinite(plot.every_nm):
        return "none asked for"
    return f"{len(plot.checkpoints)}, every {plot.every_nm:g} NM"


def _altitudes(altitudes_ft: Sequence[float]) -> str:
    """One altitude, or one a leg."""
    return ", then ".join(wording.altitude(each) for each in altitudes_ft)


def _flown_with(plan: Plan) -> Iterator[Pair]:
    yield "Aircraft", _aircraft(plan.aircraft)
    yield "Wind", "; ".join(_winds(plan)) or "none given: calm"


def _aircraft(aircraft: Aircraft) -> str:
    from plotter.flight.aircraft import Cruise

    said = [labels.visible(aircraft.name)] if aircraft.name else []
    if isinstance(aircraft.cruise, Cruise):
        speed = aircraft.cruise.airspeed
        said.append(f"{speed.knots:g} kt {speed.kind}")
        said.append(f"{aircraft.cruise.fuel_per_hour:g} {aircraft.fuel_unit} an hour")
    else:
        said.append("cruise by its table")
    return ", ".join(said)


def _winds(plan: Plan) -> Iterator[str]:
    if plan.winds_aloft is not None:
        stations = ", ".join(labels.visible(each) for each in plan.winds_aloft.stations)
        yield f"forecast for {stations}"
    for each in plan.winds:
        yield f"{wording.altitude(each.altitude_ft)} {_wind(each.wind)}"


def _wind(wind: GivenWind) -> str:
    if not wind.speed_kt:
        return "calm"
    north = "" if wind.reference == "true" else " magnetic"
    return f"{wind.from_deg or 360.0:03.0f}/{wind.speed_kt:g}{north}"


# The key under the map: each line and sign that occurs on it, said once.

LEG_WORDS = ("leg 1", "leg 2", "leg 3")
AGAIN = ", then again"
SIGN_WORDS = {
    "airport": "airport, the bar as its longest runway lies",
    "heliport": "heliport",
    "seaplane": "seaplane base",
    "balloon": "balloonport",
    "closed": "closed airport",
}
SIGN_INK = {
    "airport": '<circle r="5"/><path class="runway" d="M0-3.2V3.2"/>',
    "heliport": '<path d="M0-4.5L4 3H-4Z"/>',
    "seaplane": '<circle r="5"/><path d="M-2.8.6Q-1.4-1.4 0 .4T2.8 0"/>',
    "balloon": '<circle r="5"/><circle r="1.2"/>',
    "closed": '<path d="M-3.5-3.5L3.5 3.5M-3.5 3.5L3.5-3.5"/>',
}
"""The same strokes as the map's script draws, round the middle of the sign."""


def key(plot: Plot, isogonic: Isogonics | None = None) -> str:
    """The key as an HTML list."""
    entries = [*_entries(plot), *([_isogonic(isogonic)] if isogonic else [])]
    return f'<ul class="key" aria-label="Key">{"".join(entries)}</ul>'


def _isogonic(lines: Isogonics) -> str:
    stroke = '<svg aria-hidden="true"><path class="isogonic" d="M0 8h34"/></svg>'
    return _entry(stroke, html.escape(f"isogonic line: {lines.named}"))


def _entries(plot: Plot) -> Iterator[str]:
    legs = len(plot.route.legs)
    for dash, words in enumerate(LEG_WORDS[:legs]):
        again = AGAIN if legs > len(LEG_WORDS) == dash + 1 else ""
        yield _entry(
            f'<svg class="ink ink-{dash}" aria-hidden="true"><path d="M0 8h34"/></svg>',
            words + again,
        )
    yield _entry(_sign('<circle class="turn" r="5"/>'), "turning point")
    if plot.checkpoints:
        yield _entry(
            _sign('<path class="tick" d="M0-7V7"/>'), f"checkpoint, every {plot.every_nm:g} NM"
        )
    occurring = {sign(field.airport) for field in shown_airports(plot)}
    for name, words in SIGN_WORDS.items():
        if name in occurring:
            yield _entry(_sign(f'<g class="field {name}">{SIGN_INK[name]}</g>'), words)


def _sign(strokes: str) -> str:
    return f'<svg class="sign" viewBox="-8 -8 16 16" aria-hidden="true">{strokes}</svg>'


def _entry(drawing: str, words: str) -> str:
    return f"<li>{drawing}{words}</li>"


ASSETS = Path(__file__).parent / "assets"
ENTRY = "start"
_IMPORT = re.compile(r'^import \{[^}]*\} from "\./(\w+)\.js";\n', re.M)


@cache
def asset(name: str) -> str:
    """The text of a file that ships beside this module, with plain line ends."""
    return (ASSETS / name).read_text(encoding="utf-8-sig")


def leaflet_script() -> str:
    """Leaflet, without the pointer to a source map that a browser might go and look for."""
    return re.sub(r"\n//# sourceMappingURL=\S*\s*$", "\n", asset("leaflet/leaflet.js"))


def style(with_log: bool = False, warning: str = "") -> str:
    """The page's one style sheet: palette, Leaflet without its pictures, ours, paper's last.

    ``warning`` stands in the upper margin of every printed page (CSS Paged Media 3, section 5).
    """
    leaflet = re.sub(r"[\w-]+:\s*url\([^)]*\);", "", asset("leaflet/leaflet.css"))
    ours = [asset("map.css"), *[asset("log.css")] * with_log, asset("print.css")]
    margin = [asset("warning.css").replace("WARNING", json.dumps(warning))] * bool(warning)
    return "\n".join(("", style_variables(), leaflet, *ours, *margin))


def own_script() -> str:
    """Return the map's modules as one script for an offline file; it leaves no name behind.

    A file opened from the disk can import nothing, so the modules stand one after another, each
    after those it imports, and only their import and export words are taken out. No two modules
    may define the same name (held by a test).
    """
    parts = [_unbound(plain(asset(f"map/{name}.js"))) for name in map_modules()]
    return "\n".join(('"use strict";\n(() => {', *parts, "})();\n"))


@cache
def map_modules(entry: str = ENTRY) -> tuple[str, ...]:
    """Return the names of the map's modules from one on, each after those it imports."""
    imported = _IMPORT.findall(asset(f"map/{entry}.js"))
    return tuple(dict.fromkeys([*(n for each in imported for n in map_modules(each)), entry]))


def _unbound(script: str) -> str:
    """A module's script without its import and export words."""
    return re.sub(r"^export ", "", _IMPORT.sub("", f"{script}\n"), flags=re.M).rstrip("\n")


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


def page(parts: Mapping[str, str], pictures: str = "", warning: str = "") -> str:
    """The whole document; ``parts`` are HTML and sealed JSON, named as the template names them.

    ``pictures`` is the server of online tiles, if the pilot asked for them; ``warning`` heads every
    printed page.

    The template is filled in one pass: what a part contains is never filled in again.
    """
    script, library = own_script(), leaflet_script()
    sheet = style(bool(parts["log"]), warning)
    whole = {
        **parts,
        "warning": f'<p class="warning">{html.escape(warning)}</p>\n' if warning else "",
        "script": script,
        "leaflet": library,
        "style": sheet,
        "policy": policy([library, script], [sheet], pictures),
        "licence": asset("leaflet/LICENSE").strip(),
    }
    return re.sub(r"\{\{(\w+)\}\}", lambda found: whole[found[1]], asset("page.html"))
