"""A route written out in the notation of item 15 of an ICAO flight plan."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence

from plotter.route.route import Waypoint

_DESIGNATOR = re.compile(r"[A-Z0-9]{2,5}\Z")


def written_route(waypoints: Sequence[Waypoint]) -> str:
    """The route as item 15 writes it, ``DCT`` where it is asked for.

    Airports and navaids by their identifier where it is 2 to 5 letters or figures, everything
    else as degrees and minutes. ``DCT`` stands between two points unless both are positions.
    Source: ICAO Doc 4444, appendix 2, item 15 (c). The trap: degrees and minutes are rounded to
    the minute, so a position can move by up to 0.7 NM; measure from the route as it was typed.
    """
    words = [_word(waypoint) for waypoint in waypoints]
    out = [words[0][0]]
    for (_, plain_before), (text, plain) in itertools.pairwise(words):
        if not (plain_before and plain):
            out.append("DCT")
        out.append(text)
    return " ".join(out)


def _word(waypoint: Waypoint) -> tuple[str, bool]:
    """How a waypoint is written, and whether that is a bare position."""
    if waypoint.kind in ("airport", "navaid") and _DESIGNATOR.match(waypoint.ident or ""):
        return waypoint.ident or "", False
    from plotter.earth.coordinates import doc4444

    return doc4444(waypoint.position), True
