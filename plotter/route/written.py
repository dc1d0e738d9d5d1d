"""A route written out: so that it can be typed again, and as item 15 of an ICAO flight plan."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence

from plotter.earth.position import Position
from plotter.places.lookup import parted
from plotter.places.model import Airport
from plotter.route.route import Waypoint

_DESIGNATOR = re.compile(r"[A-Z0-9]{2,5}\Z")


def written_route(waypoints: Sequence[Waypoint]) -> str:
    """The route in words that, typed again, mean the same points.

    Airports and navaids by an identifier of 2 to 5 letters or figures, with ``airport:``,
    ``navaid:`` or ``key:`` in front where it was typed so to be told apart; everything else as
    degrees and minutes, with seconds where minutes do not suffice, so that no point moves by more
    than half a second of arc (16 m). ``DCT`` stands between two points unless both are
    positions. The trap: item 15 of a filed flight plan has neither seconds nor prefixes; for that
    there is :func:`item15_route`.
    """
    return _joined(
        [(_code(each) or _position(each.position), _is_bare(each)) for each in waypoints]
    )


def item15_route(waypoints: Sequence[Waypoint]) -> str:
    """The route as item 15 of an ICAO flight plan writes it, positions rounded to the minute.

    Source: ICAO Doc 4444, appendix 2, item 15 (c). The trap: rounded to the minute, a position
    can move by up to 0.7 NM; measure from the route as it was typed.
    """
    return _joined(
        [
            (_to_the_minute(each.position), True) if _is_bare(each) else (each.ident or "", False)
            for each in waypoints
        ]
    )


def _joined(words: Sequence[tuple[str, bool]]) -> str:
    """Words with ``DCT`` between two of which one at least is no bare position."""
    out = [words[0][0]]
    for (_, bare_before), (text, bare) in itertools.pairwise(words):
        if not (bare_before and bare):
            out.append("DCT")
        out.append(text)
    return " ".join(out)


def _is_bare(waypoint: Waypoint) -> bool:
    """Whether a waypoint is written as a position: item 15 has no identifier for it."""
    coded = waypoint.kind in ("airport", "navaid") and _DESIGNATOR.match(waypoint.ident or "")
    return not coded


def _code(waypoint: Waypoint) -> str:
    """An identifier that leads to this place again; empty for what is written as a position.

    The one it is known by, where that is what was typed or is its ICAO indicator, which goes
    before all others. What was typed otherwise may be typed again: it was understood.
    """
    if _is_bare(waypoint):
        return ""
    ident = waypoint.ident or ""
    prefix, code = parted(waypoint.text)
    if prefix:
        return f"{prefix}:{code}"
    is_icao = isinstance(waypoint.place, Airport) and waypoint.place.icao == ident
    return ident if is_icao else code


def _position(position: Position) -> str:
    from plotter.route.editing import typed_position

    to_the_second = typed_position(position)
    is_whole = to_the_second[4:6] == to_the_second[12:14] == "00"
    return _to_the_minute(position) if is_whole else to_the_second


def _to_the_minute(position: Position) -> str:
    """Degrees and minutes; the notations are loaded only for a route that has a position."""
    from plotter.earth.coordinates import doc4444

    return doc4444(position)
