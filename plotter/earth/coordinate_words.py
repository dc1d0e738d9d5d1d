"""The words a typed coordinate is made of, each with its place in the text for the caret."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Literal, NamedTuple

from plotter.errors import PositionError, Where

WordKind = Literal["number", "letter", "sign", "degree", "minute", "second", "comma", "colon"]

EXAMPLES = "41.234,-95.5 or 4620N07805W or, in quotes, 43°54.5'N 92°30.0'W"

MARKS = frozenset("°º˚″”“ʺ\"′’‘ʹʼ´`'")
"""Degree, minute and second marks, some of which count as letters to Python."""

_PATTERN = re.compile(
    r"""(?P<space>\s+)
    | (?P<number>[0-9]+(?:\.[0-9]*)?|\.[0-9]+)
    | (?P<letter>[NSEWnsew])
    | (?P<sign>[-+\u2010-\u2013\u2212])
    | (?P<degree>[°º˚])
    | (?P<second>["″”“ʺ]|['′’ʹ]{2})
    | (?P<minute>['′’‘ʹʼ´`])
    | (?P<comma>,)
    | (?P<colon>:)""",
    re.VERBOSE,
)


class Word(NamedTuple):
    """One word: its kind, its text in capitals, where it stands, whether a space is before it."""

    kind: WordKind
    text: str
    start: int
    end: int
    after_space: bool


def fault(
    message: str,
    text: str,
    start: int = 0,
    end: int | None = None,
    *,
    code: str = "coordinate",
    candidates: Iterable[str] = (),
) -> PositionError:
    """A coordinate error that points at a stretch of the text."""
    where = Where(text, start, len(text) if end is None else end)
    return PositionError(message, code=code, where=where, candidates=tuple(candidates))


def swapped(turned: str, text: str, because: str = "") -> PositionError:
    """The error for a pair with longitude first, offering it turned round."""
    message = f"{because}latitude comes first: did you mean {turned}?"
    return fault(message, text, code="coordinate-swapped", candidates=[turned])


def words(text: str) -> list[Word]:
    """The words of a coordinate.

    Raises PositionError at the first character that no coordinate has, and at two numbers with
    nothing between them: ``47.5.8`` may be 47.5 and 0.8 or 47 and 5.8.

    >>> [word.kind for word in words("43°54.5'N")]
    ['number', 'degree', 'number', 'minute', 'letter']
    """
    found: list[Word] = []
    place, after_space = 0, False
    while place < len(text):
        match = _PATTERN.match(text, place)
        if match is None:
            raise _strange(text, place)
        kind: WordKind | Literal["space"] = match.lastgroup  # type: ignore[assignment]
        if kind == "number" and place and found[-1].kind == kind and not after_space:
            raise _run_together(text, found[-1].start)
        if kind != "space":
            found.append(Word(kind, match.group().upper(), place, match.end(), after_space))
        after_space = kind == "space"
        place = match.end()
    return found


def _run_together(text: str, start: int) -> PositionError:
    """The error for figures with more than one decimal point."""
    end = start
    while end < len(text) and text[end] in ".0123456789":
        end += 1
    message = f"{text[start:end]!r} has more than one decimal point; type it like {EXAMPLES}"
    return fault(message, text, start, end)


def _strange(text: str, place: int) -> PositionError:
    """The error for a character that no coordinate has, with the letters it stands among."""
    start, end = place, place + 1
    while text[place].isalpha() and start > 0 and text[start - 1].isalpha():
        start -= 1
    while text[place].isalpha() and end < len(text) and text[end].isalpha():
        end += 1
    message = f"{text[start:end]!r} has no place in a coordinate; type it like {EXAMPLES}"
    return fault(message, text, start, end)
