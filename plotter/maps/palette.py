"""The colours of the map and its page, and the rule that text on them can be read.

A pencil line on a paper chart: graphite ink, pale land, paler water, thin grey boundaries.
The accents are of the Okabe–Ito set, made to be told apart by the colour-blind
(M. Okabe and K. Ito, "Color Universal Design", 2008; jfly.uni-koeln.de/color).
"""

from __future__ import annotations

GRAPHITE = "#2B2B2B"
CASING = "#FFFDF7"
HALO = "#FFFDF7"
PAPER = "#FFFFFF"
LAND = "#F5F1E4"
WATER = "#FBFCFC"
LAKE = "#F0F6F8"
SHALLOWS = "#DCE8EE"
COAST = "#7D8C94"
RIVER = "#A9C3D1"
STATE = "#C2BCAC"
BORDER = "#8E887B"
GRATICULE = "#B9B4A6"
COLLAR = "#4A4A48"
TOWN = "#57544C"
MUTED = "#5C5A55"
RULE = "#CFCABD"
ISOGONIC = "#8A4A75"
"""The reddish purple of the set, #CC79A7, darkened until figures in it can be read."""
CLICKABLE = "#0072B2"
CAUTION = "#D55E00"

TEXT_CONTRAST = 4.5
"""Least contrast of text on what it stands on: WCAG 2.2, success criterion 1.4.3 (level AA)."""
MARK_CONTRAST = 3.0
"""Least contrast of a mark that must be seen: WCAG 2.2, success criterion 1.4.11 (level AA)."""

TEXT_PAIRS: tuple[tuple[str, str], ...] = tuple(
    (ink, ground)
    for ink in (GRAPHITE, COLLAR, TOWN, MUTED, ISOGONIC, CLICKABLE)
    for ground in (PAPER, HALO, LAND, WATER, LAKE)
)
"""Every colour that is text, with every colour it may stand on."""
MARK_PAIRS: tuple[tuple[str, str], ...] = (
    (GRAPHITE, LAND),
    (GRAPHITE, WATER),
    (CLICKABLE, LAND),
    (CLICKABLE, WATER),
    (CAUTION, PAPER),
    (COAST, WATER),
    (ISOGONIC, LAND),
    (ISOGONIC, WATER),
)
"""Every mark that says something by itself, with what it may stand on."""


def luminance(colour: str) -> float:
    """Relative luminance of ``#RRGGBB``, 0 black to 1 white.

    Source: WCAG 2.2, definition "relative luminance".

    >>> luminance("#FFFFFF"), luminance("#000000")
    (1.0, 0.0)
    """
    red, green, blue = (_linear(int(colour[i : i + 2], 16) / 255) for i in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    if channel <= 0.04045:
        return channel / 12.92
    return float(((channel + 0.055) / 1.055) ** 2.4)


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21, in either order.

    Source: WCAG 2.2, definition "contrast ratio".

    >>> round(contrast("#000000", "#FFFFFF"), 6)
    21.0
    """
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def style_variables() -> str:
    """The palette as CSS custom properties, the one way a colour reaches the page.

    >>> style_variables().splitlines()[1].strip()
    '--graphite: #2B2B2B;'
    """
    lines = [f"  --{name.lower()}: {value};" for name, value in _colours()]
    return "\n".join([":root {", *lines, "}"])


def _colours() -> list[tuple[str, str]]:
    return [
        (name, value)
        for name, value in globals().items()
        if isinstance(value, str) and value.startswith("#") and name.isupper()
    ]
