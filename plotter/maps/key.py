"""The key under the map: each line and sign that occurs on it, said once."""

from __future__ import annotations

import html
from collections.abc import Iterator

from plotter.maps.isogonic import Isogonics
from plotter.maps.sheet import shown_airports, sign
from plotter.route.plot import Plot

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
