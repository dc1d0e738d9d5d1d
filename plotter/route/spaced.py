"""Positions typed with spaces and without quotes: told as what they are, with what to type."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import accumulate

from plotter.errors import InputError, PlotterError, PositionError, Where
from plotter.route.words import Word, words_of

MOST_WORDS = 8
"""A position has no more parts: a letter and degrees, minutes, seconds for each half."""
_MARKS = str.maketrans(dict.fromkeys("°'\"′″’”º", " "))


def with_spaced_positions(
    words: Sequence[Word], faults: Sequence[PlotterError]
) -> list[PlotterError]:
    """The faults of a route, those of one position cut at its spaces told as one."""
    places = {fault.where for fault in faults if fault.where is not None}
    meets_fault = _meeting(places)
    wrong = {index for index, word in enumerate(words) if meets_fault(word.where)}
    whole = [
        Where(words[first].where.text, words[first].where.start, words[last].where.end)
        for first, last in _stretches(words, wrong)
    ]
    wanted = [where for where in whole if where not in places]  # the others are one fault already
    meets_wanted = _meeting(wanted)
    kept = [fault for fault in faults if fault.where is None or not meets_wanted(fault.where)]
    return [*kept, *map(_quotes_wanted, wanted)]


def _meeting(places: Iterable[Where]) -> Callable[[Where], bool]:
    """Whether a stretch meets one of these, by bisection: a route may have thousands of each."""
    ordered = sorted(places, key=lambda place: place.start)
    starts = [place.start for place in ordered]
    furthest = list(accumulate((place.end for place in ordered), max))

    def meets(where: Where) -> bool:
        before = bisect_left(starts, where.end)
        return before > 0 and furthest[before - 1] > where.start

    return meets


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
