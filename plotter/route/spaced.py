"""Positions typed with spaces and without quotes: told as what they are, with what to type."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from plotter.errors import InputError, PlotterError, PositionError, Where
from plotter.route.words import Word, words_of

MOST_WORDS = 8
"""A position has no more parts: a letter and degrees, minutes, seconds for each half."""
_MARKS = str.maketrans(dict.fromkeys("°'\"′″’”º", " "))


def with_spaced_positions(
    words: Sequence[Word], faults: Sequence[PlotterError]
) -> list[PlotterError]:
    """The faults of a route, those of one position cut at its spaces told as one."""
    places = [fault.where for fault in faults if fault.where is not None]
    wrong = {
        index
        for index, word in enumerate(words)
        if any(_meet(place, word.where) for place in places)
    }
    kept = list(faults)
    for first, last in _stretches(words, wrong):
        whole = Where(words[first].where.text, words[first].where.start, words[last].where.end)
        if whole in places:  # told as one already
            continue
        kept = [each for each in kept if each.where is None or not _meet(each.where, whole)]
        kept.append(_quotes_wanted(whole))
    return kept


def _meet(one: Where, other: Where) -> bool:
    return one.start < other.end and other.start < one.end


def _stretches(words: Sequence[Word], wrong: set[int]) -> Iterator[tuple[int, int]]:
    """First and last word of each position, the longest first; most of its words are wrong."""
    index = 0
    while index < len(words):
        longest = min(len(words), index + MOST_WORDS)
        for last in range(longest - 1, index, -1):
            among = wrong.intersection(range(index, last + 1))
            if among and 2 * len(among) >= last + 1 - index and _is_position(words, index, last):
                yield index, last
                index = last
                break
        index += 1


def _is_position(words: Sequence[Word], first: int, last: int) -> bool:
    whole = words[first].where.text
    text = whole[words[first].where.start : words[last].where.end]
    name, _, body = text.rpartition("=")
    return " " not in name and _reads(body)


def _reads(text: str) -> bool:
    from plotter.earth.coordinates import parse_coordinate

    try:
        parse_coordinate(text)
    except PositionError:
        return False
    return True


def _quotes_wanted(where: Where) -> PlotterError:
    typed = _quoted(where.text[where.start : where.end])
    return InputError(
        f"a position with spaces in it stands in quotes: {typed}",
        code="quotes",
        where=where,
        candidates=(typed,),
    )


def _quoted(text: str) -> str:
    """A position in quotes that a route reads as one word: without its marks if need be.

    >>> _quoted("43°54'N 92°30'W")
    '"43°54\\'N 92°30\\'W"'
    >>> _quoted("N43° 54' 30\\" W92° 30' 0\\"")
    '"N43 54 30 W92 30 0"'
    """
    for inner in (text, " ".join(text.translate(_MARKS).split())):
        typed = f'"{inner}"'
        if [word.text for word in words_of(typed, lambda _: False)] == [inner]:
            return typed
    return f"'{text}'"
