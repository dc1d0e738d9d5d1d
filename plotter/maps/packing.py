"""Cutting flat lists of whole-number coordinates to a box.

A ring or line is ``[x0, y0, dx1, dy1, …]``: first absolute, then differences, as the base-map
tables keep it. Cutting works on absolute points and packs them again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import accumulate, pairwise

# Whole numbers as short text, for the coordinates that a map carries.
#
# A number is folded to a positive one (0, −1, 1, −2, … become 0, 1, 2, 3, …) and written in base
# 45, lowest digit first, from an alphabet of 90 printable characters that JSON and HTML leave
# alone: the first 45 end a number, the others say that more follows. Steps along a coast are
# small, so most take one or two characters; written out in digits they would take twice as many.

BASE = 45
ALPHABET = "".join(chr(code) for code in range(0x20, 0x7F) if chr(code) not in '"\\<>&')


class _Words(dict[int, str]):
    """Each number's text, worked out once."""

    def __missing__(self, number: int) -> str:
        rest = 2 * number if number >= 0 else -2 * number - 1
        text = ""
        while rest >= BASE:
            rest, digit = divmod(rest, BASE)
            text += ALPHABET[BASE + digit]
        self[number] = text + ALPHABET[rest]
        return self[number]


_words = _Words()


def encoded(numbers: Iterable[int]) -> str:
    """The numbers as text.

    >>> len(encoded([0, -1, 22])), len(encoded([23])), len(encoded([-1000]))
    (3, 2, 2)
    """
    return "".join(map(_words.__getitem__, numbers))


def decoded(text: str) -> list[int]:
    """The inverse of :func:`encoded`; the map's script does the same.

    >>> decoded(encoded([0, -1, 1, 22, 23, -1000, 180000]))
    [0, -1, 1, 22, 23, -1000, 180000]
    """
    numbers, value, place = [], 0, 1
    for letter in text:
        digit = ALPHABET.index(letter)
        value += (digit % BASE) * place
        place *= BASE
        if digit < BASE:
            numbers.append(-((value + 1) // 2) if value % 2 else value // 2)
            value, place = 0, 1
    return numbers


Point = tuple[int, int]
Box = tuple[int, int, int, int]
"""(west, south, east, north) in the units of the coordinates."""


def unpacked(flat: list[int]) -> list[Point]:
    """The absolute points of a packed ring or line.

    >>> unpacked([10, 20, 1, 0, 0, -2])
    [(10, 20), (11, 20), (11, 18)]
    """
    return list(zip(accumulate(flat[::2]), accumulate(flat[1::2]), strict=True))


def packed(points: list[Point]) -> list[int]:
    """The inverse of :func:`unpacked`, without repeated points.

    >>> packed([(10, 20), (11, 20), (11, 20), (11, 18)])
    [10, 20, 1, 0, 0, -2]
    """
    flat: list[int] = []
    x0 = y0 = 0
    for x, y in points:
        if (x, y) != (x0, y0) or not flat:
            flat += (x - x0, y - y0)
            x0, y0 = x, y
    return flat


def relation(flat: list[int], box: Box) -> str:
    """Whether a packed ring or line lies ``inside`` a box, ``outside`` it or ``across`` its edge.

    >>> relation([1, 1, 1, 1], (0, 0, 9, 9)), relation([1, 1, 90, 1], (0, 0, 9, 9))
    ('inside', 'across')
    """
    xs, ys = list(accumulate(flat[::2])), list(accumulate(flat[1::2]))
    west, south, east, north = min(xs), min(ys), max(xs), max(ys)
    if west > box[2] or east < box[0] or south > box[3] or north < box[1]:
        return "outside"
    inside = west >= box[0] and east <= box[2] and south >= box[1] and north <= box[3]
    return "inside" if inside else "across"


def clip_ring(points: list[Point], box: Box) -> list[Point]:
    """The part of a ring inside a box, one edge at a time (Sutherland and Hodgman, CACM 1974).

    Parts that fall apart stay joined along the edge of the box, which an area fill never shows.

    >>> clip_ring([(-5, 1), (5, 1), (5, 4), (-5, 4)], (0, 0, 9, 9))
    [(0, 1), (5, 1), (5, 4), (0, 4)]
    """
    for axis, limit, sign in _edges(box):
        points = list(_one_edge(points, axis, limit, sign))
    return points


def _edges(box: Box) -> Iterator[tuple[int, int, int]]:
    yield 0, box[0], 1
    yield 1, box[1], 1
    yield 0, box[2], -1
    yield 1, box[3], -1


def _one_edge(points: list[Point], axis: int, limit: int, sign: int) -> Iterator[Point]:
    if not points:
        return
    last = points[-1]
    was_in = (last[axis] - limit) * sign >= 0
    for point in points:
        is_in = (point[axis] - limit) * sign >= 0
        if is_in != was_in:
            yield _crossing(last, point, axis, limit)
        if is_in:
            yield point
        last, was_in = point, is_in


def _crossing(a: Point, b: Point, axis: int, limit: int) -> Point:
    other = 1 - axis
    share = (limit - a[axis]) / (b[axis] - a[axis])
    across = round(a[other] + share * (b[other] - a[other]))
    return (limit, across) if axis == 0 else (across, limit)


def clip_line(points: list[Point], box: Box) -> list[list[Point]]:
    """The stretches of a line that touch a box, each kept one point past the edge.

    >>> clip_line([(-9, 1), (-5, 1), (5, 1), (30, 1), (40, 1)], (0, 0, 9, 9))
    [[(-5, 1), (5, 1), (30, 1)]]
    """
    runs: list[list[Point]] = []
    open_run = False
    for a, b in pairwise(points):
        if _apart(a, b, box):
            open_run = False
        elif open_run:
            runs[-1].append(b)
        else:
            runs.append([a, b])
            open_run = True
    return runs


def _apart(a: Point, b: Point, box: Box) -> bool:
    return (
        max(a[0], b[0]) < box[0]
        or min(a[0], b[0]) > box[2]
        or max(a[1], b[1]) < box[1]
        or min(a[1], b[1]) > box[3]
    )


def clipped(flat: list[int], box: Box, *, area: bool) -> list[list[int]]:
    """A packed ring (``area``) or line cut to a box: no, one or several packed pieces.

    >>> clipped([-5, 1, 10, 0, 0, 3, -10, 0], (0, 0, 9, 9), area=True)
    [[0, 1, 5, 0, 0, 3, -5, 0]]
    """
    where = relation(flat, box)
    if where == "inside":
        return [flat]
    if where == "outside":
        return []
    points = unpacked(flat)
    pieces = [clip_ring(points, box)] if area else clip_line(points, box)
    return [packed(piece) for piece in pieces if len(piece) >= (3 if area else 2)]
