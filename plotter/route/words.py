"""A typed route cut into words, each remembered with its place in the text.

Points are parted by spaces; a point that holds spaces itself (degrees, minutes, seconds) is
quoted, or handed over as one item of a sequence, as a shell does with a quoted argument.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from plotter.errors import Where

QUOTES = "\"'"
LONGEST_WORD = 500
"""Characters of one point: the longest name of an own point (300) with a position fits."""


class Word(NamedTuple):
    """One word of a route and where it stands in the whole text."""

    text: str
    where: Where


def words_of(route: str | Sequence[str], is_one_point: Callable[[str], bool]) -> tuple[Word, ...]:
    """The words of a route given as one text or as a sequence of arguments.

    ``is_one_point`` says whether an argument that holds spaces is one quoted coordinate; any
    other is cut at its spaces.

    >>> [word.text for word in words_of("KAAA '10 30 N 20 15 E' KBBB", lambda text: True)]
    ['KAAA', '10 30 N 20 15 E', 'KBBB']
    >>> words_of(["KAAA", "KBBB"], lambda text: False)[1].where.start
    5
    """
    arguments = [route] if isinstance(route, str) else list(route)
    whole = " ".join(arguments)
    spans: list[tuple[int, int]] = []
    start = 0
    for argument in arguments:
        end = start + len(argument)
        quoted = not isinstance(route, str) and " " in argument.strip() and is_one_point(argument)
        spans += [_trimmed(whole, start, end)] if quoted else _cut(whole, start, end)
        start = end + 1
    return tuple(Word(whole[a:b], Where(whole, a, b)) for a, b in spans)


def _trimmed(whole: str, start: int, end: int) -> tuple[int, int]:
    while whole[start].isspace():
        start += 1
    while whole[end - 1].isspace():
        end -= 1
    return start, end


def _cut(whole: str, start: int, end: int) -> list[tuple[int, int]]:
    spans: list[tuple[int, int]] = []
    at = start
    while at < end:
        if whole[at].isspace():
            at += 1
            continue
        stop = _quoted_end(whole, at, end) if whole[at] in QUOTES else None
        if stop is not None:
            spans.append((at + 1, stop))
            at = stop + 1
            continue
        stop = at
        while stop < end and not whole[stop].isspace():
            stop += 1
        spans.append((at, stop))
        at = stop
    return spans


def _quoted_end(whole: str, start: int, end: int) -> int | None:
    """Where the quote closes: the same mark with a space or the end behind it."""
    mark = whole[start]
    for at in range(start + 1, min(end, start + LONGEST_WORD)):
        if whole[at] == mark and (at + 1 == end or whole[at + 1].isspace()) and at > start + 1:
            return at
    return None
