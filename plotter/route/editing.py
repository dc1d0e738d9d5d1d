"""A typed route changed at one of its points, everything else in it left as it was typed."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from plotter.earth.coordinates import split_position
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.places.lookup import parted
from plotter.places.model import Airport
from plotter.route.reading.item15 import read_cruise_group
from plotter.route.reading.text import DIRECT, QUOTES, Word, words_of
from plotter.route.values import Waypoint

_NAME = re.compile(r"[\w-]{1,60}")
_UNIT_ARC_S = 3600
_ROUTES_REMEMBERED = 4
"""A change asks several times for the points of a route, before it and after."""


class _Slot(NamedTuple):
    """The stretch ``[start, end)`` of a route that holds one point, quotes included."""

    start: int
    end: int


def point_count(route: str) -> int:
    """How many points a route has, readable or not.

    >>> point_count("N0105A055 KAAA DCT KBBB")
    2
    """
    return len(_point_words(route))


def points_of(route: str) -> list[str]:
    """The points of a route as they are typed, readable or not, without their quotes.

    >>> points_of("KAAA DCT '44 30 N 092 15 W'")
    ['KAAA', '44 30 N 092 15 W']
    """
    return [word.text for word in _point_words(route)]


def ends_of(route: str) -> list[int]:
    """Where each point of a route ends in its text.

    >>> ends_of("KAAA '44 30 N 092 15 W'")
    [4, 23]
    """
    return [slot.end for slot in _slots(route)]


def moved(route: str, index: int, typed: str) -> str:
    """The route with one point, counted from 0, moved elsewhere.

    The name that a point was given, and a speed and level group behind it, stay. Raises
    InputError for a point that is not there.

    >>> moved("KAAA BARN=44.1,-92.5 KBBB", 1, "435400N0923000W")
    'KAAA BARN=435400N0923000W KBBB'
    """
    start, end = _slot(route, index)
    old = route[start:end]
    name, equals, body = old.rpartition("=")
    _, slash, tail = body.rpartition("/")
    group = f"/{tail}" if slash and read_cruise_group(tail) else ""
    return f"{route[:start]}{name}{equals}{typed}{group}{route[end:]}"


def replaced(route: str, index: int, typed: str) -> str:
    """The route with another point in place of one, its name not kept.

    >>> replaced("KAAA BARN=44.1,-92.5 KBBB", 1, "KCCC")
    'KAAA KCCC KBBB'
    """
    start, end = _slot(route, index)
    return f"{route[:start]}{typed}{route[end:]}"


def named(route: str, index: int, name: str) -> str:
    """The route with a point called by a name, or by its own again where that is empty.

    A name is one word. Raises InputError for one that is not, and for a point that is not there.

    >>> named("KAAA 435400N0923000W KBBB", 1, "BARN"), named("BARN=44.1,-92.5 KBBB", 0, "")
    ('KAAA BARN=435400N0923000W KBBB', '44.1,-92.5 KBBB')
    """
    if name and not _NAME.fullmatch(name):
        raise InputError("point-name", name=name[:40])
    start, end = _slot(route, index)
    body = route[start:end].rpartition("=")[2]
    if route[start] in QUOTES and body[:1] != route[start]:
        body = route[start] + body
    return f"{route[:start]}{f'{name}={body}' if name else body}{route[end:]}"


def inserted(route: str, index: int, typed: str) -> str:
    """The route with one more point, which is then the one of that index; the last at the end.

    >>> inserted("KAAA DCT KBBB", 1, "KCCC"), inserted("KAAA ", 1, "KBBB")
    ('KAAA KCCC DCT KBBB', 'KAAA KBBB')
    """
    slots = _slots(route)
    if index == 0 and slots:
        start = slots[0].start
        return f"{route[:start]}{typed} {route[start:]}"
    if not slots:
        return f"{route.rstrip()} {typed}".lstrip()
    end = _slot(route, index - 1).end
    return f"{route[:end]} {typed}{route[end:].rstrip()}"


def removed(route: str, index: int) -> str:
    """The route without one point.

    >>> removed("KAAA KBBB KCCC", 1), removed("KAAA DCT KBBB DCT KCCC", 2)
    ('KAAA KCCC', 'KAAA DCT KBBB')
    """
    start, end = _slot(route, index)
    kept = f"{route[:start].rstrip()} {route[end:].lstrip()}".strip()
    return _without_loose_directs(kept)


def reordered(route: str, order: Sequence[int]) -> str:
    """The route with its points in another order; what stands between them stays where it is.

    >>> reordered("KAAA DCT KBBB KCCC", [2, 1, 0])
    'KCCC DCT KBBB KAAA'
    """
    slots = _slots(route)
    if sorted(order) != list(range(len(slots))):
        raise InputError("order")
    texts = [route[slot.start : slot.end] for slot in slots]
    parts, at = [], 0
    for slot, number in zip(slots, order, strict=True):
        parts += [route[at : slot.start], texts[number]]
        at = slot.end
    return "".join([*parts, route[at:]])


def turned_back(route: str) -> str:
    """The route flown the other way.

    >>> turned_back("KAAA KBBB KCCC")
    'KCCC KBBB KAAA'
    """
    return reordered(route, range(point_count(route) - 1, -1, -1))


def typed_position(position: Position) -> str:
    """A position as a route is typed, to a second of arc (31 m).

    >>> typed_position(Position(43.9088, -92.5)), typed_position(Position(-0.0001, 180.0))
    ('435432N0923000W', '000000N1800000E')
    """
    return "".join(
        f"{angle.degrees:0{angle.width}d}{angle.rest // 60:02d}{angle.rest % 60:02d}{angle.letter}"
        for angle in split_position(position, _UNIT_ARC_S)
    )


def _slots(route: str) -> list[_Slot]:
    return [_with_quotes(route, word.where.start, word.where.end) for word in _point_words(route)]


@lru_cache(_ROUTES_REMEMBERED)
def _point_words(route: str) -> tuple[Word, ...]:
    return tuple(
        word
        for word in words_of(route, lambda _: False)
        if word.text.upper() != DIRECT and not read_cruise_group(word.text)
    )


def _with_quotes(route: str, start: int, end: int) -> _Slot:
    quoted = start > 0 and end < len(route) and route[start - 1] == route[end] in QUOTES
    return _Slot(start - 1, end + 1) if quoted else _Slot(start, end)


def _slot(route: str, index: int) -> _Slot:
    slots = _slots(route)
    if not 0 <= index < len(slots):
        raise InputError("no-point", number=index + 1, count=len(slots))
    return slots[index]


def _without_loose_directs(route: str) -> str:
    """A ``DCT`` at either end, or behind another, joins nothing."""
    joined = re.sub(rf"\b{DIRECT}(\s+{DIRECT}\b)+", DIRECT, route, flags=re.I)
    return re.sub(rf"^{DIRECT}\s+|\s+{DIRECT}$", "", joined, flags=re.I)


# A route written out: so that it can be typed again, and as item 15 of an ICAO flight plan.

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

    to_the_second = typed_position(position)
    is_whole = to_the_second[4:6] == to_the_second[12:14] == "00"
    return _to_the_minute(position) if is_whole else to_the_second


def _to_the_minute(position: Position) -> str:
    """Degrees and minutes; the notations are loaded only for a route that has a position."""
    from plotter.earth.coordinates import doc4444

    return doc4444(position)
